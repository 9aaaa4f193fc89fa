/* Where the figures of a list come from: bases of answers that are no plan, asked for with `why`
 * and keyed by the figure's pointer in the answer ("/rows/2/buy_ml"). */
#ifndef APP_EXPLAIN_H
#define APP_EXPLAIN_H

#include "app/book.h"
#include "codec/plan_desc.h"
#include "core/work/basis.h"

enum { EXPLAIN_MAX = 20000 };

struct why_args {
    bool why;
};
#define F_WHY(S) F_BOOL(S, why, "say where every figure comes from")
extern const struct desc desc_why_args;

struct explained_list {
    struct list_answer list;
    struct basis *bases;
    size_t bases_n;
};
#define F_BASES(S)                                                                                 \
    {                                                                                              \
        .name = "basis", .offset = offsetof(S, bases), .count_offset = offsetof(S, bases_n),       \
        .type = FIELD_MAP, .of = &desc_basis, .items_max = EXPLAIN_MAX,                            \
        .help = "where the figures come from"                                                      \
    }

/* The pointer of a figure of row i. */
const char *explain_at(struct ledger *l, const char *list, size_t i, const char *member);

/* A number is left out where it is not known. */
void explain_number(struct ledger *l, struct basis *b, const char *name, double value,
                    enum dimension unit);

/* What was collected, with its sources as people read them. Errors: E_MEMORY. */
enum status explain_done(struct op_call *call, struct ledger *l, struct basis **out, size_t *out_n,
                         struct why *why);

#endif
