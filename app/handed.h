/* A piece to be handed over: planned alone, and what of its work nobody has ticked off. For its
 * listing and its story. */
#ifndef APP_HANDED_H
#define APP_HANDED_H

#include "app/book.h"
#include "app/gather.h"

struct handed_args {
    const char *id;
    enum unit_system units;
};
extern const struct desc desc_handed_args;

struct handed {
    struct gathered gathered;
    struct plan_answer plan;
    const struct piece_plan *piece;
    enum unit_system units; /* asked for, else the shop's */
    double promised_h;      /* as agreed; NAN: nothing was */
};

/* Of call->args (struct handed_args). *out is the arena's. Errors: those of gather_plan. */
enum status handed_make(struct op_call *call, struct handed **out, struct why *why);

/* "34 in wide, 20 in deep"; NULL: no size is known. */
const char *handed_size(struct op_call *call, const struct handed *h);
/* "red oak", or as it was typed; NULL: nobody said. */
const char *handed_wood(struct op_call *call, const struct handed *h);

/* A sentence on what a buyer would be told of work that nobody ticked off, a step by its own task,
 * a coat by those of all its coats on that group of parts; NULL: all of it was. Errors: E_MEMORY,
 * E_IO. */
enum status handed_unsaid(struct op_call *call, const struct handed *h, const char **out,
                          struct why *why);

/* The piece's pictures in order of entry. Errors: E_MEMORY, E_IO. */
enum status handed_pictures(struct op_call *call, const char *piece, struct picture_row **rows,
                            size_t *n, struct why *why);

#endif
