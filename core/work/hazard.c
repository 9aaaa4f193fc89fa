#include "core/work/hazard.h"
#include "core/work/fact.h"

#include <string.h>

/* Gate of an operation; a repair scrapes and sands. NULL: nothing can block it but "all". */
static const char *gate_of(const struct tables *t, const char *operation) {
    const struct operations_row *op = operation_row(t, operation);
    if (op) return op->gate;
    return repair_row(t, operation) ? "dust" : NULL;
}

/* Is `word` one of the words of `list`, which spaces separate? */
static bool lists(const char *list, const char *word) {
    size_t n = strlen(word);
    for (const char *at = list; *at; at += strcspn(at, " ")) {
        at += strspn(at, " ");
        if (strcspn(at, " ") == n && !memcmp(at, word, n)) return n > 0;
    }
    return false;
}

bool hazard_blocks(const struct tables *t, const struct notice *n, const char *operation) {
    if (!n->blocks || !operation) return false;
    if (lists(n->blocks, "all") || lists(n->blocks, operation)) return true;
    const char *gate = gate_of(t, operation);
    if (!gate) return false;
    /* color is put on after coating has begun: what blocks coating blocks color as well */
    return lists(n->blocks, gate) || (lists(n->blocks, "coating") && !strcmp(gate, "color"));
}

static enum rank rank_named(const char *word) {
    return !strcmp(word, "note") ? RANK_NOTE : !strcmp(word, "mind") ? RANK_MIND : RANK_STOP;
}

const struct hazards_row *hazard_refuses(const struct facts *f) {
    const struct tables *t = f->room->t;
    for (size_t i = 0; i < t->hazards_n; i++)
        if (!strcmp(t->hazards[i].rank, "refuse") && fact_holds(f, t->hazards[i].when))
            return &t->hazards[i];
    return NULL;
}

/* A refused piece keeps what forbids to touch it and the cautions about lead: advice on how to do
 * it all the same would be bad advice. */
static bool is_said(const struct hazards *h, const struct hazards_row *row) {
    bool forbids = rank_named(row->rank) == RANK_STOP &&
                   (lists(row->blocks, "all") || lists(row->blocks, "dust"));
    return !h->refused || forbids || !strcmp(row->topic, "lead");
}

/* Stops first, then what must be minded, then notes; within a rank in the table's order. */
static void sort_by_rank(struct notices *n) {
    for (size_t i = 1; i < n->n; i++) {
        struct notice row = n->rows[i];
        size_t k = i;
        for (; k > 0 && n->rows[k - 1].rank < row.rank; k--) n->rows[k] = n->rows[k - 1];
        n->rows[k] = row;
    }
}

static enum status hazards_say(const struct room *r, const struct inspection *in,
                               const struct piece_plan *plan, struct hazards *out) {
    struct facts f;
    fact_make(r, in, &f);
    f.coats = plan ? &plan->coats : NULL;
    f.plan = plan;
    *out = (struct hazards){0};
    const struct hazards_row *refuses = hazard_refuses(&f);
    if (refuses) {
        out->refused = true;
        out->refusal = refuses->text;
        out->instead = refuses->instead;
    }
    for (size_t i = 0; i < r->t->hazards_n; i++) {
        const struct hazards_row *row = &r->t->hazards[i];
        if (!fact_holds(&f, row->when) || !is_said(out, row)) continue;
        struct notice *n = notice_add(r->ledger, &out->notices, rank_named(row->rank), row->topic,
                                      row->text, row->source, certainty_of(row->certainty));
        if (!n) return E_MEMORY;
        n->id = row->id;
        n->remedy = *row->instead ? row->instead : NULL;
        n->blocks = *row->blocks ? row->blocks : NULL;
    }
    sort_by_rank(&out->notices);
    return OK;
}

enum status hazard_make(const struct room *r, const struct inspection *in, struct hazards *out,
                        struct why *why) {
    (void)why;
    return hazards_say(r, in, NULL, out);
}

enum status hazard_of_coats(const struct room *r, struct piece_plan *p, struct why *why) {
    (void)why;
    return p->hazards.refused ? OK : hazards_say(r, &p->inspection, p, &p->hazards);
}
