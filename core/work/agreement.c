#include "core/work/agreement.h"
#include "core/work/fact.h"
#include "core/work/hazard.h"

#include <string.h>

static enum rank rank_named(const char *word) {
    return !strcmp(word, "stop") ? RANK_STOP : !strcmp(word, "mind") ? RANK_MIND : RANK_NOTE;
}

static enum certainty certainty_by_source(const char *source) {
    return !strncmp(source, "CFR", 3) ? CERTAINTY_PUBLISHED : CERTAINTY_COMMON;
}

enum status agreement_make(const struct room *r, const struct coats *coats, struct notices *out,
                           struct why *why) {
    (void)why;
    struct facts f;
    fact_make(r, NULL, &f);
    f.coats = coats;
    *out = (struct notices){0};
    if (hazard_refuses(&f)) {
        notice_add(r->ledger, out, RANK_MIND, "refusal",
                   "Tell them why and what may be done instead, and write it down. Nothing is "
                   "agreed, nothing is taken in.",
                   "CP", CERTAINTY_COMMON);
        double paid = r->piece->agreement.deposit_cent;
        char deposit[32];
        if (paid > 0)
            notice_add(r->ledger, out, RANK_MIND, "refusal",
                       ROOM_TEXT(r, "Give the deposit of %s back.", basis_money(paid, deposit)),
                       "CP", CERTAINTY_COMMON);
        return r->ledger->failed ? E_MEMORY : OK;
    }
    for (size_t i = 0; i < r->t->agreement_n; i++) {
        const struct agreement_row *row = &r->t->agreement[i];
        if (!fact_holds(&f, row->when)) continue;
        struct notice *n = notice_add(r->ledger, out, rank_named(row->rank), row->topic, row->text,
                                      row->source, certainty_by_source(row->source));
        if (!n) return E_MEMORY;
        n->remedy = *row->instead ? row->instead : NULL;
        n->signs = *row->signs ? row->signs : NULL;
    }
    return OK;
}
