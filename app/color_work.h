/* Color work on a shelf: recipes for a target, the color of a mix. Used by the command line on a
 * shelf document and by the book on its own shelf. */
#ifndef APP_COLOR_WORK_H
#define APP_COLOR_WORK_H

#include "app/color_looks.h"
#include "app/measuring.h"
#include "codec/desc.h"
#include "core/base/arena.h"
#include "core/base/limit.h"
#include "core/base/status.h"
#include "core/work/job.h"
#include "tables.h"

struct recipe_ask {
    struct color_said target;
    int64_t paints, parts; /* at most so many paints; so many parts in all */
    const char *class;     /* NULL: all paints whose role is color */
    const char **only;     /* ids that may be used; n = 0: all */
    size_t only_n;
    const char **never; /* ids that must not be used */
    size_t never_n;
    const char **must; /* ids that every recipe holds */
    size_t must_n;
    struct mix_item *batch; /* what is in the batch already, in parts; it stays */
    size_t batch_n;
    bool by_expected; /* prefer recipes that we are sure of */
    double part_ml;   /* of one part: then stock and smallest pours bind; 0: parts alone count */
    bool buy;         /* paint may be bought: what is left on the shelf does not bind */
    double seconds;   /* of processor time, then what was found by then; 0: as long as it takes */
    struct measuring measuring;         /* with part_ml: how amounts are written */
    const struct spectrum *reflectance; /* of the target, where it is known; NULL: the smoothest */
};

struct recipe_answer_item {
    const char *paint, *name;
    int64_t parts;
    double amount_ml; /* NAN, text NULL: parts alone count */
    const char *text;
};

struct recipe_proof_row {
    const char *kind; /* "optimal" or "limit" */
    double bound, grid_points;
    int64_t points, cells;
};

struct recipe_found {
    struct recipe_answer_item *items;
    size_t items_n;
    int64_t parts; /* in all, batch included */
    double lab[3]; /* predicted, CSS Lab D50 */
    const char *hex;
    struct light_look *lights;
    size_t lights_n;
    double difference, expected_difference, difference_90, metamerism, cost_cent;
    double pour_error; /* how far pours off by their reading error carry the color, rms */
    int64_t leftover_parts;
    bool proven;
    struct recipe_proof_row proof; /* of the first; kind NULL: none */
};

struct recipe_answer {
    struct color_said target;
    const char *target_hex;
    struct recipe_found *recipes; /* best first */
    size_t recipes_n;
    struct recipe_found *tradeoff;
    size_t tradeoff_n;
    struct recipe_proof_row proof;
    int64_t parts; /* of the grid, each part_ml (NAN: parts alone count) */
    double part_ml;
    struct light_look *target_lights; /* the target itself, under the same lights */
    size_t target_lights_n;
    bool out_of_reach;
    const char *advice;
    const char *coarse;   /* why not the amount that was asked is made; NULL: it is */
    const char *left_out; /* why some paints of the shelf were not looked at; NULL: all were */
};

/* Errors: E_DOMAIN (/paints, /parts), E_REFERENCE (/only/0 ...), E_MISSING (/shelf has no paint),
 * E_IMPOSSIBLE, E_MEMORY. */
enum status color_recipes(const struct tables *t, const struct shelf *shelf,
                          const struct recipe_ask *ask, struct limit limit, struct arena *arena,
                          struct recipe_answer *out, struct why *why);

struct mix_answer {
    struct spectrum reflectance;               /* not printed */
    double lab[3];                             /* CSS Lab D50 */
    const char *hex, *notation;                /* on a screen; lab() text */
    double difference;                         /* to the target; NAN: none was given */
    double expected_difference, difference_90; /* of the prediction; with a target: from it */
    struct light_look *lights, *target_lights;
    size_t lights_n, target_lights_n;
    const char *text; /* which way it lies from the target: "0.9 lighter, a little greener" */
    struct recipe_answer_item *items; /* as asked, with amounts where a part has a size */
    size_t items_n;
    struct mix_ramp *ramps;
    size_t ramps_n;
    int64_t samples; /* from so many samples */
};

/* What the mix would be with so many parts of one paint and all others as they are. */
struct mix_ramp {
    const char *paint;
    const char **hex; /* from 0 parts to `most`, evenly */
    size_t hex_n;
};
struct mix_ask {
    const struct mix_item *items;
    size_t items_n;
    const struct color_said *target; /* or NULL */
    int marks;                       /* colors a ramp, 2..MIX_MARKS; 0: no ramps */
    double most;                     /* parts at a ramp's end, > 0 */
    double part_ml;                  /* size of a part; 0: parts alone count */
    struct measuring measuring;      /* with part_ml: how amounts are written */
};
enum { MIX_MARKS = 32 };

/* items: paint and parts (0..1e6). Errors: E_MISSING, E_TOO_LARGE (/items), E_REFERENCE
 * (/items/0/paint), E_DOMAIN (/items, /items/0/parts), E_MEMORY. */
enum status color_mix(const struct tables *t, const struct shelf *shelf, const struct mix_ask *ask,
                      struct arena *arena, struct mix_answer *out, struct why *why);

/* Adds the parts of a mix over the palette, volume [n]; the errors of color_mix. */
enum status color_volumes(const struct palette *p, const struct mix_item *items, size_t n,
                          double *volume, struct arena *arena, struct why *why);

extern const struct desc desc_recipe_answer, desc_mix_answer, desc_recipe_item;

#endif
