/* Parts of the surfaces gathered into lots: same group, same treatment, same ground. */
#include "core/work/coats_build.h"

#include <math.h>
#include <string.h>

static bool same(const char *a, const char *b) {
    return a && b && !strcmp(a, b);
}

static bool kind_of(enum treatment t, enum lot_kind *out) {
    switch (t) {
    case TREAT_PAINT:
    case TREAT_PAINT_NO_CLEAR: *out = LOT_PAINT; return true;
    case TREAT_CLEAR: *out = LOT_CLEAR; return true;
    case TREAT_STAIN: *out = LOT_STAIN; return true;
    case TREAT_WAX: *out = LOT_WAX; return true;
    case TREAT_SEAL: *out = LOT_SEAL; return true;
    default: return false;
    }
}

/* What is left when finish or foil is off: the part's own metal or board, else the piece's. */
static const char *below_of(const struct build *b, const struct part *part) {
    const struct materials_row *own = material_of(b->r->t, part->material);
    const struct wood_traits_row *wood = wood_trait_of(b->r->t, b->r->piece->wood);
    if (own && same(own->id, "metal")) return own->id;
    if (own && same(own->kind, "board")) return "mdf"; /* under foil too */
    if (same(b->f.finish, "laminate")) return "mdf";
    if (!wood || wood->board != 1) return "bare";
    return same(wood->id, "metal") ? "metal" : "mdf";
}

/* What lies there: the part's own board where it says so, else the piece's finish. A sound film on
 * MDF is a film, and so is one on metal where the whole piece is of it: the legs of a varnished
 * desk are not. Laminate and glass are always themselves. */
static const char *ground_of(const struct build *b, const struct part *part) {
    const struct materials_row *own = material_of(b->r->t, part->material);
    const struct materials_row *piece = material_of(b->r->t, b->f.finish);
    bool metal_piece = same(below_of(b, &(struct part){0}), "metal");
    if (!own && same(b->f.finish, "bare") && metal_piece) return "metal";
    if (!own || same(own->kind, "film")) return own ? own->id : b->f.finish;
    bool coats = same(own->id, "mdf") || (same(own->id, "metal") && metal_piece);
    if (coats && piece && piece->film == 1 && !same(piece->id, "unknown")) return piece->id;
    return own->id;
}

static bool has_word(const struct part *part, const char *word) {
    return (part->id && strstr(part->id, word)) || (part->shape && strstr(part->shape, word)) ||
           (part->profile && strstr(part->profile, word));
}

/* Row of data/labor_factors.tsv that speaks of the part; NULL: as quick as broad flats. */
static const struct labor_factors_row *labor_row(const struct build *b, const struct part *part) {
    const struct tables *t = b->r->t;
    for (size_t i = 0; i < t->labor_factors_n; i++)
        if (has_word(part, t->labor_factors[i].id)) return &t->labor_factors[i];
    return NULL;
}

static double labor_factor(const struct build *b, const struct surface *s) {
    const struct labor_factors_row *row = labor_row(b, &s->part);
    return row ? row->factor : s->factor > 1.25 ? 1.2 : 1;
}

/* The top of what is taller than people carries no cups. */
static bool used_top(const struct build *b, const struct part *part) {
    const double overhead_mm = 1500;
    bool top = same(part->id, "top") && b->r->piece->height_mm > overhead_mm;
    if (top || has_word(part, "upper_top")) return false;
    return has_word(part, "top") || has_word(part, "seat") || has_word(part, "shel");
}

/* Said alike, or both not said. */
static bool alike(const char *a, const char *b) {
    return a == b || same(a, b);
}

static struct lot *lot_for(struct build *b, const struct surface_group *g, enum lot_kind kind,
                           const char *material, const struct color_said *color,
                           const struct part *part) {
    const char *below = below_of(b, part);
    for (size_t i = 0; i < b->lots_n; i++) {
        struct lot *l = &b->lots[i];
        bool one_color =
            l->color == color || (l->color && color && same(l->color->text, color->text));
        bool one_can = alike(l->product, part->product) && alike(l->clear_said, part->clear);
        if (l->group == g && l->kind == kind && same(l->material, material) &&
            same(l->below, below) && one_color && one_can)
            return l;
    }
    struct lot *l = &b->lots[b->lots_n++];
    *l = (struct lot){.group = g,
                      .kind = kind,
                      .material = material,
                      .below = below,
                      .color = color,
                      .product = part->product,
                      .clear_said = part->clear};
    for (size_t i = 0; i + 1 < b->lots_n; i++)
        if (b->lots[i].group == g) b->lots[i].shares_group = l->shares_group = true;
    return l;
}

static void lot_take(struct build *b, struct lot *l, const struct surface *s) {
    bool natural = l->kind != LOT_PAINT, seal = l->kind == LOT_SEAL;
    double area = seal ? s->sealed_m2 : natural ? fmax(s->coated_m2, s->clear_m2) : s->coated_m2;
    double clear = seal ? 0 : natural ? area : s->clear_m2;
    if (l->area_m2 + area > 0)
        l->slow = (l->slow * l->area_m2 + labor_factor(b, s) * area) / (l->area_m2 + area);
    l->area_m2 += area;
    l->clear_m2 += clear;
    l->edge_m += s->mask_edge_mm / 1000;
    if (used_top(b, &s->part)) l->top_m2 += clear;
    const struct labor_factors_row *labor = labor_row(b, &s->part);
    l->curves |= labor ? labor->curves == 1 : s->factor > 1.25;
    l->veneer |= !seal && b->r->piece->veneer == YN_YES && same(l->below, "bare");
    if (!seal) b->total_m2 += area; /* what is seen goes no faster for it */
}

enum status lots_make(struct build *b) {
    const struct surfaces *s = &b->p->surfaces;
    b->lots = arena_array(b->r->ledger->arena, s->rows_n ? s->rows_n : 1, sizeof *b->lots);
    b->lot_of = arena_array(b->r->ledger->arena, s->rows_n ? s->rows_n : 1, sizeof *b->lot_of);
    if (!b->lots || !b->lot_of) return E_MEMORY;
    for (size_t i = 0; i < s->rows_n; i++) b->lot_of[i] = NULL;
    for (size_t g = 0; g < s->groups_n; g++) {
        const struct surface_group *group = &s->groups[g];
        for (size_t i = 0; i < group->n; i++) {
            const struct surface *row = &s->rows[group->first + i];
            enum lot_kind kind;
            if (!kind_of(row->part.treatment, &kind)) continue;
            if (!(fmax(row->sealed_m2, fmax(row->coated_m2, row->clear_m2)) > 0)) continue;
            const char *ground = kind == LOT_SEAL ? "bare" : ground_of(b, &row->part);
            if (same(ground, "glass")) continue; /* masked, never coated */
            bool own = kind == LOT_PAINT && row->part.color.text &&
                       !same(row->part.color.text, b->r->piece->wanted.color.text);
            const struct color_said *color = own ? &row->part.color : NULL;
            struct lot *lot = lot_for(b, group, kind, ground, color, &row->part);
            b->lot_of[group->first + i] = lot;
            lot_take(b, lot, row);
        }
    }
    return OK;
}

struct facts lot_facts(const struct build *b, const struct lot *lot) {
    static const enum treatment treatments[] = {TREAT_PAINT, TREAT_CLEAR, TREAT_STAIN, TREAT_WAX,
                                                TREAT_SEAL};
    struct facts f = b->f;
    f.finish = lot->material;
    f.below = lot->below;
    f.treatment = treatments[lot->kind];
    f.top_surface = lot->top_m2 > 0;
    const struct paint *can = shelf_paint(b->r->shelf, lot->product);
    if (can && can->color.text) f.lightness = can->color.lab[0];
    if (lot->color) f.lightness = lot->color->lab[0];
    if (lot->color_class) f.color = lot->color_class;
    if (lot->clear_said)
        f.clear = same(lot->clear_said, "none") ? NULL : class_wanted(b->r->shelf, lot->clear_said);
    return f;
}
