/* Drilling templates: where the holes go, and that the paper keeps the size. */
#include "app/drill_svg.h"
#include "test/check.h"
#include "test/unit/trade_room.h"

#include <stdlib.h>

static struct surface fronts(int64_t count, double width_mm, double height_mm) {
    return (struct surface){.part = {.id = "drawer_front",
                                     .name = "drawer fronts",
                                     .shape = "drawer_front",
                                     .count = count,
                                     .size_mm = {width_mm, height_mm, 19, NAN, NAN, NAN}}};
}

static struct piece_plan plan_of(struct surface *rows, size_t n, double old_mm, double new_mm) {
    struct piece_plan p = {.surfaces = {.rows = rows, .rows_n = n}};
    trade_unsaid(&p.piece);
    p.piece.fittings.pulls.old_spacing_mm = old_mm;
    p.piece.fittings.pulls.new_spacing_mm = new_mm;
    p.piece.fittings.pulls.holes = 2;
    return p;
}

/* The n-th number after `mark`, from the n-th circle of a class. */
static double circle_x(const char *svg, const char *class, int n) {
    char mark[60];
    snprintf(mark, sizeof mark, "<circle class=\"%s\" cx=\"", class);
    for (const char *at = svg; (at = strstr(at, mark)); at++)
        if (!n--) return strtod(at + strlen(mark), NULL);
    return NAN;
}

static void places(void) {
    struct arena a;
    struct drill d;
    struct why why;
    arena_init(&a, alloc_heap(), 0);
    CASE("two pulls from 24 in up, a quarter in but at most 8 in from the end; else one") {
        struct surface rows[] = {fronts(4, 914.4, 200), fronts(2, 400, 150)};
        struct piece_plan p = plan_of(rows, 2, NAN, 96);
        CHECK(drill_make(&tables_builtin, &p, "/pieces/0", &a, &d, &why) == OK && d.fronts_n == 2);
        /* cabinet field manual: 36 in fronts get two, about 8 in from each end */
        CHECK(d.fronts[0].pulls == 2);
        CHECK_NEAR(d.fronts[0].pull_mm[0], 203.2, 1e-9);
        CHECK_NEAR(d.fronts[0].pull_mm[1], 914.4 - 203.2, 1e-9);
        CHECK(d.fronts[1].pulls == 1);
        CHECK_NEAR(d.fronts[1].pull_mm[0], 200, 1e-9);
        CHECK_NEAR(d.fronts[1].level_mm, 75, 1e-9);
        struct surface edge[] = {fronts(1, 609.6, 200), fronts(1, 609, 200)}; /* 24 in; less */
        p = plan_of(edge, 2, NAN, 96);
        CHECK(drill_make(&tables_builtin, &p, "/pieces/0", &a, &d, &why) == OK);
        CHECK(d.fronts[0].pulls == 2 && d.fronts[1].pulls == 1);
        CHECK_NEAR(d.fronts[0].pull_mm[0], 152.4, 1e-9); /* a quarter: 6 in */
    }
    CASE("the number of pulls that was said beats the width") {
        struct surface rows[] = {fronts(3, 800, 200)};
        struct piece_plan p = plan_of(rows, 1, NAN, 96);
        p.piece.fittings.pulls.count = 3;
        CHECK(drill_make(&tables_builtin, &p, "/pieces/0", &a, &d, &why) == OK &&
              d.fronts[0].pulls == 1);
    }
    CASE("no spacing, no front: the field is named") {
        struct surface rows[] = {fronts(3, 800, 200)};
        struct piece_plan p = plan_of(rows, 1, 76.2, NAN);
        CHECK(drill_make(&tables_builtin, &p, "/pieces/2", &a, &d, &why) == E_MISSING);
        CHECK_TEXT(why.field, "/pieces/2/fittings/pulls/new_spacing");
        p = plan_of(rows, 0, 76.2, 96);
        CHECK(drill_make(&tables_builtin, &p, "/pieces/2", &a, &d, &why) == E_MISSING);
        CHECK_TEXT(why.field, "/pieces/2/drawers");
    }
    arena_free(&a);
}

static void paper(void) {
    struct arena a;
    struct drill d;
    struct why why;
    arena_init(&a, alloc_heap(), 0);
    static const double spacings[] = {64, 76.2, 96, 128};
    CASE("on paper the holes are as far apart as they are; old ones too") {
        for (size_t i = 0; i < sizeof spacings / sizeof *spacings; i++) {
            struct surface rows[] = {fronts(3, 400, 150)};
            struct piece_plan p = plan_of(rows, 1, 76.2, spacings[i]);
            struct text t = {0};
            CHECK(drill_make(&tables_builtin, &p, "", &a, &d, &why) == OK);
            CHECK(drill_svg(&d, "A & B <chest>", UNITS_US, &a, &t, &why) == OK);
            CHECK_NEAR(circle_x(t.at, "new", 1) - circle_x(t.at, "new", 0), spacings[i], 2e-3);
            CHECK_NEAR(circle_x(t.at, "old", 1) - circle_x(t.at, "old", 0), 76.2, 2e-3);
            /* one user unit is one millimeter */
            CHECK(strstr(t.at, "width=\"180mm\" height=\"245mm\" viewBox=\"0 0 180 245\"") != NULL);
            CHECK(strstr(t.at, "A &amp; B &lt;chest>") != NULL);
            text_free(&t);
        }
    }
    CASE("the check line is 4 in, or 100 mm") {
        struct surface rows[] = {fronts(3, 400, 150)};
        struct piece_plan p = plan_of(rows, 1, NAN, 96);
        struct text t = {0};
        CHECK(drill_make(&tables_builtin, &p, "", &a, &d, &why) == OK);
        CHECK(drill_svg(&d, "x", UNITS_US, &a, &t, &why) == OK);
        CHECK(strstr(t.at, "M39.200 205.000L140.800 205.000") != NULL); /* 101.6 mm */
        text_free(&t);
        CHECK(drill_svg(&d, "x", UNITS_METRIC, &a, &t, &why) == OK);
        CHECK(strstr(t.at, "M40.000 205.000L140.000 205.000") != NULL);
        text_free(&t);
    }
    CASE("wider than the page: half of it, from the middle line") {
        struct surface rows[] = {fronts(1, 900, 150)};
        struct piece_plan p = plan_of(rows, 1, NAN, 320);
        struct text t = {0};
        CHECK(drill_make(&tables_builtin, &p, "", &a, &d, &why) == OK);
        CHECK(drill_svg(&d, "x", UNITS_METRIC, &a, &t, &why) == OK);
        CHECK_NEAR(circle_x(t.at, "new", 0), 14 + 160, 2e-3);
        CHECK(isnan(circle_x(t.at, "new", 1)) && strstr(t.at, "turn the sheet over"));
        /* nothing is centered on the middle line, which is at the sheet's edge */
        CHECK(strstr(t.at, "from each end of the front") && !strstr(t.at, "\"mid\" x=\"14"));
        text_free(&t);
    }
    CASE("a hole that no half sheet holds is said, not drawn beside it") {
        struct surface rows[] = {fronts(1, 900, 150)};
        struct piece_plan p = plan_of(rows, 1, 76.2, 448);
        struct text t = {0};
        CHECK(drill_make(&tables_builtin, &p, "", &a, &d, &why) == OK);
        CHECK(drill_svg(&d, "x", UNITS_METRIC, &a, &t, &why) == OK);
        CHECK(isnan(circle_x(t.at, "new", 0)) && strstr(t.at, "224 mm from the middle line"));
        CHECK_NEAR(circle_x(t.at, "old", 0), 14 + 38.1, 2e-3);
        text_free(&t);
    }
    CASE("lengths in words are in the units of the sheet") {
        struct surface rows[] = {fronts(1, 900, 150)};
        struct piece_plan p = plan_of(rows, 1, NAN, 96);
        struct text t = {0};
        p.piece.doors = 2;
        CHECK(drill_make(&tables_builtin, &p, "", &a, &d, &why) == OK);
        CHECK(drill_svg(&d, "x", UNITS_US, &a, &t, &why) == OK);
        CHECK(strstr(t.at, "2 1/2 in from its edge") != NULL);
        text_free(&t);
        CHECK(drill_svg(&d, "x", UNITS_METRIC, &a, &t, &why) == OK);
        CHECK(strstr(t.at, "64 mm from its edge") != NULL);
        text_free(&t);
    }
    CASE("a title that is longer than the sheet is wide ends at a word") {
        struct surface rows[] = {fronts(1, 900, 150)};
        struct piece_plan p = plan_of(rows, 1, NAN, 96);
        struct text t = {0};
        CHECK(drill_make(&tables_builtin, &p, "", &a, &d, &why) == OK);
        CHECK(drill_svg(&d,
                        "Sideboard of unknown make with cane doors, six drawers and a marble top",
                        UNITS_US, &a, &t, &why) == OK);
        CHECK(strstr(t.at, ">Sideboard of unknown make with cane doors, six\u2026<") != NULL);
        text_free(&t);
        CHECK(drill_svg(&d,
                        "\u00e4\u00e4\u00e4\u00e4\u00e4\u00e4\u00e4\u00e4\u00e4\u00e4\u00e4\u00e4"
                        "\u00e4\u00e4\u00e4\u00e4"
                        "\u00e4\u00e4\u00e4\u00e4\u00e4\u00e4\u00e4\u00e4\u00e4\u00e4\u00e4\u00e4"
                        "\u00e4\u00e4\u00e4\u00e4"
                        "\u00e4\u00e4\u00e4\u00e4\u00e4\u00e4\u00e4\u00e4\u00e4\u00e4\u00e4\u00e4"
                        "\u00e4\u00e4\u00e4\u00e4"
                        "\u00e4\u00e4\u00e4\u00e4\u00e4\u00e4\u00e4\u00e4",
                        UNITS_US, &a, &t, &why) == OK);
        CHECK(strstr(t.at, "\u00e4\u2026<") != NULL);
        text_free(&t);
    }
    CASE("without memory for its words there is no sheet") {
        struct surface rows[] = {fronts(1, 900, 150)};
        struct piece_plan p = plan_of(rows, 1, NAN, 96);
        struct arena none;
        struct text t = {0};
        CHECK(drill_make(&tables_builtin, &p, "", &a, &d, &why) == OK);
        arena_init(&none, alloc_heap(), 1);
        CHECK(drill_svg(&d, "x", UNITS_METRIC, &none, &t, &why) == E_MEMORY);
        text_free(&t);
        arena_free(&none);
    }
    arena_free(&a);
}

int main(void) {
    places();
    paper();
    return check_done();
}
