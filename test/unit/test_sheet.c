/* The job sheet: no text is cut, without memory there is none, pours are marks of the measure. */
#include "app/measuring.h"
#include "app/sheet/sheet.h"
#include "test/check.h"
#include "test/unit/days_plan.h"

#include <stdlib.h>

static const struct sheet_standing nothing_begun;

static enum status sheet_of(struct arena *a, struct sheet *out) {
    return sheet_make(&tables_builtin, &answer.plan, answer.plan.pieces_n, &nothing_begun, NULL, 0,
                      UNITS_US, a, out);
}

static const struct sheet_section *section(const struct sheet *s, const char *id) {
    for (size_t i = 0; i < s->pieces[0].sections_n; i++)
        if (!strcmp(s->pieces[0].sections[i].id, id)) return &s->pieces[0].sections[i];
    return NULL;
}

static void memory(void) {
    CASE("with too little memory there is no sheet, and no crash, wherever it ends") {
        size_t step = 1000, most = 0, refused = 0;
        struct sheet s;
        if (plan("", WHITE "}", STAND(",'drawers':2", ""))) exit(1);
        for (enum status st = E_MEMORY; st && most < 4000000; most += step) {
            struct arena a;
            arena_init(&a, alloc_heap(), most + 1);
            CHECK((st = sheet_of(&a, &s)) == OK || st == E_MEMORY);
            refused += st == E_MEMORY;
            arena_free(&a);
        }
        CHECK(refused > 20 && most < 4000000);
    }
}

static void length(void) {
    CASE("a long name of a part stands whole, with what follows it") {
        static char name[4095], pieces[8000];
        struct sheet s;
        memset(name, 'x', sizeof name - 1);
        snprintf(pieces, sizeof pieces, STAND(",'parts':[{'id':'top','name':'%s','count':2}]", ""),
                 name);
        if (plan("", WHITE "}", pieces) || sheet_of(&arena, &s)) exit(1);
        const struct sheet_section *parts = section(&s, "surfaces");
        size_t found = 0;
        for (size_t i = 0; parts && i < parts->rows_n; i++)
            found += says(parts->rows[i].what, "xxxx") && says(parts->rows[i].what, ", 2 of them");
        CHECK(found == 1);
    }
}

/* The plan and the recipes asked for alone (app/measuring.h) pour by the same marks. */
static void marks(void) {
    static const struct {
        const char *said;
        enum measure measure;
        double ml;
    } rows[] = {{"tsp", MEASURE_TSP, 4.92892159375 / 4}, /* NIST SP 811 */
                {"fl oz", MEASURE_FL_OZ, 29.5735295625 / 4},
                {"ml", MEASURE_ML, 5}, /* common practice, as the drop */
                {"drop", MEASURE_DROP, .05},
                {"gram", MEASURE_GRAM, 1 / 1.2}};
    CASE("a shop that says only its measure pours whole marks of it") {
        for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
            const struct shop shop = {.measure = rows[i].measure, .smallest_ml = NAN};
            char more[40];
            snprintf(more, sizeof more, ",'measure':'%s'", rows[i].said);
            if (plan(more, WHITE "}", STAND("", ""))) exit(1);
            CHECK_NEAR(answer.plan.shop.smallest_ml, rows[i].ml, 1e-9);
            CHECK_NEAR(measuring_of(&shop, MEASURE_UNSAID, NAN, NAN).step_ml, rows[i].ml, 1e-9);
        }
    }
}

int main(void) {
    memory();
    length();
    marks();
    arena_free(&arena);
    return check_done();
}
