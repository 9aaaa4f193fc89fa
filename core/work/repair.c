#include "core/work/repair.h"
#include "core/base/units.h"
#include "core/work/fact.h"
#include "core/work/fastener.h"
#include "core/work/learn.h"

#include <math.h>
#include <string.h>

struct steps_of {
    const struct room *r;
    struct piece_plan *p;
    struct facts f;
};

static int64_t count_or(int64_t n, int64_t otherwise) {
    return n > 0 ? n : otherwise;
}

/* ---- pulls and their holes ---- */

/* Drawers or doors of all pieces alike. */
static int64_t all_of(const struct piece *p, int64_t each) {
    return count_or(each, 0) * count_or(p->count, 1);
}

int pulls_usual(const struct tables *t, double front_mm) {
    return front_mm >= figure(t, FIGURES_TWO_PULLS_MM) ? 2 : 1;
}

int64_t pulls_count(const struct tables *t, const struct piece *p, const struct surfaces *s) {
    if (p->fittings.pulls.count > 0) return p->fittings.pulls.count;
    /* shutters and the like hang on hooks */
    int64_t on_drawers = 0, doors = p->place == PLACE_OUTDOOR ? 0 : all_of(p, p->doors);
    for (size_t i = 0; s && i < s->rows_n; i++) {
        const struct part *part = &s->rows[i].part; /* its count is of all pieces alike */
        if (!part->shape || strcmp(part->shape, "drawer_front")) continue;
        on_drawers += part->count * pulls_usual(t, part->size_mm[0]);
    }
    if (!on_drawers) on_drawers = all_of(p, p->drawers) * pulls_usual(t, p->width_mm);
    return on_drawers + doors;
}

/* Holes of one pull. What comes on is a knob where `holes` is 1, else a pull; where its holes are
 * said and the old ones are not, a knob was there. */
struct holes {
    int64_t fill, drill;
};
static struct holes holes_of(const struct tables *t, const struct fitting_pulls *f) {
    bool knob = f->holes == 1;
    if (knob) return f->old_spacing_mm > 0 ? (struct holes){2, 1} : (struct holes){0, 0};
    if (!(f->new_spacing_mm > 0)) return (struct holes){0, 0};
    if (isnan(f->old_spacing_mm)) return (struct holes){1, 2};
    enum pull_fit fit = fastener_pull_of(t, f).fit;
    return (struct holes){fit == PULL_DRILL ? 2 : 0,
                          fit == PULL_DRILL || fit == PULL_COVERED ? 2 : 0};
}

bool pulls_new(const struct piece *p) {
    const struct fitting_pulls *f = &p->fittings.pulls;
    return f->holes == 1 ? f->old_spacing_mm > 0 : f->new_spacing_mm > 0;
}

int64_t holes_to_fill(const struct tables *t, const struct piece *p, const struct surfaces *s) {
    return holes_of(t, &p->fittings.pulls).fill * pulls_count(t, p, s);
}

int64_t holes_to_drill(const struct tables *t, const struct piece *p, const struct surfaces *s) {
    return holes_of(t, &p->fittings.pulls).drill * pulls_count(t, p, s);
}

/* The shop's own pace at an operation or repair, 1 where it has no records. */
static double pace_of(const struct room *r, const char *operation) {
    const struct learnt *l = learnt_of(r->shop, r->piece->id, "hours", operation, NULL);
    return l ? l->factor : 1;
}

/* ---- one step ---- */

/* What its minutes are made of; per_m2_min: 0 where it does not go by the area. */
struct effort {
    double fixed_min, each_min, per_m2_min;
};

/* Where the shop's records speak, the step says so. */
static void step_explain(const struct steps_of *s, const struct steps *to, struct work_step *w,
                         struct effort e) {
    const struct room *r = s->r;
    struct ledger *l = r->ledger;
    const struct learnt *pace = learnt_of(r->shop, r->piece->id, "hours", w->operation, NULL);
    if (pace) {
        w->source = learnt_source(l->arena, pace);
        w->certainty = CERTAINTY_MEASURED;
    }
    if (!l->wanted || !(w->hands_min > 0)) return;
    const char *list = to == &s->p->takedown  ? "takedown"
                       : to == &s->p->repairs ? "repairs"
                                              : "finish";
    struct basis *b =
        ledger_basis(l, ROOM_TEXT(r, "%s/%s/%zu/hands_min", r->at, list, to->n),
                     "fixed minutes + minutes for each x how many + minutes by the area, wide: "
                     "x 0.6 to x 1.8; your own records count before what is usual",
                     w->source, w->certainty);
    basis_range(b, DIM_DURATION, w->hands_min * .6, w->hands_min * 1.8);
    if (e.fixed_min > 0) basis_number(l, b, "fixed", e.fixed_min, DIM_DURATION);
    if (e.each_min > 0) {
        basis_number(l, b, "each", e.each_min, DIM_DURATION);
        basis_number(l, b, "how many", (double)w->count, DIM_NONE);
    }
    if (e.per_m2_min > 0) {
        basis_number(l, b, "area", s->p->surfaces.coated_m2, DIM_AREA);
        basis_number(l, b, "for it", e.per_m2_min * s->p->surfaces.coated_m2, DIM_DURATION);
    }
    if (!pace) return;
    basis_range(b, DIM_DURATION, w->hands_min * exp(-1.28155 * pace->log_sd),
                w->hands_min * exp(1.28155 * pace->log_sd));
    basis_number(l, b, "your shop against what is usual", pace->factor, DIM_NONE);
    basis_number(l, b, "records", (double)pace->records, DIM_NONE);
}

static double step_min(const struct steps_of *s, const struct operations_row *op, double count,
                       double pieces) {
    return pace_of(s->r, op->id) * (op->fixed_min + op->each_min * count / pieces +
                                    op->per_m2_min * s->p->surfaces.coated_m2 / pieces);
}

static struct work_step *step_add(struct steps_of *s, struct steps *to, const char *operation,
                                  int64_t count) {
    const struct room *r = s->r;
    const struct operations_row *op = operation_row(r->t, operation);
    struct work_step *rows = ledger_grow(r->ledger, to->rows, to->n, &to->cap, sizeof *rows);
    if (!rows || !op) return NULL;
    to->rows = rows;
    const char *id = r->piece->id ? r->piece->id : "piece";
    rows[to->n] = (struct work_step){
        .id = ROOM_TEXT(r, "%s-%s", id, operation),
        .operation = op->id,
        .text = count > 1 ? ROOM_TEXT(r, "%s: %d", op->name, (int)count) : op->name,
        .why = NULL,
        .how = op->how,
        .hands_min = step_min(s, op, (double)count, 1),
        .wait_min = op->wait_min,
        .count = count,
        .source = op->source,
        .certainty = CERTAINTY_COMMON,
    };
    if (rows[to->n].hands_min > 0)
        rows[to->n].alone_frac =
            step_min(s, op, (double)count, (double)all_of(r->piece, 1)) / rows[to->n].hands_min;
    step_explain(s, to, &rows[to->n], (struct effort){op->fixed_min, op->each_min, op->per_m2_min});
    return &rows[to->n++];
}

static void because(struct work_step *w, const char *why) {
    if (w) w->why = why;
}

static int64_t panels(const struct piece *p, const char *kind, const char *or_kind) {
    int64_t n = 0;
    for (size_t i = 0; i < p->fittings.panels_n; i++) {
        const struct fitting_panel *f = &p->fittings.panels[i];
        if (f->kind && (!strcmp(f->kind, kind) || !strcmp(f->kind, or_kind)))
            n += count_or(f->count, 1);
    }
    return n;
}

/* Something is held by a spline: its groove must stay free of paint. */
static bool groove(const struct piece *p) {
    for (size_t i = 0; i < p->fittings.panels_n; i++) {
        const struct fitting_panel *f = &p->fittings.panels[i];
        if (f->hold ? !strcmp(f->hold, "spline") : f->groove_mm > 0) return true;
    }
    return false;
}

/* ---- take-down ---- */

static void hardware_off(struct steps_of *s) {
    const struct room *r = s->r;
    const struct piece *p = r->piece;
    int64_t pulls = pulls_count(s->r->t, p, &s->p->surfaces);
    if (!pulls) return;
    struct work_step *w = step_add(s, &s->p->takedown, "hardware_off", pulls);
    if (!w) return;
    w->text = ROOM_TEXT(r, "Pulls and hardware off: %d", (int)pulls);
    w->bag =
        ROOM_TEXT(r, "%s: pulls 1-%d and their screws", p->title ? p->title : p->id, (int)pulls);
    w->why = "Paint over hardware chips first; bagged and labeled it all goes back.";
}

static void doors_off(struct steps_of *s) {
    const struct room *r = s->r;
    int64_t doors = all_of(r->piece, r->piece->doors);
    if (!doors) return;
    struct work_step *w = step_add(s, &s->p->takedown, "doors_off", doors);
    if (!w) return;
    w->bag = ROOM_TEXT(r, "%s: hinges and screws, doors 1-%d",
                       r->piece->title ? r->piece->title : r->piece->id, (int)doors);
    w->why = "Flat they take thicker coats without sags, and every edge is reached.";
}

static void lid_off(struct steps_of *s) {
    const struct room *r = s->r;
    if (!fact_holds(&s->f, "lidded")) return;
    struct work_step *w = step_add(s, &s->p->takedown, "lid_off", all_of(r->piece, 1));
    if (!w) return;
    w->bag = ROOM_TEXT(r, "%s: hinges, stay and screws of the lid",
                       r->piece->title ? r->piece->title : r->piece->id);
    w->why = "Flat it takes thicker coats without sags, and the rim below it is reached.";
}

static void bed_apart(struct steps_of *s) {
    const struct room *r = s->r;
    if (!fact_holds(&s->f, "bed")) return;
    struct work_step *w = step_add(s, &s->p->takedown, "bed_apart", all_of(r->piece, 1));
    if (!w) return;
    w->bag = ROOM_TEXT(r, "%s: bolts, hooks and screws of the slats",
                       r->piece->title ? r->piece->title : r->piece->id);
    w->why = "Head, foot and rails dry flat, and no coat glues a joint that must come apart.";
}

/* Edge of what is kept from the color: wood that stays to be seen, and what is masked. Between two
 * colors the tape goes on after the first. */
static double taped_edge_m(const struct surfaces *s) {
    double mm = 0;
    for (size_t i = 0; i < s->rows_n; i++) {
        enum treatment t = s->rows[i].part.treatment;
        bool kept = t == TREAT_CLEAR || t == TREAT_STAIN || t == TREAT_WAX || t == TREAT_MASK;
        if (kept) mm += s->rows[i].mask_edge_mm;
    }
    return mm / 1000;
}

/* Drawers whose bare sides are taped behind their fronts. */
static int64_t taped_boxes(const struct surfaces *s) {
    int64_t boxes = 0;
    for (size_t i = 0; i < s->rows_n; i++)
        if ((s->rows[i].part.treatment == TREAT_BARE || s->rows[i].part.treatment == TREAT_SEAL) &&
            s->rows[i].mask_edge_mm > 0)
            boxes += s->rows[i].part.count;
    return boxes;
}

static void takedown(struct steps_of *s) {
    const struct piece *p = s->r->piece;
    struct steps *to = &s->p->takedown;
    because(step_add(s, to, "photo_before", all_of(p, 1)),
            "Afterwards nobody remembers what was there.");
    if (s->p->inspection.tests_n + s->p->inspection.left_out_n)
        because(step_add(s, to, "inspect", all_of(p, 1)),
                "What is not known is planned as the worst.");
    int64_t drawers = all_of(p, p->drawers);
    if (drawers)
        because(step_add(s, to, "drawers_out", drawers), "Each fits its own opening only.");
    doors_off(s);
    lid_off(s);
    bed_apart(s);
    hardware_off(s);
    if (panels(p, "glass", "mirror"))
        because(step_add(s, to, "mirror_off", panels(p, "glass", "mirror")),
                "Dust and paint creep behind any tape.");
    if (panels(p, "cane", "fabric"))
        because(step_add(s, to, "cane_out", panels(p, "cane", "fabric")),
                groove(p)
                    ? "It goes in last, into dry paint. Clean the groove and tape it: paint in "
                      "it keeps the glue off and the spline out."
                    : "It goes in last, into dry paint.");
    if (p->seat == SEAT_UPHOLSTERED)
        because(step_add(s, to, "seat_off", all_of(p, 1)), "Stuffing takes up dust and paint.");
    if (!isnan(p->fittings.back_thickness_mm))
        because(step_add(s, to, "back_off", all_of(p, 1)),
                "The inside is reached and nothing is masked.");
}

static const struct hardware_metals_row *metal_row(const struct tables *t, const char *id) {
    for (size_t i = 0; id && i < t->hardware_metals_n; i++)
        if (!strcmp(t->hardware_metals[i].id, id)) return &t->hardware_metals[i];
    return NULL;
}

/* ---- repairs ---- */

/* " (drawer box)": the id of a part as people read it. */
static const char *where_text(const struct room *r, const char *part) {
    char *text = part ? ROOM_TEXT(r, " (%s)", part) : NULL;
    for (char *c = text; c && *c; c++)
        if (*c == '_') *c = ' ';
    return text ? text : "";
}

/* The wood of this part stays to be seen; a repair that names none is on all of the piece. */
static bool stays_seen(const struct steps_of *s, const char *part) {
    bool seen = false;
    for (size_t i = 0; i < s->p->surfaces.rows_n; i++) {
        const struct part *p = &s->p->surfaces.rows[i].part;
        bool natural =
            p->treatment == TREAT_CLEAR || p->treatment == TREAT_STAIN || p->treatment == TREAT_WAX;
        bool painted = p->treatment == TREAT_PAINT || p->treatment == TREAT_PAINT_NO_CLEAR;
        if (part && (!p->id || strcmp(p->id, part) != 0)) continue;
        if (painted) return false;
        seen |= natural;
    }
    return seen;
}

static void repair_add(struct steps_of *s, const struct repairs_row *row,
                       const struct repair *said) {
    const struct room *r = s->r;
    struct steps *to = &s->p->repairs;
    struct work_step *rows = ledger_grow(r->ledger, to->rows, to->n, &to->cap, sizeof *rows);
    if (!rows) return;
    to->rows = rows;
    int64_t n = count_or(said->count, 1);
    bool refer = !strcmp(row->verdict, "refer");
    const char *verb = refer ? "Refer" : !strcmp(row->verdict, "replace") ? "Replace" : "Repair";
    const char *where = where_text(r, said->part);
    bool seen = stays_seen(s, said->part);
    rows[to->n] = (struct work_step){
        .id = ROOM_TEXT(r, "%s-repair-%zu-%s", r->piece->id ? r->piece->id : "piece", to->n + 1,
                        row->id),
        .operation = row->id,
        .text = n > 1 ? ROOM_TEXT(r, "%s: %s%s, %d", verb, row->name, where, (int)n)
                      : ROOM_TEXT(r, "%s: %s%s", verb, row->name, where),
        .why = *row->why ? row->why : row->instead,
        .how =
            *row->material ? ROOM_TEXT(r, "%s Material: %s.", row->text, row->material) : row->text,
        .hands_min = pace_of(r, row->id) * (row->fixed_min + row->each_min * (double)n),
        .wait_min = seen && row->seen_wait_min > 0 ? row->seen_wait_min : row->wait_min,
        .material_cent = refer                    ? 0
                         : isnan(said->cost_cent) ? row->material_cent * (double)n
                                                  : said->cost_cent,
        .others_cent = refer ? said->cost_cent : 0,
        .referred = refer,
        .count = n,
        .source = row->source,
        .certainty = CERTAINTY_COMMON,
    };
    if (seen && *row->seen)
        rows[to->n].why = ROOM_TEXT(r, "%s%s%s", rows[to->n].why ? rows[to->n].why : "",
                                    rows[to->n].why ? " " : "", row->seen);
    struct facts f;
    fact_make(r, &s->p->inspection, &f);
    if (strstr(row->material, "glue") && fact_holds(&f, "oily_wood"))
        rows[to->n].why =
            ROOM_TEXT(r,
                      "%s%sOily wood: wipe both faces with alcohol or acetone "
                      "just before; epoxy holds better than wood glue.",
                      rows[to->n].why ? rows[to->n].why : "", rows[to->n].why ? " " : "");
    if (said->note) /* which leg it is comes first */
        rows[to->n].why = ROOM_TEXT(r, "%s%s %s", said->note,
                                    strchr(".!?;:", said->note[strlen(said->note) - 1]) ? "" : ".",
                                    rows[to->n].why ? rows[to->n].why : "");
    step_explain(s, to, &rows[to->n], (struct effort){row->fixed_min, row->each_min, 0});
    to->n++;
}

/* As the table orders them: frame before veneer before filler, so that nothing is undone. */
static enum status repairs(struct steps_of *s, struct why *why) {
    const struct room *r = s->r;
    const struct piece *p = r->piece;
    if (p->fittings.metal && !metal_row(r->t, p->fittings.metal))
        return why_say(why, E_REFERENCE, ROOM_TEXT(r, "%s/fittings/metal", r->at),
                       "\"%s\" is no metal I know. Write brass, bronze, copper, steel, iron, "
                       "plated, zinc, pewter or painted.",
                       p->fittings.metal);
    for (size_t i = 0; i < p->repairs_n; i++)
        if (!repair_row(r->t, p->repairs[i].kind))
            return why_say(
                why, E_REFERENCE, ROOM_TEXT(r, "%s/repairs/%zu/kind", r->at, i),
                "\"%s\" is no repair I know. Write one such as loose_joint, veneer_patch, "
                "molding, runner, drawer_bottom, epoxy, filler or stripped_hole.",
                p->repairs[i].kind ? p->repairs[i].kind : "");
    for (size_t k = 0; k < r->t->repairs_n; k++) {
        const struct repairs_row *row = &r->t->repairs[k];
        for (size_t i = 0; i < p->repairs_n; i++)
            if (!strcmp(p->repairs[i].kind, row->id)) repair_add(s, row, &p->repairs[i]);
        bool worms = !strcmp(row->id, "worm_holes") && fact_holds(&s->f, "old_holes");
        for (size_t i = 0; i < p->repairs_n; i++) /* counted by whoever looked */
            worms = worms && strcmp(p->repairs[i].kind, row->id) != 0;
        if (worms) repair_add(s, row, &(struct repair){.count = 1, .cost_cent = NAN});
    }
    return OK;
}

static void holes(struct steps_of *s) {
    const struct piece *p = s->r->piece;
    if (holes_to_fill(s->r->t, p, &s->p->surfaces))
        because(
            step_add(s, &s->p->repairs, "fill_holes", holes_to_fill(s->r->t, p, &s->p->surfaces)),
            "Before the primer: a plug that shrinks later shows as a ring.");
    if (holes_to_drill(s->r->t, p, &s->p->surfaces))
        because(
            step_add(s, &s->p->repairs, "drill_holes", holes_to_drill(s->r->t, p, &s->p->surfaces)),
            "Before the primer: drilled later the paint chips round the hole.");
    if (fact_holds(&s->f, "smells"))
        because(step_add(s, &s->p->repairs, "smell_test", 1),
                "When the shellac is dry, before any coat that is seen: what smells then goes on "
                "smelling through it.");
}

/* "woven seat, 4": what is kept as it is; NULL: only wood that gets its own coats. */
static const char *masked_parts(struct steps_of *s) {
    const struct surfaces *all = &s->p->surfaces;
    const char *names = NULL;
    for (size_t i = 0; i < all->rows_n; i++) {
        const struct part *part = &all->rows[i].part;
        if (!(all->rows[i].masked_m2 > 0) || !part->name) continue;
        const char *one = part->count > 1
                              ? ROOM_TEXT(s->r, "%s, %lld", part->name, (long long)part->count)
                              : part->name;
        names = names ? ROOM_TEXT(s->r, "%s; %s", names, one) : one;
    }
    return names;
}

/* Tape goes on last: spirits, remover and glue would lift it, and it leaves its own glue where it
 * stays for weeks. */
static void tape(struct steps_of *s) {
    struct steps *to = &s->p->repairs;
    int64_t boxes = taped_boxes(&s->p->surfaces);
    if (boxes)
        because(step_add(s, to, "mask_drawers", boxes),
                "The sides stay bare: paint there makes a drawer stick.");
    double edge_m = taped_edge_m(&s->p->surfaces);
    if (!(edge_m > 0)) return;
    struct work_step *w = step_add(s, to, "mask", (int64_t)ceil(edge_m));
    if (!w) return;
    const char *name = operation_row(s->r->t, "mask")->name, *kept = masked_parts(s);
    w->text = kept ? ROOM_TEXT(s->r, "%s: %s", name, kept) : name; /* the count is meters */
    w->why = s->p->surfaces.masked_m2 > 0
                 ? "What stays as it is must not be touched by color."
                 : "After the sanding: the edge of the wood that stays is taped while what is "
                   "beside it is painted, and gets its own coats when the tape is off.";
}

/* ---- after the coats ---- */

/* Old pulls that go back, and hinges: as their metal wants it, while the coats dry. New pulls leave
 * the hinges. */
static void hardware_touched(struct steps_of *s) {
    const struct room *r = s->r;
    const struct piece *p = r->piece;
    const struct hardware_metals_row *metal = metal_row(r->t, p->fittings.metal);
    int64_t n =
        (pulls_new(p) ? 0 : pulls_count(s->r->t, p, &s->p->surfaces)) + 2 * all_of(p, p->doors);
    if (!metal || n <= 0) return;
    struct work_step *w = step_add(s, &s->p->finish, "touch_up_hardware", n);
    if (!w) return;
    w->text = ROOM_TEXT(r, "Clean and touch up the hardware: %d, %s", (int)n, metal->name);
    w->why = ROOM_TEXT(r, "%s %s %s", metal->clean, metal->touch_up, metal->never);
    w->how = NULL;
    w->source = metal->source;
}

/* Doors, lid, drawers and back in their places again. */
static void together(struct steps_of *s, const char *where) {
    const struct piece *p = s->r->piece;
    struct steps *to = &s->p->finish;
    int64_t doors = all_of(p, p->doors), drawers = all_of(p, p->drawers);
    if (doors) because(step_add(s, to, "doors_on", doors), where);
    if (fact_holds(&s->f, "lidded")) step_add(s, to, "lid_on", all_of(p, 1));
    if (fact_holds(&s->f, "bed"))
        because(step_add(s, to, "bed_up", all_of(p, 1)),
                "Paint in a hook or a slot shows here, not in the owner's bedroom.");
    if (drawers) {
        if (fact_holds(&s->f, "wooden"))
            because(step_add(s, to, "wax_runners", drawers), "Runners stay bare; wax is enough.");
        step_add(s, to, "drawers_in", drawers);
    }
    if (!isnan(p->fittings.back_thickness_mm)) step_add(s, to, "back_on", all_of(p, 1));
    if (fact_holds(&s->f, "slides"))
        because(step_add(s, to, "clearance", all_of(p, 1)),
                ROOM_TEXT(s->r, "Paint takes a fifth of a gap of %s; summer takes more.",
                          ledger_length(s->r->ledger, MM_PER_IN / 16)));
    if (p->fittings.anchor == YN_YES ||
        (p->fittings.anchor != YN_NO && fact_holds(&s->f, "tall_storage")))
        because(step_add(s, to, "anchor", all_of(p, 1)), "A climbing child pulls a chest over.");
    because(step_add(s, to, "photo_after", all_of(p, 1)),
            "The record, and the picture that sells the next.");
}

static void finish(struct steps_of *s) {
    const struct piece *p = s->r->piece;
    struct steps *to = &s->p->finish;
    hardware_touched(s);
    if (panels(p, "cane", "fabric")) step_add(s, to, "cane_in", panels(p, "cane", "fabric"));
    if (p->seat == SEAT_UPHOLSTERED) step_add(s, to, "seat_in", all_of(p, 1));
    if (panels(p, "glass", "mirror")) step_add(s, to, "mirror_in", panels(p, "glass", "mirror"));
    if (pulls_count(s->r->t, p, &s->p->surfaces))
        step_add(s, to, "fit_pulls", pulls_count(s->r->t, p, &s->p->surfaces));
    bool packs = !fact_holds(&s->f, "own"), there = packs && fact_holds(&s->f, "loose_doors");
    if (!there) together(s, NULL);
    because(step_add(s, to, "label_recipe", all_of(p, 1)),
            "In a year somebody wants the same color.");
    if (packs) because(step_add(s, to, "pack", 1), "Blankets print a film that is only dry.");
    if (there) together(s, "Where they came from, after the van: each into its own opening.");
}

enum status repair_make(const struct room *r, struct piece_plan *p, struct why *why) {
    struct steps_of s = {.r = r, .p = p};
    p->takedown = p->repairs = p->finish = (struct steps){0};
    fact_make(r, &p->inspection, &s.f);
    takedown(&s);
    enum status st = repairs(&s, why);
    if (st != OK) return st;
    holes(&s);
    tape(&s);
    finish(&s);
    return r->ledger->failed ? E_MEMORY : OK;
}
