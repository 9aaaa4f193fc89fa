#include "core/work/fact.h"
#include "core/work/inspection.h"
#include "test/check.h"
#include "test/unit/hazards_room.h"

static const char *ladder(enum reaction alcohol, enum reaction thinner, enum reaction xylene,
                          int64_t year) {
    struct piece_tests t = {.alcohol = alcohol, .thinner = thinner, .xylene = xylene};
    const char *got = ladder_finish(&t, NULL, false, year);
    return got ? got : "open";
}

static void ladder_cases(void) {
    const enum reaction U = REACTION_UNSAID, N = REACTION_NOTHING, S = REACTION_SOFTENS,
                        D = REACTION_DISSOLVES;
    CASE("solvent ladder: the first solvent that acts names the film (trade sources)") {
        CHECK_TEXT(ladder(D, U, U, 1938), "shellac");
        CHECK_TEXT(ladder(S, U, U, 1938), "shellac");
        CHECK_TEXT(ladder(S, D, U, 1950), "lacquer");
        CHECK_TEXT(ladder(N, S, U, 1938), "lacquer");
        CHECK_TEXT(ladder(N, S, S, 1989), "lacquer");
        CHECK_TEXT(ladder(N, S, S, 1995), "wb_clear");
        CHECK_TEXT(ladder(N, S, N, 1995), "lacquer");
        CHECK_TEXT(ladder(N, N, S, 2005), "wb_clear");
        CHECK_TEXT(ladder(N, N, N, 2005), "oil_varnish");
        CHECK_TEXT(ladder(N, N, U, 1960), "oil_varnish");
    }
    CASE("solvent ladder: what the tests leave open stays open") {
        CHECK_TEXT(ladder(U, U, U, 1938), "open");
        CHECK_TEXT(ladder(N, U, U, 1938), "open");
        CHECK_TEXT(ladder(N, S, U, 1995), "open");
        CHECK_TEXT(ladder(N, S, U, INT64_MIN), "open");
        CHECK_TEXT(ladder(N, N, U, 2000), "open");
    }
    CASE("wax voids every test; alcohol tells oil paint from water paint") {
        struct piece_tests t = {.alcohol = D, .wax_wipe = WIPE_GREASY};
        CHECK(!ladder_finish(&t, NULL, false, 1938));
        t = (struct piece_tests){.alcohol = S};
        CHECK_TEXT(ladder_finish(&t, "paint", true, 1990), "latex_paint");
        t.alcohol = N;
        CHECK_TEXT(ladder_finish(&t, "paint", true, 1990), "alkyd_paint");
    }
}

static void lead_cases(void) {
    CASE("before 1978 or of unknown age nothing that makes dust is done until a laboratory "
         "answers") {
        static const struct {
            enum lead lead;
            int64_t year;
            bool blocked;
            enum condition condition;
            bool wash; /* washing waits as well: the kit says lead, or the film flakes */
        } rows[] = {{LEAD_UNSAID, 1938, true, CONDITION_WORN, false},
                    {LEAD_UNSAID, INT64_MIN, true, CONDITION_WORN, false},
                    {LEAD_KIT_NEGATIVE, 1938, true, CONDITION_WORN, false},
                    {LEAD_KIT_POSITIVE, 1990, true, CONDITION_WORN, true},
                    {LEAD_WAITING, 1938, true, CONDITION_WORN, false},
                    {LEAD_LAB_NEGATIVE, 1938, false, CONDITION_WORN, false},
                    {LEAD_XRF_NEGATIVE, 1938, false, CONDITION_WORN, false},
                    {LEAD_UNSAID, 1978, false, CONDITION_WORN, false},
                    {LEAD_UNSAID, 1977, true, CONDITION_WORN, false},
                    {LEAD_UNSAID, 1955, true, CONDITION_FLAKING, true},
                    {LEAD_WAITING, 1955, true, CONDITION_FLAKING, true},
                    {LEAD_KIT_NEGATIVE, INT64_MIN, true, CONDITION_FLAKING, true},
                    {LEAD_LAB_NEGATIVE, 1955, false, CONDITION_FLAKING, false}};
        for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
            struct trade_room t;
            struct inspection in;
            trade_open(&t);
            t.piece.year = rows[i].year;
            t.piece.finish = "lacquer";
            t.piece.tests.lead = rows[i].lead;
            t.piece.condition = rows[i].condition;
            struct hazards h = hazards_of(&t, &in);
            const struct notice *n = notice_on(&h.notices, "lead", RANK_STOP);
            CHECK(!!n == rows[i].blocked);
            CHECK(!h.refused);
            if (n) {
                CHECK(hazard_blocks(&tables_builtin, n, "scuff"));
                CHECK(hazard_blocks(&tables_builtin, n, "strip"));
                CHECK(hazard_blocks(&tables_builtin, n, "distress"));
                CHECK(hazard_blocks(&tables_builtin, n, "drill_holes")); /* through the old film */
                CHECK(hazard_blocks(&tables_builtin, n, "fill_holes"));
                CHECK(!hazard_blocks(&tables_builtin, n, "photo_before"));
            }
            bool wash = false; /* whatever stop says so */
            for (size_t k = 0; k < h.notices.n; k++)
                wash |= h.notices.rows[k].rank == RANK_STOP &&
                        hazard_blocks(&tables_builtin, &h.notices.rows[k], "clean");
            CHECK(wash == rows[i].wash);
            trade_close(&t);
        }
    }
    CASE("bare wood has nothing to sand through; measured lead is refused") {
        struct trade_room t;
        struct inspection in;
        trade_open(&t);
        t.piece.year = 1938, t.piece.finish = "bare";
        struct hazards h = hazards_of(&t, &in);
        CHECK(!notice_on(&h.notices, "lead", RANK_STOP));
        t.piece.finish = "paint", t.piece.tests.lead = LEAD_LAB_NEGATIVE;
        t.piece.tests.lead_frac = 0.0051; /* what the laboratory wrote outranks the word */
        h = hazards_of(&t, &in);
        CHECK(h.refused && h.refusal && h.instead);
        CHECK(notice_on(&h.notices, "lead", RANK_STOP));
        trade_close(&t);
    }
    CASE("where no year is known a late piece waits for the laboratory all the same") {
        static const char *const zones[] = {"America/Chicago", "Asia/Kolkata", "Europe/Berlin"};
        for (size_t i = 0; i < 3; i++) {
            struct trade_room t;
            struct inspection in;
            trade_open(&t);
            t.shop.zone = zones[i];
            t.piece.year = 2015, t.piece.finish = "paint";
            struct hazards h = hazards_of(&t, &in);
            CHECK(!!notice_on(&h.notices, "lead", RANK_STOP) == (i == 1));
            CHECK((in.lead_cleared == YN_YES) == (i != 1));
            trade_close(&t);
        }
    }
}

static void finding_cases(void) {
    CASE("a clean rag never clears a light color over a wood that bleeds; a brown one forces it") {
        struct trade_room t;
        struct inspection in;
        trade_open(&t);
        t.piece.wood = "walnut", t.piece.finish = "lacquer";
        t.piece.wanted.color.text = "white", t.piece.wanted.color.lab[0] = 95;
        t.piece.tests.rag = RAG_CLEAN;
        CHECK(inspection_make(&t.room, &in, NULL) == OK);
        CHECK(in.bleed_score == 4); /* walnut 2, light 1, waterborne 1 */
        t.piece.wanted.color.lab[0] = 30;
        CHECK(inspection_make(&t.room, &in, NULL) == OK && in.bleed_score == 3);
        t.piece.tests.rag = RAG_BROWN;
        CHECK(inspection_make(&t.room, &in, NULL) == OK);
        for (size_t i = 0; i < in.findings_n; i++)
            if (!strcmp(in.findings[i].id, "bleeding"))
                CHECK_TEXT(in.findings[i].verdict, "brown rag");
        trade_close(&t);
    }
    CASE("of a refused piece what was seen stays, but only age and lead say more than that nothing "
         "is done to it (common practice)") {
        struct trade_room t;
        struct inspection in;
        trade_open(&t);
        t.piece.year = 1938, t.piece.finish = "paint", t.piece.wood = "walnut";
        t.piece.tests.lead = LEAD_LAB_POSITIVE, t.piece.tests.lead_frac = .012;
        CHECK(hazards_of(&t, &in).refused);
        int others = 0;
        for (size_t i = 0; i < in.findings_n; i++) {
            const struct finding *f = &in.findings[i];
            bool own = !strcmp(f->id, "age") || !strcmp(f->id, "lead");
            CHECK(own != (f->detail && !!strstr(f->detail, "nothing is done to it")));
            others += !own;
        }
        CHECK(others > 0);
        trade_close(&t);
    }
    CASE("veneer is called so, and how thick it is where that was measured (32nd to 16th of an "
         "inch: "
         "common practice for old veneer)") {
        static const struct {
            enum yes_no veneer;
            double mm;
            const char *verdict, *detail;
        } rows[] = {{YN_NO, NAN, "walnut", NULL},
                    {YN_YES, NAN, "walnut veneer", "Old veneers run 1/32 in to 1/16 in"},
                    {YN_YES, .6, "walnut veneer", " thick: by hand"}};
        for (size_t k = 0; k < sizeof rows / sizeof *rows; k++) {
            struct trade_room t;
            struct inspection in;
            const struct finding *wood = NULL;
            trade_open(&t);
            t.piece.wood = "walnut", t.piece.finish = "lacquer", t.piece.year = 1995;
            t.piece.veneer = rows[k].veneer, t.piece.veneer_mm = rows[k].mm;
            CHECK(inspection_make(&t.room, &in, NULL) == OK);
            for (size_t i = 0; i < in.findings_n; i++)
                if (!strcmp(in.findings[i].id, "wood")) wood = &in.findings[i];
            CHECK(wood && strstr(wood->verdict, rows[k].verdict));
            CHECK(wood && !strstr(wood->verdict, "veneer") == (rows[k].veneer == YN_NO));
            if (rows[k].detail) CHECK(wood && strstr(wood->detail, rows[k].detail));
            trade_close(&t);
        }
    }
    CASE("tests that are still wanted come in the order of the table") {
        struct trade_room t;
        struct inspection in;
        trade_open(&t);
        t.piece.template = "chest", t.piece.drawers = 3;
        CHECK(inspection_make(&t.room, &in, NULL) == OK);
        CHECK_TEXT(in.finish, "unknown");
        CHECK(in.tests_n > 8);
        size_t last = 0;
        for (size_t i = 0; i < in.tests_n; i++) {
            size_t k = 0;
            while (strcmp(tables_builtin.tests[k].id, in.tests[i].id)) k++;
            CHECK(i == 0 || k > last);
            CHECK(strcmp(in.tests[i].id, "tape") != 0); /* not before lead is ruled out */
            last = k;
        }
        trade_close(&t);
    }
    CASE("an unknown finish is an error that names the field") {
        struct trade_room t;
        struct inspection in = {.bleed_score = 77};
        struct why why;
        trade_open(&t);
        t.piece.finish = "nail polish";
        CHECK(inspection_make(&t.room, &in, &why) == E_REFERENCE);
        CHECK_TEXT(why.field, "/pieces/0/finish");
        CHECK(in.bleed_score == 77);
        trade_close(&t);
    }
}

static void table_cases(void) {
    const struct tables *t = &tables_builtin;
    CASE("tests, hazards: facts, ranks, certainties and sources are known") {
        for (size_t i = 0; i < t->tests_n; i++) {
            CHECK(fact_known(t->tests[i].applies) && fact_known(t->tests[i].open) &&
                  source_known(t->tests[i].source));
            CHECK(certainty_of(t->tests[i].certainty) != CERTAINTY_UNSAID);
        }
        for (size_t i = 0; i < t->hazards_n; i++) {
            const struct hazards_row *h = &t->hazards[i];
            CHECK(fact_known(h->when) && source_known(h->source));
            CHECK(certainty_of(h->certainty) != CERTAINTY_UNSAID);
            CHECK(strstr("refuse stop mind note", h->rank));
            CHECK(strcmp(h->rank, "refuse") != 0 || *h->instead);
        }
        CHECK(!fact_known("painted no_such_fact"));
    }
    CASE("materials and woods have a known source") {
        for (size_t i = 0; i < t->materials_n; i++) CHECK(source_known(t->materials[i].source));
        for (size_t i = 0; i < t->wood_traits_n; i++) CHECK(source_known(t->wood_traits[i].source));
        for (size_t i = 0; i < t->coat_kinds_n; i++)
            CHECK(material_of(t, t->coat_kinds[i].becomes) &&
                  source_known(t->coat_kinds[i].source));
    }
}

static bool asked(const struct inspection *in, const char *test) {
    for (size_t i = 0; i < in->tests_n; i++)
        if (!strcmp(in->tests[i].id, test)) return true;
    return false;
}

static void board_cases(void) {
    CASE("what has no wood is asked nothing that only wood answers (common practice)") {
        static const struct {
            const char *finish, *wood;
            bool wooden;
        } rows[] = {{"laminate", NULL, false},
                    {"metal", NULL, false},
                    {"mdf", NULL, false},
                    {"latex_paint", "mdf", false},
                    {"latex_paint", "particleboard", false},
                    {"laminate", "melamine", false},
                    {"latex_paint", "plywood", true},
                    {"latex_paint", NULL, true},
                    {"unknown", NULL, true}};
        for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
            struct trade_room t;
            struct inspection in;
            trade_open(&t);
            t.piece.finish = rows[i].finish, t.piece.wood = rows[i].wood, t.piece.year = 2010;
            t.piece.wanted.color = (struct color_said){"#f4efe4", {96, 0, 4}};
            struct hazards h = hazards_of(&t, &in);
            CHECK(asked(&in, "rag") == rows[i].wooden);
            CHECK(asked(&in, "moisture") == rows[i].wooden);
            CHECK(asked(&in, "wood") == (rows[i].wooden && !rows[i].wood));
            if (!rows[i].wooden) CHECK(!asked(&in, "knots") && !asked(&in, "veneer"));
            CHECK((in.bleed_score == 0) == !rows[i].wooden);
            CHECK(has(&h, "dust_wood") == rows[i].wooden); /* every piece has a word on dust */
            CHECK(rows[i].wooden || has(&h, "dust_mdf") || has(&h, "dust_board"));
            trade_close(&t);
        }
    }
    CASE("a wooden piece with a top of laminate is still asked about its wood") {
        struct trade_room t;
        struct inspection in;
        struct part part = {.id = "legs", .material = "bare"};
        trade_open(&t);
        t.piece.finish = "laminate", t.piece.parts = &part, t.piece.parts_n = 1;
        (void)hazards_of(&t, &in);
        CHECK(asked(&in, "moisture"));
        trade_close(&t);
    }
    CASE("woods that bond with difficulty by their oils are wiped, with the caution on the solvent "
         "(Wood Handbook, table 10-1: teak, rosewood, lapacho, keruing, balau, greenheart, lignum "
         "vitae, Osage-orange)") {
        static const char *const hard[] = {"teak",  "rosewood",   "ipe",          "keruing",
                                           "balau", "greenheart", "lignum_vitae", "osage_orange"};
        static const char *const easy[] = {"yellow_poplar", "black_walnut", "hard_maple",
                                           "mahogany",      "red_oak",      "eastern_white_pine"};
        for (size_t i = 0; i < sizeof hard / sizeof *hard + sizeof easy / sizeof *easy; i++) {
            bool oily = i < sizeof hard / sizeof *hard;
            struct trade_room t;
            struct inspection in;
            trade_open(&t);
            t.piece.finish = "bare", t.piece.year = 2010;
            t.piece.wood = oily ? hard[i] : easy[i - sizeof hard / sizeof *hard];
            struct hazards h = hazards_of(&t, &in);
            CHECK(has(&h, "oily_wood_wipe") == oily);
            trade_close(&t);
        }
    }
}

int main(void) {
    ladder_cases();
    board_cases();
    lead_cases();
    finding_cases();
    table_cases();
    return check_done();
}
