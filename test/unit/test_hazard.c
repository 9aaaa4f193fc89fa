/* What may hurt somebody: treated wood, beds, lead by the place, pieces that are refused, children,
 * what the coats bring with them. */
#include "core/work/lead_year.h"
#include "test/check.h"
#include "test/unit/hazards_room.h"

static int64_t year_in(const char *zone) {
    return lead_year_of(&tables_builtin, &(struct shop){.zone = zone}, NULL);
}

/* 68 FR 17366: wood for homes was treated with chromium, copper and arsenic until the end of 2003;
 * 16 CFR 1213: rails and openings of bunk beds. */
static void wood_and_bed_cases(void) {
    CASE("garden wood of before 2004 may be treated with arsenic, unless it needs no treatment") {
        static const struct {
            const char *wood;
            int64_t year;
            bool minded;
        } rows[] = {{NULL, INT64_MIN, true},
                    {"southern_pine", 1998, true},
                    {"pine", 2004, false},
                    {"teak", 1998, false},
                    {"western_redcedar", 1998, false}};
        for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
            struct trade_room t;
            struct inspection in;
            trade_open(&t);
            t.piece.template = "outdoor_chair", t.piece.place = PLACE_OUTDOOR;
            t.piece.finish = "exterior_film";
            t.piece.wood = rows[i].wood, t.piece.year = rows[i].year;
            struct hazards h = hazards_of(&t, &in);
            bool said = false;
            for (size_t k = 0; k < h.notices.n; k++)
                said |= h.notices.rows[k].id && !strcmp(h.notices.rows[k].id, "dust_treated");
            CHECK(said == rows[i].minded);
            trade_close(&t);
        }
    }
    CASE("a child's bed is measured for gaps that catch a head") {
        for (int child = 0; child < 2; child++) {
            struct trade_room t;
            struct inspection in;
            trade_open(&t);
            t.piece.template = "bed", t.piece.child = child ? YN_YES : YN_NO;
            struct hazards h = hazards_of(&t, &in);
            bool said = false;
            for (size_t k = 0; k < h.notices.n; k++)
                said |= h.notices.rows[k].id && !strcmp(h.notices.rows[k].id, "bed_child");
            CHECK(said == child);
            trade_close(&t);
        }
    }
}

/* Which zones lie in which country: zone.tab of the IANA time zone database, as it is on this
 * machine. 1978: 16 CFR 1303; 1992: 89/677/EEC; 1991: Health Canada; 1998: SA Health. */
static void lead_year_cases(void) {
    CASE("the year from which on paint holds no lead hangs on the place") {
        static const struct {
            const char *country;
            int64_t year;
        } rows[] = {{"US", 1978},      {"PR", 1978},      {"CA", 1991},      {"AU", 1998},
                    {"DE", 1992},      {"GB", 1992},      {"PT", 1992},      {"CY", 1992},
                    {"RU", INT64_MAX}, {"IN", INT64_MAX}, {"MX", INT64_MAX}, {"BR", INT64_MAX},
                    {"RS", INT64_MAX}, {"TR", INT64_MAX}};
        FILE *f = fopen("/usr/share/zoneinfo/zone.tab", "r");
        CHECK(f != NULL);
        char line[256], country[8], zone[64];
        size_t seen = 0;
        while (f && fgets(line, sizeof line, f)) {
            if (sscanf(line, "%7s %*s %63s", country, zone) != 2) continue;
            for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
                if (strcmp(rows[i].country, country) != 0) continue;
                bool right = year_in(zone) == rows[i].year ||
                             !strcmp(zone, "Antarctica/Macquarie"); /* nobody has a shop there */
                if (!right) printf("%s %s\n", country, zone);
                CHECK(right);
                seen++;
            }
        }
        if (f) fclose(f);
        CHECK(seen > 100);
        CHECK(year_in(NULL) == 1978 && year_in("UTC") == 1978);
    }
}

static void refusal_cases(void) {
    CASE("cribs: a painted one of 1955, drop sides, wide slats are refused whatever the paint") {
        for (int i = 0; i < 4; i++) {
            struct trade_room t;
            struct inspection in;
            trade_open(&t);
            t.piece.template = "crib", t.piece.finish = "paint", t.piece.year = i ? 2019 : 1955;
            if (i == 1) t.piece.drop_side = YN_YES;
            if (i == 2) t.piece.slat_gap_mm = 61;
            if (i == 3) t.piece.slat_gap_mm = 60;
            struct hazards h = hazards_of(&t, &in);
            CHECK(h.refused == (i != 3));
            trade_close(&t);
        }
    }
    CASE("live bedbugs and deep mold stay out; live borer waits") {
        struct trade_room t;
        struct inspection in;
        trade_open(&t);
        t.piece.finish = "bare";
        t.piece.tests.pests = PESTS_BEDBUGS;
        CHECK(hazards_of(&t, &in).refused);
        t.piece.tests.pests = PESTS_NONE, t.piece.tests.mold = MOLD_DEEP;
        CHECK(hazards_of(&t, &in).refused);
        t.piece.tests.mold = MOLD_NONE, t.piece.tests.pests = PESTS_LIVE_BORER;
        struct hazards h = hazards_of(&t, &in);
        CHECK(!h.refused && notice_on(&h.notices, "pests", RANK_STOP));
        trade_close(&t);
    }
}

static void children_cases(void) {
    CASE("a crib that may be sold is painted only by its maker's leave; a refused one is refused") {
        struct trade_room t;
        struct inspection in;
        trade_open(&t);
        t.piece.template = "crib", t.piece.finish = "paint", t.piece.year = 2019;
        struct hazards h = hazards_of(&t, &in);
        CHECK(!h.refused && has(&h, "crib_maker") && has(&h, "child"));
        t.piece.drop_side = YN_YES;
        h = hazards_of(&t, &in);
        CHECK(h.refused && !has(&h, "crib_maker"));
        trade_close(&t);
    }
    CASE("a chest with a lid: the lock for everybody, the lid's support for a child") {
        struct trade_room t;
        struct inspection in;
        trade_open(&t);
        t.piece.template = "blanket_chest", t.piece.finish = "bare";
        struct hazards h = hazards_of(&t, &in);
        CHECK(has(&h, "lid_latch") && !has(&h, "lid_child"));
        t.piece.child = YN_YES;
        h = hazards_of(&t, &in);
        CHECK(has(&h, "lid_latch") && has(&h, "lid_child"));
        t.piece.template = "chest";
        h = hazards_of(&t, &in);
        CHECK(!has(&h, "lid_latch") && !has(&h, "lid_child"));
        trade_close(&t);
    }
    CASE("a media stand: the television is strapped too") {
        struct trade_room t;
        struct inspection in;
        trade_open(&t);
        t.piece.template = "media_stand", t.piece.finish = "laminate";
        struct hazards h = hazards_of(&t, &in);
        CHECK(has(&h, "anchor_tv"));
        trade_close(&t);
    }
    CASE("what is moldy is neither sanded nor coated before it is washed") {
        struct trade_room t;
        struct inspection in;
        trade_open(&t);
        t.piece.finish = "bare", t.piece.tests.mold = MOLD_SURFACE;
        struct hazards h = hazards_of(&t, &in);
        const struct notice *n = notice_on(&h.notices, "mold", RANK_STOP);
        const char *waits[] = {"sand_bare", "loose_joint", "primer", "color"};
        for (size_t i = 0; i < sizeof waits / sizeof *waits; i++)
            CHECK(n && hazard_blocks(&tables_builtin, n, waits[i]));
        CHECK(n && !hazard_blocks(&tables_builtin, n, "clean")); /* it is how it is released */
        trade_close(&t);
    }
}

/* Hazards by the coats that are planned, where the wishes alone would not tell. */
static void coats_cases(void) {
    static const struct {
        const char *what, *part_product, *part_clear;
        enum treatment part;
        enum rag rag;
        const char *must, *never;
    } rows[] = {
        {"a brown rag puts shellac under it", NULL, NULL, TREAT_PAINT, RAG_BROWN, "shellac_fumes",
         "rags"},
        {"waterborne throughout", NULL, NULL, TREAT_PAINT, RAG_CLEAN, "dust_wood", "solvent"},
        {"one part in oil enamel", "alkyd_enamel", NULL, TREAT_PAINT, RAG_CLEAN, "rags",
         "strong_solvent"},
        {"one part in oil enamel: its vapor", "alkyd_enamel", NULL, TREAT_PAINT, RAG_CLEAN,
         "solvent", "strips"},
        {"a natural part in lacquer", NULL, "lacquer", TREAT_CLEAR, RAG_CLEAN, "strong_solvent",
         "mecl"},
        {"an oiled part: the film comes off", NULL, "oil", TREAT_WAX, RAG_CLEAN, "mecl",
         "strong_solvent"},
        {"an oiled part: its gloves", NULL, "oil", TREAT_WAX, RAG_CLEAN, "strip_gloves",
         "shellac_fumes"},
        {"an oiled part: its rags", NULL, "oil", TREAT_WAX, RAG_CLEAN, "rags", "shellac_fumes"},
        {"a stained part: its rags", NULL, NULL, TREAT_STAIN, RAG_CLEAN, "rags", "strong_solvent"},
    };
    CASE("solvents, rags and removers are warned of by what is put on, not by what was asked") {
        for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
            struct trade_room t;
            trade_open(&t);
            struct piece *p = &t.piece;
            p->id = "p", p->finish = "lacquer", p->year = 1995, p->wood = "hard_maple";
            p->knots = YN_NO, p->veneer = YN_NO;
            p->tests.wax_wipe = WIPE_CLEAN, p->tests.tape_removed_frac = 0.02;
            p->tests.moisture_frac = 0.08, p->tests.rag = rows[i].rag;
            p->wanted.product = "wb_enamel", p->wanted.clear = "wb_clear";
            p->wanted.color = (struct color_said){"green", {40, -20, 10}};
            trade_surface(&t, "case", "sides", TREAT_PAINT, 2, 2);
            struct part *part = &trade_surface(&t, "top", "top", rows[i].part, 1, 1)->part;
            part->product = rows[i].part_product, part->clear = rows[i].part_clear;
            CHECK(trade_coats(&t, NULL) == OK);
            CHECK(hazard_of_coats(&t.room, &t.plan, NULL) == OK);
            const struct hazards *h = &t.plan.hazards;
            if (!has(h, rows[i].must) || has(h, rows[i].never))
                printf("%s: %s, not %s\n", rows[i].what, rows[i].must, rows[i].never);
            CHECK(has(h, rows[i].must) && !has(h, rows[i].never));
            trade_close(&t);
        }
    }
}

int main(void) {
    wood_and_bed_cases();
    lead_year_cases();
    refusal_cases();
    children_cases();
    coats_cases();
    return check_done();
}
