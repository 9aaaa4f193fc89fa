#include "app/explain.h"

#include "app/cited.h"

#include <math.h>

static const struct field why_fields[] = {F_WHY(struct why_args)};
DESC(desc_why_args, struct why_args, "why_args", "How much is said.", why_fields);

const char *explain_at(struct ledger *l, const char *list, size_t i, const char *member) {
    return l->wanted ? arena_print(l->arena, "/%s/%zu/%s", list, i, member) : "";
}

void explain_number(struct ledger *l, struct basis *b, const char *name, double value,
                    enum dimension unit) {
    if (!isnan(value)) basis_number(l, b, name, value, unit);
}

enum status explain_done(struct op_call *call, struct ledger *l, struct basis **out, size_t *out_n,
                         struct why *why) {
    if (l->failed || !cited_bases(call->app->tables, l->bases, l->bases_n, call->arena))
        return why_no_memory(why);
    *out = l->bases, *out_n = l->bases_n;
    return OK;
}
