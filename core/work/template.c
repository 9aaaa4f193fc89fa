#include "core/work/template.h"

#include "core/work/expr.h"
#include "core/work/fact.h"
#include "core/work/names.h"
#include "core/work/shape.h"
#include "core/work/usual.h"

#include <limits.h>
#include <math.h>
#include <string.h>

enum { COUNT_MAX = 500 };
static const double MIN_MM = 10, MAX_MM = 20000;

const struct piece_templates_row *template_of(const struct tables *t, const char *id) {
    for (size_t i = 0; id && i < t->piece_templates_n; i++)
        if (!strcmp(t->piece_templates[i].id, id)) return &t->piece_templates[i];
    return NULL;
}

const struct template_parts_row *template_part_row(const struct tables *t, const char *template,
                                                   const char *part) {
    for (size_t i = 0; template && part && i < t->template_parts_n; i++)
        if (!strcmp(t->template_parts[i].template, template) &&
            !strcmp(t->template_parts[i].part, part))
            return &t->template_parts[i];
    return NULL;
}

/* ---- what was not said ---- */

struct fill {
    struct ledger *l;
    const char *at, *why, *source;
    const char *none; /* why what was said has no use here */
};

/* A drawer said of a template that has none must not vanish in silence. */
static void not_used(const struct fill *f, const char *name) {
    assume_word(f->l, arena_print(f->l->arena, "%s/%s", f->at, name), "left out", f->none,
                f->source);
}

static void length_fill(const struct fill *f, const char *name, double *value, double usual) {
    if (*value > 0 && isnan(usual)) not_used(f, name), *value = NAN;
    if (!isnan(*value) || isnan(usual)) return;
    *value = usual;
    assume_number(f->l, arena_print(f->l->arena, "%s/%s", f->at, name), usual, DIM_LENGTH, f->why,
                  f->source);
}

static void count_fill(const struct fill *f, const char *name, int64_t *value, int64_t usual) {
    if (*value > 0 && usual == INT64_MIN) not_used(f, name), *value = INT64_MIN;
    if (*value != INT64_MIN || usual == INT64_MIN) return;
    *value = usual;
    assume_number(f->l, arena_print(f->l->arena, "%s/%s", f->at, name), (double)usual, DIM_NONE,
                  f->why, f->source);
}

struct length {
    const char *name;
    double value, least;
};

static enum status sizes_check(const struct piece *p, const char *at, struct ledger *l,
                               struct why *why) {
    const struct length lengths[] = {
        {"width", p->width_mm, MIN_MM},
        {"depth", p->depth_mm, MIN_MM},
        {"height", p->height_mm, MIN_MM},
        {"thickness", p->thickness_mm, 1},
        {"leg", p->leg_mm, 0},
        {"opening", p->opening_mm, 0},
        {"bow", p->bow_mm, 0},
    };
    const int64_t counts[] = {p->drawers, p->doors, p->shelves, p->slats, p->legs};
    static const char *const names[] = {"drawers", "doors", "shelves", "slats", "legs"};
    for (size_t i = 0; i < sizeof lengths / sizeof *lengths; i++) {
        double mm = lengths[i].value;
        if (isnan(mm) || (mm >= lengths[i].least && mm <= MAX_MM)) continue;
        return why_say(why, E_DOMAIN, arena_print(l->arena, "%s/%s", at, lengths[i].name),
                       "The %s of %s cannot be; it lies between %s and %s.", lengths[i].name,
                       ledger_length(l, mm), ledger_length(l, lengths[i].least),
                       l->metric ? "20 m" : "65 ft");
    }
    for (size_t i = 0; i < sizeof counts / sizeof *counts; i++)
        if (counts[i] != INT64_MIN && (counts[i] < 0 || counts[i] > COUNT_MAX))
            return why_say(why, E_DOMAIN, arena_print(l->arena, "%s/%s", at, names[i]),
                           "%lld %s cannot be; write 0 to %d.", (long long)counts[i], names[i],
                           COUNT_MAX);
    return OK;
}

enum status template_fill(const struct tables *t, enum unit_system units, const char *at,
                          struct ledger *l, struct piece *piece, struct why *why) {
    struct piece p = *piece;
    const struct piece_templates_row *row = template_of(t, p.template);
    enum status s = names_piece_check(t, &p, at, l->arena, why);
    if (!s) s = sizes_check(&p, at, l, why);
    if (s) return s;
    if (row) {
        struct piece usual;
        usual_sizes(row, units, &usual);
        struct fill f = {
            l, at, arena_print(l->arena, "usual for: %s", row->name), row->source,
            arena_print(l->arena, "the %s has none here; add it as a part", row->name)};
        length_fill(&f, "width", &p.width_mm, usual.width_mm);
        length_fill(&f, "depth", &p.depth_mm, usual.depth_mm);
        length_fill(&f, "height", &p.height_mm, usual.height_mm);
        length_fill(&f, "thickness", &p.thickness_mm, usual.thickness_mm);
        length_fill(&f, "leg", &p.leg_mm, usual.leg_mm);
        length_fill(&f, "opening", &p.opening_mm, usual.opening_mm);
        length_fill(&f, "bow", &p.bow_mm, usual.bow_mm);
        count_fill(&f, "drawers", &p.drawers, usual.drawers);
        count_fill(&f, "doors", &p.doors, usual.doors);
        count_fill(&f, "shelves", &p.shelves, usual.shelves);
        count_fill(&f, "slats", &p.slats, usual.slats);
        count_fill(&f, "legs", &p.legs, usual.legs);
    }
    *piece = p;
    return OK;
}

/* ---- parts of the template ---- */

enum { NAMES = 13 };
static const double FRONT_MM = 150; /* of the one drawer over doors or a niche (common practice) */

static double length_of(double mm) {
    return isnan(mm) ? 0 : mm;
}

static double count_of(int64_t n) {
    return n == INT64_MIN ? 0 : (double)n;
}

static void names_make(const struct room *r, const struct piece *p, struct expr_name *names) {
    const struct expr_name all[NAMES] = {{"w", length_of(p->width_mm)},
                                         {"d", length_of(p->depth_mm)},
                                         {"h", length_of(p->height_mm)},
                                         {"t", length_of(p->thickness_mm)},
                                         {"bow", length_of(p->bow_mm)},
                                         {"leg", length_of(p->leg_mm)},
                                         {"opening", length_of(p->opening_mm)},
                                         {"drawers", count_of(p->drawers)},
                                         {"doors", count_of(p->doors)},
                                         {"shelves", count_of(p->shelves)},
                                         {"slats", count_of(p->slats)},
                                         {"legs", count_of(p->legs)},
                                         {"front", usual_length(FRONT_MM, r->shop->units)}};
    memcpy(names, all, sizeof all);
}

static enum treatment treatment_of(const char *word) {
    static const struct {
        const char *word;
        enum treatment is;
    } words[] = {{"paint", TREAT_PAINT}, {"no_clear", TREAT_PAINT_NO_CLEAR},
                 {"clear", TREAT_CLEAR}, {"stain", TREAT_STAIN},
                 {"wax", TREAT_WAX},     {"bare", TREAT_BARE},
                 {"mask", TREAT_MASK}};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (!strcmp(words[i].word, word)) return words[i].is;
    return TREAT_PAINT;
}

/* The rest of a part's row as it stands; sizes and count are computed. */
static struct part part_of_row(const struct template_parts_row *row) {
    return (struct part){.id = row->part,
                         .name = row->name,
                         .group = row->group,
                         .shape = row->shape,
                         .faces = *row->faces ? row->faces : NULL,
                         .profile = *row->profile ? row->profile : NULL,
                         .treatment = treatment_of(row->treatment),
                         .color = {.lab = {NAN, NAN, NAN}},
                         .removable = row->removable ? YN_YES : YN_NO};
}

static enum status part_compute(const struct room *r, const struct template_parts_row *row,
                                const struct expr_name *names, struct part *out, bool *out_there,
                                struct why *why) {
    const char *sizes[PART_SIZES] = {row->a, row->b, row->c, row->d, row->e, row->f};
    double value = 1;
    enum status s = OK;
    struct part part = part_of_row(row);
    *out_there = true;
    if (*row->when) s = expr_value(row->when, names, NAMES, &value, why);
    if (!s && value <= 0) {
        *out_there = false;
        return OK;
    }
    if (!s) s = expr_value(row->count, names, NAMES, &value, why);
    part.count = (int64_t)floor(value + 1e-9);
    if (!s && part.count <= 0) *out_there = false;
    for (int i = 0; i < PART_SIZES && !s; i++) {
        part.size_mm[i] = NAN;
        if (*sizes[i]) s = expr_value(sizes[i], names, NAMES, &part.size_mm[i], why);
    }
    if (s)
        return why_say(why, s, r->at, "The %s of this %s cannot be worked out from its sizes.",
                       row->name, row->template);
    *out = part;
    return OK;
}

/* ---- what was said of single parts ---- */

static void part_say(struct part *to, const struct part *said) {
    bool shaped = said->shape && (!to->shape || strcmp(said->shape, to->shape) != 0);
    if (shaped && shape_kind_of(said->shape)) to->name = shape_kind_of(said->shape)->name;
    if (said->name) to->name = said->name;
    if (said->group) to->group = said->group;
    if (said->shape) to->shape = said->shape;
    for (int i = 0; i < PART_SIZES; i++)
        if (shaped || !isnan(said->size_mm[i])) to->size_mm[i] = said->size_mm[i];
    if (said->count != INT64_MIN) to->count = said->count;
    if (said->faces) to->faces = said->faces;
    if (said->profile) to->profile = said->profile;
    if (said->material) to->material = said->material;
    if (said->treatment) to->treatment = said->treatment;
    if (said->color.text) to->color = said->color;
    if (said->product) to->product = said->product;
    if (said->clear) to->clear = said->clear;
    if (said->removable) to->removable = said->removable;
}

static enum status part_add(const struct room *r, size_t row, struct part *out, struct why *why) {
    const struct part *said = &r->piece->parts[row];
    const char *at = ROOM_TEXT(r, "%s/parts/%zu", r->at, row);
    if (!said->shape)
        return why_say(why, E_MISSING, ROOM_TEXT(r, "%s/shape", at),
                       "This part is not one of the template's, so its shape is needed: panel, "
                       "box, square_leg, turned_leg, molding, slat and the like, with its sizes.");
    struct part p = {.id = said->id,
                     .name = said->id,
                     .group = "case",
                     .count = 1,
                     .treatment = TREAT_PAINT,
                     .color = {.lab = {NAN, NAN, NAN}},
                     .removable = said->removable};
    if (said->material && !strcmp(said->material, "glass")) p.treatment = TREAT_MASK;
    part_say(&p, said);
    if (!said->treatment)
        assume_word(r->ledger, ROOM_TEXT(r, "%s/treatment", at),
                    p.treatment == TREAT_MASK ? "masked" : "painted", "nothing else was said",
                    "CP");
    *out = p;
    return OK;
}

static const struct part *part_said(const struct piece *p, const char *id, size_t *out_row) {
    for (size_t i = 0; i < p->parts_n; i++)
        if (p->parts[i].id && !strcmp(p->parts[i].id, id)) {
            *out_row = i;
            return &p->parts[i];
        }
    return NULL;
}

static bool added(const struct room *r, const struct part *said) {
    return !template_part_row(r->t, r->piece->template, said->id);
}

/* ---- natural tops ---- */

/* An oil, a clear or a stain as the product asked for means the wood itself is wanted. */
static bool natural_product(const struct room *r, enum treatment *out) {
    const struct coat_kinds_row *k =
        coat_kind_of(r->t, class_wanted(r->shelf, r->piece->wanted.product));
    if (!k || r->piece->wanted.color.text) return false;
    *out = !strcmp(k->role, "stain")  ? TREAT_STAIN
           : !strcmp(k->role, "last") ? TREAT_WAX
                                      : TREAT_CLEAR;
    return k->seen > 0;
}

static bool natural_wanted(const struct piece *p, enum treatment *out) {
    static const struct {
        const char *word;
        enum treatment is;
    } words[] = {{"natural", TREAT_CLEAR},
                 {"stained", TREAT_STAIN},
                 {"waxed", TREAT_WAX},
                 {"oiled", TREAT_WAX}};
    for (size_t i = 0; p->wanted.top && i < sizeof words / sizeof *words; i++)
        if (!strcmp(p->wanted.top, words[i].word)) {
            *out = words[i].is;
            return true;
        }
    return false;
}

static bool is_top(const char *id) {
    return !strcmp(id, "top") || !strcmp(id, "lid");
}

/* A top that keeps its wood is worked apart from the painted case. Where no color is wanted at all
 * everything that would be painted keeps its wood. */
static void natural_apply(const struct room *r, struct part *part) {
    const struct piece *p = r->piece;
    enum treatment natural;
    bool wood = natural_product(r, &natural);
    if (!wood && !natural_wanted(p, &natural)) return;
    bool colorless = !p->wanted.color.text && (wood || !p->wanted.product) && !part->color.text;
    if (!is_top(part->id) && !colorless) return;
    if (part->treatment == TREAT_PAINT || part->treatment == TREAT_PAINT_NO_CLEAR)
        part->treatment = natural;
    if (is_top(part->id) && !colorless && !strcmp(part->group, "case")) part->group = "top";
}

/* ---- smells ---- */

/* Smoke, must and urine sit in bare wood: what else stays as it is gets sealed, unless somebody
 * says bare. Runners slide and stay, and cedar is there for its own smell. */
static void smell_apply(const struct room *r, struct part *part, const struct part *said) {
    struct facts f;
    fact_make(r, NULL, &f);
    bool own = part->material && strcmp(part->material, "bare") != 0;
    if (part->treatment != TREAT_BARE || own || !strcmp(part->id, "runners")) return;
    if ((said && said->treatment) || !fact_holds(&f, "smells wooden !outdoor !cedar_lined")) return;
    part->treatment = TREAT_SEAL;
    assume_word(r->ledger, ROOM_TEXT(r, "%s/parts/%s/treatment", r->at, part->id), "seal",
                "what smells sits in bare wood; say bare where it is to stay as it is", "CP");
}

/* ---- seats ---- */

/* A seat of rush, cord or cane that is sound stays where it is, and no color goes on it, from above
 * or from below; a stuffed one is lifted out, and who sees to it is another matter. */
static void seat_apply(const struct room *r, struct part *part, const struct part *said) {
    enum seat seat = r->piece->seat;
    if (seat < SEAT_WOVEN || (said && said->treatment)) return;
    bool woven = seat == SEAT_WOVEN;
    if (!strcmp(part->id, "underside")) part->count = 0; /* of the same */
    if (strcmp(part->id, "seat")) return;
    part->name = woven ? "woven seat" : "upholstered seat";
    part->material = woven ? "bare" : NULL;
    part->treatment = woven ? TREAT_MASK : TREAT_BARE;
}

static enum status seat_there(const struct room *r, const struct part *parts, size_t n,
                              struct why *why) {
    for (size_t i = 0; i < n && r->piece->seat; i++)
        if (!strcmp(parts[i].id, "seat")) return OK;
    if (!r->piece->seat) return OK;
    const struct piece_templates_row *row = template_of(r->t, r->piece->template);
    return why_say(why, E_REFERENCE, ROOM_TEXT(r, "%s/seat", r->at),
                   "A %s has no seat. Leave it out, or say what the piece is: side_chair, "
                   "turned_chair, rocking_chair, stool, bench, back_bench.",
                   row ? row->name : "piece like this");
}

/* ---- boards ---- */

/* Doors of board are slabs, whatever they would be in wood: "doors, frame and panel" are "doors".
 */
static void board_apply(const struct room *r, const struct template_parts_row *row,
                        struct part *part) {
    struct facts f;
    fact_make(r, NULL, &f);
    if (!*row->of_board || fact_holds(&f, "wooden")) return;
    part->shape = row->of_board;
    part->name = ROOM_TEXT(r, "%.*s", (int)strcspn(row->name, ","), row->name);
    for (int i = 3; i < PART_SIZES; i++) part->size_mm[i] = NAN;
    assume_word(
        r->ledger, ROOM_TEXT(r, "%s/parts/%s/shape", r->at, part->id),
        shape_kind_of(part->shape)->name,
        "boards that are no wood make flat slabs; say frame and panel where they are routed",
        row->source);
}

/* ---- what was said that leaves no room ---- */

/* Does every size of that part come out, by these names? */
static bool leaves_room(const struct template_parts_row *row, const struct expr_name *names) {
    const char *sizes[PART_SIZES] = {row->a, row->b, row->c, row->d, row->e, row->f};
    double mm;
    for (int i = 0; i < PART_SIZES; i++)
        if (*sizes[i] && (expr_value(sizes[i], names, NAMES, &mm, NULL) || mm < 0)) return false;
    return true;
}

const char *template_at_fault(const struct room *r, const char *part, double *out_usual,
                              double *out_said) {
    /* names_make has them in this order; what somebody counts is asked for before what is measured
     */
    static const struct {
        const char *field;
        int name;
    } tried[] = {{"drawers", 7}, {"doors", 8},     {"shelves", 9}, {"slats", 10},
                 {"legs", 11},   {"opening", 6},   {"leg", 5},     {"bow", 4},
                 {"height", 2},  {"thickness", 3}, {"width", 0},   {"depth", 1}};
    const struct piece_templates_row *of = template_of(r->t, r->piece->template);
    const struct template_parts_row *row = of ? template_part_row(r->t, of->id, part) : NULL;
    if (!row) return NULL;
    struct piece usual;
    usual_sizes(of, r->shop->units, &usual);
    struct expr_name said[NAMES], other[NAMES];
    names_make(r, r->piece, said);
    names_make(r, &usual, other);
    for (size_t i = 0; i < sizeof tried / sizeof *tried; i++) {
        int k = tried[i].name;
        double was = said[k].value;
        said[k].value = *out_usual = other[k].value;
        if (leaves_room(row, said)) {
            *out_said = was;
            return tried[i].field;
        }
        said[k].value = was;
    }
    return NULL;
}

/* ---- the whole ---- */

static enum status template_rows(const struct room *r, struct part *parts, size_t *n,
                                 struct why *why) {
    struct expr_name names[NAMES];
    names_make(r, r->piece, names);
    for (size_t i = 0; r->piece->template && i < r->t->template_parts_n; i++) {
        const struct template_parts_row *row = &r->t->template_parts[i];
        if (strcmp(row->template, r->piece->template) != 0) continue;
        bool there;
        size_t said_row;
        enum status s = part_compute(r, row, names, &parts[*n], &there, why);
        if (s) return s;
        const struct part *said = part_said(r->piece, row->part, &said_row);
        if (!there && !said) continue;
        if (!there) parts[*n] = part_of_row(row);
        if (!said || !said->shape) board_apply(r, row, &parts[*n]);
        natural_apply(r, &parts[*n]);
        if (said) part_say(&parts[*n], said);
        smell_apply(r, &parts[*n], said);
        seat_apply(r, &parts[*n], said);
        if (parts[*n].count > 0) ++*n;
    }
    return OK;
}

enum status template_parts(const struct room *r, struct part **out_parts, size_t *out_n,
                           struct why *why) {
    const struct piece *p = r->piece;
    enum status known = names_piece_check(r->t, p, r->at, r->ledger->arena, why);
    if (known) return known;
    size_t n = 0, room_for = p->parts_n;
    for (size_t i = 0; p->template && i < r->t->template_parts_n; i++)
        room_for += !strcmp(r->t->template_parts[i].template, p->template);
    struct part *parts = arena_array(r->ledger->arena, room_for ? room_for : 1, sizeof *parts);
    if (!parts) return why_no_memory(why);
    enum status s = template_rows(r, parts, &n, why);
    for (size_t i = 0; i < p->parts_n && !s; i++)
        if (added(r, &p->parts[i])) s = part_add(r, i, &parts[n++], why);
    if (!s) s = seat_there(r, parts, n, why);
    if (s) return s;
    *out_parts = parts;
    *out_n = n;
    return OK;
}
