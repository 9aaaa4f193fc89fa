#include "core/work/care.h"
#include "core/work/fact.h"

#include <string.h>

/* The card speaks of what was planned, not of what was asked for and refused. */
static void facts_planned(const struct room *r, const struct piece_plan *p, struct facts *out) {
    fact_make(r, &p->inspection, out);
    out->coats = &p->coats;
    out->clear = NULL;
    for (size_t i = 0; i < p->coats.n; i++) {
        const struct coat *c = &p->coats.rows[i];
        if (c->role == ROLE_COLOR) out->color = c->class;
        if (c->role == ROLE_STAIN && !out->piece->wanted.color.text) out->color = c->class;
        if (c->role == ROLE_CLEAR || c->role == ROLE_WAX) out->clear = c->class;
    }
}

static int64_t until_of(const struct piece_plan *p, const char *word) {
    if (!strcmp(word, "handle")) return p->deliver_utc_min; /* loading follows careful use */
    if (!strcmp(word, "deliver")) return p->deliver_utc_min;
    return strcmp(word, "cure") ? INT64_MIN : p->cured_utc_min;
}

enum status care_make(const struct room *r, struct piece_plan *p, struct why *why) {
    (void)why;
    struct facts f;
    facts_planned(r, p, &f);
    p->care = arena_array(r->ledger->arena, r->t->care_n + 1, sizeof *p->care);
    p->care_n = 0;
    if (!p->care) return E_MEMORY;
    for (size_t i = 0; i < r->t->care_n; i++) {
        const struct care_row *row = &r->t->care[i];
        if (!fact_holds(&f, row->when)) continue;
        p->care[p->care_n++] = (struct care_line){row->text, until_of(p, row->until), row->source};
    }
    return OK;
}
