/* The recipes that a search has found worth keeping: the best of each of the
 * few best sets of paints, and the trade-off set. Inside core/recipe only. */
#ifndef CORE_RECIPE_ARCHIVE_H
#define CORE_RECIPE_ARCHIVE_H

#include "core/recipe/mixture.h"

struct archived {
    struct recipe_item items[RECIPE_ITEMS_MAX]; /* by paint */
    size_t n;
    double objective, cost_cent;
    int leftover_parts, poured_parts;
};

/* What a group of recipes can reach at best, to be held against the archive. */
struct archive_reach {
    size_t n;           /* fewest paints */
    double cost_cent;   /* lowest */
    int leftover_parts; /* highest */
    int poured_parts;   /* fewest */
};

enum { ARCHIVE_SETS = 48 }; /* sets of paints whose best is kept, for choice and metamerism */

struct archive {
    const struct mixture *mixture;
    struct arena *arena;
    struct archived sets[ARCHIVE_SETS]; /* by rising objective; sets[0] is the best of all */
    size_t sets_n;
    struct archived *front; /* trade-off set, by rising objective; only where it is wanted */
    size_t front_n, front_cap;
    bool no_memory;
};

void archive_init(struct archive *a, const struct mixture *m, struct arena *arena);

/* Objective that a recipe of this reach must beat to be of use; INFINITY while
 * there is none. */
double archive_threshold(const struct archive *a, const struct archive_reach *reach);
/* The same for the main objective alone. */
double archive_best(const struct archive *a);

/* Above this an objective is of no use at all, not even for choice; threshold as above. */
double archive_most(const struct archive *a, double threshold);

/* Takes a recipe in if it is of use. items by paint. */
void archive_offer(struct archive *a, const struct recipe_item *items, size_t n, double objective);

/* Judged lists into the arena. Errors: E_MEMORY. */
enum status archive_close(struct archive *a, bool optimal, struct recipe_result *out);

#endif
