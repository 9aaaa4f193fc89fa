/* Inside of core/photo: the penalized fit of the model to the references. */
#ifndef CORE_PHOTO_FIT_H
#define CORE_PHOTO_FIT_H

#include "core/photo/model.h"

struct fit_reference {
    struct patch_view view;
    struct lab lab;      /* stated or assumed */
    double sd;           /* of the fit, per axis, CIEDE2000 */
    double own_sd;       /* the part of it that is the doubt of lab itself */
    double metric[3][3]; /* whitens a difference from lab: in units of sd */
    double weight;       /* 0..1, robust */
};

struct fit {
    struct model model;
    const struct patch_view *patches; /* all: references and targets, for the slope of the light */
    size_t patches_n;
    struct fit_reference *references;
    size_t references_n;
    double gain[3]; /* ln, where the gains start; only far from there they are held back */
    bool chroma;    /* the light's color may change over the picture */
    double covariance[MODEL_TERMS * MODEL_TERMS]; /* of theta */
    double shared[MODEL_TERMS * MODEL_TERMS];     /* of theta if the light's place were known */
    double scale;                                 /* of all doubts, squared: doubt_scale */
};

/* Whitens Lab differences at c by CIEDE2000 and standard deviation. */
void fit_metric(struct lab c, double sd, double out[3][3]);

/* Starts at theta; false when it cannot be computed at all. */
bool fit_solve(struct fit *f, bool robust);

#endif
