/* The cheapest cans: against dynamic programming over whole milliliters (the covering form of the
 * unbounded knapsack, a textbook recurrence), and by hand at the sizes of the table. */
#include "core/work/can_set.h"
#include "test/check.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { NEED_MOST = 3000 };

/* price[v]: of the cheapest set that holds v ml. */
static void by_table(const struct can_size *s, size_t n, double *price) {
    price[0] = 0;
    for (int v = 1; v <= NEED_MOST; v++) {
        price[v] = INFINITY;
        for (size_t i = 0; i < n; i++) {
            int rest = v > (int)s[i].ml ? v - (int)s[i].ml : 0;
            price[v] = fmin(price[v], price[rest] + s[i].price);
        }
    }
}

static void cheapest(void) {
    static double price[NEED_MOST + 1];
    CASE("as cheap as dynamic programming, and it holds what is needed") {
        unsigned seed = 7;
        for (int round = 0; round < 200; round++) {
            struct can_size s[5];
            size_t n = 1 + (size_t)round % 5;
            for (size_t i = 0; i < n; i++) {
                seed = seed * 1103515245u + 12345u;
                s[i].ml = 20 + (seed >> 16) % 700;
                seed = seed * 1103515245u + 12345u;
                s[i].price = 1 + (seed >> 16) % 60;
            }
            by_table(s, n, price);
            for (int need = 0; need <= NEED_MOST; need += 97) {
                int64_t count[CAN_SIZES];
                double held = 0, paid = 0, best = can_set_choose(s, n, need, count);
                for (size_t i = 0; i < n; i++) {
                    held += (double)count[i] * s[i].ml;
                    paid += (double)count[i] * s[i].price;
                }
                CHECK_NEAR(best, price[need], 1e-9);
                CHECK_NEAR(paid, best, 1e-9);
                CHECK(held >= need);
            }
        }
    }
}

static void asked_for(void) {
    struct arena arena;
    struct paint quart = {.id = "white", .size_ml = 946.353, .cost_cent = 2000};
    arena_init(&arena, alloc_heap(), 0);
    const double QT = 946.353;
    struct want {
        double ml;
        const char *class, *text;
        double cent;
    } wants[] = {
        /* by data/can_sizes.tsv: gallon 2.6 quarts, pint .65, half pint .45 */
        {7 * QT, "wb_enamel", "2 gallons", 10400}, /* seven quarts are 14000, gallon and 3 11200 */
        {3 * QT, "wb_enamel", "1 gallon", 5200},   /* three quarts are 6000 */
        {2 * QT, "wb_enamel", "2 quarts", 4000},
        {7.4, "wb_enamel", "1 half pint", 900}, /* a quarter ounce of a tint */
        {7.4, "wb_primer", "1 quart", 2000}     /* primer is not sold smaller */
    };
    CASE("seven quarts are gallons, a quarter ounce is no quart") {
        for (size_t i = 0; i < sizeof wants / sizeof *wants; i++) {
            struct can_set set =
                can_set_of(&tables_builtin, &arena, UNITS_US, &quart, wants[i].class, wants[i].ml);
            CHECK_TEXT(set.text, wants[i].text);
            CHECK_NEAR(set.cost_cent, wants[i].cent, 1e-6);
            CHECK(set.ml >= wants[i].ml && set.cans > 0);
            CHECK(set.estimated == !strstr(wants[i].text, "quart"));
        }
    }
    CASE("a can of a size of its own is bought in it; without a can the units choose") {
        struct paint odd = {.id = "tint", .size_ml = 59, .cost_cent = 400};
        struct can_set set = can_set_of(&tables_builtin, &arena, UNITS_US, &odd, "wb_enamel", 100);
        CHECK_TEXT(set.text, "2 cans");
        CHECK(set.cost_cent == 800 && !set.estimated);
        set = can_set_of(&tables_builtin, &arena, UNITS_METRIC, NULL, "wb_enamel", 400);
        CHECK_TEXT(set.text, "2 cans of 250 ml");
        CHECK(isnan(set.cost_cent));
    }
    CASE("a leftover is not sold, and nothing is nothing") {
        struct mix_item of = {"white", 1};
        struct paint left = {.id = "jar", .leftover_of = &of, .leftover_of_n = 1};
        CHECK(!can_set_of(&tables_builtin, &arena, UNITS_US, &left, "wb_enamel", 100).cans);
        CHECK(!can_set_of(&tables_builtin, &arena, UNITS_US, &quart, "wb_enamel", 0).cans);
    }
    arena_free(&arena);
}

int main(void) {
    cheapest();
    asked_for();
    return check_done();
}
