/* Whole coating systems: what is planned for pieces as they come into a shop. */
#include "core/base/random.h"
#include "test/unit/coats_room.h"

#include <stdio.h>
#include <stdlib.h>

static size_t at(const struct trade_room *r, const char *operation) {
    const struct coat *c = row(r, operation);
    return c ? (size_t)(c - r->plan.coats.rows) : SIZE_MAX;
}

static const char *class_of(const struct trade_room *r, const char *operation) {
    const struct coat *c = row(r, operation);
    return c && c->class ? c->class : "none";
}

static bool class_laid(const struct trade_room *r, const char *class) {
    for (size_t i = 0; i < r->plan.coats.n; i++)
        if (r->plan.coats.rows[i].class && !strcmp(r->plan.coats.rows[i].class, class)) return true;
    return false;
}

static bool refused(const struct trade_room *r, const char *word) {
    for (size_t i = 0; i < r->plan.coats.refused.n; i++)
        if (strstr(r->plan.coats.refused.rows[i].text, word)) return true;
    return false;
}

static void wood_cases(void) {
    struct trade_room r;
    CASE("outdoors an oil that was asked for is refused aloud, not swapped in silence") {
        sound(&r, "bare");
        r.piece.place = PLACE_OUTDOOR, r.piece.wanted.product = "oil";
        r.piece.wanted.color = (struct color_said){NULL, {NAN, NAN, NAN}};
        trade_surface(&r, "case", "sides", TREAT_WAX, 0, 2);
        CHECK(trade_coats(&r, NULL) == OK);
        CHECK_TEXT(class_of(&r, "stain"), "exterior_stain");
        CHECK(refused(&r, "drying oil"));
        trade_close(&r);
    }
    CASE("a clear named as the paint of a color is an error that says what would be right") {
        struct why why = {0};
        sound(&r, "lacquer");
        r.piece.wanted.product = "lacquer";
        trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 2);
        CHECK(trade_coats(&r, &why) == E_REFERENCE);
        CHECK_TEXT(why.field, "/pieces/0/wanted/product");
        CHECK(strstr(why.text, "wb_enamel"));
        trade_close(&r);
    }
}

static void bleeding_cases(void) {
    struct trade_room r;
    CASE("a brown rag forces shellac on everything; knots alone are spot-sealed") {
        sound(&r, "lacquer");
        r.piece.tests.rag = RAG_BROWN;
        sides(&r);
        CHECK_TEXT(class_of(&r, "barrier"), "shellac_clear"); /* dark color: clear will do */
        trade_close(&r);
        sound(&r, "bare");
        r.piece.knots = YN_YES, r.piece.wood = "birch";
        sides(&r);
        CHECK(row(&r, "spot_seal") && !row(&r, "barrier"));
        CHECK_TEXT(class_of(&r, "primer"), "wb_primer");
        trade_close(&r);
    }
    CASE("dye that alcohol lifts gets oil stain-block, never brushed shellac") {
        sound(&r, "lacquer");
        r.piece.tests.rag = RAG_RED, r.piece.tests.dye_lifts = YN_YES;
        sides(&r);
        CHECK(!row(&r, "barrier"));
        CHECK_TEXT(class_of(&r, "primer"), "alkyd_primer");
        trade_close(&r);
    }
    CASE("white on pine with knots: pigmented shellac everywhere, and a board first") {
        sound(&r, "bare");
        r.piece.wood = "eastern_white_pine", r.piece.knots = YN_YES;
        color_is(&r, "white", 94, 0, 3);
        sides(&r);
        CHECK_TEXT(class_of(&r, "barrier"), "shellac_pigmented");
        CHECK(r.plan.coats.test_board && r.plan.coats.test_board_why);
        trade_close(&r);
    }
}

static void ground_cases(void) {
    struct trade_room r;
    CASE("wax comes off first and what is left is shut in with shellac") {
        sound(&r, "wax");
        sides(&r);
        CHECK(at(&r, "dewax") == 0 && row(&r, "barrier"));
        trade_close(&r);
    }
    CASE("a film that fails the tape is stripped; one of 3B gets primer and a board") {
        sound(&r, "oil_varnish");
        r.piece.tests.tape_removed_frac = 0.4;
        sides(&r);
        CHECK(row(&r, "strip") && row(&r, "sand_bare") && !row(&r, "scuff"));
        trade_close(&r);
        sound(&r, "oil_varnish");
        r.piece.tests.tape_removed_frac = 0.10;
        sides(&r);
        CHECK(row(&r, "scuff") && row(&r, "primer") && r.plan.coats.test_board);
        trade_close(&r);
    }
    CASE("waterborne enamel over cured oil paint: scuff and a tie coat (HB1110, 2.4.4)") {
        sound(&r, "alkyd_paint");
        sides(&r);
        CHECK(row(&r, "scuff") && row(&r, "primer"));
        CHECK_TEXT(row(&r, "primer")->rule, "alkyd_paint-wb_enamel");
        trade_close(&r);
    }
    CASE("laminate is scuffed and primed, never milk-painted") {
        sound(&r, "laminate");
        r.piece.wanted.product = "milk";
        sides(&r);
        CHECK(row(&r, "scuff_laminate") && row(&r, "primer"));
        CHECK(refused(&r, "milk paint") && strcmp(class_of(&r, "color"), "milk"));
        trade_close(&r);
    }
    CASE("a laminate top that is to be milk-painted on a wooden piece is refused by itself") {
        sound(&r, "lacquer");
        r.piece.wanted.product = "wb_enamel";
        trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 2);
        struct part *top = &trade_surface(&r, "top", "top", TREAT_PAINT, 1, 1)->part;
        top->product = "milk", top->material = "laminate";
        CHECK(trade_coats(&r, NULL) == OK);
        CHECK(refused(&r, "milk paint") && !class_laid(&r, "milk"));
        size_t colored = 0; /* both are painted all the same */
        for (size_t i = 0; i < r.plan.coats.n; i++) {
            const struct coat *k = &r.plan.coats.rows[i];
            colored += k->role == ROLE_COLOR && !strcmp(k->class, "wb_enamel");
        }
        CHECK(colored == 2);
        trade_close(&r);
        sound(&r, "lacquer"); /* on the wood beside it it holds */
        r.piece.wanted.product = "wb_enamel";
        trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 2);
        trade_surface(&r, "top", "top", TREAT_PAINT, 1, 1)->part.product = "milk";
        CHECK(trade_coats(&r, NULL) == OK);
        CHECK(!refused(&r, "milk paint") && class_laid(&r, "milk"));
        trade_close(&r);
    }
    CASE(
        "a white primer under a dark color is to be tinted gray; one that is gray already is not") {
        struct paint gray = {.id = "g", .class = "wb_primer", .color = {"gray", {60, 0, 0}}};
        gray.stock_ml = gray.size_ml = gray.cost_cent = gray.label_pot_life_min = NAN;
        for (int i = 0; i < 2; i++) {
            sound(&r, "laminate");
            if (i) r.shelf.paints = &gray, r.shelf.paints_n = 1;
            sides(&r);
            CHECK(row(&r, "primer") &&
                  (strstr(row(&r, "primer")->why, "tinted gray") == NULL) == i);
            trade_close(&r);
        }
    }
    CASE("an effect that does not hold is refused: no wax in a bathroom, none on it") {
        static const char *wax[] = {"wax"};
        for (int i = 0; i < 2; i++) {
            sound(&r, "lacquer");
            r.piece.place = i ? PLACE_BATH : PLACE_INDOOR, r.piece.wanted.clear = "none";
            r.piece.wanted.effects = wax, r.piece.wanted.effects_n = 1;
            sides(&r);
            CHECK(refused(&r, "wax") == i && class_laid(&r, "wax") == !i);
            trade_close(&r);
        }
    }
    CASE("bare insides that smell are washed and sealed, twice for smoke, and cost no other hour") {
        sound(&r, "lacquer");
        trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 2);
        trade_surface(&r, "case", "inside", TREAT_SEAL, 0, 0)->sealed_m2 = 3;
        CHECK(trade_coats(&r, NULL) == OK);
        double sweet = row(&r, "scuff")->hands_min;
        CHECK(row(&r, "seal_inside")->coats == 2); /* nobody has smelt: as the worst */
        r.piece.tests.smell = SMELL_SMOKE;
        CHECK(trade_coats(&r, NULL) == OK);
        const struct coat *seal = row(&r, "seal_inside");
        CHECK(seal->coats == 2 && !strcmp(seal->class, "shellac_clear"));
        CHECK_NEAR(seal->area_m2, 3, 1e-9);
        CHECK(at(&r, "seal_inside") < at(&r, "barrier") && at(&r, "barrier") < at(&r, "color"));
        CHECK(row(&r, "scuff")->hands_min == sweet);
        int washed = 0;
        for (size_t i = 0; i < r.plan.coats.n; i++)
            washed += !strcmp(r.plan.coats.rows[i].operation, "clean");
        CHECK(washed == 4); /* faces and insides, twice each */
        r.piece.tests.smell = SMELL_MUSTY;
        CHECK(trade_coats(&r, NULL) == OK);
        CHECK(row(&r, "seal_inside")->coats == 1);
        trade_close(&r);
    }
    CASE("foil that lifts is peeled, without remover, and the open board sealed all over") {
        sound(&r, "laminate");
        r.piece.wood = "mdf", r.piece.tests.tape_removed_frac = 0.4;
        r.piece.wanted.product = "wb_enamel";
        sides(&r);
        CHECK(row(&r, "peel") && !row(&r, "strip") && !row(&r, "scuff_laminate"));
        CHECK(at(&r, "peel") < at(&r, "seal_edges") && at(&r, "seal_edges") < at(&r, "barrier"));
        CHECK(!r.plan.coats.test_board); /* no foil is left to tape a primer on */
        trade_close(&r);
    }
    CASE("sound paint on a metal piece is scuffed and primed where it rusts, not ground off") {
        sound(&r, "alkyd_paint");
        r.piece.wood = "metal", r.piece.wanted.product = "alkyd_enamel";
        sides(&r);
        CHECK(row(&r, "scuff") && row(&r, "spot_metal") && !row(&r, "degrease_metal"));
        CHECK_TEXT(class_of(&r, "spot_metal"), "metal_primer");
        CHECK_NEAR(row(&r, "spot_metal")->area_m2, 0.2, 1e-9);
        trade_close(&r);
    }
    CASE("paint that fails on metal is stripped first, then the metal made bright and primed") {
        sound(&r, "alkyd_paint");
        r.piece.wood = "metal", r.piece.wanted.product = "alkyd_enamel";
        r.piece.tests.tape_removed_frac = 0.5;
        sides(&r);
        CHECK(at(&r, "clean") < at(&r, "strip") && at(&r, "strip") < at(&r, "degrease_metal"));
        CHECK(at(&r, "degrease_metal") < at(&r, "primer") && !row(&r, "spot_metal"));
        CHECK_TEXT(class_of(&r, "primer"), "metal_primer");
        CHECK_TEXT(row(&r, "strip")->text, "Strip to bare metal");
        trade_close(&r);
    }
    CASE("veneer is scuffed by hand, MDF edges are sealed twice, metal gets its primer") {
        sound(&r, "lacquer");
        r.piece.veneer = YN_YES;
        sides(&r);
        CHECK(row(&r, "scuff_veneer") && !row(&r, "scuff"));
        trade_close(&r);
        sound(&r, "mdf");
        sides(&r);
        CHECK(row(&r, "seal_edges") && row(&r, "seal_edges")->coats == 2);
        trade_close(&r);
        sound(&r, "metal");
        sides(&r);
        CHECK(row(&r, "degrease_metal"));
        CHECK_TEXT(class_of(&r, "primer"), "metal_primer");
        trade_close(&r);
    }
    CASE("shellac on the shelf ties coats where a primer would have to be bought") {
        struct paint shelf[] = {{.id = "s", .name = "Shellac", .class = "shellac_clear"}};
        sound(&r, "lacquer");
        r.shelf.paints = shelf, r.shelf.paints_n = 1;
        sides(&r);
        CHECK_TEXT(class_of(&r, "barrier"), "shellac_clear");
        CHECK(!row(&r, "primer"));
        CHECK_TEXT(row(&r, "barrier")->product, "s");
        trade_close(&r);
    }
}

static void place_cases(void) {
    struct trade_room r;
    CASE("outdoors only an exterior system: no chalk-type paint, no wax, no indoor clear") {
        sound(&r, "bare");
        r.piece.place = PLACE_OUTDOOR, r.piece.wanted.product = "chalk";
        r.piece.wanted.clear = "wax";
        sides(&r);
        CHECK_TEXT(class_of(&r, "color"), "exterior_paint");
        CHECK_TEXT(class_of(&r, "primer"), "exterior_primer");
        CHECK(refused(&r, "chalk") && refused(&r, "wax"));
        CHECK(!row(&r, "wax") && !row(&r, "clear"));
        trade_close(&r);
    }
    CASE("exterior paint is not put on indoors") {
        sound(&r, "bare");
        r.piece.wanted.product = "exterior_paint";
        sides(&r);
        CHECK(refused(&r, "exterior paint"));
        CHECK_TEXT(class_of(&r, "color"), "wb_enamel");
        trade_close(&r);
    }
    CASE("no wax in a kitchen; chalk-type paint is never left bare") {
        sound(&r, "bare");
        r.piece.place = PLACE_KITCHEN, r.piece.wanted.clear = "wax";
        sides(&r);
        CHECK(refused(&r, "wax"));
        CHECK_TEXT(class_of(&r, "clear"), "wb_clear");
        trade_close(&r);
        sound(&r, "bare");
        r.piece.wanted.product = "chalk", r.piece.wanted.clear = "none";
        sides(&r);
        CHECK(refused(&r, "none"));
        CHECK_TEXT(class_of(&r, "clear"), "wb_clear");
        trade_close(&r);
    }
    CASE("lacquer as the last coat is refused: its thinner would lift the enamel") {
        sound(&r, "bare");
        r.piece.wanted.clear = "lacquer";
        sides(&r);
        CHECK(refused(&r, "lacquer"));
        CHECK_TEXT(class_of(&r, "clear"), "wb_clear");
        trade_close(&r);
    }
}

static void order_cases(void) {
    struct trade_room r;
    CASE("a group is washed and sanded in all its lots before anything is sealed") {
        sound(&r, "alkyd_paint");
        r.piece.wanted.top = "stained";
        trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 2);
        trade_surface(&r, "case", "top", TREAT_STAIN, 0.5, 0.5);
        CHECK(trade_coats(&r, NULL) == OK);
        CHECK(at(&r, "strip") < at(&r, "primer") && at(&r, "sand_bare") < at(&r, "primer"));
        CHECK(at(&r, "color") < at(&r, "stain"));
        CHECK_TEXT(class_of(&r, "barrier"), "shellac_clear"); /* between oil stain and clear */
        size_t washed = 0;
        for (size_t i = 0; i < r.plan.coats.n; i++)
            washed += !strcmp(r.plan.coats.rows[i].operation, "clean");
        CHECK(washed == 1);
        CHECK_NEAR(row(&r, "clean")->area_m2, 2.5, 1e-9);
        trade_close(&r);
    }
    CASE("stencil before the clear, glaze on a sealed coat, gilding last of all") {
        const char *effects[] = {"gilding", "glaze", "stencil"};
        sound(&r, "bare");
        r.piece.wanted.product = "chalk";
        r.piece.wanted.effects = effects, r.piece.wanted.effects_n = 3;
        sides(&r);
        CHECK(at(&r, "stencil") < at(&r, "clear") && at(&r, "clear") < at(&r, "glaze"));
        CHECK(at(&r, "gilding") == r.plan.coats.n - 1);
        CHECK_TEXT(class_of(&r, "gilding"), "gilding_wax");
        trade_close(&r);
    }
    CASE("wax is the last layer and nothing is planned on it") {
        sound(&r, "bare");
        r.piece.wanted.product = "chalk", r.piece.wanted.clear = "wax";
        r.piece.wanted.sheen = SHEEN_GLOSS;
        sides(&r);
        CHECK(at(&r, "wax") == r.plan.coats.n - 1);
        CHECK(refused(&r, "Buffed wax")); /* gloss is not reached */
        trade_close(&r);
    }
    CASE("slats and runners that get no clear have none; tops get one coat more") {
        sound(&r, "bare");
        trade_surface(&r, "case", "top", TREAT_PAINT, 0.5, 0.5);
        trade_surface(&r, "shelf", "slats", TREAT_PAINT_NO_CLEAR, 0.5, 0);
        CHECK(trade_coats(&r, NULL) == OK);
        double top = 0, slats = 0;
        for (size_t i = 0; i < r.plan.coats.n; i++)
            if (r.plan.coats.rows[i].role == ROLE_CLEAR)
                *(strcmp(r.plan.coats.rows[i].group, "shelf") ? &top : &slats) +=
                    (double)r.plan.coats.rows[i].coats;
        CHECK(top == 3 && slats == 0);
        trade_close(&r);
    }
    CASE("yellow takes a coat more, white over walnut without a primer as well") {
        sound(&r, "bare");
        color_is(&r, "yellow", 85, 5, 80);
        sides(&r);
        CHECK(row(&r, "color")->coats == 3);
        trade_close(&r);
        sound(&r, "bare");
        r.piece.wanted.product = "milk", r.piece.wood = "walnut";
        r.piece.tests.patch = OUTCOME_PASSED;
        color_is(&r, "white", 92, 0, 3);
        sides(&r);
        CHECK(row(&r, "color")->coats >= 2);
        trade_close(&r);
    }
    CASE("natural wood is never primed; laminate stays as it is") {
        sound(&r, "laminate");
        r.piece.wanted.color.text = NULL, r.piece.wanted.top = "waxed";
        trade_surface(&r, "top", "top", TREAT_WAX, 1, 1);
        CHECK(trade_coats(&r, NULL) == OK);
        CHECK(r.plan.coats.n == 0 && refused(&r, "wax"));
        trade_close(&r);
    }
}

/* ---- whatever is said, a system comes out that its own rules allow ---- */

static const char *pick(struct random *g, const char *const *list, size_t n) {
    return list[random_below(g, (uint32_t)n)];
}

static void any_piece(struct trade_room *r, struct random *g) {
    static const char *const products[] = {"wb_enamel", "chalk",          "milk", "alkyd_enamel",
                                           NULL,        "exterior_paint", NULL};
    static const char *const clears[] = {NULL,  "none",    "wb_clear", "oil_clear",
                                         "wax", "lacquer", "oil",      "shellac_clear"};
    static const char *const tops[] = {NULL, "natural", "stained", "waxed", "painted"};
    static const char *const woods[] = {NULL, "walnut", "pine", "maple", "mdf", "white_oak"};
    struct piece *p = &r->piece;
    p->id = "p";
    p->finish = tables_builtin.materials[random_below(g, (uint32_t)tables_builtin.materials_n)].id;
    p->wood = pick(g, woods, 6), p->wanted.product = pick(g, products, 7);
    p->wanted.clear = pick(g, clears, 8), p->wanted.top = pick(g, tops, 5);
    p->year = random_below(g, 3) ? 1900 + random_below(g, 120) : INT64_MIN;
    p->place = (enum place)random_below(g, 5);
    p->condition = (enum condition)random_below(g, 5);
    p->knots = (enum yes_no)random_below(g, 3), p->veneer = (enum yes_no)random_below(g, 3);
    p->tests.rag = (enum rag)random_below(g, 4);
    p->tests.dye_lifts = (enum yes_no)random_below(g, 3);
    p->tests.wax_wipe = (enum wipe)random_below(g, 3);
    p->tests.alcohol = (enum reaction)random_below(g, 4);
    p->tests.thinner = (enum reaction)random_below(g, 4);
    p->tests.tape_removed_frac = random_below(g, 2) ? NAN : random_below(g, 100) / 100.0;
    p->tests.lead = (enum lead)random_below(g, 8);
    if (random_below(g, 4)) color_is(r, "some", random_below(g, 101), 0, 0);
    for (uint32_t i = 0, n = 1 + random_below(g, 4); i < n; i++)
        trade_surface(r, i < 2 ? "case" : "top", i % 2 ? "top" : "sides",
                      (enum treatment)(1 + random_below(g, 7)), 1, random_below(g, 2));
}

static void any_cases(void) {
    CASE("2,000 pieces at random: no row that its own rules forbid, minutes finite, ids differ") {
        struct random g;
        random_seed(&g, 11);
        for (int n = 0; n < 2000; n++) {
            struct trade_room r;
            struct why why = {0};
            trade_open(&r);
            any_piece(&r, &g);
            CHECK(trade_coats(&r, &why) == OK);
            for (size_t i = 0; i < r.plan.coats.n; i++) {
                const struct coat *c = &r.plan.coats.rows[i];
                CHECK(c->verdict != VERDICT_NEVER && c->hands_min >= 0 && c->hands_min < 6000);
                CHECK(c->text && c->why && c->source && c->certainty && c->coats >= 1);
                if (c->verdict == VERDICT_NEVER) printf("  %s: %s\n", c->id, c->rule);
                for (size_t k = 0; k < i; k++) CHECK(strcmp(c->id, r.plan.coats.rows[k].id));
                bool waxed = i && r.plan.coats.rows[i - 1].role == ROLE_WAX &&
                             !strcmp(r.plan.coats.rows[i - 1].group, c->group);
                if (waxed && c->role != ROLE_EFFECT && c->role != ROLE_WAX)
                    CHECK(strstr(c->id, "-clear-") || strstr(c->id, "-stain-") ||
                          strstr(c->id, "-wax-"));
            }
            trade_close(&r);
        }
    }
}

struct counted {
    int left;
};
static void *counted_get(void *ctx, size_t n) {
    struct counted *c = ctx;
    return c->left-- > 0 ? malloc(n) : NULL;
}
static void counted_put(void *ctx, void *p) {
    (void)ctx;
    free(p);
}

static void memory_case(void) {
    CASE("the n-th allocation fails: a status, never a crash") {
        int n = 0;
        for (enum status s = E_MEMORY; s != OK && n < 50; n++) {
            struct trade_room r;
            struct counted c = {n};
            sound(&r, "lacquer");
            r.arena.alloc = (struct alloc){counted_get, counted_put, &c};
            trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 2);
            s = trade_coats(&r, NULL);
            CHECK(s == OK || s == E_MEMORY);
            trade_close(&r);
        }
        CHECK(n < 50);
    }
}

static void after_stripping(void) {
    CASE("stripped pine: reasons speak of bare wood, and knots that nobody has looked at are "
         "spot-sealed (Wood Handbook ch. 16, Knots)") {
        struct trade_room r;
        sound(&r, "alkyd_paint");
        r.piece.wood = "eastern_white_pine", r.piece.knots = YN_UNSAID;
        r.piece.tests.tape_removed_frac = 0.6;
        trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 2);
        CHECK(trade_coats(&r, NULL) == OK);
        CHECK(row(&r, "strip") && (row(&r, "spot_seal") || row(&r, "barrier")));
        for (size_t i = at(&r, "strip") + 1; i < r.plan.coats.n; i++) {
            const char *why = r.plan.coats.rows[i].why;
            CHECK(!strstr(why, "alkyd") && !strstr(why, "enamel"));
        }
        trade_close(&r);
    }
    CASE("teak: the oils come off after sanding, just before the first coat; maple has no such row "
         "(Wood Handbook, table 10-1)") {
        for (int teak = 0; teak < 2; teak++) {
            struct trade_room r;
            sound(&r, "bare");
            r.piece.wood = teak ? "teak" : "hard_maple";
            r.piece.wanted.color = (struct color_said){NULL, {NAN, NAN, NAN}};
            r.piece.wanted.product = "oil_clear";
            trade_surface(&r, "case", "sides", TREAT_CLEAR, 2, 2);
            CHECK(trade_coats(&r, NULL) == OK);
            CHECK(!!row(&r, "wipe_oily") == teak && !!row(&r, "barrier") == teak);
            if (teak) {
                CHECK(at(&r, "wipe_oily") > at(&r, "sand_bare"));
                CHECK(at(&r, "wipe_oily") + 1 == at(&r, "barrier"));
            }
            trade_close(&r);
        }
    }
}

int main(void) {
    after_stripping();
    wood_cases();
    bleeding_cases();
    ground_cases();
    place_cases();
    order_cases();
    any_cases();
    memory_case();
    return check_done();
}
