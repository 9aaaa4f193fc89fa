/* Six paints known by their color only, and what is asked of them. */
#ifndef TEST_UNIT_RECIPE_ROOM_H
#define TEST_UNIT_RECIPE_ROOM_H

#include "core/recipe/recipe.h"
#include "tables.h"
#include "test/check.h"

enum { PAINTS = 6 };

static struct weights d65, light_a, led;
static struct pigment pigments[PAINTS];
static struct recipe_paint paints[PAINTS];
static struct arena arena;
static struct why why;

/* A white, a black, a red, a yellow, a blue, a green: known by color only. */
static inline void make_shelf(void) {
    const struct lab colors[PAINTS] = {{96, -1, 2}, {16, 0, 0},    {42, 55, 30},
                                       {80, 5, 75}, {30, 10, -45}, {40, -35, 10}};
    for (int i = 0; i < PAINTS; i++) {
        struct upsampled up;
        pigments[i] = pigment_of_color(&d65, colors[i], &up);
        paints[i] = (struct recipe_paint){.pigment = &pigments[i], .cost_cent = 10 + i};
    }
}

static inline struct recipe_problem problem_for(struct lab target, int items, int parts) {
    return (struct recipe_problem){.paints = paints,
                                   .paints_n = PAINTS,
                                   .target = target,
                                   .items_max = items,
                                   .parts = parts,
                                   .d65 = &d65,
                                   .a = &light_a,
                                   .led = &led};
}

static inline void recipe_open(void) {
    d65 = weights_make(&tables_builtin, OBSERVER_2, LIGHT_D65);
    light_a = weights_make(&tables_builtin, OBSERVER_2, LIGHT_A);
    led = weights_make(&tables_builtin, OBSERVER_2, LIGHT_LED_B3);
    arena_init(&arena, alloc_heap(), 0);
    make_shelf();
}

#endif
