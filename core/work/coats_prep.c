/* Rows before the color: wash, take off wax, strip, scuff, seal, prime. */
#include "core/work/coats_build.h"

#include <math.h>
#include <string.h>

static bool same(const char *a, const char *b) {
    return a && b && !strcmp(a, b);
}

/* The rule that asked for a preparation. A scuff is asked for by the coat that lies on it; once the
 * old film is off, what was said of a coat on it counts no more. */
static const struct coat_rules_row *asker(const struct stack *s, unsigned prep) {
    const struct judgment *first = s->under_n ? &s->under_j[0] : &s->top;
    const struct judgment *order[] = {prep == PREP(SCUFF) ? first : &s->asked, &s->asked, first,
                                      &s->cleaned, &s->top};
    bool gone = s->prep & PREP(STRIP) && prep != PREP(STRIP) && prep != PREP(DEWAX);
    for (size_t i = 0; i < sizeof order / sizeof *order; i++) {
        if (gone && order[i] == &s->asked) continue;
        const struct coat_rules_row *row = judgment_asks(order[i], prep);
        if (row) return row;
    }
    return NULL;
}

static void because(struct coat *c, const struct stack *s, unsigned prep, const char *otherwise) {
    const struct coat_rules_row *row = asker(s, prep);
    c->why = row ? row->text : otherwise;
    if (!row) return;
    c->rule = row->id;
    c->source = row->source;
    c->certainty = certainty_of(row->certainty);
}

static void clean_rows(struct build *b, const struct lot *lot, const struct stack *s) {
    if (s->prep & PREP(DEWAX) && !(s->prep & PREP(STRIP))) { /* a remover takes the wax along */
        bool known = b->p->inspection.wax == YN_YES || same(lot->material, "wax");
        struct coat *c =
            coat_add(b, lot, ROLE_CLEAN, known ? "dewax" : "wipe_spirits", NULL, lot->area_m2, 1);
        because(c, s, PREP(DEWAX), "Nothing holds on wax.");
    }
    bool bright = s->prep & PREP(DEGREASE) && !(s->prep & PREP(STRIP));
    bool raw = same(lot->material, "mdf"); /* no film keeps the water out */
    bool weave = fact_holds(&b->f, "wicker");
    const char *op = bright ? "degrease_metal" : raw ? "dust_off" : weave ? "clean_weave" : "clean";
    struct coat *c = coat_add(b, lot, ROLE_CLEAN, op, NULL, lot->area_m2, 1);
    if (bright)
        because(c, s, PREP(DEGREASE), "Rust creeps under paint.");
    else if (raw)
        c->why = "Raw board is not washed: water swells its faces and opens its edges.";
    else if (weave)
        c->why = "Dust sits in every crossing, and paint over it falls out with it.";
    else if (fact_holds(&b->f, "kitchen"))
        c->why = "Years of cooking sit on it. Washing soda or a degreaser where soap beads, twice "
                 "round the pulls and above the stove, then clear water twice: grease under paint "
                 "lets go first.";
    else
        c->why = lot->kind == LOT_PAINT
                     ? "Grease and dirt under paint let go first, around the pulls soonest; "
                       "sanding only rubs them in."
                     : "Grease and dirt keep off what comes next; sanding only rubs them in.";
    if (lot->kind == LOT_SEAL) c->text = "Wash the insides";
    if (bright || raw || s->prep & PREP(STRIP) || !fact_holds(&b->f, "smoke")) return;
    c = coat_add(b, lot, ROLE_CLEAN, op, NULL, lot->area_m2, 1);
    c->text = lot->kind == LOT_SEAL ? "Wash the insides once more" : "Wash once more";
    c->why = "The first water loosens the tar of the smoke, the second takes it off.";
}

static void strip_row(struct build *b, const struct lot *lot, const struct stack *s) {
    if (!(s->prep & PREP(STRIP))) return;
    /* weathered film is scraped: remover on slats in the open is slow and dear */
    const char *op = same(lot->material, "laminate")  ? "peel"
                     : fact_holds(&b->f, "wicker")    ? "brush_off"
                     : fact_holds(&b->f, "outdoor")   ? "scrape"
                     : same(lot->material, "shellac") ? "wash_shellac"
                                                      : "strip";
    struct coat *c = coat_add(b, lot, ROLE_STRIP, op, NULL, lot->area_m2, 1);
    because(c, s, PREP(STRIP), "What is wanted here goes on bare wood only.");
    if (same(op, "brush_off"))
        c->why =
            "Only what is loose: remover runs into the crossings of a weave, scraping cuts its "
            "strands. What holds stays, and the primer holds it.";
    if (same(op, "strip") && !same(lot->below, "bare"))
        c->text = same(lot->below, "metal") ? "Strip to bare metal" : "Strip to the board";
}

/* By what lies there after stripping: bare wood is sanded, a film is scuffed. */
static const char *scuff_operation(const struct build *b, const struct lot *lot,
                                   const struct stack *s) {
    if (fact_holds(&b->f, "wicker"))
        return s->prep & PREP(STRIP) || same(s->ground, "bare") ? NULL : "scuff_weave";
    if (same(s->ground, "metal")) /* else the wire brush has done it with the washing */
        return s->prep & PREP(STRIP) ? "degrease_metal" : NULL;
    if (same(s->ground, "laminate")) return "scuff_laminate";
    if (same(s->ground, "bare") || same(s->ground, "stain"))
        return lot->veneer                    ? "sand_veneer"
               : fact_holds(&b->f, "outdoor") ? "sand_outdoor"
                                              : "sand_bare";
    return lot->veneer ? "scuff_veneer" : "scuff";
}

static void scuff_row(struct build *b, const struct lot *lot, const struct stack *s) {
    const char *op = lot->kind == LOT_SEAL ? NULL : scuff_operation(b, lot, s);
    bool film = op && strncmp(op, "sand", 4) != 0;
    if (!op || (film && !(s->prep & PREP(SCUFF)) && same(s->ground, "milk_paint"))) return;
    struct coat *c = coat_add(b, lot, ROLE_SCUFF, op, NULL, lot->area_m2, 1);
    if (same(op, "degrease_metal"))
        because(c, s, PREP(DEGREASE), "Rust creeps under paint.");
    else if (film)
        because(c, s, PREP(SCUFF),
                same(s->ground, "mdf")
                    ? "Smooth, and the edges finer still: what is fuzz now is rough under paint."
                    : "A dull surface gives the next coat a hold.");
    else
        c->why = lot->kind == LOT_PAINT
                     ? "Even scratches, no fuzz: paint shows every line that sanding leaves."
                     : "Even scratches along the grain: stain and clear show every one across it.";
    if (film || lot->kind == LOT_PAINT || same(op, "sand_outdoor")) return;
    const struct tables *t = b->r->t;
    double fine = figure(t, FIGURES_GRIT_OIL);
    c->grit = (int)(same(s->over, "oil") ? fine : figure(t, FIGURES_GRIT_SEEN));
    c->grit_curves = lot->curves ? (int)fine : 0;
    c->text = ROOM_TEXT(b->r, "%s, %d grit", operation_row(t, op)->name, (int)c->grit);
}

/* The oils of teak and its like come back within hours: off just before the first coat, after the
 * sanding and not with the washing. */
static void oily_row(struct build *b, const struct lot *lot, const struct stack *s) {
    struct facts f = lot_facts(b, lot);
    f.finish = s->ground;
    if (lot->kind == LOT_SEAL || !same(s->ground, "bare") || !fact_holds(&f, "oily_wood")) return;
    struct coat *c = coat_add(b, lot, ROLE_SCUFF, "wipe_oily", NULL, lot->area_m2, 1);
    c->why = "The oils of this wood keep glue and film off, and slow what dries by oxygen.";
}

static double spots_m2(const struct build *b, const struct lot *lot) {
    return lot->area_m2 * figure(b->r->t, FIGURES_SPOTS_FRAC);
}

/* Knots and stains twice; knots once where shellac goes over everything after. */
static void spots_row(struct build *b, const struct lot *lot, const struct stack *s) {
    const char *over_all = NULL;
    for (size_t i = 0; i < s->under_n; i++)
        if (same(coat_kind_of(b->r->t, s->under[i])->becomes, "shellac")) over_all = s->under[i];
    bool knots = fact_holds(&b->f, "knots");
    if (!(s->prep & PREP(SPOT)) || (over_all && !knots)) return;
    const char *shellac =
        over_all ? over_all
        : can_of_class(b, "shellac_pigmented") || !can_of_class(b, "shellac_clear")
            ? "shellac_pigmented"
            : "shellac_clear";
    struct coat *c =
        coat_add(b, lot, ROLE_SPOT_SEAL, "spot_seal", shellac, spots_m2(b, lot), over_all ? 1 : 2);
    because(c, s, PREP(SPOT), "Knots and stains come through paint.");
    if (!over_all) return;
    /* out of the same can, just before: getting ready is the barrier's, the dabbing is its own */
    c->hands_min -= c->ready_min / 2, c->ready_min /= 2;
    c->why = "Each knot by itself first: resin wants two coats, and the one over everything "
             "is its second.";
}

void spot_rows(struct build *b, const struct lot *lot, const struct stack *s) {
    if (s->prep & PREP(EDGES)) {
        struct coat *c =
            coat_add(b, lot, ROLE_SPOT_SEAL, "seal_edges", "shellac_clear", spots_m2(b, lot), 2);
        because(c, s, PREP(EDGES), "Cut edges drink.");
    }
    if (s->prep & PREP(RUST)) {
        struct coat *c =
            coat_add(b, lot, ROLE_SPOT_SEAL, "spot_metal", "metal_primer", spots_m2(b, lot), 1);
        because(c, s, PREP(RUST), "Rust goes on under any paint.");
    }
    for (size_t i = 0; i < s->under_n; i++) /* water comes in from below, through the feet */
        if (same(s->under[i], "exterior_primer") && !same(s->ground, "exterior_film")) {
            struct coat *c = coat_add(b, lot, ROLE_SPOT_SEAL, "end_grain", s->under[i],
                                      lot->area_m2 * figure(b->r->t, FIGURES_END_GRAIN_FRAC), 1);
            c->why =
                "Feet and ends once more than the rest: end grain drinks, and rot begins there.";
        }
    spots_row(b, lot, s);
}

/* And the tape, before it carries anything. */
static void laminate_wait(const struct build *b, struct coat *c) {
    c->recoat_min = fmax(c->recoat_min, figure(b->r->t, FIGURES_LAMINATE_DRY_MIN));
    c->why =
        "Leave it 24 to 72 hours, then the tape test, then color. Laminate is closed and slick.";
}

void under_rows(struct build *b, const struct lot *lot, const struct stack *s) {
    for (size_t i = 0; i < s->under_n; i++) {
        const struct coat_kinds_row *k = coat_kind_of(b->r->t, s->under[i]);
        bool barrier = same(k->role, "barrier");
        int64_t coats = barrier && fact_holds(&b->f, "rag_red painted") ? 2 : k->coats;
        struct coat *c = coat_add(b, lot, barrier ? ROLE_BARRIER : ROLE_PRIMER,
                                  barrier ? "barrier" : "primer", k->id, lot->area_m2, coats);
        unsigned asked = barrier                          ? PREP(BARRIER) | PREP(DEWAXED)
                         : same(k->id, "alkyd_primer")    ? PREP(ALKYD_PRIMER)
                         : same(k->id, "metal_primer")    ? PREP(METAL_PRIMER)
                         : same(k->id, "exterior_primer") ? PREP(EXT_PRIMER)
                                                          : PREP(BOND_PRIMER);
        because(c, s, asked,
                same(k->id, b->f.primer)     ? "You asked for it."
                : same(lot->material, "wax") ? "It shuts in what wax is left in the wood."
                                             : "It ties the coats.");
        c->verdict = s->under_j[i].verdict;
        if (i == 0 && same(s->ground, "laminate")) laminate_wait(b, c);
        const struct paint *can = lot_can(b, lot, k->id);
        bool white = !(can && can->color.text) ||
                     can->color.lab[0] > figure(b->r->t, FIGURES_LIGHT_LIGHTNESS);
        struct facts f = lot_facts(b, lot);
        if (!barrier && lot->kind == LOT_PAINT && white &&
            f.lightness < figure(b->r->t, FIGURES_DARK_LIGHTNESS))
            c->why = ROOM_TEXT(b->r,
                               "%s Have it tinted gray: under a dark color white shows in "
                               "every scratch.",
                               c->why);
        if (!c->rule && s->under_j[i].rule) c->rule = s->under_j[i].rule->id;
    }
    if (!s->under_n) return;
    struct coat *c = coat_add(b, lot, ROLE_RUB, "nib", NULL, lot->area_m2, 1);
    c->why = "The first film stands up in nibs; what the hand feels the eye sees under gloss.";
}

static bool alike(const char *a, const char *b) {
    return a == b || same(a, b);
}

/* The row of the same group, among those before `end`, that does the same; NULL: none. */
static struct coat *twin_of(const struct coats *c, const struct coat *row, size_t end) {
    for (size_t i = end; i > 0 && same(c->rows[i - 1].group, row->group); i--) {
        struct coat *k = &c->rows[i - 1];
        if (same(k->operation, row->operation) && k->grit == row->grit && k->coats == row->coats &&
            k->again == row->again && alike(k->text, row->text) && alike(k->class, row->class) &&
            alike(k->product, row->product))
            return k;
    }
    return NULL;
}

void merge_rows(struct build *b, size_t before) {
    struct coats *c = &b->p->coats;
    for (size_t i = before; i < c->n; i++)
        if (!twin_of(c, &c->rows[i], before)) return; /* all or none: their order matters */
    for (size_t i = before; i < c->n; i++) {
        struct coat *k = twin_of(c, &c->rows[i], before);
        k->area_m2 += c->rows[i].area_m2;
        k->hands_min += c->rows[i].hands_min;
        k->ready_min += c->rows[i].ready_min;
    }
    c->n = before;
}

typedef void row_fn(struct build *b, const struct lot *lot, const struct stack *s);

void dry_rows(struct build *b, const struct lot_plan *lots, size_t n) {
    static row_fn *const phases[] = {clean_rows, strip_row, scuff_row, oily_row};
    for (size_t k = 0; k < sizeof phases / sizeof *phases; k++)
        for (size_t i = 0; i < n; i++) {
            size_t before = b->p->coats.n;
            if (lots[i].over) phases[k](b, lots[i].lot, &lots[i].stack);
            merge_rows(b, before);
        }
}
