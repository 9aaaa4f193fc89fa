/* From the book to a job that the core can plan. */
#ifndef APP_GATHER_H
#define APP_GATHER_H

#include "app/op.h"
#include "app/op_plan.h"
#include "core/work/job.h"

enum {
    GATHER_PIECES = 24
}; /* pieces planned together at most: one pair of hands has no more in work */

struct left_out { /* an open piece that cannot be planned, and why */
    const char *id, *title, *text;
};

struct gathered {
    struct job job;
    struct task_kept *kept; /* tasks that have begun or are done, of these pieces */
    size_t kept_n;
    struct left_out *left_out; /* filled by gather_plan */
    size_t left_out_n;
    bool cut;          /* there are more open pieces than are planned together */
    bool alone;        /* the piece without the others: its days are not the shop's */
    size_t first_turn; /* as in struct plan_options: the shop has one timetable */
    const struct sheet_closed *closed; /* the first is; it is planned alone, its days being over */
};

/* What the book says of the shop, nothing assumed. Errors: E_MEMORY, those of a document that no
 * longer reads. */
enum status gather_shop(struct op_call *call, struct shop *out, struct why *why);

/* A volume as this shop says it, for a sentence: "30 fl oz". The call's arena's; NULL: no memory.
 */
const char *gather_volume(struct op_call *call, double ml);

/* The clock of the shop in the book, outside of an operation; the machine's own where no book is
 * open. The spans are the call's arena's. */
enum status gather_clock(struct op_call *call, const struct zone_span **out, size_t *out_n,
                         struct why *why);

/* Shop, shelf with the stock of now, samples, and pieces with their ids of the book.
 *
 *   first   id of the piece to begin with, or NULL
 *   others  add the other open pieces, those promised first, then those longest in the book
 *
 * Errors: E_NOT_FOUND (first), E_MEMORY, those of a document that no longer reads. */
enum status gather_job(struct op_call *call, const char *first, bool others, struct gathered *out,
                       struct why *why);

/* The same for a piece that is not in the book yet, before all open ones; its document is one of
 * desc_piece. Its id is none of the book's. Errors: as gather_job, with /piece. */
enum status gather_guest(struct op_call *call, const char *document, struct gathered *out,
                         struct why *why);

/* How much a piece of the book likely takes of its own color, of that class of product, whatever is
 * mixed; 0: none, or it cannot be planned. */
double gather_color_ml(struct op_call *call, const char *piece, const char *class);

/* Plans what was gathered and, with days, keeps the pieces' outlook. With a first, recipes are
 * searched for it alone. Other pieces than `first` whose statement cannot be planned are left out
 * and named, so that one of them does not stop the whole shop. */
enum status gather_plan(struct op_call *call, struct gathered *g, const char *first,
                        const struct plan_ask *ask, struct plan_answer *out, struct why *why);

/* The pieces that were left out, in words: those with the same reason in one sentence. The arena's;
 * NULL: no memory. */
const char **gather_left_out(struct arena *arena, const struct gathered *g, size_t *out_n);

#endif
