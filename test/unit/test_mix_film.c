/* Mixes as films: a mix takes after its jars, each by its share of what scatters and absorbs. */
#include "core/color/color.h"
#include "core/work/mix_film.h"
#include "test/check.h"

#include <math.h>

enum { JARS = 5 };

struct bench {
    struct arena arena;
    struct paint paints[JARS];
    struct mix_item left[2];
    struct shelf shelf;
    struct palette palette;
};

/* White, the same white again, black, yellow, and a leftover of 3 white and 1 black. */
static void open(struct bench *b, const int64_t hides_in[JARS]) {
    static const char *const id[JARS] = {"white", "white-2", "black", "yellow", "left"};
    static const double color[JARS][3] = {
        {97, 0, 2}, {97, 0, 2}, {17, 0, 0}, {82, 8, 80}, {45, 0, 0}};
    *b = (struct bench){.left = {{"white", 3}, {"black", 1}}};
    arena_init(&b->arena, alloc_heap(), 0);
    for (int i = 0; i < JARS; i++) {
        struct paint *p = &b->paints[i];
        *p = (struct paint){.id = id[i], .class = "wb_enamel", .color = {id[i]}};
        for (int k = 0; k < 3; k++) p->color.lab[k] = color[i][k];
        p->stock_ml = p->size_ml = p->cost_cent = p->label_pot_life_min = NAN;
        p->hides_in = hides_in[i];
    }
    b->paints[4].color.text = NULL;
    b->paints[4].leftover_of = b->left, b->paints[4].leftover_of_n = 2;
    b->shelf = (struct shelf){.paints = b->paints, .paints_n = JARS};
    CHECK(palette_make(&tables_builtin, &b->shelf, "wb_enamel", &b->arena, &b->palette, NULL) ==
          OK);
    CHECK(b->palette.n == JARS);
}

static struct mix_film film(const struct bench *b, double white, double white2, double black,
                            double yellow, double left) {
    const double volume[JARS] = {white, white2, black, yellow, left};
    struct mix_film m;
    mix_film_make(&b->palette, volume, &m);
    return m;
}

static const int64_t NONE = INT64_MIN;

int main(void) {
    struct spectrum dark;
    const struct weights w = weights_make(&tables_builtin, OBSERVER_2, LIGHT_D50);
    for (int i = 0; i < SPECTRUM_BANDS; i++) dark.at[i] = HIDING_CHART_BLACK;
    CASE("nobody tried: as expected of colors, and half of that where it is weak") {
        struct bench b;
        open(&b, (const int64_t[JARS]){NONE, NONE, NONE, NONE, NONE});
        const struct mix_film m = film(&b, 8, 0, 1, 2, 0);
        CHECK_NEAR(m.scale, 1, 1e-12);
        CHECK_NEAR(m.low, MIX_FILM_WEAK, 1e-12);
        CHECK(m.jars == 3 && !m.tried && m.seen_in < 0);
        CHECK(!mix_film_known(&tables_builtin, &b.shelf, "wb_enamel"));
        arena_free(&b.arena);
    }
    for (int64_t n = 2; n <= 7; n++)
        CASE("two jars of one paint that hid in n coats, mixed, hide the chart's black in n") {
            struct bench b;
            open(&b, (const int64_t[JARS]){n, n, NONE, NONE, NONE});
            const struct mix_film one = film(&b, 1, 0, 0, 0, 0), both = film(&b, 2, 3, 0, 0, 0);
            CHECK(one.seen_in == n && both.seen_in == n && both.tried == 2);
            CHECK_NEAR(both.scale, one.scale, 1e-9);
            CHECK(mix_film_coats(&one, false, &dark, 20, &w) == n);
            CHECK(mix_film_coats(&both, false, &dark, 20, &w) == n);
            CHECK(mix_film_known(&tables_builtin, &b.shelf, "wb_enamel") &&
                  !mix_film_known(&tables_builtin, &b.shelf, "alkyd_enamel"));
            arena_free(&b.arena);
        }
    CASE("K and S of the film are its jars' by volume, as tried (Kubelka and Munk 1931)") {
        struct bench b;
        open(&b, (const int64_t[JARS]){5, NONE, 1, 6, NONE});
        const struct mix_film white = film(&b, 1, 0, 0, 0, 0), black = film(&b, 0, 0, 1, 0, 0),
                              yellow = film(&b, 0, 0, 0, 1, 0), m = film(&b, 12, 0, 1, 3, 0);
        const struct mix_film *alone[] = {&white, &black, &yellow};
        const double volume[] = {12, 1, 3};
        double tried = 0, expected = 0, share = 0, low = INFINITY, high = 0;
        for (int i = 0; i < 3; i++) { /* mean over the bands of K + S, worked out apart */
            double of = 0;
            for (int k = 0; k < SPECTRUM_BANDS; k++)
                of += (alone[i]->paint.k[k] + alone[i]->paint.s[k]) / SPECTRUM_BANDS;
            tried += volume[i] * of * alone[i]->scale;
            expected += volume[i] * of;
            share += m.jar[i].share;
            low = fmin(low, alone[i]->scale), high = fmax(high, alone[i]->scale);
            for (int k = 0; k < SPECTRUM_BANDS && !i; k++)
                CHECK_NEAR(m.paint.s[k],
                           (12 * white.paint.s[k] + black.paint.s[k] + 3 * yellow.paint.s[k]) / 16,
                           1e-12);
        }
        CHECK(m.jars == 3 && m.tried == 3);
        CHECK_NEAR(m.scale, tried / expected, 1e-9);
        CHECK_NEAR(share, 1, 1e-12);
        CHECK(m.scale > low && m.scale < high && m.low <= m.scale);
        arena_free(&b.arena);
    }
    CASE("the worse a jar hid, the more coats its mix takes, and the more of it there is in the "
         "mix") {
        int before = 0;
        double last = INFINITY;
        for (int64_t n = 1; n <= 9; n += 2) {
            struct bench b;
            open(&b, (const int64_t[JARS]){n, NONE, NONE, NONE, NONE});
            const struct mix_film much = film(&b, 9, 0, 0, 1, 0), little = film(&b, 1, 0, 0, 9, 0);
            const int coats = mix_film_coats(&much, false, &dark, 20, &w);
            CHECK(coats >= before && much.scale < last);
            CHECK(fabs(much.scale - 1) >= fabs(little.scale - 1));
            CHECK(mix_film_coats(&much, true, &dark, 20, &w) >= coats);
            before = coats, last = much.scale;
            arena_free(&b.arena);
        }
        CHECK(before >= 5);
    }
    CASE("a little black makes a white hide in fewer coats (common practice)") {
        struct bench b;
        open(&b, (const int64_t[JARS]){4, NONE, 1, NONE, NONE});
        const struct mix_film white = film(&b, 1, 0, 0, 0, 0), gray = film(&b, 30, 0, 1, 0, 0);
        CHECK(mix_film_coats(&gray, false, &dark, 20, &w) <
              mix_film_coats(&white, false, &dark, 20, &w));
        arena_free(&b.arena);
    }
    CASE("a mix takes no more coats than the worst of its jars, whatever the share (attenuation of "
         "a "
         "sum of K and S is at least the sum of theirs)") {
        struct bench b;
        open(&b, (const int64_t[JARS]){4, NONE, 2, 6, NONE});
        for (int i = 0; i <= 10; i++)
            for (int k = 0; k <= 10 - i; k++) {
                const struct mix_film m = film(&b, i, 0, k, 10 - i - k, 0);
                const int coats = mix_film_coats(&m, false, &dark, 20, &w);
                CHECK(coats >= 1 && coats <= (i + k == 10 ? (i ? 4 : 2) : 6));
            }
        arena_free(&b.arena);
    }
    CASE("a leftover counts by its volume as what it was mixed from, unless it was tried itself") {
        struct bench b;
        open(&b, (const int64_t[JARS]){6, NONE, 1, NONE, NONE});
        const struct mix_film left = film(&b, 1, 0, 0, 0, 1), jars = film(&b, 1.75, 0, .25, 0, 0);
        CHECK_NEAR(left.scale, jars.scale, 1e-9);
        CHECK_NEAR(left.low, jars.low, 1e-9);
        CHECK(left.jars == 2 && left.tried == 2); /* the white is one jar, poured twice */
        b.paints[4].hides_in = 3;
        const struct mix_film own = film(&b, 0, 0, 0, 0, 1);
        CHECK(own.jars == 1 && own.tried == 1 && own.seen_in == 3);
        CHECK(mix_film_coats(&own, false, &dark, 20, &w) <= 3);
        arena_free(&b.arena);
    }
    return check_done();
}
