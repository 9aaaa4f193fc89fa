#include "core/work/unsaid_class.h"

#include "core/work/lookup.h"

#include <string.h>

static bool has_color(const struct paint *p) {
    return p->color.text || p->spectrum.values_n > 0 || p->leftover_of_n > 0;
}

static bool is_color_paint(const struct tables *t, const char *class) {
    const struct product_classes_row *row = product_class_of(t, class);
    return row && !strcmp(row->role, "color");
}

static const char *commonest(const struct tables *t, const struct shelf *shelf) {
    const char *best = "wb_enamel";
    size_t best_n = 0;
    for (size_t i = 0; i < shelf->paints_n; i++) {
        const char *class = shelf->paints[i].class;
        size_t n = 0;
        if (!is_color_paint(t, class)) continue;
        for (size_t k = 0; k < shelf->paints_n; k++)
            n += shelf->paints[k].class && !strcmp(shelf->paints[k].class, class);
        if (n > best_n) best = class, best_n = n;
    }
    return best;
}

static const char *of_leftover(const struct shelf *shelf, const struct paint *p) {
    for (size_t i = 0; i < p->leftover_of_n; i++) {
        const struct paint *in = shelf_paint(shelf, p->leftover_of[i].paint);
        if (in && in->class) return in->class;
    }
    return NULL;
}

void unsaid_classes(const struct tables *t, struct shelf *shelf) {
    const char *usual = commonest(t, shelf);
    for (int leftovers = 0; leftovers < 2; leftovers++) /* what they were mixed from first */
        for (size_t i = 0; i < shelf->paints_n; i++) {
            struct paint *p = &shelf->paints[i];
            if (p->class || !has_color(p) || (p->leftover_of_n > 0) != leftovers) continue;
            const char *of = of_leftover(shelf, p);
            p->class = of ? of : usual;
            p->class_taken = true;
        }
}

void unsaid_classes_list(const struct tables *t, const struct shelf *shelf, struct ledger *l) {
    for (size_t i = 0; i < shelf->paints_n; i++) {
        const struct paint *p = &shelf->paints[i];
        const struct product_classes_row *row = product_class_of(t, p->class);
        if (!p->class_taken || !row) continue;
        const char *at = arena_print(l->arena, "/shelf/paints/%zu/class", i);
        if (!at) {
            l->failed = true;
            return;
        }
        const char *name = p->name ? p->name : p->id;
        const char *why =
            p->leftover_of_n
                ? arena_print(l->arena, "%s: nobody said of what kind; what is in it is of this",
                              name)
                : arena_print(l->arena,
                              "%s: nobody said of what kind; most color paints here are of this, "
                              "or it is the usual one",
                              name);
        assume_word(l, at, row->name, why, "CP");
    }
}
