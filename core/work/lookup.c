#include "core/work/lookup.h"

#include "core/base/units.h"

#include <math.h>
#include <string.h>

static bool same(const char *a, const char *b) {
    return a && b && !strcmp(a, b);
}

#define ROW_OF(name, table)                                                                        \
    const struct table##_row *name(const struct tables *t, const char *id) {                       \
        for (size_t i = 0; id && i < t->table##_n; i++)                                            \
            if (same(t->table[i].id, id)) return &t->table[i];                                     \
        return NULL;                                                                               \
    }
ROW_OF(material_of, materials)
ROW_OF(coat_kind_of, coat_kinds)
ROW_OF(operation_row, operations)
ROW_OF(repair_row, repairs)
ROW_OF(product_class_of, product_classes)

/* A species id may be longer than the trait's: eastern_white_pine is a pine. */
const struct wood_traits_row *wood_trait_of(const struct tables *t, const char *id) {
    const struct wood_traits_row *best = NULL;
    for (size_t i = 0; id && i < t->wood_traits_n; i++) {
        const struct wood_traits_row *row = &t->wood_traits[i];
        if (same(row->id, id)) return row;
        if (strstr(id, row->id) && (!best || strlen(best->id) < strlen(row->id))) best = row;
    }
    return best;
}

const struct paint *shelf_paint(const struct shelf *s, const char *id) {
    for (size_t i = 0; s && id && i < s->paints_n; i++)
        if (same(s->paints[i].id, id)) return &s->paints[i];
    return NULL;
}

bool paint_two_part(const struct paint *p) {
    return p && !isnan(p->label_pot_life_min) && !(p->class && !strcmp(p->class, "milk"));
}

double paint_g_per_ml(const struct tables *t, const struct paint *p) {
    if (p && p->density_g_per_ml > 0) return p->density_g_per_ml;
    const struct product_classes_row *row = p ? product_class_of(t, p->class) : NULL;
    return row ? row->density_g_per_ml : PAINT_USUAL_G_PER_ML;
}

double figure(const struct tables *t, enum figures_place which) {
    return t->figures[which].value;
}

const char *class_wanted(const struct shelf *s, const char *text) {
    const struct paint *p = shelf_paint(s, text);
    return p ? p->class : text;
}

enum certainty certainty_of(const char *word) {
    static const struct {
        const char *word;
        enum certainty c;
    } words[] = {{"exact", CERTAINTY_EXACT},         {"measured", CERTAINTY_MEASURED},
                 {"label", CERTAINTY_LABEL},         {"published", CERTAINTY_PUBLISHED},
                 {"secondary", CERTAINTY_SECONDARY}, {"common", CERTAINTY_COMMON},
                 {"memory", CERTAINTY_MEMORY},       {"assumed", CERTAINTY_ASSUMED}};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (same(words[i].word, word)) return words[i].c;
    return CERTAINTY_UNSAID;
}
