#include "core/work/fact.h"
#include "core/work/inspection.h"
#include "core/work/lead_year.h"
#include "core/work/method.h"
#include "core/work/pot.h"

#include <math.h>
#include <string.h>

static bool same(const char *a, const char *b) {
    return a && b && !strcmp(a, b);
}

void fact_make(const struct room *r, const struct inspection *in, struct facts *out) {
    const struct wanted *w = &r->piece->wanted;
    const struct paint *paint = shelf_paint(r->shelf, w->product);
    const struct color_said *color = w->color.text                ? &w->color
                                     : paint && paint->color.text ? &paint->color
                                                                  : NULL;
    *out = (struct facts){
        .room = r,
        .piece = r->piece,
        .in = in,
        .finish = in && in->finish   ? in->finish
                  : r->piece->finish ? r->piece->finish
                                     : "unknown",
        .color = class_wanted(r->shelf, w->product),
        .clear = same(w->clear, "none") ? NULL : class_wanted(r->shelf, w->clear),
        .primer = same(w->primer, "none") ? NULL : class_wanted(r->shelf, w->primer),
        .lightness = color ? color->lab[0] : NAN,
        .dry_min = NAN,
    };
}

/* ---- what the names mean ---- */

static const struct materials_row *under(const struct facts *f) {
    return material_of(f->room->t, f->finish);
}
static bool coated(const struct facts *f) {
    const struct materials_row *m = under(f);
    return !m || m->film == 1;
}
static bool opaque(const struct facts *f) {
    const struct materials_row *m = under(f);
    return m && m->opaque == 1;
}
static bool finish_is(const struct facts *f, const char *id) {
    return same(f->finish, id);
}

/* Some part, or the group at hand, is made of it. */
static bool made_of(const struct facts *f, const char *material) {
    if (f->treatment != TREAT_UNSAID) return finish_is(f, material);
    if (finish_is(f, material)) return true;
    for (size_t i = 0; i < f->piece->parts_n; i++)
        if (same(f->piece->parts[i].material, material)) return true;
    return false;
}

static const struct wood_traits_row *wood(const struct facts *f) {
    const struct wood_traits_row *w =
        wood_trait_of(f->room->t, f->piece->wood ? f->piece->wood : "unknown");
    return w ? w : wood_trait_of(f->room->t, "unknown");
}

static bool template_has(const struct facts *f, const char *part) {
    return f->piece->template && strstr(f->piece->template, part);
}

/* What is at hand is wood, not a board, metal, glass or a weave. Of a piece as a whole that holds
 * as soon as one of its parts is said to be of wood; what nobody has looked at may be wood. */
static bool wooden(const struct facts *f) {
    if (template_has(f, "wicker")) return false;
    const struct materials_row *m = under(f);
    bool board = (m && same(m->kind, "board")) || wood(f)->board == 1;
    if (!board || f->treatment != TREAT_UNSAID) return !board;
    for (size_t i = 0; i < f->piece->parts_n; i++) {
        const struct materials_row *part = material_of(f->room->t, f->piece->parts[i].material);
        if (part && !same(part->kind, "board") && wood(f)->board != 1) return true;
    }
    return false;
}

static double fig(const struct facts *f, enum figures_place which) {
    return figure(f->room->t, which);
}

/* Made before a year, or nobody knows when. */
static bool before(const struct facts *f, enum figures_place year) {
    return f->piece->year == INT64_MIN || (double)f->piece->year < fig(f, year);
}

/* Long one way, and no set of loose doors. */
static bool large(const struct facts *f) {
    const struct piece *p = f->piece;
    const double long_mm = fig(f, FIGURES_LARGE_MM) - 1e-6;
    return !template_has(f, "doors") &&
           (p->width_mm >= long_mm || p->height_mm >= long_mm || p->depth_mm >= long_mm);
}

static bool crib(const struct facts *f) {
    return template_has(f, "crib");
}
/* Furniture that holds clothes, books or dishes; loose doors are none. */
static bool storage(const struct facts *f) {
    static const char *kinds[] = {"chest",   "dresser",  "sideboard", "wardrobe", "armoire",
                                  "cabinet", "bookcase", "cupboard",  "media",    "hutch"};
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++)
        if (template_has(f, kinds[i])) return !template_has(f, "door");
    return false;
}
/* As 16 CFR 1261 has it; weight is not known and is taken as given. */
static bool tall_storage(const struct facts *f) {
    const struct piece *p = f->piece;
    if (!storage(f)) return false;
    if (isnan(p->height_mm)) return true;
    bool holds = isnan(p->width_mm) || isnan(p->depth_mm) ||
                 p->width_mm * p->depth_mm * p->height_mm * 1e-9 >= fig(f, FIGURES_TIP_OVER_M3);
    return p->height_mm >= fig(f, FIGURES_TIP_OVER_MM) - 1e-6 && holds;
}

/* A part that was said to be treated so. */
static bool part_is(const struct facts *f, enum treatment a, enum treatment b) {
    for (size_t i = 0; i < f->piece->parts_n; i++)
        if (f->piece->parts[i].treatment == a || f->piece->parts[i].treatment == b) return true;
    return false;
}

static bool natural_top(const struct facts *f) {
    const char *t = f->piece->wanted.top;
    if (t && !same(t, "painted")) return true;
    for (size_t i = 0; i < f->piece->parts_n; i++) {
        const struct part *p = &f->piece->parts[i];
        bool natural =
            p->treatment == TREAT_CLEAR || p->treatment == TREAT_STAIN || p->treatment == TREAT_WAX;
        if (natural && (same(p->id, "top") || same(p->id, "lid"))) return true;
    }
    return false;
}
static bool painted(const struct facts *f) {
    if (f->treatment != TREAT_UNSAID)
        return f->treatment == TREAT_PAINT || f->treatment == TREAT_PAINT_NO_CLEAR;
    const struct wanted *w = &f->piece->wanted;
    const struct coat_kinds_row *k = coat_kind_of(f->room->t, f->color);
    if (k && k->seen > 0) return false;
    return w->color.text || w->product || !natural_top(f);
}
/* A color that nobody has said may be light. */
static bool light(const struct facts *f) {
    return painted(f) && (isnan(f->lightness) || f->lightness >= fig(f, FIGURES_LIGHT_LIGHTNESS));
}

/* The wood of a part stays to be seen. */
static bool part_seen(const struct facts *f, const char *id) {
    for (size_t i = 0; id && i < f->piece->parts_n; i++) {
        const struct part *p = &f->piece->parts[i];
        if (!same(p->id, id) || p->treatment == TREAT_UNSAID) continue;
        return p->treatment == TREAT_CLEAR || p->treatment == TREAT_STAIN ||
               p->treatment == TREAT_WAX;
    }
    bool top = same(id, "top") && f->piece->wanted.top;
    return top ? !same(f->piece->wanted.top, "painted") : !painted(f);
}
/* A repair that shows under clear (repairs.tsv, seen) is made there. */
static bool mended_seen(const struct facts *f) {
    for (size_t i = 0; i < f->piece->repairs_n; i++) {
        const struct repair *said = &f->piece->repairs[i];
        const struct repairs_row *row = repair_row(f->room->t, said->kind);
        if (row && *row->seen && part_seen(f, said->part)) return true;
    }
    return false;
}

/* Once the coats are chosen they alone count: the rules add barriers and parts have cans of their
 * own, and what was asked for may have been refused. */
static bool any_class(const struct facts *f, bool (*is)(const struct coat_kinds_row *)) {
    for (size_t i = 0; f->coats && i < f->coats->n; i++) {
        const struct coat_kinds_row *k = coat_kind_of(f->room->t, f->coats->rows[i].class);
        if (k && is(k)) return true;
    }
    if (f->coats) return false;
    const char *classes[] = {f->color, f->clear, f->primer};
    for (size_t i = 0; i < 3; i++) {
        const struct coat_kinds_row *k = coat_kind_of(f->room->t, classes[i]);
        if (k && is(k)) return true;
    }
    return false;
}
static bool kind_oily(const struct coat_kinds_row *k) {
    return k->oily == 1;
}
static bool kind_strong(const struct coat_kinds_row *k) {
    return same(k->thinner, "strong");
}
static bool kind_spirit(const struct coat_kinds_row *k) {
    return same(k->thinner, "alcohol");
}
static bool kind_solvent(const struct coat_kinds_row *k) {
    return !same(k->thinner, "water");
}
static bool waterborne(const struct facts *f) {
    const struct coat_kinds_row *k = coat_kind_of(f->room->t, f->color);
    return !k || same(k->thinner, "water");
}

static bool effect(const struct facts *f, const char *id) {
    for (size_t i = 0; i < f->piece->wanted.effects_n; i++)
        if (same(f->piece->wanted.effects[i], id)) return true;
    return false;
}
/* A part that was said to get this clear or last coat. */
static bool part_clear(const struct facts *f, const char *class) {
    for (size_t i = 0; i < f->piece->parts_n; i++)
        if (same(class_wanted(f->room->shelf, f->piece->parts[i].clear), class)) return true;
    return false;
}
/* Among the planned coats, as the last one and not as an effect. */
static bool last_coat(const struct facts *f, const char *class) {
    for (size_t i = 0; i < f->coats->n; i++)
        if (f->coats->rows[i].role == ROLE_WAX && same(f->coats->rows[i].class, class)) return true;
    return false;
}
static bool waxed_last(const struct facts *f) {
    if (f->coats) return last_coat(f, "wax");
    return same(f->clear, "wax") || same(f->color, "wax") || effect(f, "wax") ||
           same(f->piece->wanted.top, "waxed") ||
           (part_is(f, TREAT_WAX, TREAT_WAX) && !same(f->clear, "oil")) || part_clear(f, "wax");
}
static bool oiled(const struct facts *f) {
    if (f->coats) return last_coat(f, "oil");
    return same(f->clear, "oil") || same(f->color, "oil") || same(f->piece->wanted.top, "oiled") ||
           part_clear(f, "oil");
}

static int64_t lead_year(const struct facts *f) {
    return lead_year_of(f->room->t, f->room->shop, NULL);
}
static bool old_year(const struct facts *f) {
    int64_t y = f->piece->year;
    return y == INT64_MIN || y < lead_year(f);
}
static bool lead_is(const struct facts *f, enum lead a, enum lead b) {
    return f->piece->tests.lead == a || f->piece->tests.lead == b;
}
static bool lead_open(const struct facts *f) {
    if (f->in) return f->in->lead_cleared != YN_YES;
    return old_year(f) && !lead_is(f, LEAD_LAB_NEGATIVE, LEAD_XRF_NEGATIVE);
}
static bool lead_measured(const struct facts *f) {
    return lead_is(f, LEAD_LAB_POSITIVE, LEAD_XRF_POSITIVE) ||
           lead_class_of(f->piece->tests.lead_frac) == LEAD_CLASS_PAINT;
}

static double moisture(const struct facts *f) {
    return f->in ? f->in->moisture_frac : NAN;
}
static bool outdoor(const struct facts *f) {
    return f->piece->place == PLACE_OUTDOOR;
}
/* Garden wood of the years of chromated copper arsenate, and no wood that needs no treatment: pines
 * and firs but not cedar, or one that nobody has named. 68 FR 17366. */
static bool may_be_treated(const struct facts *f) {
    bool soft = !f->piece->wood || (wood(f)->knots == 1 && wood(f)->tannin != 1);
    return outdoor(f) && wooden(f) && soft && before(f, FIGURES_ARSENATE_YEAR);
}

static double tape(const struct facts *f) {
    return f->piece->tests.tape_removed_frac;
}
static bool oily(const struct facts *f) {
    if (f->coats) return any_class(f, kind_oily);
    return any_class(f, kind_oily) || oiled(f) || waxed_last(f) ||
           same(f->piece->wanted.top, "stained");
}
static bool sprayed(const struct facts *f) {
    for (size_t i = 0; f->coats && i < f->coats->n; i++)
        if (f->coats->rows[i].class && method_sprays(f->room->t, f->coats->rows[i].tool))
            return true;
    return method_sprays(f->room->t, f->piece->wanted.method);
}
static bool panel(const struct facts *f, const char *kind) {
    for (size_t i = 0; i < f->piece->fittings.panels_n; i++)
        if (same(f->piece->fittings.panels[i].kind, kind)) return true;
    return false;
}
/* A planned row does it. */
static bool does(const struct facts *f, const char *operation) {
    for (size_t i = 0; f->coats && i < f->coats->n; i++)
        if (same(f->coats->rows[i].operation, operation)) return true;
    return false;
}
/* Mineral spirits go over it: wax is taken off, or it is wiped because nobody has looked. */
static bool spirits(const struct facts *f) {
    if (f->coats) return does(f, "dewax") || does(f, "wipe_spirits");
    if (f->cleaned) return false;
    return (f->in && f->in->wax == YN_YES) || f->piece->tests.wax_wipe == WIPE_GREASY;
}
/* An old film comes off, and with remover; shellac comes off with alcohol. */
static bool strips(const struct facts *f) {
    if (f->coats) return does(f, "strip") || does(f, "wash_shellac");
    const struct wanted *w = &f->piece->wanted;
    if (!coated(f) || outdoor(f)) return false; /* outdoors it is scraped */
    return (f->in && f->in->holds == YN_NO) || f->piece->condition == CONDITION_FLAKING ||
           same(w->top, "stained") || part_is(f, TREAT_STAIN, TREAT_STAIN) ||
           (natural_top(f) && opaque(f));
}

static bool remover(const struct facts *f) {
    return f->coats ? does(f, "strip") : strips(f) && !finish_is(f, "shellac");
}
static bool washes_shellac(const struct facts *f) {
    return f->coats ? does(f, "wash_shellac") : strips(f) && finish_is(f, "shellac");
}

static bool two_part_can(const struct facts *f, const char *id) {
    return paint_two_part(shelf_paint(f->room->shelf, id));
}

/* A color that is mixed is of two parts where its recipe is; before there is one, where all of its
 * class on the shelf is: such paints are in no recipe with others. */
static bool two_part_mix(const struct facts *f, const struct coat *c) {
    const struct shelf *shelf = f->room->shelf;
    size_t of = 0, two = 0;
    if (f->plan && pot_hardens(shelf, f->plan, c)) return true;
    if (c->role != ROLE_COLOR || c->product) return false;
    for (size_t i = 0; i < shelf->paints_n; i++) {
        if (!same(shelf->paints[i].class, c->class)) continue;
        of++, two += paint_two_part(&shelf->paints[i]);
    }
    return of && of == two;
}
/* A can of two parts whose label nobody has written down. */
static bool two_part_unsaid(const struct facts *f) {
    for (size_t i = 0; f->coats && i < f->coats->n; i++) {
        const struct coat *c = &f->coats->rows[i];
        const struct paint *can =
            shelf_paint(f->room->shelf, f->plan ? pot_product(f->plan, c) : c->product);
        if (paint_two_part(can) && (isnan(can->label_recoat_min) || isnan(can->label_handle_min)))
            return true;
    }
    return false;
}
static bool two_part(const struct facts *f) {
    const struct wanted *w = &f->piece->wanted;
    for (size_t i = 0; f->coats && i < f->coats->n; i++)
        if (two_part_can(f, f->coats->rows[i].product) || two_part_mix(f, &f->coats->rows[i]))
            return true;
    if (f->coats) return false;
    for (size_t i = 0; i < f->piece->parts_n; i++)
        if (two_part_can(f, f->piece->parts[i].product) ||
            two_part_can(f, f->piece->parts[i].clear))
            return true;
    return two_part_can(f, w->product) || two_part_can(f, w->clear) || two_part_can(f, w->primer);
}

/* ---- the names ---- */

typedef bool fact_fn(const struct facts *f);
#define FACTS(X)                                                                                   \
    X(always, true)                                                                                \
    X(coated, coated(f))                                                                           \
    X(opaque, opaque(f))                                                                           \
    X(bare, finish_is(f, "bare"))                                                                  \
    X(finish_unsaid, !f->piece->finish)                                                            \
    X(finish_unknown, finish_is(f, "unknown") || finish_is(f, "paint"))                            \
    X(painted, painted(f))                                                                         \
    X(light, light(f))                                                                             \
    X(waterborne, waterborne(f))                                                                   \
    X(oily, oily(f))                                                                               \
    X(strong, any_class(f, kind_strong))                                                           \
    X(spirit, any_class(f, kind_spirit))                                                           \
    X(solvent, any_class(f, kind_solvent))                                                         \
    X(sprayed, sprayed(f))                                                                         \
    X(spirits, spirits(f))                                                                         \
    X(strips, strips(f))                                                                           \
    X(remover, remover(f))                                                                         \
    X(washes_shellac, washes_shellac(f))                                                           \
    X(two_part, two_part(f))                                                                       \
    X(two_part_unsaid, two_part_unsaid(f))                                                         \
    X(natural_top, natural_top(f))                                                                 \
    X(stained, same(f->piece->wanted.top, "stained"))                                              \
    X(waxed_last, waxed_last(f))                                                                   \
    X(oiled, oiled(f))                                                                             \
    X(no_clear, same(f->piece->wanted.clear, "none"))                                              \
    X(top, f->top_surface)                                                                         \
    X(gilding, effect(f, "gilding"))                                                               \
    X(effects, f->piece->wanted.effects_n > 0)                                                     \
    X(client, f->piece->agreement.purpose == PURPOSE_CLIENT)                                       \
    X(sale, f->piece->agreement.purpose == PURPOSE_SALE)                                           \
    X(own, f->piece->agreement.purpose == PURPOSE_OWN)                                             \
    X(signed, f->piece->agreement.sample_signed == YN_YES)                                         \
    X(deposit_said, !isnan(f->piece->agreement.deposit_cent))                                      \
    X(use_said, f->piece->agreement.use != NULL)                                                   \
    X(left_bare, part_is(f, TREAT_BARE, TREAT_BARE))                                               \
    X(excludes, f->piece->agreement.excluded_n > 0)                                                \
    X(outdoor, outdoor(f))                                                                         \
    X(may_be_treated, may_be_treated(f))                                                           \
    X(kitchen, f->piece->place == PLACE_KITCHEN)                                                   \
    X(bath, f->piece->place == PLACE_BATH)                                                         \
    X(child, f->piece->child == YN_YES || crib(f))                                                 \
    X(crib, crib(f))                                                                               \
    X(drop_side, f->piece->drop_side == YN_YES)                                                    \
    X(slat_gap_wide, f->piece->slat_gap_mm > fig(f, FIGURES_CRIB_SLATS_MM) + 1e-9)                 \
    X(crib_old, crib(f) && before(f, FIGURES_CRIB_YEAR))                                           \
    X(bed, template_has(f, "bed"))                                                                 \
    X(lidded, template_has(f, "blanket_chest"))                                                    \
    X(loose_doors, template_has(f, "kitchen_doors"))                                               \
    X(media, template_has(f, "media"))                                                             \
    X(storage, storage(f))                                                                         \
    X(tall_storage, tall_storage(f))                                                               \
    X(slides, f->piece->drawers > 0 || f->piece->doors > 0 || f->piece->fittings.slides_n > 0)     \
    X(gap_unsaid, !f->piece->fittings.slides_n)                                                    \
    X(drawers, f->piece->drawers > 0)                                                              \
    X(back_bench, template_has(f, "back_bench"))                                                   \
    X(seat, template_has(f, "chair") || template_has(f, "bench") || template_has(f, "stool"))      \
    X(table, template_has(f, "table") || template_has(f, "desk"))                                  \
    X(shelves, f->piece->shelves > 0 || template_has(f, "bookcase"))                               \
    X(glass, made_of(f, "glass") || panel(f, "glass") || panel(f, "mirror"))                       \
    X(cane, panel(f, "cane"))                                                                      \
    X(fabric, panel(f, "fabric") || f->piece->seat == SEAT_UPHOLSTERED)                            \
    X(mdf, made_of(f, "mdf") || (wood(f)->board == 1 && !same(wood(f)->id, "metal")))              \
    X(laminate, made_of(f, "laminate"))                                                            \
    X(wooden, wooden(f))                                                                           \
    X(wicker, template_has(f, "wicker"))                                                           \
    X(large, large(f))                                                                             \
    X(softwood, !f->piece->wood || wood(f)->knots == 1)                                            \
    X(mended_seen, mended_seen(f))                                                                 \
    X(oily_wood, wood(f)->oily == 1 && wooden(f))                                                  \
    X(metal, made_of(f, "metal"))                                                                  \
    X(on_metal, f->below ? same(f->below, "metal") : same(wood(f)->id, "metal"))                   \
    X(veneer, f->piece->veneer == YN_YES)                                                          \
    X(veneer_thin,                                                                                 \
      f->piece->veneer == YN_YES && !(f->piece->veneer_mm >= fig(f, FIGURES_VENEER_THIN_MM)))      \
    X(veneer_unknown, f->piece->veneer == YN_UNSAID)                                               \
    X(wood_unknown, !f->piece->wood)                                                               \
    X(risk_wood, wood(f)->bleed == 2)                                                              \
    X(some_wood, wood(f)->bleed >= 1)                                                              \
    X(tannin, wood(f)->tannin == 1)                                                                \
    X(open_grain, wood(f)->open == 1)                                                              \
    X(knots, f->piece->knots == YN_YES)                                                            \
    X(knots_unknown, f->piece->knots == YN_UNSAID && wood(f)->knots == 1)                          \
    X(cedar_lined, template_has(f, "blanket_chest") && same(f->piece->wood, "cedar"))              \
    X(kept, part_is(f, TREAT_MASK, TREAT_MASK) || f->piece->seat == SEAT_WOVEN)                    \
    X(oak, f->piece->wood &&strstr(f->piece->wood, "oak"))                                         \
    X(bleeder, wood(f)->bleed >= 1 || f->piece->knots == YN_YES ||                                 \
                   f->piece->tests.smell == SMELL_SMOKE || f->piece->tests.rag >= RAG_BROWN)       \
    X(bleed_some, f->in && f->in->bleed_score >= 2)                                                \
    X(bleed_high, f->in && f->in->bleed_score >= 4)                                                \
    X(rag_stained, f->piece->tests.rag == RAG_BROWN || f->piece->tests.rag == RAG_RED)             \
    X(rag_red, f->piece->tests.rag == RAG_RED)                                                     \
    X(rag_unsaid, f->piece->tests.rag == RAG_UNSAID)                                               \
    X(rag_clean, f->piece->tests.rag == RAG_CLEAN)                                                 \
    X(dye_lifts, f->piece->tests.dye_lifts == YN_YES)                                              \
    X(dye_unsaid, f->piece->tests.dye_lifts == YN_UNSAID)                                          \
    X(patch_unsaid, f->piece->tests.patch == OUTCOME_UNSAID)                                       \
    X(patch_failed, f->piece->tests.patch == OUTCOME_FAILED)                                       \
    X(patch_passed, f->piece->tests.patch == OUTCOME_PASSED)                                       \
    X(board_failed, f->piece->tests.test_board == OUTCOME_FAILED)                                  \
    X(board_passed, f->piece->tests.test_board == OUTCOME_PASSED)                                  \
    X(wax,                                                                                         \
      !f->cleaned && (f->in ? f->in->wax == YN_YES : f->piece->tests.wax_wipe == WIPE_GREASY))     \
    X(wax_void, is_wax(f) && f->piece->tests.spot_cleaned != YN_YES)                               \
    X(wax_unsaid, !f->cleaned && f->piece->tests.wax_wipe == WIPE_UNSAID)                          \
    X(water_unsaid, f->piece->tests.water_drop == DROP_UNSAID)                                     \
    X(alcohol_unsaid, f->piece->tests.alcohol == REACTION_UNSAID)                                  \
    X(alcohol_weak,                                                                                \
      f->piece->tests.alcohol == REACTION_NOTHING || f->piece->tests.alcohol == REACTION_SOFTENS)  \
    X(alcohol_nothing, f->piece->tests.alcohol == REACTION_NOTHING)                                \
    X(thinner_unsaid, f->piece->tests.thinner == REACTION_UNSAID)                                  \
    X(thinner_said, f->piece->tests.thinner != REACTION_UNSAID)                                    \
    X(xylene_unsaid, f->piece->tests.xylene == REACTION_UNSAID)                                    \
    X(before_1920, f->piece->year != INT64_MIN && f->piece->year < 1920)                           \
    X(made_before_1990, f->piece->year != INT64_MIN && f->piece->year < 1990)                      \
    X(tape_unsaid, isnan(tape(f)))                                                                 \
    X(film_fails, f->in && f->in->holds == YN_NO)                                                  \
    X(film_thick, f->piece->tests.film_um > fig(f, FIGURES_FILM_THICK_UM))                         \
    X(film_weak, tape_rating(tape(f)) == 3)                                                        \
    X(film_holds, f->in && f->in->holds == YN_YES)                                                 \
    X(worn, f->piece->condition >= CONDITION_WORN)                                                 \
    X(damaged, f->piece->condition >= CONDITION_DAMAGED)                                           \
    X(flaking, f->piece->condition == CONDITION_FLAKING)                                           \
    X(moisture_unsaid, isnan(f->piece->tests.moisture_frac))                                       \
    X(moisture_warn, !outdoor(f) && moisture(f) > fig(f, FIGURES_MOISTURE_WARN_FRAC) + 1e-9)       \
    X(moisture_stop,                                                                               \
      moisture(f) >                                                                                \
          fig(f, outdoor(f) ? FIGURES_MOISTURE_OUTDOOR_FRAC : FIGURES_MOISTURE_STOP_FRAC) + 1e-9)  \
    X(year_unsaid, f->piece->year == INT64_MIN)                                                    \
    X(lead_year_unknown, lead_year(f) == INT64_MAX)                                                \
    X(year_old, old_year(f))                                                                       \
    X(year_close, !old_year(f) && (double)f->piece->year <                                         \
                                      (double)lead_year(f) + fig(f, FIGURES_LEAD_CLOSE_YEARS))     \
    X(lead_open, lead_open(f))                                                                     \
    X(lead_unsaid, f->piece->tests.lead == LEAD_UNSAID)                                            \
    X(lead_waiting, f->piece->tests.lead == LEAD_WAITING)                                          \
    X(lead_kit_negative, f->piece->tests.lead == LEAD_KIT_NEGATIVE)                                \
    X(lead_kit_positive, f->piece->tests.lead == LEAD_KIT_POSITIVE)                                \
    X(lead_measured, lead_measured(f))                                                             \
    X(lead_cleared,                                                                                \
      f->in && f->in->lead_cleared == YN_YES && lead_is(f, LEAD_LAB_NEGATIVE, LEAD_XRF_NEGATIVE))  \
    X(lead_over_90ppm,                                                                             \
      !lead_measured(f) && lead_class_of(f->piece->tests.lead_frac) == LEAD_CLASS_CONSUMER)        \
    X(smell_unsaid, f->piece->tests.smell == SMELL_UNSAID)                                         \
    X(smoke, f->piece->tests.smell == SMELL_SMOKE)                                                 \
    X(urine, f->piece->tests.smell == SMELL_URINE)                                                 \
    X(musty, f->piece->tests.smell == SMELL_MUSTY)                                                 \
    X(smells, f->piece->tests.smell > SMELL_NONE)                                                  \
    X(mold_unsaid, f->piece->tests.mold == MOLD_UNSAID)                                            \
    X(mold_surface, f->piece->tests.mold == MOLD_SURFACE)                                          \
    X(mold_deep, f->piece->tests.mold == MOLD_DEEP)                                                \
    X(pests_unsaid, f->piece->tests.pests == PESTS_UNSAID)                                         \
    X(old_holes, f->piece->tests.pests == PESTS_OLD_HOLES)                                         \
    X(live_borer, f->piece->tests.pests == PESTS_LIVE_BORER)                                       \
    X(bedbugs, f->piece->tests.pests == PESTS_BEDBUGS)                                             \
    X(shellac_last, same(f->clear ? f->clear : f->color, "shellac_clear"))                         \
    X(exterior_below, finish_is(f, "exterior_film"))                                               \
    X(ours, f->ours)                                                                               \
    X(fresh, f->dry_min >= 0)                                                                      \
    X(fresh_3d, f->dry_min >= 0 && f->dry_min < 3 * 1440)

#define X(name, expr)                                                                              \
    static bool is_##name(const struct facts *f) {                                                 \
        return (void)f, (expr);                                                                    \
    }
FACTS(X)
#undef X

static const struct {
    const char *name;
    fact_fn *is;
} fact_names[] = {
#define X(name, expr) {#name, is_##name},
    FACTS(X)
#undef X
};

static fact_fn *fact_named(const char *name, size_t n) {
    for (size_t i = 0; i < sizeof fact_names / sizeof *fact_names; i++)
        if (strlen(fact_names[i].name) == n && !memcmp(fact_names[i].name, name, n))
            return fact_names[i].is;
    return NULL;
}

/* Takes the next name off a list; *turned tells of a "!" before it. False at the end. */
static bool name_next(const char **at, const char **name, size_t *n, bool *turned) {
    *at += strspn(*at, " ");
    *turned = **at == '!';
    if (*turned) ++*at;
    *n = strcspn(*at, " ");
    *name = *at;
    *at += *n;
    return *n > 0;
}

bool fact_holds(const struct facts *f, const char *when) {
    const char *name;
    size_t n;
    bool turned;
    while (name_next(&when, &name, &n, &turned)) {
        fact_fn *is = fact_named(name, n);
        if (!is || is(f) == turned) return false;
    }
    return true;
}

bool fact_known(const char *when) {
    const char *name;
    size_t n;
    bool turned;
    while (name_next(&when, &name, &n, &turned))
        if (!fact_named(name, n)) return false;
    return true;
}
