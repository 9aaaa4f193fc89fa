/* What one needs to know at a step of the work: how it is done, notes, what can go wrong, what must
 * have been read before, what keeps it from being begun. */
#ifndef CORE_WORK_HELP_H
#define CORE_WORK_HELP_H

#include "core/work/room.h"

struct step_help {
    const char *name, *operation, *role, *class, *product;
    const char *how, *why, *tool;
    int64_t grit, grit_curves;  /* 0: none */
    double hands_min, wait_min; /* wait: dry to recoat, cure, clamp; NAN or 0: none */
    const struct process_notes_row **notes;
    size_t notes_n;
    const struct defects_row **defects;
    size_t defects_n;
    const struct notice **cautions; /* to be read before the first such step */
    size_t cautions_n;
    const struct notice **blocked; /* STOP: the step must not be begun */
    size_t blocked_n;
};

/* The help at a task of the timetable.
 *
 *   p      the piece's plan
 *   task   id of a coat, of a coat's n-th or back ("...-coat2-back"), of a step, or of a step of
 *          the color ("...-board", "-card", "-mix", "-pot-...")
 *   arena  owns the lists; rows and texts are borrowed
 *
 * Errors: E_NOT_FOUND (no such step in the plan), E_MEMORY. */
enum status help_step(const struct tables *t, const struct piece_plan *p, const char *task,
                      struct arena *arena, struct step_help *out, struct why *why);

#endif
