/* Expressions of the templates' tables: what they come to, and what is wrong with one. */
#include "core/work/expr.h"
#include "test/check.h"

static void expressions(void) {
    const struct expr_name names[] = {{"w", 8}, {"n", 3}};
    double v;
    CASE("expressions") {
        struct {
            const char *text;
            double is;
        } good[] = {{"1+2*3", 7},
                    {"(1+2)*3", 9},
                    {"w - 2 * n", 2},
                    {"-w/2", -4},
                    {"min(w, n)", 3},
                    {"max(1, n) + .5", 3.5},
                    {"floor((n + 1)/2)", 2},
                    {"if(n - 3, 1, w)", 8},
                    {"8-3-2", 3},
                    {"2*-3", -6}};
        for (size_t i = 0; i < sizeof good / sizeof *good; i++) {
            v = NAN;
            CHECK(expr_value(good[i].text, names, 2, &v, NULL) == OK);
            CHECK_NEAR(v, good[i].is, 1e-12);
        }
        struct {
            const char *text;
            enum status is;
        } bad[] = {{"", E_SYNTAX},       {"1+", E_SYNTAX},           {"(1", E_SYNTAX},
                   {"1 2", E_SYNTAX},    {"x", E_REFERENCE},         {"1/0", E_DOMAIN},
                   {"min(1)", E_SYNTAX}, {"max(1,2,3,4)", E_SYNTAX}, {"$", E_SYNTAX}};
        v = 7;
        for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
            CHECK(expr_value(bad[i].text, names, 2, &v, NULL) == bad[i].is && v == 7);
        char deep[EXPR_TEXT + 2];
        memset(deep, '(', sizeof deep), deep[EXPR_TEXT] = 0;
        CHECK(expr_value(deep, names, 2, &v, NULL) == E_TOO_LARGE);
        memset(deep, '1', sizeof deep), deep[EXPR_TEXT + 1] = 0;
        CHECK(expr_value(deep, names, 2, &v, NULL) == E_TOO_LARGE);
    }
}

int main(void) {
    expressions();
    return check_done();
}
