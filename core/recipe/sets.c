#include "core/recipe/sets.h"

static double mean_of(const double *v) {
    double sum = 0;
    for (int b = 0; b < SPECTRUM_BANDS; b++) sum += v[b];
    return sum / SPECTRUM_BANDS;
}

static void put_shelf(struct sets *s, int at, const struct pigment *p, double scale) {
    for (int b = 0; b < SPECTRUM_BANDS; b++) {
        s->shelf.k[at][b] = (float)(p->k[b] * scale);
        s->shelf.s[at][b] = (float)(p->s[b] * scale);
        s->shelf.q[at][b] = (float)(p->k[b] / p->s[b]);
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
    /* whatever the unit of K and S, single precision sees the strongest paint as about 1 */
    double scale = most > 0 ? 1 / most : 1;
    s->musts_after[s->n] = 0;
    for (int i = s->n; i-- > 0;) {
        s->musts_after[i] =
            s->musts_after[i + 1] + (problem->paints[s->paint[i]].use == RECIPE_MUST);
        s->lo[i] = m->pour_min[s->paint[i]];
        s->hi[i] = m->pour_max[s->paint[i]];
        s->binder[i] = problem->paints[s->paint[i]].binder;
        put_shelf(s, i, problem->paints[s->paint[i]].pigment, scale);
    }
    for (int b = 0; b < SPECTRUM_BANDS; b++) {
        s->shelf.batch_k[b] = (float)(m->batch.k[b] * scale);
        s->shelf.batch_s[b] = (float)(m->batch.s[b] * scale);
    }
    s->shelf.batch_mean = (float)(mean_of(m->batch.s) * scale);
}

static bool is_must(const struct sets *s, int place) {
    return s->m->problem->paints[s->paint[place]].use == RECIPE_MUST;
}

/* Can a set that begins with `base` go on with this paint as its paint number `at`, `parts` being
 * the smallest pours of those before? */
static bool goes(const struct sets *s, int base, int at, int last, int place, int parts) {
    return (!at || s->binder[place] == s->binder[base]) &&
           parts + s->lo[place] + (at < last) <= s->poured &&
           s->musts_after[place + 1] <= last - at;
}

bool sets_next(const struct sets *s, struct cell_set *set) {
    int at = 0, last = set->n, place = 0, parts = 0, *in = set->place;
    if (in[0] >= 0) { /* on from the last one */
        for (int i = 0; i < last; i++) parts += s->lo[in[i]];
        at = last;
        place = in[last] + 1;
        if (is_must(s, in[last])) place = s->n; /* a wanted paint may not be passed over */
    }
    for (;;) {
        if (place + last - at >= s->n) {
            if (!at--) return false;
            parts -= s->lo[in[at]];
            place = is_must(s, in[at]) ? s->n : in[at] + 1;
        } else if (!goes(s, in[0], at, last, place, parts)) {
            place = is_must(s, place) ? s->n : place + 1;
        } else {
            in[at] = place;
            if (at == last) return true;
            at++;
            parts += s->lo[place++];
        }
    }
}

bool sets_single(const struct sets *s, int place) {
    return s->musts_after[0] == is_must(s, place);
}

void sets_load(const struct sets *s, const struct cell_set *set, int lane,
               struct cell_paints *out) {
    const struct cell_shelf *shelf = &s->shelf;
    const int *place = set->place, n = set->n;
    bool batch = s->m->batch_parts > 0;
    for (int b = 0; b < SPECTRUM_BANDS; b++) {
        float k = shelf->k[place[0]][b], sc = shelf->s[place[0]][b], q = shelf->q[place[0]][b];
        float low = q, high = q;
        if (batch) {
            q = shelf->batch_k[b] / shelf->batch_s[b];
            low = q < low ? q : low;
            high = q > high ? q : high;
        }
        out->band[b].k0[lane] = shelf->batch_k[b] + (float)s->poured * k;
        out->band[b].s0[lane] = shelf->batch_s[b] + (float)s->poured * sc;
        for (int i = 0; i < n; i++) {
            q = shelf->q[place[i + 1]][b];
            low = q < low ? q : low;
            high = q > high ? q : high;
            out->band[b].dk[i][lane] = shelf->k[place[i + 1]][b] - k;
            out->band[b].ds[i][lane] = shelf->s[place[i + 1]][b] - sc;
        }
        out->band[b].q_min[lane] = low * .99999f; /* rounding must not shut a mix out */
        out->band[b].q_max[lane] = high * 1.00001f;
    }
    out->mean0[lane] = shelf->batch_mean + (float)s->poured * shelf->mean[place[0]];
    for (int i = 0; i < n; i++)
        out->mean[i][lane] = shelf->mean[place[i + 1]] - shelf->mean[place[0]];
}

size_t sets_items(const struct sets *s, const struct cell_set *set, const short *parts,
                  struct recipe_item *out) {
    size_t n = 0;
    int base = s->poured;
    for (int i = 0; i < set->n; i++) base -= parts[i];
    for (int i = 0; i <= set->n; i++) {
        struct recipe_item item = {s->paint[set->place[i]], i ? parts[i - 1] : base};
        size_t at = n++;
        for (; at && out[at - 1].paint > item.paint; at--) out[at] = out[at - 1];
        out[at] = item;
    }
    return n;
}
