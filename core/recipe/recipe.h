/* The best recipes for a color on a measuring grid, and the proof that none is
 * better.
 *
 * A recipe is so many whole parts (by volume) of a few paints. Its color
 * follows opaque two-constant Kubelka-Munk theory: K and S of the mix are the
 * sums of the paints' K and S, weighted by parts. The search answers for new
 * colors, for corrections of a batch (what is in it stays) and for using up
 * leftovers alike.
 *
 * Colors here are CIE Lab, D65, 2 degree observer, L 0..100; differences are
 * CIEDE2000 in it. Source: Kubelka and Munk 1931; Duncan 1940 (additivity of K
 * and S); Sharma, Wu, Dalal 2005. */
#ifndef CORE_RECIPE_RECIPE_H
#define CORE_RECIPE_RECIPE_H

#include "core/base/arena.h"
#include "core/base/limit.h"
#include "core/base/status.h"
#include "core/color/color.h"
#include "core/color/pigment.h"
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum {
    RECIPE_SHELF_MAX = 64,  /* paints to choose from */
    RECIPE_ITEMS_MAX = 6,   /* paints poured for one recipe */
    RECIPE_PARTS_MAX = 512, /* parts of a finished mix */
    RECIPE_BEST_MAX = 16    /* recipes returned */
};

enum recipe_use { RECIPE_MAY, RECIPE_MUST, RECIPE_NEVER };

struct recipe_paint {
    const struct pigment *pigment; /* borrowed */
    enum recipe_use use;           /* MUST: poured in every recipe; NEVER: not poured */
    int pour_min;                  /* fewest parts that can be poured if any; 0 counts as 1 */
    int pour_max;                  /* stock in parts; 0: as much as is wanted */
    double cost_cent;              /* of one part; 0 where nobody asks */
    bool leftover;                 /* good to use up */
    int in_batch;                  /* parts of it that are in the batch already and stay */
    int binder;                    /* paints of different binders never go into one recipe */
};

enum recipe_objective {
    RECIPE_BY_DIFFERENCE, /* CIEDE2000 between mix and target */
    RECIPE_BY_EXPECTED    /* sqrt(difference^2 + variance of model and pours) */
};

struct recipe_item {
    size_t paint; /* index into the problem's paints */
    int parts;    /* poured, without what is in the batch */
};

/* Variance of a mix's color that the model itself owns to, in CIEDE2000
 * squared. parts is [n] over the shelf, batch included. Must be finite, >= 0
 * and the same for the same parts. */
typedef double recipe_variance(void *ctx, const int *parts, size_t n);

struct recipe_problem {
    const struct recipe_paint *paints;
    size_t paints_n; /* 1..RECIPE_SHELF_MAX */
    struct lab target;
    const struct spectrum *target_reflectance; /* or NULL: metamerism is NAN */
    int items_max;                             /* paints poured at most, 1..RECIPE_ITEMS_MAX */
    int parts;                                 /* of the finished mix, batch included */
    int parts_last; /* every total parts..parts_last will do; 0: just parts */
    enum recipe_objective objective;
    recipe_variance *variance; /* or NULL: 0 */
    void *variance_ctx;
    uint64_t variance_key; /* stands for all that variance depends on but the parts; 0: unknown,
                              then nothing is recalled */
    double variance_low;   /* no mix has less variance than this; 0 where nothing is
                              known */
    double pour_sd_parts;  /* reading error of one pour, standard deviation in
                              parts; 0: none */
    size_t best_max;       /* recipes wanted, 1..RECIPE_BEST_MAX; 0: 5 */
    bool tradeoff;         /* the trade-off set is wanted too */
    double window;         /* trade-offs with an objective above best + window are left
                              out */
    double reach;          /* the target is out of reach above this difference; 0: 2 */
    bool no_simd;          /* the plain kernel even where a faster one would run (same
                              answer) */
    /* D65 for the search itself; the others are the lights of metamerism (A,
     * LED-B3), may be NULL
     */
    const struct weights *d65, *a, *led;
};

struct recipe {
    struct recipe_item items[RECIPE_ITEMS_MAX]; /* by paint */
    size_t items_n;
    int total;      /* parts of the finished mix, batch included */
    struct lab lab; /* predicted */
    double difference;
    double expected_difference; /* sqrt(difference^2 + model_sd^2 + pour_sd^2) */
    double model_sd;            /* root of the model's variance of this mix */
    double pour_sd;             /* how far pours off by their reading error carry the color,
                                   rms */
    double metamerism;          /* worst difference to the target under A and LED; NAN
                                   unknown */
    double cost_cent;           /* of what is poured */
    int leftover_parts;         /* poured from leftovers */
    int poured_parts;
    bool proven; /* trade-off set: nothing on the grid beats it in all its proven
                    respects */
};

enum recipe_proof_kind { RECIPE_OPTIMAL, RECIPE_LIMIT };

struct recipe_proof {
    enum recipe_proof_kind kind; /* OPTIMAL: nothing on the grid is better than best[0] */
    double bound;                /* no recipe on the grid has a lower objective, whatever the
                                    kind */
    double grid_points;          /* recipes that the problem allows */
    uint64_t points;             /* of them computed one by one */
    uint64_t cells;              /* groups of them that were bounded as a whole */
    bool stopped;                /* ended by limit.stop, so another run may differ */
};

/* best[0] has the lowest objective; the others are the best seen of other sets
 * of paints, for choice, without proof. The trade-off set holds recipes within
 * the window such that none is as good in objective, number of paints, cost,
 * leftover used and parts poured (fewer is better where a batch is corrected)
 * and better in one: proven where proof.kind is OPTIMAL. Rows that are in it
 * only for their metamerism are not proven (`proven` says which). Both by
 * rising objective. */
struct recipe_result {
    struct recipe *best;
    size_t best_n;
    struct recipe *tradeoff;
    size_t tradeoff_n;
    struct recipe_proof proof;
    bool out_of_reach; /* even the bound says so: no recipe comes within `reach`. By expected
                          difference the bound holds doubt too and tells nothing of it: false */
};

/* Searches.
 *
 *   limit      one step is one recipe computed or one group bounded; NULL:
 * none. The answer of a search that ends by steps is deterministic and its
 * bound still holds. An answer that limit->recall has kept is given again.
 *   arena      owns the result's lists and the working memory
 *   why        the member at fault as a pointer below the problem
 * ("/paints/2/pour_min"), or NULL
 *
 * Errors: E_DOMAIN (a number outside its range), E_MISSING (no paint, no
 * weights), E_IMPOSSIBLE (no recipe fits pours, stock, parts and wanted
 * paints), E_MEMORY. *out is untouched on failure. Cost: see bench/recipe;
 * exhaustive search of the grid at worst. */
enum status recipe_search(const struct recipe_problem *problem, const struct limit *limit,
                          struct arena *arena, struct recipe_result *out, struct why *why);

/* What the search minimizes, of a recipe that was judged. */
double recipe_objective_of(const struct recipe_problem *problem, const struct recipe *r);

/* Judges one recipe that was not searched for (a slider, an old one): fills all
 * of *out from the items, whose pours and total need not be on the problem's
 * grid. Errors: E_DOMAIN (no parts, a paint twice or not on the shelf),
 * E_MISSING. */
enum status recipe_judge(const struct recipe_problem *problem, const struct recipe_item *items,
                         size_t items_n, struct recipe *out, struct why *why);

#endif
