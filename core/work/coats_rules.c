#include "core/work/coats_rules.h"

#include <string.h>

static const char *const prep_words[PREP_COUNT] = {
#define X(name, word) [name##_BIT] = word,
    PREP_LIST(X)
#undef X
};

bool prep_parse(const char *words, unsigned *out_bits) {
    unsigned bits = 0;
    for (const char *at = words + strspn(words, " "); *at; at += strspn(at, " ")) {
        size_t n = strcspn(at, " ");
        bool known = n == 4 && !memcmp(at, "none", 4);
        for (unsigned i = 0; i < PREP_COUNT; i++)
            if (strlen(prep_words[i]) == n && !memcmp(prep_words[i], at, n))
                bits |= 1u << i, known = true;
        if (!known) return false;
        at += n;
    }
    *out_bits = bits;
    return true;
}

enum verdict verdict_named(const char *word) {
    if (!strcmp(word, "holds")) return VERDICT_HOLDS;
    if (!strcmp(word, "prepare")) return VERDICT_PREPARE;
    if (!strcmp(word, "wait")) return VERDICT_WAIT;
    return !strcmp(word, "never") ? VERDICT_NEVER : VERDICT_UNKNOWN;
}

/* How particular a cell is about the id: 0 no match, 1 any, 2 a kind, 3 the id itself. */
static int under_matches(const char *cell, const struct materials_row *m, const char *id) {
    if (!strcmp(cell, id)) return 3;
    if (!strcmp(cell, "film")) return m && m->film == 1 ? 2 : 0;
    if (!strcmp(cell, "opaque")) return m && m->opaque == 1 ? 2 : 0;
    return strcmp(cell, "any") ? 0 : 1;
}

static int over_matches(const char *cell, const struct coat_kinds_row *k, const char *id) {
    if (!strcmp(cell, id)) return 3;
    if (!strcmp(id, "none")) return 0; /* nothing more comes: only rules about the end speak */
    if (k && !strcmp(cell, k->role)) return 2;
    return strcmp(cell, "any") ? 0 : 1;
}

struct ranked {
    const struct coat_rules_row *row;
    int rank; /* verdict first, then how particular */
};

/* Keeps the list sorted, worst and most particular first; equals in the table's order. */
static void rank_in(struct ranked *list, size_t *n, struct ranked r) {
    if (*n == JUDGMENT_RULES && list[*n - 1].rank >= r.rank) return;
    size_t k = *n < JUDGMENT_RULES ? (*n)++ : JUDGMENT_RULES - 1;
    for (; k > 0 && list[k - 1].rank < r.rank; k--) list[k] = list[k - 1];
    list[k] = r;
}

struct judgment coats_judge(const struct facts *f, const char *under, const char *over) {
    const struct tables *t = f->room->t;
    const struct materials_row *m = material_of(t, under);
    const struct coat_kinds_row *k = coat_kind_of(t, over);
    struct ranked list[JUDGMENT_RULES];
    struct judgment j = {.verdict = VERDICT_UNKNOWN};
    struct facts at = *f;
    at.finish = under;
    for (size_t i = 0; i < t->coat_rules_n; i++) {
        const struct coat_rules_row *row = &t->coat_rules[i];
        int u = under_matches(row->under, m, under), o = over_matches(row->over, k, over);
        if (!u || !o || !fact_holds(&at, row->when)) continue;
        int particular = u + o + (strcmp(row->when, "always") ? 1 : 0);
        rank_in(list, &j.rules_n,
                (struct ranked){row, (int)verdict_named(row->verdict) * 16 + particular});
    }
    for (size_t i = 0; i < j.rules_n; i++) {
        unsigned bits = 0;
        j.rules[i] = list[i].row;
        prep_parse(list[i].row->prep, &bits);
        *(verdict_named(list[i].row->verdict) == VERDICT_NEVER ? &j.cure : &j.prep) |= bits;
    }
    if (j.rules_n) {
        j.rule = j.rules[0];
        j.verdict = verdict_named(j.rule->verdict);
    }
    return j;
}

const struct coat_rules_row *judgment_asks(const struct judgment *j, unsigned prep) {
    for (size_t i = 0; i < j->rules_n; i++) {
        unsigned bits = 0;
        prep_parse(j->rules[i]->prep, &bits);
        if (bits & prep) return j->rules[i];
    }
    return NULL;
}
