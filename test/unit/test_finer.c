/* Is it the measuring grid that a color is out of reach of, or are it the paints? */
#include "core/recipe/finer.h"
#include "tables.h"
#include "test/check.h"

#include <math.h>

enum { PAINTS = 3 };

static struct weights d65;
static struct pigment pigments[PAINTS];
static struct recipe_paint paints[PAINTS];
static struct arena arena;

/* A white and two strong paints, known by color only. */
static struct recipe_problem problem_for(struct lab target, int parts) {
    const struct lab colors[PAINTS] = {{97, 0, 3}, {65, 14, 50}, {33, 8, 12}};
    for (int i = 0; i < PAINTS; i++) {
        struct upsampled up;
        pigments[i] = pigment_of_color(&d65, colors[i], &up);
        paints[i] = (struct recipe_paint){.pigment = &pigments[i]};
    }
    return (struct recipe_problem){.paints = paints,
                                   .paints_n = PAINTS,
                                   .target = target,
                                   .items_max = 3,
                                   .parts = parts,
                                   .d65 = &d65};
}

/* The color of so many parts. */
static struct lab mixed(const int parts[PAINTS]) {
    double volume[PAINTS];
    for (int i = 0; i < PAINTS; i++) volume[i] = parts[i];
    struct spectrum r = pigment_mix_reflectance(pigments, volume, PAINTS);
    return lab_of_xyz(xyz_of_spectrum(&d65, &r), d65.white);
}

static void finer(void) {
    struct why why;
    struct recipe_result r;
    int parts = -1;
    CASE("a pale tint of one part in 128 is out of reach of sixteenths, and of no paint") {
        struct recipe_problem p = problem_for((struct lab){0}, 16);
        p.target = mixed((int[]){127, 1, 0});
        CHECK(recipe_search(&p, NULL, &arena, &r, &why) == OK && r.out_of_reach);
        CHECK(recipe_finer(&p, NULL, &arena, &parts, &why) == OK);
        /* the grid that it names has a recipe in reach, the one before it has none */
        CHECK(parts > 16 && parts <= 128);
        p.parts = parts;
        CHECK(recipe_search(&p, NULL, &arena, &r, &why) == OK && r.best[0].difference <= 2);
        p.parts = parts / 2;
        CHECK(recipe_search(&p, NULL, &arena, &r, &why) == OK && r.out_of_reach);
    }
    CASE("a color beyond the paints is reached by no grid") {
        struct recipe_problem p = problem_for((struct lab){40, 60, -50}, 16);
        CHECK(recipe_finer(&p, NULL, &arena, &parts, &why) == OK && parts == 0);
    }
    CASE("how little can be poured is left aside, how much there is of it is not") {
        struct recipe_problem p = problem_for((struct lab){0}, 16);
        p.target = mixed((int[]){127, 1, 0});
        paints[1].pour_min = 2;
        CHECK(recipe_finer(&p, NULL, &arena, &parts, &why) == OK && parts > 16);
        paints[0].pour_max = 4;
        CHECK(recipe_finer(&p, NULL, &arena, &parts, &why) == OK && parts == 0);
        paints[0].pour_max = 0, paints[0].in_batch = 1; /* what is in the batch stays */
        CHECK(recipe_finer(&p, NULL, &arena, &parts, &why) == OK && parts == 0);
    }
    CASE("recipes of a grid, counted") { /* by hand: C(4, 2) pairs, 15 ways to part 16 in two */
        CHECK_NEAR(recipe_points(4, 2, 16), 90, 1e-9);
        CHECK_NEAR(recipe_points(14, 3, 16), 364 * 105.0, 1e-6);
    }
}

int main(void) {
    d65 = weights_make(&tables_builtin, OBSERVER_2, LIGHT_D65);
    arena_init(&arena, alloc_heap(), 0);
    finer();
    arena_free(&arena);
    return check_done();
}
