#include "core/recipe/seed.h"
#include <math.h>
#include <string.h>

struct seeker {
    const struct mixture *m;
    struct archive *archive;
    const struct limit *limit;
    uint64_t *points;
    bool *stopped;
    bool ended;
};

struct trial {
    int parts[RECIPE_SHELF_MAX]; /* poured */
    double objective;
};

static double judge(struct seeker *s, struct trial *t) {
    const struct mixture *m = s->m;
    struct recipe_item items[RECIPE_ITEMS_MAX];
    size_t n = 0;
    for (size_t i = 0; i < m->problem->paints_n; i++)
        if (t->parts[i]) items[n++] = (struct recipe_item){i, t->parts[i]};
    double d = mixture_difference(m, items, n);
    t->objective = mixture_objective(m, items, n, d);
    archive_offer(s->archive, items, n, t->objective);
    ++*s->points;
    if (s->limit && s->limit->steps && *s->points >= s->limit->steps) s->ended = true;
    if (*s->points % 256 == 0 && limit_asked(s->limit)) s->ended = *s->stopped = true;
    return t->objective;
}

static bool pour_ok(const struct mixture *m, size_t i, int parts) {
    if (!parts) return m->problem->paints[i].use != RECIPE_MUST;
    return parts >= m->pour_min[i] && parts <= m->pour_max[i];
}

/* To the next amount of one of two paints: every one up to a sixteenth more of the scarcer, for
 * what lies between is found by the descent. */
static int pair_step(int parts, int poured) {
    const int other = poured - parts;
    return 1 + (parts < other ? parts : other) / 16;
}

/* The recipes of one or two paints of `poured` parts. */
static void pairs(struct seeker *s, int poured) {
    const struct mixture *m = s->m;
    size_t n = m->problem->paints_n;
    if (m->musts > 2) return;
    for (size_t i = 0; i < n && !s->ended; i++)
        for (size_t j = i; j < n && !s->ended; j++) {
            int musts = (m->problem->paints[i].use == RECIPE_MUST) +
                        (i != j && m->problem->paints[j].use == RECIPE_MUST);
            if (musts != m->musts || (i != j && m->problem->items_max < 2)) continue;
            if (m->problem->paints[i].binder != m->problem->paints[j].binder) continue;
            struct trial t = {{0}, 0};
            for (int k = i == j ? poured : 1; k <= poured && !s->ended; k += pair_step(k, poured)) {
                if ((i == j) != (k == poured)) continue;
                t.parts[j] = poured - k;
                t.parts[i] = k;
                if (pour_ok(m, i, k) && (i == j || pour_ok(m, j, poured - k))) judge(s, &t);
            }
        }
}

static int items_of(const struct trial *t, size_t n) {
    int items = 0;
    for (size_t i = 0; i < n; i++) items += t->parts[i] > 0;
    return items;
}

/* Are all its paints of the binder of paint i? */
static bool binder_ok(const struct mixture *m, const struct trial *t, size_t i) {
    const struct recipe_paint *paints = m->problem->paints;
    for (size_t k = 0; k < m->problem->paints_n; k++)
        if (t->parts[k] && paints[k].binder != paints[i].binder) return false;
    return true;
}

/* Moves `step` parts from paint i to j (all of i where it has fewer than its
 * smallest pour left); keeps the better in *best. */
static void try_move(struct seeker *s, const struct trial *from, size_t i, size_t j, int step,
                     struct trial *best) {
    const struct mixture *m = s->m;
    struct trial t = *from;
    if (step > t.parts[i]) return;
    t.parts[i] -= step;
    t.parts[j] += step;
    if (!pour_ok(m, i, t.parts[i]) || !pour_ok(m, j, t.parts[j])) return;
    if (items_of(&t, m->problem->paints_n) > m->problem->items_max || !binder_ok(m, &t, j)) return;
    if (judge(s, &t) < best->objective) *best = t;
}

static void descend(struct seeker *s, struct trial *t) {
    size_t n = s->m->problem->paints_n;
    for (int round = 0; round < 64 && !s->ended; round++) {
        struct trial best = *t;
        for (size_t i = 0; i < n && !s->ended; i++) {
            if (!t->parts[i]) continue;
            for (size_t j = 0; j < n; j++) {
                if (j == i || !s->m->pour_max[j]) continue;
                for (int step = 1; step < t->parts[i]; step *= 2) try_move(s, t, i, j, step, &best);
                try_move(s, t, i, j, t->parts[i], &best);
            }
        }
        if (!(best.objective < t->objective)) return;
        *t = best;
    }
}

/* A recipe of one binder to begin with where pairs do not fit (several wanted
 * paints, small stocks): wanted paints first, each its smallest pour, then
 * filled up in shelf order. */
static bool fit_binder(const struct mixture *m, int binder, int poured, struct trial *t) {
    memset(t, 0, sizeof *t);
    int left = poured, items = 0;
    size_t n = m->problem->paints_n;
    for (int round = 0; round < 2; round++)
        for (size_t i = 0; i < n; i++) {
            bool must = m->problem->paints[i].use == RECIPE_MUST;
            if (must == (round == 1) || !m->pour_max[i] || items == m->problem->items_max) continue;
            if (m->problem->paints[i].binder != binder) continue;
            if (!must && left < m->pour_min[i]) continue;
            t->parts[i] = m->pour_min[i];
            left -= t->parts[i];
            items++;
            if (round == 1 || m->musts == items) {
                for (size_t j = 0; j <= i && left > 0; j++) {
                    int more = t->parts[j] ? m->pour_max[j] - t->parts[j] : 0;
                    if (more > left) more = left;
                    t->parts[j] += more;
                    left -= more;
                }
            }
            if (!left && items >= m->musts) return true;
        }
    return false;
}

static bool first_fit(const struct mixture *m, int poured, struct trial *t) {
    for (size_t i = 0; i < m->problem->paints_n; i++)
        if (m->pour_max[i] && fit_binder(m, m->problem->paints[i].binder, poured, t)) return true;
    return false;
}

static int total_of(const struct mixture *m, const struct trial *t) {
    int sum = 0;
    for (size_t i = 0; i < m->problem->paints_n; i++) sum += t->parts[i];
    return sum;
}

void seed_search(const struct mixture *m, struct archive *archive, const struct limit *limit,
                 int starts, uint64_t *points, bool *stopped) {
    struct seeker s = {m, archive, limit, points, stopped, false};
    for (int total = m->first_total; total <= m->last_total && !s.ended; total++)
        if (total >= m->batch_parts) pairs(&s, total - m->batch_parts);
    struct trial from[ARCHIVE_SETS], fit;
    size_t n = 0;
    for (; n < archive->sets_n && (int)n < starts; n++) {
        memset(&from[n], 0, sizeof from[n]);
        from[n].objective = archive->sets[n].objective;
        for (size_t i = 0; i < archive->sets[n].n; i++)
            from[n].parts[archive->sets[n].items[i].paint] = archive->sets[n].items[i].parts;
    }
    if (!n && m->last_total >= m->batch_parts &&
        first_fit(m, m->last_total - m->batch_parts, &fit)) {
        judge(&s, &fit);
        from[n++] = fit;
    }
    for (size_t i = 0; i < n && !s.ended; i++)
        if (total_of(m, &from[i]) > 0) descend(&s, &from[i]);
}
