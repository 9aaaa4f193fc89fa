/* Inside of core/color/sample*.c: the fitted model and its rows. Nobody else includes this. */
#ifndef CORE_COLOR_SAMPLE_MODEL_H
#define CORE_COLOR_SAMPLE_MODEL_H

#include "core/color/sample.h"

/* Degrees of freedom of Student's t, in the fit and in predictions: measured, about 6. */
#define SAMPLE_NU 6.0

enum { SAMPLE_ITEM_COLUMNS = SAMPLE_ITEMS_MAX * SAMPLE_TERMS };

/* Parameters of all paints: theta[paint * SAMPLE_TERMS + term], S terms first. */
struct sample_model {
    struct weights w;
    double cosine[SAMPLE_Q_TERMS][SPECTRUM_BANDS];
    size_t paints_n, readings_n;
    const struct sample_paint *paints;
    const struct sample_reading *readings; /* copies, volumes as fractions, none of them 0 */
    double discrepancy;                    /* in predictions */
    double fit_discrepancy;                /* that the fit was made with */

    double *theta;
    struct pigment *pigment; /* at theta */

    /* Paints that some sample holds, and cans of one paint, are fitted together; each other one
     * stands alone. */
    size_t *slot; /* [paints_n] place among the joint ones, or SIZE_MAX */
    size_t joint_n;
    double *joint;  /* [(joint_n terms)^2] precision while fitting, then covariance */
    double *alone;  /* [paints_n][SAMPLE_TERMS^2] the same for paints that stand alone */
    double *weight; /* [readings_n] of each sample in the robust fit, at the optimum */
};

/* A mix at the present paints: color, and how it moves with every parameter of its paints. */
struct sample_slope {
    struct lab color;
    struct spectrum spectrum;
    double q[SPECTRUM_BANDS], s[SPECTRUM_BANDS]; /* K/S and S of the mix */
    double lab[3][SPECTRUM_BANDS];               /* d Lab / d q */
};

void sample_pigment_update(struct sample_model *m);
void sample_mix_color(const struct sample_model *m, const struct sample_mix *mix,
                      struct sample_slope *out);
/* Fills out->lab, after sample_mix_color. */
void sample_mix_slope(const struct sample_model *m, struct sample_slope *out);
/* d (T Lab) / d theta for the mix's paints, item by item: out[axis][item * SAMPLE_TERMS + term]. */
void sample_mix_jacobian(const struct sample_model *m, const struct sample_mix *mix,
                         const struct sample_slope *slope, double t[3][3],
                         double out[3][SAMPLE_ITEM_COLUMNS]);
/* d (T Lab) / d fraction of each item, the others growing or shrinking to keep the sum 1. */
void sample_mix_pour(const struct sample_model *m, const struct sample_mix *mix,
                     const struct sample_slope *slope, double t[3][3],
                     double out[3][SAMPLE_ITEMS_MAX]);

/* out = J1 Cov J2' for two mixes with their Jacobians. */
void sample_carry(const struct sample_model *m, const struct sample_mix *mix1,
                  double j1[3][SAMPLE_ITEM_COLUMNS], const struct sample_mix *mix2,
                  double j2[3][SAMPLE_ITEM_COLUMNS], double out[3][3]);

/* Mean and 90 % quantile of the length of a vector with Student's t distribution (SAMPLE_NU) and
 * this scale matrix, around a point `off` away from the origin. */
void sample_length(double c[3][3], double off, double *out_mean, double *out_q90);

/* Volumes as fractions, items without volume dropped. E_DOMAIN, E_REFERENCE. */
enum status sample_mix_check(const struct sample_mix *in, size_t paints_n, struct sample_mix *out,
                             const char *field, struct why *why);

/* Discrepancy by leaving out groups of samples with the same paints. */
double sample_learn_discrepancy(const struct sample_model *m, struct arena *a);

#endif
