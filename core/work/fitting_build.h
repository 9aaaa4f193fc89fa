/* Shared by the parts of the fittings. */
#ifndef CORE_WORK_FITTING_BUILD_H
#define CORE_WORK_FITTING_BUILD_H

#include "core/work/room.h"

struct fits {
    const struct room *r;
    const struct piece_plan *p;
    struct fitting_plan *out;
    const struct species_row *wood;
};

void fit_line(struct fits *f, struct fitting_line line);
/* Basis of the line that was added last. */
struct basis *fit_explain(struct fits *f, const char *rule, const char *source,
                          enum certainty certainty);
/* A length that went into it. */
void fit_input(struct fits *f, struct basis *b, const char *name, double mm);

/* ---- fitting_pulls.c ---- */
void fit_pulls_make(struct fits *f);
void fit_hinges_make(struct fits *f);

/* ---- fitting_panel.c ---- */
void fit_back_make(struct fits *f);
/* Errors: those of the glass and the sizes, each with its field. */
enum status fit_panels_make(struct fits *f, struct why *why);

/* ---- fitting_slide.c; row: of the piece's slides ---- */
void fit_slide_make(struct fits *f, const struct fitting_slide *said, size_t row);
void fit_drawers_need(struct fits *f);

#endif
