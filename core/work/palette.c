#include "core/work/palette.h"

#include "core/base/recall.h"
#include "core/color/color.h"
#include "core/work/cans.h"
#include "core/work/fact.h"
#include "core/work/wet_pairs.h"

#include <math.h>
#include <string.h>

static bool is_color_class(const struct tables *t, const char *class) {
    const struct product_classes_row *row = product_class_of(t, class);
    return row && !strcmp(row->role, "color");
}

/* The same number for all classes of one family. */
static int binder_of(const struct tables *t, const struct paint *p) {
    const struct product_classes_row *row = product_class_of(t, p->class);
    const int n = (int)t->product_classes_n;
    for (int i = 0; row && i < n; i++)
        if (!strcmp(t->product_classes[i].family, row->family))
            return paint_two_part(p) ? n + i : i; /* a hardener sets what is made for it alone */
    return -1;
}

bool palette_takes(const struct tables *t, const struct paint *p, const char *class) {
    bool known = p->color.text || p->spectrum.values_n || p->leftover_of_n;
    if (!known || !p->class) return false;
    return class ? !strcmp(p->class, class) : is_color_class(t, p->class);
}

static enum status by_spectrum(const struct paint *p, const struct weights *d50, const char *at,
                               struct palette_paint *out, struct why *why) {
    struct spectrum r;
    enum status s = spectrum_resample(p->spectrum.first_nm, p->spectrum.step_nm, p->spectrum.values,
                                      p->spectrum.values_n, &r, why);
    if (s) {
        why_under(why, "/spectrum");
        why_under(why, at);
        return s;
    }
    out->lab = lab_of_xyz(xyz_of_spectrum(d50, &r), d50->white);
    out->pigment = pigment_of_spectrum(&r, pigment_strength_of_lightness(out->lab.l));
    out->knowledge = KNOWN_BY_SPECTRUM;
    return OK;
}

static void by_color(const struct paint *p, const struct weights *d50, struct palette_paint *out) {
    struct upsampled u;
    struct lab said = {p->color.lab[0], p->color.lab[1], p->color.lab[2]};
    out->pigment = pigment_of_color(d50, said, &u);
    out->lab = u.color;
    out->impossible = !u.reached;
    out->knowledge = KNOWN_BY_COLOR;
}

/* A leftover whose paints are all in the palette counts as their sum. */
static bool by_recipe(const struct palette *so_far, const struct paint *p,
                      struct palette_paint *out) {
    struct sample_mix m = {0};
    if (!p->leftover_of_n || p->leftover_of_n > SAMPLE_ITEMS_MAX) return false;
    for (size_t i = 0; i < p->leftover_of_n; i++) {
        int row = palette_find(so_far, p->leftover_of[i].paint);
        if (row < 0 || so_far->paints[row].made_of.n != 1 || !(p->leftover_of[i].parts > 0))
            return false;
        m.paint[m.n] = so_far->paints[row].made_of.paint[0];
        m.volume[m.n++] = p->leftover_of[i].parts;
    }
    out->made_of = m;
    out->knowledge = KNOWN_BY_RECIPE;
    return true;
}

static void weights_fill(const struct tables *t, struct palette *p) {
    p->d50 = weights_make(t, OBSERVER_2, LIGHT_D50);
    p->d65 = weights_make(t, OBSERVER_2, LIGHT_D65);
    p->a = weights_make(t, OBSERVER_2, LIGHT_A);
    p->led = weights_make(t, OBSERVER_2, LIGHT_LED_B3);
}

/* ---- learning ---- */

double palette_reading_sd(enum reading read) {
    switch (read) {
    case READ_INSTRUMENT: return .4;
    case READ_CHART: return 1.5;
    case READ_EYE: return 3;
    case READ_PHOTO:
    case READ_UNSAID: break;
    }
    return 1.2;
}

/* By its id, those that are gone included. */
static int find_any(const struct palette *p, const char *id) {
    for (size_t i = 0; i < p->n + p->gone_n; i++)
        if (!strcmp(p->paints[i].paint->id, id)) return (int)i;
    return -1;
}

/* palette_mix with a volume for each of `rows` paints. */
static bool mix_over(const struct palette *p, size_t rows, const double *volume,
                     struct sample_mix *out) {
    struct sample_mix m = {0};
    for (size_t i = 0; i < rows; i++) {
        if (!(volume[i] > 0)) continue;
        const struct sample_mix *of = &p->paints[i].made_of;
        double sum = 0;
        for (size_t k = 0; k < of->n; k++) sum += of->volume[k];
        for (size_t k = 0; k < of->n; k++) {
            size_t j = 0;
            while (j < m.n && m.paint[j] != of->paint[k]) j++;
            if (j == SAMPLE_ITEMS_MAX) return false;
            if (j == m.n) m.paint[m.n++] = of->paint[k];
            m.volume[j] += volume[i] * of->volume[k] / sum;
        }
    }
    *out = m;
    return m.n > 0;
}

bool palette_sample_mix(const struct palette *p, const struct sample *s, struct sample_mix *out) {
    double volume[SAMPLE_PAINTS_MAX] = {0};
    for (size_t i = 0; i < s->items_n; i++) {
        int row = find_any(p, s->items[i].paint);
        if (row < 0 || !(s->items[i].parts > 0)) return false;
        volume[row] += s->items[i].parts;
    }
    return mix_over(p, p->n + p->gone_n, volume, out);
}

static bool sample_usable(const struct palette *p, const struct shelf *shelf,
                          const struct wet_classes *wet, const struct sample *s,
                          struct sample_reading *out) {
    if (!s->color.text || !s->items_n) return false;
    struct lab color = {s->color.lab[0], s->color.lab[1], s->color.lab[2]};
    double sd = palette_reading_sd(s->read);
    const struct wet_class *class;
    if (s->wet == YN_YES) {
        if (wet_use_of(wet, shelf, s, &class, &color) != WET_DRIED) return false;
        sd = hypot(sd, wet_dried_sd(&class->shift));
    }
    *out = (struct sample_reading){.color = color, .read_sd = sd, .pour_sd = PALETTE_POUR_SD_PARTS};
    return palette_sample_mix(p, s, &out->mix);
}

/* What a leftover was seen to be is a sample of its recipe. */
static bool leftover_seen(const struct palette_paint *q, struct sample_reading *out) {
    if (q->knowledge != KNOWN_BY_RECIPE || !q->paint->color.text) return false;
    const double *lab = q->paint->color.lab;
    *out = (struct sample_reading){.mix = q->made_of,
                                   .color = {lab[0], lab[1], lab[2]},
                                   .read_sd = palette_reading_sd(READ_UNSAID),
                                   .pour_sd = PALETTE_POUR_SD_PARTS};
    return true;
}

static void paints_learn(struct palette *p) {
    const struct pigment *learnt = sample_pigments(p->model);
    for (size_t i = 0; i < p->n + p->gone_n; i++) {
        struct palette_paint *q = &p->paints[i];
        struct pigment parts[SAMPLE_ITEMS_MAX];
        for (size_t k = 0; k < q->made_of.n; k++) parts[k] = learnt[q->made_of.paint[k]];
        q->pigment = pigment_mix(parts, q->made_of.volume, q->made_of.n);
        struct spectrum r = pigment_reflectance(&q->pigment);
        q->lab = lab_of_xyz(xyz_of_spectrum(&p->d50, &r), p->d50.white);
    }
}

static void add_mix(struct recall_key *k, const struct sample_mix *m) {
    recall_int(k, (int64_t)m->n);
    for (size_t i = 0; i < m->n; i++) recall_int(k, (int64_t)m->paint[i]);
    recall_reals(k, m->volume, m->n);
}

static uint64_t key_of(const struct palette *p, const struct sample_paint *paints,
                       const struct sample_reading *readings, size_t n) {
    enum { PALETTE_QUESTION = 2 };
    struct recall_key k = recall_begin(PALETTE_QUESTION);
    for (size_t i = 0; i < p->model_n; i++) {
        const struct sample_paint *q = &paints[i];
        const double reals[] = {q->color.l, q->color.a, q->color.b, q->color_sd, q->shape_sd};
        recall_reals(&k, q->prior.k, SPECTRUM_BANDS);
        recall_reals(&k, q->prior.s, SPECTRUM_BANDS);
        recall_reals(&k, reals, sizeof reals / sizeof *reals);
        recall_int(&k, q->another_can ? (int64_t)q->of : -1);
    }
    for (size_t i = 0; i < n; i++) {
        const struct sample_reading *r = &readings[i];
        const double reals[] = {r->color.l, r->color.a, r->color.b, r->read_sd, r->pour_sd};
        add_mix(&k, &r->mix);
        recall_reals(&k, reals, sizeof reals / sizeof *reals);
    }
    for (size_t i = 0; i < p->n; i++) add_mix(&k, &p->paints[i].made_of);
    return k.a | 1; /* 0 is: unknown */
}

static bool same_color(const struct palette_paint *p, const struct palette_paint *q) {
    return p->lab.l == q->lab.l && p->lab.a == q->lab.a && p->lab.b == q->lab.b;
}

/* A paint before any sample. Another can whose color was not read anew has none of its own: it was
 * said once, for both. */
static struct sample_paint as_assumed(const struct palette *p, size_t row) {
    const struct palette_paint *q = &p->paints[row];
    struct sample_paint one = {.prior = q->pigment,
                               .color = q->lab,
                               .color_sd = SAMPLE_COLOR_SD,
                               .shape_sd = q->knowledge == KNOWN_BY_SPECTRUM ? .15 : 1};
    if (q->can_of < 0) return one;
    const struct palette_paint *first = &p->paints[q->can_of];
    one.another_can = true;
    one.of = first->made_of.paint[0];
    if (same_color(q, first)) one.color.l = NAN;
    return one;
}

static enum status model_fit(struct palette *p, const struct shelf *shelf, struct arena *arena,
                             struct why *why) {
    if (!p->model_n) return OK;
    struct sample_paint *paints = arena_array(arena, p->model_n, sizeof *paints);
    struct sample_reading *readings =
        arena_array(arena, shelf->samples_n + p->n + 1, sizeof *readings);
    p->sample = arena_array(arena, shelf->samples_n + 1, sizeof *p->sample);
    p->sample_color = arena_array(arena, shelf->samples_n + 1, sizeof *p->sample_color);
    struct wet_classes *wet = arena_take(arena, sizeof *wet);
    if (!paints || !readings || !p->sample || !p->sample_color || !wet) return E_MEMORY;
    if (wet_classes_learn(shelf, arena, wet)) return E_MEMORY;
    for (size_t i = 0; i < p->model_n; i++) paints[i] = as_assumed(p, p->model_paint[i]);
    size_t n = 0;
    for (size_t i = 0; i < shelf->samples_n && n < SAMPLE_READINGS_MAX; i++)
        if (sample_usable(p, shelf, wet, &shelf->samples[i], &readings[n])) {
            p->sample_color[p->samples_n] = readings[n].color;
            p->sample[p->samples_n++] = i;
            n++;
        }
    for (size_t i = 0; i < p->n && n < SAMPLE_READINGS_MAX; i++)
        if (leftover_seen(&p->paints[i], &readings[n])) n++;
    p->key = key_of(p, paints, readings, n);
    enum status s =
        sample_fit(&p->d50, paints, p->model_n, readings, n, NULL, arena, &p->model, why);
    if (!s) paints_learn(p);
    return s;
}

size_t palette_paints(const struct tables *t, const struct shelf *shelf, const char *class) {
    size_t n = 0;
    for (size_t i = 0; i < shelf->paints_n; i++) n += palette_takes(t, &shelf->paints[i], class);
    return n < SAMPLE_PAINTS_MAX ? n : SAMPLE_PAINTS_MAX;
}

bool palette_spoils(const struct tables *t, const struct shelf *shelf, const char *class) {
    for (size_t i = 0; i < shelf->paints_n; i++)
        if (palette_takes(t, &shelf->paints[i], class) &&
            !isnan(shelf->paints[i].label_pot_life_min))
            return true;
    return false;
}

/* ---- the palette ---- */

/* ---- where the shelf holds more than are looked at ---- */

/* Jars with something in them first; leftovers that are used up last. */
enum { RANKS = 3 };
static int rank_of(const struct paint *p) {
    return p->stock_ml != 0 ? 0 : p->leftover_of_n ? 2 : 1;
}

/* How many of each rank there is room for; all that there is none for. */
static size_t room_set(const struct tables *t, const struct shelf *shelf, const char *class,
                       size_t out[RANKS]) {
    size_t room = SAMPLE_PAINTS_MAX, left_out = 0;
    memset(out, 0, RANKS * sizeof *out);
    for (size_t i = 0; i < shelf->paints_n; i++)
        if (palette_takes(t, &shelf->paints[i], class)) out[rank_of(&shelf->paints[i])]++;
    for (int r = 0; r < RANKS; r++) {
        const size_t all = out[r];
        out[r] = all < room ? all : room;
        left_out += all - out[r];
        room -= out[r];
    }
    return left_out;
}

/* The next paint of the palette; false: its color is not known after all. */
static enum status paint_take(const struct tables *t, const struct paint *paint, size_t shelf_row,
                              struct arena *arena, struct palette *p, bool *out_taken,
                              struct why *why) {
    struct palette_paint *q = &p->paints[p->n + p->gone_n];
    *out_taken = false;
    *q = (struct palette_paint){
        .paint = paint, .shelf_row = shelf_row, .binder = binder_of(t, paint), .can_of = -1};
    if (!by_recipe(p, paint, q)) {
        if (paint->spectrum.values_n) {
            const char *at = arena_print(arena, "/shelf/paints/%zu", shelf_row);
            enum status s = at ? by_spectrum(paint, &p->d50, at, q, why) : E_MEMORY;
            if (s) return s;
        } else if (paint->color.text) {
            by_color(paint, &p->d50, q);
        } else {
            return OK; /* a leftover of paints that are not here */
        }
        q->made_of = (struct sample_mix){.n = 1, .paint = {p->model_n}, .volume = {1}};
        p->model_paint[p->model_n++] = p->n + p->gone_n;
    }
    *out_taken = true;
    return OK;
}

/* Paints that are gone teach what the other can begins with, as far as there is room. */
static enum status gone_take(const struct tables *t, const struct shelf *shelf, const char *class,
                             struct arena *arena, struct palette *p, struct why *why) {
    enum status s = OK;
    for (size_t i = 0; i < shelf->gone_n && !s && p->n + p->gone_n < SAMPLE_PAINTS_MAX; i++) {
        const struct paint *paint = &shelf->gone[i];
        bool taken;
        if (!palette_takes(t, paint, class) || paint->leftover_of_n) continue;
        s = paint_take(t, paint, shelf->paints_n + i, arena, p, &taken, why);
        if (!s) p->gone_n += taken;
    }
    return s;
}

/* Cans of one paint all hang on the first of them. */
static void cans_link(const struct shelf *shelf, struct palette *p) {
    for (size_t i = 0; i < p->n + p->gone_n; i++) {
        struct palette_paint *q = &p->paints[i];
        int first = find_any(p, cans_first(shelf, q->paint)->id);
        if (first < 0 || first == (int)i || q->knowledge == KNOWN_BY_RECIPE ||
            p->paints[first].knowledge == KNOWN_BY_RECIPE)
            continue;
        q->can_of = first;
    }
}

enum status palette_make(const struct tables *t, const struct shelf *shelf, const char *class,
                         struct arena *arena, struct palette *out, struct why *why) {
    const size_t most = shelf->paints_n + shelf->gone_n + 1;
    struct palette p = {.t = t,
                        .shelf = shelf,
                        .class = class,
                        .paints = arena_array(arena, most, sizeof *p.paints),
                        .model_paint = arena_array(arena, most, sizeof(size_t))};
    if (!p.paints || !p.model_paint) return why_no_memory(why);
    size_t room[RANKS];
    enum status s = OK;
    weights_fill(t, &p);
    p.left_out = room_set(t, shelf, class, room);
    for (size_t i = 0; i < shelf->paints_n && !s; i++) {
        const struct paint *paint = &shelf->paints[i];
        bool taken;
        if (!palette_takes(t, paint, class) || !room[rank_of(paint)]) continue;
        s = paint_take(t, paint, i, arena, &p, &taken, why);
        if (s || !taken) continue;
        room[rank_of(paint)]--;
        p.n++;
    }
    if (!s) s = gone_take(t, shelf, class, arena, &p, why);
    if (s) return s;
    cans_link(shelf, &p);
    s = model_fit(&p, shelf, arena, why);
    if (s) return s == E_MEMORY ? why_say(why, s, "", "%s", status_text(s)) : s;
    *out = p;
    return OK;
}

enum status palettes_get(struct palettes *made, const struct tables *t, const struct shelf *shelf,
                         const char *class, struct arena *arena, const struct palette **out,
                         struct why *why) {
    for (size_t i = 0; i < made->n; i++) {
        const char *have = made->rows[i].class;
        if (have == class || (have && class && !strcmp(have, class))) {
            *out = &made->rows[i].palette;
            return OK;
        }
    }
    struct palette *p = arena_take(arena, sizeof *p);
    if (!p) return why_no_memory(why);
    enum status s = palette_make(t, shelf, class, arena, p, why);
    if (s) return s;
    if (made->n < PALETTES_MAX) {
        made->rows[made->n].class = class;
        made->rows[made->n++].palette = *p;
    }
    *out = p;
    return OK;
}

bool palette_mix(const struct palette *p, const double *volume, struct sample_mix *out) {
    return mix_over(p, p->n, volume, out);
}

double palette_variance(void *ctx, const int *parts, size_t n) {
    const struct palette *p = ctx;
    double volume[SAMPLE_PAINTS_MAX] = {0};
    for (size_t i = 0; i < n; i++) {
        if (parts[i] <= 0) continue;
        const struct sample_mix *of = &p->paints[i].made_of;
        double sum = 0;
        for (size_t k = 0; k < of->n; k++) sum += of->volume[k];
        for (size_t k = 0; k < of->n; k++) volume[of->paint[k]] += parts[i] * of->volume[k] / sum;
    }
    return sample_variance(p->model, volume, p->model_n);
}

bool palette_apart(const struct palette *p, const double *volume, size_t *out_one,
                   size_t *out_other) {
    size_t first = 0;
    while (first < p->n && !(volume[first] > 0)) first++;
    for (size_t i = first; i < p->n; i++)
        if (volume[i] > 0 && p->paints[i].binder != p->paints[first].binder) {
            *out_one = first;
            *out_other = i;
            return true;
        }
    return false;
}

int palette_find(const struct palette *p, const char *id) {
    for (size_t i = 0; i < p->n; i++)
        if (!strcmp(p->paints[i].paint->id, id)) return (int)i;
    return -1;
}

enum status palette_need(const struct palette *p, const char *id, const char *at, int *out_row,
                         struct why *why) {
    if ((*out_row = palette_find(p, id)) >= 0) return OK;
    if (!at) return why_no_memory(why);
    const struct paint *q = NULL;
    for (size_t i = 0; i < p->shelf->paints_n; i++)
        if (!strcmp(p->shelf->paints[i].id, id)) q = &p->shelf->paints[i];
    const struct product_classes_row *its = q ? product_class_of(p->t, q->class) : NULL,
                                     *asked = product_class_of(p->t, p->class);
    if (!q) return why_say(why, E_REFERENCE, at, "There is no paint \"%.64s\" on this shelf.", id);
    if (its && strcmp(its->role, "color") != 0)
        return why_say(why, E_REFERENCE, at,
                       "\"%.64s\" is %s: it is not mixed for its color. Name paints that go on as "
                       "color.",
                       id, its->name);
    if (its && asked && its != asked)
        return why_say(why, E_REFERENCE, at, "\"%.64s\" is %s, not %s. Name paints of that kind.",
                       id, its->name, asked->name);
    if (palette_takes(p->t, q, p->class) && !q->leftover_of_n)
        return why_say(why, E_REFERENCE, at,
                       "\"%.64s\" is one paint too many: %d are looked at. Take off the shelf what "
                       "is used up.",
                       id, SAMPLE_PAINTS_MAX);
    return why_say(why, E_REFERENCE, at,
                   "The color of \"%.64s\" is not known. Say which color it dries to.", id);
}

static size_t paint_of(const struct palette *p, size_t row) {
    return p->paints[row].can_of < 0 ? row : (size_t)p->paints[row].can_of;
}

bool palette_can_spare(const struct palette *p, size_t row, double need_ml) {
    for (size_t i = 0; i < p->n; i++) {
        const double stock_ml = p->paints[i].paint->stock_ml;
        if (paint_of(p, i) != paint_of(p, row)) continue;
        if (isnan(stock_ml) || (stock_ml > 0 && stock_ml >= need_ml)) return i != row;
    }
    return false;
}

double palette_lots_apart(const struct palette *p, size_t row) {
    double apart;
    const int first = p->paints[row].can_of;
    if (first < 0 ||
        sample_apart(p->model, &p->paints[first].made_of, &p->paints[row].made_of, &apart, NULL))
        return NAN;
    return apart;
}
