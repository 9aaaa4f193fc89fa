#include "core/recipe/sets.h"
#include <string.h>

static double mean_of(const double *v) {
    double sum = 0;
    for (int b = 0; b < SPECTRUM_BANDS; b++) sum += v[b];
    return sum / SPECTRUM_BANDS;
}

static void paint_make(struct sets_paint *out, const struct pigment *p) {
    for (int b = 0; b < SPECTRUM_BANDS; b++) {
        out->k[b] = (float)p->k[b];
        out->s[b] = (float)p->s[b];
        out->q[b] = (float)(p->k[b] / p->s[b]);
    }
    out->mean = (float)mean_of(p->s);
}

void sets_init(struct sets *s, const struct mixture *m) {
    const struct recipe_problem *problem = m->problem;
    s->m = m;
    s->order_n = 0;
    for (size_t i = 0; i < problem->paints_n; i++) {
        if (!m->pour_max[i]) continue;
        size_t at = s->order_n++;
        double mean = mean_of(problem->paints[i].pigment->s);
        for (; at && mean_of(problem->paints[s->order[at - 1]].pigment->s) > mean; at--)
            s->order[at] = s->order[at - 1];
        s->order[at] = i;
    }
    for (size_t i = 0; i < s->order_n; i++)
        paint_make(&s->paints[i], problem->paints[s->order[i]].pigment);
    s->musts_after[s->order_n] = 0;
    for (size_t i = s->order_n; i-- > 0;)
        s->musts_after[i] =
            s->musts_after[i + 1] + (problem->paints[s->order[i]].use == RECIPE_MUST);
    for (int b = 0; b < SPECTRUM_BANDS; b++) {
        s->cell.batch_k[b] = (float)m->batch.k[b];
        s->cell.batch_s[b] = (float)m->batch.s[b];
    }
    s->batch_mean = (float)mean_of(m->batch.s);
}

static void put_base(struct sets *s, const struct sets_paint *p) {
    struct cell_set *c = &s->cell;
    c->mean0 = s->batch_mean + (float)s->poured * p->mean;
    for (int b = 0; b < SPECTRUM_BANDS; b++) {
        c->base_k[b] = p->k[b];
        c->base_s[b] = p->s[b];
        c->k0[b] = c->batch_k[b] + (float)s->poured * p->k[b];
        c->s0[b] = c->batch_s[b] + (float)s->poured * p->s[b];
        s->q_min[0][b] = s->q_max[0][b] = p->q[b];
        if (s->m->batch_parts) {
            float q = c->batch_k[b] / c->batch_s[b];
            if (q < s->q_min[0][b]) s->q_min[0][b] = q;
            if (q > s->q_max[0][b]) s->q_max[0][b] = q;
        }
    }
}

static void put_other(struct sets *s, const struct sets_paint *p, int at) {
    struct cell_set *c = &s->cell;
    const struct sets_paint *base = NULL;
    for (size_t i = 0; i < s->order_n && !base; i++)
        if (s->order[i] == s->paint[0]) base = &s->paints[i];
    c->mean[at - 1] = p->mean - base->mean;
    for (int b = 0; b < SPECTRUM_BANDS; b++) {
        c->k[b][at - 1] = p->k[b];
        c->s[b][at - 1] = p->s[b];
        c->dk[b][at - 1] = p->k[b] - base->k[b];
        c->ds[b][at - 1] = p->s[b] - base->s[b];
        float low = s->q_min[at - 1][b], high = s->q_max[at - 1][b];
        s->q_min[at][b] = p->q[b] < low ? p->q[b] : low;
        s->q_max[at][b] = p->q[b] > high ? p->q[b] : high;
    }
}

static void finish(struct sets *s, int n) {
    s->cell.n = n - 1;
    s->cell.poured = (float)s->poured;
    for (int b = 0; b < SPECTRUM_BANDS; b++) { /* rounding must not shut a paint out */
        s->cell.q_min[b] = s->q_min[n - 1][b] * .99999f;
        s->cell.q_max[b] = s->q_max[n - 1][b] * 1.00001f;
    }
}

struct walk {
    struct sets *s;
    void (*visit)(void *ctx);
    void *ctx;
    const bool *ended;
    int size;
};

/* Chooses the paint at place `at` of a set of w->size from order[from..]. */
static void choose(const struct walk *w, int at, size_t from, int least_parts) {
    struct sets *s = w->s;
    if (at == w->size) {
        if (s->musts_after[from]) return;
        finish(s, at);
        w->visit(w->ctx);
        return;
    }
    for (size_t i = from; i < s->order_n && !*w->ended; i++) {
        size_t left = s->order_n - i;
        if (left < (size_t)(w->size - at) || s->musts_after[i] > w->size - at) {
            if (left < (size_t)(w->size - at)) return;
        } else {
            size_t paint = s->order[i];
            int least = least_parts + s->m->pour_min[paint];
            if (least <= s->poured) {
                s->paint[at] = paint;
                s->lo[at] = s->m->pour_min[paint];
                s->hi[at] = s->m->pour_max[paint] < s->poured ? s->m->pour_max[paint] : s->poured;
                if (at)
                    put_other(s, &s->paints[i], at);
                else
                    put_base(s, &s->paints[i]);
                choose(w, at + 1, i + 1, least);
            }
        }
        /* a wanted paint may not be passed over */
        if (s->m->problem->paints[s->order[i]].use == RECIPE_MUST) return;
    }
}

void sets_each(struct sets *s, int poured, void (*visit)(void *ctx), void *ctx, const bool *ended) {
    s->poured = poured;
    struct walk w = {s, visit, ctx, ended, 0};
    int most = s->m->problem->items_max;
    for (w.size = 1; w.size <= most && w.size <= poured && !*ended; w.size++)
        if (w.size >= s->m->musts) choose(&w, 0, 0, 0);
}

size_t sets_items(const struct sets *s, const short *parts, struct recipe_item *out) {
    size_t n = 0;
    int base = s->poured;
    for (int i = 0; i < s->cell.n; i++) base -= parts[i];
    for (int i = 0; i <= s->cell.n; i++) {
        struct recipe_item item = {s->paint[i], i ? parts[i - 1] : base};
        size_t at = n++;
        for (; at && out[at - 1].paint > item.paint; at--) out[at] = out[at - 1];
        out[at] = item;
    }
    return n;
}
