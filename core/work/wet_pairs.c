#include "core/work/wet_pairs.h"

#include <math.h>
#include <string.h>

static double parts_of(const struct sample *s, const char *paint) {
    double sum = 0;
    for (size_t i = 0; i < s->items_n; i++)
        if (!strcmp(s->items[i].paint, paint)) sum += s->items[i].parts;
    return sum;
}

static double parts_in(const struct sample *s) {
    double sum = 0;
    for (size_t i = 0; i < s->items_n; i++) sum += s->items[i].parts;
    return sum;
}

/* Every paint of p has the same share in q. */
static bool within(const struct sample *p, const struct sample *q) {
    for (size_t i = 0; i < p->items_n; i++) {
        const char *paint = p->items[i].paint;
        if (fabs(parts_of(p, paint) / parts_in(p) - parts_of(q, paint) / parts_in(q)) > 1e-6)
            return false;
    }
    return true;
}

static bool same_mix(const struct sample *p, const struct sample *q) {
    return parts_in(p) > 0 && parts_in(q) > 0 && within(p, q) && within(q, p);
}

static const struct paint *paint_of(const struct shelf *shelf, const char *id) {
    for (size_t i = 0; i < shelf->paints_n; i++)
        if (!strcmp(shelf->paints[i].id, id)) return &shelf->paints[i];
    return NULL;
}

const char *wet_class_of(const struct shelf *shelf, const struct sample *s) {
    const char *class = NULL;
    for (size_t i = 0; i < s->items_n; i++) {
        const struct paint *p = paint_of(shelf, s->items[i].paint);
        if (!p || !p->class || (class && strcmp(class, p->class))) return NULL;
        class = p->class;
    }
    return class;
}

/* Row of the dry sample of the same mix, or -1. */
static int wet_partner(const struct shelf *shelf, const struct sample *wet) {
    for (size_t i = shelf->samples_n; i-- > 0;) {
        const struct sample *s = &shelf->samples[i];
        if (s->wet != YN_YES && s->color.text && same_mix(s, wet)) return (int)i;
    }
    return -1;
}

static struct lab color_of(const struct sample *s) {
    return (struct lab){s->color.lab[0], s->color.lab[1], s->color.lab[2]};
}

enum status wet_pairs_find(const struct shelf *shelf, const char *class, struct arena *a,
                           struct wet_pair **out, size_t *out_n) {
    struct wet_pair *pairs = arena_array(a, shelf->samples_n + 1, sizeof *pairs);
    size_t n = 0;
    if (!pairs) return E_MEMORY;
    for (size_t i = 0; i < shelf->samples_n && n < WET_PAIRS_MAX; i++) {
        const struct sample *s = &shelf->samples[i];
        const char *of = s->wet == YN_YES && s->color.text ? wet_class_of(shelf, s) : NULL;
        if (!of || strcmp(of, class)) continue;
        int dry = wet_partner(shelf, s);
        if (dry >= 0) pairs[n++] = (struct wet_pair){color_of(s), color_of(&shelf->samples[dry])};
    }
    *out = pairs;
    *out_n = n;
    return OK;
}

static const struct wet_class *row_of(const struct wet_classes *c, const char *class) {
    for (size_t i = 0; i < c->n; i++)
        if (!strcmp(c->rows[i].class, class)) return &c->rows[i];
    return NULL;
}

enum status wet_classes_learn(const struct shelf *shelf, struct arena *a, struct wet_classes *out) {
    out->n = 0;
    for (size_t i = 0; i < shelf->samples_n && out->n < WET_CLASSES_MAX; i++) {
        const struct sample *s = &shelf->samples[i];
        const char *class = s->wet == YN_YES && s->color.text ? wet_class_of(shelf, s) : NULL;
        if (!class || row_of(out, class)) continue;
        struct wet_class *row = &out->rows[out->n++];
        struct wet_pair *pairs;
        *row = (struct wet_class){.class = class};
        if (wet_pairs_find(shelf, class, a, &pairs, &row->pairs)) return E_MEMORY;
        row->ready = wet_learn(pairs, row->pairs, &row->shift, NULL) == OK;
    }
    return OK;
}

double wet_dried_sd(const struct wet_shift *s) {
    return s->expected / sqrt(3);
}

enum wet_use wet_use_of(const struct wet_classes *c, const struct shelf *shelf,
                        const struct sample *wet, const struct wet_class **out_class,
                        struct lab *out_dry) {
    const char *class = wet_class_of(shelf, wet);
    *out_class = class ? row_of(c, class) : NULL;
    if (!*out_class) return WET_MIXED;
    if (wet_partner(shelf, wet) >= 0) return WET_PAIR;
    if (!(*out_class)->ready) return WET_FEW;
    *out_dry = wet_dried(&(*out_class)->shift, color_of(wet));
    return WET_DRIED;
}
