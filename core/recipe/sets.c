#include "core/recipe/sets.h"
#include <string.h>

static double mean_of(const double *v) {
    double sum = 0;
    for (int b = 0; b < SPECTRUM_BANDS; b++) sum += v[b];
    return sum / SPECTRUM_BANDS;
}

static void put_shelf(struct sets *s, int at, const struct pigment *p, double scale) {
    for (int b = 0; b < SPECTRUM_BANDS; b++) {
        s->shelf.k[b][at] = (float)(p->k[b] * scale);
        s->shelf.s[b][at] = (float)(p->s[b] * scale);
        s->shelf.q[b][at] = (float)(p->k[b] / p->s[b]);
    }
    s->shelf.mean[at] = (float)(mean_of(p->s) * scale);
}

void sets_init(struct sets *s, const struct mixture *m) {
    const struct recipe_problem *problem = m->problem;
    double most = 0;
    s->m = m;
    s->n = 0;
    for (size_t i = 0; i < problem->paints_n; i++) {
        if (!m->pour_max[i]) continue;
        int at = s->n++;
        double mean = mean_of(problem->paints[i].pigment->s);
        for (; at && mean_of(problem->paints[s->paint[at - 1]].pigment->s) > mean; at--)
            s->paint[at] = s->paint[at - 1];
        s->paint[at] = i;
        if (mean > most) most = mean;
    }
    /* whatever the unit of K and S, single precision sees the strongest paint as
     * about 1 */
    double scale = most > 0 ? 1 / most : 1;
    s->musts_after[s->n] = 0;
    for (int i = s->n; i-- > 0;) {
        s->musts_after[i] =
            s->musts_after[i + 1] + (problem->paints[s->paint[i]].use == RECIPE_MUST);
        s->lo[i] = m->pour_min[s->paint[i]];
        s->hi[i] = m->pour_max[s->paint[i]];
        put_shelf(s, i, problem->paints[s->paint[i]].pigment, scale);
    }
    for (int b = 0; b < SPECTRUM_BANDS; b++) {
        s->cell.batch_k[b] = (float)(m->batch.k[b] * scale);
        s->cell.batch_s[b] = (float)(m->batch.s[b] * scale);
    }
    s->batch_mean = (float)(mean_of(m->batch.s) * scale);
}

static void put_base(struct sets *s, int place) {
    struct cell_set *c = &s->cell;
    c->poured = (float)s->poured;
    c->base_mean = s->shelf.mean[place];
    c->mean0 = s->batch_mean + c->poured * c->base_mean;
    for (int b = 0; b < SPECTRUM_BANDS; b++) {
        c->base_k[b] = s->shelf.k[b][place];
        c->base_s[b] = s->shelf.s[b][place];
        c->k0[b] = c->batch_k[b] + c->poured * c->base_k[b];
        c->s0[b] = c->batch_s[b] + c->poured * c->base_s[b];
        s->q_min[0][b] = s->q_max[0][b] = s->shelf.q[b][place];
        if (!s->m->batch_parts) continue;
        float q = (float)(s->m->batch.k[b] / s->m->batch.s[b]);
        if (q < s->q_min[0][b]) s->q_min[0][b] = q;
        if (q > s->q_max[0][b]) s->q_max[0][b] = q;
    }
}

static void put_other(struct sets *s, int place, int at) {
    struct cell_set *c = &s->cell;
    c->mean[at - 1] = s->shelf.mean[place] - c->base_mean;
    for (int b = 0; b < SPECTRUM_BANDS; b++) {
        c->k[b][at - 1] = s->shelf.k[b][place];
        c->s[b][at - 1] = s->shelf.s[b][place];
        c->dk[b][at - 1] = c->k[b][at - 1] - c->base_k[b];
        c->ds[b][at - 1] = c->s[b][at - 1] - c->base_s[b];
        float q = s->shelf.q[b][place], low = s->q_min[at - 1][b], high = s->q_max[at - 1][b];
        s->q_min[at][b] = q < low ? q : low;
        s->q_max[at][b] = q > high ? q : high;
    }
}

struct walk {
    struct sets *s;
    void (*visit)(void *ctx, int first);
    void *ctx;
    const bool *ended;
    int shared; /* paints but the last */
};

static void choose(const struct walk *w, int at, int from, int least_parts) {
    struct sets *s = w->s;
    if (at == w->shared) {
        if (s->musts_after[from] > 1 || from == s->n) return;
        s->cell.n = at;
        memcpy(s->cell.q_min, s->q_min[at - 1], sizeof s->cell.q_min);
        memcpy(s->cell.q_max, s->q_max[at - 1], sizeof s->cell.q_max);
        w->visit(w->ctx, from);
        return;
    }
    for (int i = from; i + w->shared - at < s->n && !*w->ended; i++) {
        int least = least_parts + s->lo[i];
        if (least < s->poured && s->musts_after[i] <= w->shared - at + 1) {
            s->place[at] = i;
            if (at)
                put_other(s, i, at);
            else
                put_base(s, i);
            choose(w, at + 1, i + 1, least);
        }
        /* a wanted paint may not be passed over */
        if (s->m->problem->paints[s->paint[i]].use == RECIPE_MUST) return;
    }
}

void sets_each(struct sets *s, int poured, void (*visit)(void *ctx, int first), void *ctx,
               const bool *ended) {
    s->poured = poured;
    struct walk w = {s, visit, ctx, ended, 1};
    for (; w.shared < s->m->problem->items_max && w.shared < poured && !*ended; w.shared++)
        if (w.shared + 1 >= s->m->musts) choose(&w, 0, 0, 0);
}

bool sets_last(const struct sets *s, int first, int last) {
    bool must = s->m->problem->paints[s->paint[last]].use == RECIPE_MUST;
    return s->musts_after[first] == must;
}

size_t sets_items(const struct sets *s, const short *parts, int last, struct recipe_item *out) {
    size_t n = 0;
    int base = s->poured;
    for (int i = 0; i < s->cell.n; i++) base -= parts[i];
    for (int i = 0; i <= s->cell.n; i++) {
        int place = i < s->cell.n ? s->place[i] : last;
        struct recipe_item item = {s->paint[place], i ? parts[i - 1] : base};
        size_t at = n++;
        for (; at && out[at - 1].paint > item.paint; at--) out[at] = out[at - 1];
        out[at] = item;
    }
    return n;
}
