#include "core/work/inspection.h"
#include "core/base/units.h"
#include "core/work/fact.h"
#include "core/work/hazard.h"
#include "core/work/lead_year.h"
#include "core/work/names.h"

#include <math.h>
#include <string.h>

/* ---- the rules of the single tests ---- */

int tape_rating(double removed_frac) {
    static const double edge[] = {0.65, 0.35, 0.15, 0.05};
    if (removed_frac <= 0) return 5;
    if (removed_frac > edge[0]) return 0;
    for (int i = 1; i < 4; i++)
        if (removed_frac >= edge[i]) return i;
    return 4;
}

double moisture_corrected(double read_frac, double at_degc) {
    const double meter_degf = 70;
    if (isnan(at_degc)) return read_frac;
    return read_frac + 0.005 * (meter_degf - (at_degc * 9 / 5 + 32)) / 10;
}

static bool softens(enum reaction r) {
    return r == REACTION_SOFTENS || r == REACTION_DISSOLVES;
}

const char *ladder_finish(const struct piece_tests *t, const char *said, bool opaque,
                          int64_t year) {
    bool before_1990 = year != INT64_MIN && year < 1990;
    if (t->wax_wipe == WIPE_GREASY && t->spot_cleaned != YN_YES)
        return NULL; /* void until the wax is off */
    if (opaque) {
        if (t->alcohol == REACTION_UNSAID) return said;
        return softens(t->alcohol) ? "latex_paint" : "alkyd_paint";
    }
    if (t->alcohol == REACTION_DISSOLVES) return "shellac";
    if (t->alcohol == REACTION_SOFTENS) /* whitens, half soft: lacquer, or lacquer and shellac */
        return t->thinner == REACTION_DISSOLVES ? "lacquer" : "shellac";
    if (t->alcohol == REACTION_UNSAID) return NULL;
    if (softens(t->thinner)) {
        if (before_1990) return "lacquer";
        if (softens(t->xylene)) return "wb_clear";
        return t->xylene == REACTION_NOTHING ? "lacquer" : NULL;
    }
    if (softens(t->xylene)) return "wb_clear";
    if (t->thinner == REACTION_UNSAID) return NULL;
    return t->xylene == REACTION_NOTHING || before_1990 ? "oil_varnish" : NULL;
}

enum lead_class lead_class_of(double frac) {
    const double hair = 1e-12;
    if (isnan(frac)) return LEAD_CLASS_UNKNOWN;
    if (frac >= 0.005 - hair) return LEAD_CLASS_PAINT;
    return frac > 0.00009 + hair ? LEAD_CLASS_CONSUMER : LEAD_CLASS_UNDER;
}

/* Bleeding through light waterborne coats, 0..9: wood 0-2, red dye 2, knots 2, smoke 2, light
 * color 1, waterborne 1. From 4 a barrier everywhere, from 2 spot seal and a patch. A project
 * rule made of common practice. out: the basis that the points go into, or NULL. */
static int64_t bleed_score(const struct room *r, const struct inspection *in, struct basis *out) {
    static const struct {
        const char *when, *name;
        int64_t points;
    } rows[] = {{"risk_wood", "a wood that bleeds much", 2},
                {"some_wood !risk_wood", "a wood that may bleed", 1},
                {"rag_red", "red dye on the rag", 2},
                {"knots", "knots", 2},
                {"knots_unknown", "knots, not looked for", 2},
                {"smoke", "smoke", 2},
                {"light", "a light color", 1},
                {"waterborne", "waterborne coats", 1}};
    struct facts f;
    fact_make(r, in, &f);
    int64_t score = 0;
    if (!fact_holds(&f, "painted wooden")) return 0;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        if (!fact_holds(&f, rows[i].when)) continue;
        score += rows[i].points;
        if (out) basis_number(r->ledger, out, rows[i].name, (double)rows[i].points, DIM_NONE);
    }
    return score;
}

/* ---- findings ---- */

struct findings {
    const struct room *r;
    struct inspection *out;
    size_t cap;
    bool refused;
};

/* The basis of the new finding, for more inputs; never NULL. What is found on a refused piece stays
 * on record, but no advice how to go on: scuffing or wiping it would be bad advice. What nobody has
 * looked at is not to be looked at now. */
static struct basis *find(struct findings *fs, const char *id, const char *name,
                          const char *verdict, const char *detail, enum finding_state state,
                          const char *source) {
    static const enum certainty sure[] = {[FINDING_UNSAID] = CERTAINTY_UNSAID,
                                          [FINDING_TESTED] = CERTAINTY_MEASURED,
                                          [FINDING_SEEN] = CERTAINTY_SAID,
                                          [FINDING_ASSUMED] = CERTAINTY_ASSUMED,
                                          [FINDING_TO_TEST] = CERTAINTY_ASSUMED};
    struct ledger *l = fs->r->ledger;
    if (fs->refused && state != FINDING_SEEN && state != FINDING_TESTED) return &l->scratch;
    if (fs->refused && strcmp(id, "age") != 0 && strcmp(id, "lead") != 0)
        detail = "It stays as it is: nothing is done to it here.";
    struct finding *rows =
        ledger_grow(l, fs->out->findings, fs->out->findings_n, &fs->cap, sizeof *rows);
    if (!rows) return &l->scratch;
    fs->out->findings = rows;
    rows[fs->out->findings_n++] = (struct finding){id, name, verdict, detail, state, source};
    struct basis *b = ledger_basis(
        l,
        ROOM_TEXT(fs->r, "%s/inspection/findings/%zu/verdict", fs->r->at, fs->out->findings_n - 1),
        detail, source, sure[state]);
    basis_word(l, b, name, verdict);
    return b;
}

static const char *reaction_word(enum reaction r) {
    return r == REACTION_NOTHING     ? "did nothing"
           : r == REACTION_SOFTENS   ? "softened it"
           : r == REACTION_DISSOLVES ? "dissolved it"
                                     : "was not tried";
}

static const char *ladder_words(const struct room *r) {
    const struct piece_tests *t = &r->piece->tests;
    return ROOM_TEXT(r, "Alcohol %s, thinner %s, xylene %s.", reaction_word(t->alcohol),
                     reaction_word(t->thinner), reaction_word(t->xylene));
}

static void find_finish(struct findings *fs) {
    const struct room *r = fs->r;
    const struct piece *p = r->piece;
    const struct materials_row *said = material_of(r->t, p->finish);
    const char *by_test = said && !said->film
                              ? NULL
                              : ladder_finish(&p->tests, p->finish, said && said->opaque, p->year);
    bool tested = by_test && p->tests.alcohol != REACTION_UNSAID;
    if (by_test && strcmp(by_test, "paint") != 0) {
        fs->out->finish = by_test;
    } else {
        fs->out->finish = said ? said->id : "unknown";
    }
    const struct materials_row *m = material_of(r->t, fs->out->finish);
    const char *detail = m->note;
    enum finding_state state = FINDING_SEEN;
    if (tested) {
        bool turned = said && strcmp(said->id, by_test) != 0;
        state = FINDING_TESTED;
        detail = turned ? ROOM_TEXT(r, "%s The test stands against what was said (%s).",
                                    ladder_words(r), said->name)
                        : ladder_words(r);
    } else if (p->tests.wax_wipe == WIPE_GREASY && p->tests.alcohol != REACTION_UNSAID &&
               p->tests.spot_cleaned != YN_YES) {
        state = FINDING_TO_TEST;
        detail = "Test again after the wax is off. Under wax no solvent test counts.";
    } else if (!said) {
        state = FINDING_TO_TEST;
        detail = "Test it before starting. Until then it is planned as the worst it may be.";
    }
    find(fs, "finish", "Old finish", m->name, detail, state, tested ? "TRADEQA" : m->source);
}

static void find_wax(struct findings *fs) {
    enum wipe w = fs->r->piece->tests.wax_wipe;
    bool is = w == WIPE_GREASY || !strcmp(fs->out->finish, "wax");
    fs->out->wax = is ? YN_YES : w == WIPE_CLEAN ? YN_NO : YN_UNSAID;
    if (is)
        find(
            fs, "wax", "Wax or polish", "there",
            "Nothing holds on wax. It comes off with mineral spirits before anything else, or with "
            "the old film where that is stripped.",
            w ? FINDING_TESTED : FINDING_SEEN, "TRADEQA");
    else if (w == WIPE_CLEAN)
        find(fs, "wax", "Wax or polish", "none", "The cloth stayed white.", FINDING_TESTED,
             "TRADEQA");
    else if (material_of(fs->r->t, fs->out->finish)->film)
        find(fs, "wax", "Wax or polish", "not known",
             "Wipe with mineral spirits all the same. Nobody has looked.", FINDING_TO_TEST,
             "TRADEQA");
}

static void find_adhesion(struct findings *fs) {
    const struct room *r = fs->r;
    double off = r->piece->tests.tape_removed_frac;
    bool foil = !strcmp(fs->out->finish, "laminate"),
         flakes = r->piece->condition == CONDITION_FLAKING;
    if (foil ? !flakes && isnan(off) : !material_of(r->t, fs->out->finish)->film) return;
    if (flakes) {
        fs->out->holds = YN_NO;
        find(fs, "adhesion", "Does it hold?", "no",
             foil ? "The foil lifts: it is peeled off." : "It flakes: it comes off.", FINDING_SEEN,
             "CP");
    } else if (isnan(off)) {
        find(fs, "adhesion", "Does it hold?", "not known",
             "Make the tape test before painting over it.", FINDING_TO_TEST, "D3359");
    } else {
        int rating = tape_rating(off);
        fs->out->holds = rating >= 4 ? YN_YES : rating <= 2 ? YN_NO : YN_UNSAID;
        const char *so = rating >= 4 ? "It holds and may be painted over."
                         : foil      ? "The foil lifts: it is peeled off, and the board is primed."
                         : rating == 3 ? "Scuff, bonding primer on a patch, then test again."
                                       : "It comes off: what is put on it would come off with it.";
        find(fs, "adhesion", "Does it hold?", ROOM_TEXT(r, "%dB", rating),
             ROOM_TEXT(r, "%.3g %% came off. %s", off * 100, so), FINDING_TESTED, "D3359");
    }
}

static void find_bleeding(struct findings *fs) {
    const struct room *r = fs->r;
    fs->out->bleed_score = bleed_score(r, fs->out, NULL);
    struct facts f;
    fact_make(r, fs->out, &f);
    if (!fact_holds(&f, "painted wooden")) return;
    if (fact_holds(&f, "rag_stained")) {
        find(fs, "bleeding", "Bleeding", fact_holds(&f, "rag_red") ? "red rag" : "brown rag",
             fact_holds(&f, "dye_lifts")
                 ? "A barrier on everything: oil stain-block, or shellac sprayed thin. Alcohol "
                   "lifts this dye, so brushed shellac would carry it along."
                 : "Shellac barrier on everything. The rag outranks the score.",
             FINDING_TESTED, "CP");
        return;
    }
    bool high = fact_holds(&f, "bleed_high"), some = fact_holds(&f, "bleed_some bleeder");
    bool light = fact_holds(&f, "light");
    const char *so = high && fact_holds(&f, "outdoor")
                         ? "An exterior primer that blocks stains, on everything."
                     : high           ? "Shellac barrier on everything."
                     : some && !light ? "What little comes through does not show in a dark color."
                     : some           ? "Seal the risky places and leave a patch 48 hours."
                                      : "No barrier is needed for bleeding.";
    const char *rag = fact_holds(&f, "rag_clean some_wood light")
                          ? " A clean rag does not clear a light color over this wood."
                          : "";
    struct basis *b =
        find(fs, "bleeding", "Bleeding", ROOM_TEXT(r, "%d of 9", (int)fs->out->bleed_score),
             ROOM_TEXT(r, "%s%s", so, rag), FINDING_ASSUMED, "CP");
    bleed_score(r, fs->out, b);
    b->rule = ROOM_TEXT(r,
                        "Points for what makes paint bleed; 2 and 3: spots and a patch, from 4 "
                        "on: a barrier on everything. %s%s",
                        so, rag);
}

static void find_wood(struct findings *fs) {
    const struct room *r = fs->r;
    const struct piece *p = r->piece;
    const struct wood_traits_row *w = wood_trait_of(r->t, p->wood);
    const char *name = w ? w->name : p->wood ? p->wood : "not known";
    struct facts f;
    fact_make(r, fs->out, &f);
    if (!fact_holds(&f, "wooden")) {
        const struct materials_row *m = material_of(r->t, fs->out->finish);
        bool board = w && w->board == 1;
        const char *foil = fact_holds(&f, "wicker")               ? "a weave"
                           : !strcmp(fs->out->finish, "laminate") ? "a board"
                           : m                                    ? m->name
                                                                  : name;
        find(fs, "wood", "Under it", board ? w->name : foil,
             "No wood: no knots, no grain, nothing that bleeds.", FINDING_SEEN, "CP");
        return;
    }
    if (p->veneer == YN_YES) {
        bool known = !isnan(p->veneer_mm);
        find(fs, "wood", "Wood", ROOM_TEXT(r, "%s veneer", name),
             known ? ROOM_TEXT(r, "%s thick: by hand, fine grit, no soaking.",
                               ledger_length(r->ledger, p->veneer_mm))
                   : ROOM_TEXT(r,
                               "By hand, fine grit, no soaking. Old veneers run %s to %s; the thin "
                               "end is safer.",
                               ledger_length(r->ledger, MM_PER_IN / 32),
                               ledger_length(r->ledger, MM_PER_IN / 16)),
             FINDING_SEEN, "CP");
    } else {
        find(fs, "wood", "Wood", name,
             !w              ? "Planned as a wood that may bleed."
             : w->oily       ? "Oily: wiped with solvent just before glue and coats."
             : w->bleed == 2 ? "It bleeds: its color travels into waterborne paint."
             : w->knots      ? "Its knots bleed resin for years."
                             : "It bleeds little.",
             p->wood ? FINDING_SEEN : FINDING_TO_TEST, w ? w->source : "CP");
    }
    if (p->knots == YN_YES)
        find(fs, "knots", "Knots", "there", "Seal each with shellac, then prime.", FINDING_SEEN,
             "WH16, Knots");
}

static void moisture_explain(struct findings *fs, struct basis *b) {
    const struct piece_tests *t = &fs->r->piece->tests;
    struct ledger *l = fs->r->ledger;
    b->rule = "The reading, plus half a point for every 10 \u00b0F (5.6 \u00b0C) that the wood was "
              "colder than the meter's 70 \u00b0F (21 \u00b0C).";
    basis_range(b, DIM_FRACTION, fs->out->moisture_frac - 0.02, fs->out->moisture_frac + 0.02);
    basis_number(l, b, "reading", t->moisture_frac, DIM_FRACTION);
    if (!isnan(t->moisture_at_degc))
        basis_number(l, b, "the wood then", t->moisture_at_degc, DIM_TEMPERATURE);
}

static void find_moisture(struct findings *fs) {
    const struct room *r = fs->r;
    const struct piece_tests *t = &r->piece->tests;
    fs->out->moisture_frac = moisture_corrected(t->moisture_frac, t->moisture_at_degc);
    struct facts f;
    fact_make(r, fs->out, &f);
    if (isnan(t->moisture_frac) && !fact_holds(&f, "wooden")) return; /* the pins read wood */
    if (isnan(t->moisture_frac)) {
        find(fs, "moisture", "Moisture", "not known", "Read three bare places before coating.",
             FINDING_TO_TEST, "WH13");
        return;
    }
    const char *so = fact_holds(&f, "moisture_stop")   ? "Too wet to coat: dry it first."
                     : fact_holds(&f, "moisture_warn") ? "Damp: better to wait and read again."
                                                       : "Dry enough to coat.";
    const char *how = isnan(t->moisture_at_degc) ? "as read; the wood's temperature is not known"
                                                 : "corrected for the wood's temperature";
    struct basis *b =
        find(fs, "moisture", "Moisture", ROOM_TEXT(r, "%.3g %%", fs->out->moisture_frac * 100),
             ROOM_TEXT(r, "Pin meter %.3g %%, %s. %s", t->moisture_frac * 100, how, so),
             FINDING_TESTED, "WH13, p. 13-3");
    moisture_explain(fs, b);
    moisture_explain(fs, ledger_basis(r->ledger, ROOM_TEXT(r, "%s/inspection/moisture_frac", r->at),
                                      NULL, "WH13, p. 13-3", CERTAINTY_PUBLISHED));
}

static void find_lead(struct findings *fs) {
    const struct room *r = fs->r;
    const struct piece *p = r->piece;
    struct facts f;
    fs->out->lead_cleared = YN_UNSAID;
    fact_make(r, fs->out, &f);
    const char *verdict = "not ruled out", *source = "CFR1303";
    const char *detail = "Treat it as lead until a laboratory or an X-ray reading says otherwise.";
    enum finding_state state = FINDING_ASSUMED;
    if (fact_holds(&f, "lead_measured")) {
        fs->out->lead_cleared = YN_NO, state = FINDING_TESTED, source = "USC2681";
        verdict = "lead paint", detail = "Measured: it goes to licensed practice.";
    } else if (p->tests.lead == LEAD_LAB_NEGATIVE || p->tests.lead == LEAD_XRF_NEGATIVE) {
        fs->out->lead_cleared = YN_YES, state = FINDING_TESTED, source = "USC2681";
        verdict = "no lead paint", detail = "Laboratory or X-ray reading under the limit.";
    } else if (p->tests.lead == LEAD_KIT_POSITIVE) {
        fs->out->lead_cleared = YN_NO, state = FINDING_TESTED, source = "CFR745";
        verdict = "kit says lead", detail = "Treat it as lead; a laboratory tells how much.";
    } else if (!fact_holds(&f, "coated")) {
        fs->out->lead_cleared = YN_YES, verdict = "no coating", detail = "Nothing to sand through.";
    } else if (!fact_holds(&f, "year_old")) {
        int year = (int)lead_year_of(r->t, r->shop, &source);
        fs->out->lead_cleared = YN_YES, verdict = "made later",
        detail = ROOM_TEXT(r, "Made after lead paint ended (%d).", year);
    } else if (p->tests.lead == LEAD_KIT_NEGATIVE) {
        source = "CPSCKIT";
        detail = "A home kit that finds nothing clears nothing: more than half of the leaded "
                 "samples were missed in a government study.";
    } else if (p->tests.lead == LEAD_WAITING) {
        state = FINDING_TO_TEST, detail = "A chip is at the laboratory. No dust before it answers.";
    }
    find(fs, "lead", "Lead", verdict, detail, state, source);
}

static void find_contamination(struct findings *fs) {
    static const char *smells[] = {"", "none", "smoke", "urine", "musty"};
    static const char *molds[] = {"", "none", "on the surface", "deep"};
    static const char *pests[] = {"", "none", "old holes", "live borer", "bedbugs"};
    const struct piece_tests *t = &fs->r->piece->tests;
    if (t->smell > SMELL_NONE)
        find(fs, "smell", "Smell", smells[t->smell],
             "Clean it, seal it, and shut it up 72 hours before any color.", FINDING_TESTED, "CP");
    if (t->mold > MOLD_NONE)
        find(fs, "mold", "Mold", molds[t->mold], "Keep it apart until it is clean and dry.",
             FINDING_SEEN, "CP");
    if (t->pests > PESTS_NONE)
        find(fs, "pests", "Insects", pests[t->pests],
             t->pests == PESTS_OLD_HOLES ? "No fresh dust: fill the holes."
                                         : "It stays out of the shop until it is treated.",
             FINDING_SEEN, "CP");
    if (t->patch)
        find(fs, "patch", "Bleeding patch", t->patch == OUTCOME_PASSED ? "clean" : "stained",
             t->patch == OUTCOME_PASSED ? "No cast came through."
                                        : "Color came through: shellac barrier everywhere.",
             FINDING_TESTED, "CP");
}

static void find_age(struct findings *fs) {
    const struct piece *p = fs->r->piece;
    bool known = p->year != INT64_MIN;
    find(fs, "age", "Age", known ? ROOM_TEXT(fs->r, "about %d", (int)p->year) : "not known",
         known ? "It decides about lead, and which finish was usual."
               : "Counts as old until it is proven.",
         known ? FINDING_SEEN : FINDING_TO_TEST, "CP");
}

/* ---- tests that are still to be made ---- */

const struct film_cuts_row *film_cuts_of(const struct tables *t, double film_um) {
    for (size_t i = 0; i < t->film_cuts_n; i++)
        if (film_um <= t->film_cuts[i].film_to_um) return &t->film_cuts[i];
    return NULL;
}

bool test_skipped(const struct piece_tests *tests, const char *id) {
    for (size_t i = 0; i < tests->skipped_n; i++)
        if (!strcmp(tests->skipped[i], id)) return true;
    return false;
}

const char *test_what(const struct room *r, const struct tests_row *test) {
    double film_um = r->piece->tests.film_um;
    const struct film_cuts_row *cuts = film_cuts_of(r->t, film_um);
    if (!cuts || strcmp(cuts->test, test->id) != 0) return test->what;
    const char *how = isnan(cuts->apart_mm) ? cuts->how
                                            : ROOM_TEXT(r, "%d cuts each way, %g mm apart",
                                                        cuts->cuts, cuts->apart_mm);
    return ROOM_TEXT(r, "%s This one is %s: %s.", test->what, ledger_film(r->ledger, film_um), how);
}

static void list_tests(const struct room *r, struct inspection *out) {
    struct facts f;
    fact_make(r, out, &f);
    size_t cap = 0;
    if (hazard_refuses(&f)) return; /* nothing is started, so nothing is to be tested before */
    out->left_out = arena_array(r->ledger->arena, r->t->tests_n, sizeof *out->left_out);
    for (size_t i = 0; i < r->t->tests_n; i++) {
        const struct tests_row *row = &r->t->tests[i];
        if (!fact_holds(&f, row->applies) || !fact_holds(&f, row->open)) continue;
        if (out->left_out && test_skipped(&r->piece->tests, row->id)) {
            out->left_out[out->left_out_n++] = row->name;
            continue;
        }
        void *rows = ledger_grow(r->ledger, out->tests, out->tests_n, &cap, sizeof *out->tests);
        if (!rows) return;
        out->tests = rows;
        out->tests[out->tests_n++] =
            (struct test_to_do){.id = row->id,
                                .what = test_what(r, row),
                                .see = row->see,
                                .means = row->means,
                                .rank = !strcmp(row->rank, "stop") ? RANK_STOP : RANK_MIND,
                                .source = row->source};
    }
}

enum status inspection_make(const struct room *r, struct inspection *out, struct why *why) {
    enum status s = names_piece_check(r->t, r->piece, r->at, r->ledger->arena, why);
    if (s) return s;
    *out = (struct inspection){.moisture_frac = NAN};
    struct facts f;
    fact_make(r, out, &f);
    struct findings fs = {r, out, 0, hazard_refuses(&f)};
    find_finish(&fs);
    find_age(&fs);
    find_lead(&fs);
    find_wax(&fs);
    find_adhesion(&fs);
    find_wood(&fs);
    find_bleeding(&fs);
    find_moisture(&fs);
    find_contamination(&fs);
    list_tests(r, out);
    return r->ledger->failed ? E_MEMORY : OK;
}
