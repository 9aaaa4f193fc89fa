/* From the book's records to what the shop's plans reckon with. */
#ifndef APP_LEARNED_H
#define APP_LEARNED_H

#include "app/book.h"
#include "core/work/learn.h"

/* One subject: what is usual -> this shop. */
struct learned_row {
    const char *kind, *class, *method, *operation;
    double usual,
        shop; /* m2 per liter, fraction or minutes, by the kind; hours: NAN, by the work */
    double factor, low, high, log_sd;
    int64_t used, questioned;
};

/* All subjects on record. *out_rows is the arena's. Errors: E_IO, E_MEMORY. */
enum status learned_rows(struct op_call *call, struct learned_row **out_rows, size_t *out_n,
                         struct why *why);

/* The same for core: fills the shop's `learnt` from the records that were not left out, for each
 * piece of the job from those of others. */
enum status learned_job(struct op_call *call, struct job *job, struct why *why);

/* Makes a record ready to be kept: `planned` becomes what is usual (the plan's figure without what
 * other pieces had taught it, so that teaching is not counted twice; for spread, loss and drying,
 * when nothing was said, the class's or tool's own), and `doubted` is set when it lies further off
 * than the shop's records let expect. */
enum status learned_prepare(struct op_call *call, struct record_row *row, struct why *why);

#endif
