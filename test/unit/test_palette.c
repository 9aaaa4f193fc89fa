/* What of a shelf is mixed together: palettes by class, cans of one paint that follow each other.
 */
#include "core/work/cans.h"
#include "core/work/palette.h"
#include "test/check.h"

#include <math.h>

static struct paint jar(const char *id, const char *class, const char *can_of, double l) {
    struct paint p = {.id = id, .class = class, .can_of = can_of, .color = {id, {l, 0, 0}}};
    double *unsaid[] = {&p.stock_ml,          &p.size_ml,
                        &p.cost_cent,         &p.density_g_per_ml,
                        &p.smallest_ml,       &p.label_spread_m2_per_l,
                        &p.label_solids_frac, &p.label_touch_min,
                        &p.label_recoat_min,  &p.label_recoat_until_min,
                        &p.label_handle_min,  &p.label_cure_min,
                        &p.label_lowest_degc, &p.label_pot_life_min};
    for (size_t i = 0; i < sizeof unsaid / sizeof *unsaid; i++) *unsaid[i] = NAN;
    p.hides_in = INT64_MIN;
    if (!class) p.color.text = NULL;
    return p;
}

int main(void) {
    CASE("each class gets its own palette, made once, whoever asks and with whatever spelling of "
         "its id") {
        struct arena arena;
        struct paint paints[] = {jar("white", "wb_enamel", NULL, 95),
                                 jar("cream", "chalk", NULL, 90),
                                 jar("black", "wb_enamel", NULL, 20)};
        struct shelf shelf = {.paints = paints, .paints_n = 3};
        struct palettes made = {.n = 0};
        const struct palette *enamel, *chalk, *again;
        char chalk_id[] = "chalk";
        arena_init(&arena, alloc_heap(), 0);
        CHECK(palettes_get(&made, &tables_builtin, &shelf, "wb_enamel", &arena, &enamel, NULL) ==
              OK);
        CHECK(palettes_get(&made, &tables_builtin, &shelf, "chalk", &arena, &chalk, NULL) == OK);
        CHECK(palettes_get(&made, &tables_builtin, &shelf, chalk_id, &arena, &again, NULL) == OK);
        CHECK(enamel->n == 2 && chalk->n == 1 && made.n == 2);
        CHECK_TEXT(chalk->paints[0].paint->id, "cream");
        CHECK(again->n == 1 && again->paints[0].paint == &paints[1]);
        CHECK(palette_paints(&tables_builtin, &shelf, "wb_enamel") == 2);
        CHECK(palette_paints(&tables_builtin, &shelf, "chalk") == 1);
        CHECK(palette_paints(&tables_builtin, &shelf, "milk") == 0);
        arena_free(&arena);
    }
    CASE(
        "another can is what its first can is, through cans that are gone; what is its own stays") {
        struct paint gone[] = {jar("one", "wb_enamel", NULL, 60), jar("two", NULL, "one", 0),
                               jar("three", NULL, "two", 0)};
        struct paint four = jar("four", NULL, "three", 0);
        gone[0].cost_cent = 3200, gone[0].size_ml = 946, gone[0].label_pot_life_min = 90;
        gone[1].size_ml = 473, gone[0].hides_in = 2;
        four.stock_ml = 100;
        struct shelf shelf = {.paints = &four, .paints_n = 1, .gone = gone, .gone_n = 3};
        CHECK(cans_first(&shelf, &four) == &gone[0]);
        cans_fill(&shelf);
        CHECK_TEXT(four.class, "wb_enamel");
        CHECK_TEXT(four.color.text, "one");
        CHECK(four.size_ml == 473 && four.cost_cent == 3200 && four.stock_ml == 100);
        CHECK(four.label_pot_life_min == 90 && four.hides_in == 2);
    }
    return check_done();
}
