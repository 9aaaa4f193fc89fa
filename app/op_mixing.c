/* Mixing on the book's own shelf: recipes for a color, the color of a mix, and how it is poured. */
#include "app/color_print.h"
#include "app/color_work.h"
#include "app/gather.h"
#include "app/measured.h"
#include "app/mixed.h"
#include "app/steps.h"
#include "codec/color_said.h"
#include "codec/color_text.h"
#include "codec/job_desc.h"
#include "codec/mix_text.h"
#include "core/work/palette.h"

#include <math.h>
#include <string.h>

/* ---- recipes and mixes ---- */

/* What is measured with, and how much is wanted: the same members wherever amounts count. */
struct measure_args {
    enum measure measure;
    double step_ml, smallest_ml, amount_ml;
};
#define POUR(S, stem, m, dim, lo, h)                                                               \
    {                                                                                              \
        .name = #stem, .offset = offsetof(S, by.m), .type = FIELD_QUANTITY, .dimension = dim,      \
        .min = lo, .max = 1e6, .help = h                                                           \
    }
#define MEASURE_FIELDS(S)                                                                          \
    {.name = "measure",                                                                            \
     .offset = offsetof(S, by.measure),                                                            \
     .type = FIELD_WORD,                                                                           \
     .words = words_measure,                                                                       \
     .help = "what paint is measured with; else the shop's"},                                      \
        POUR(S, step, step_ml, DIM_POUR, 0.005,                                                    \
             "what the measure shows: 1/4 fl oz; else the shop's smallest"),                       \
        POUR(S, smallest, smallest_ml, DIM_POUR, 0.005, "no pour below it; else one step")

static bool in_parts(const struct measure_args *by, const struct shop *shop) {
    return (by->measure ? by->measure : shop->measure) == MEASURE_PART;
}

/* Nobody waits longer at the bench; with four paints and nothing learnt a proof takes minutes. */
#define SEARCH_S 2.0

struct recipes_args {
    struct recipe_ask ask;
    const char *batch, *recipe, *measured, *sample;
    double seconds; /* NAN: SEARCH_S */
    struct measure_args by;
};
#define AT(m) .name = #m, .offset = offsetof(struct recipes_args, ask.m)
static const struct field recipes_fields[] = {
    {AT(target), .type = FIELD_COLOR, .help = "color wanted, as CSS text or Munsell notation"},
    {.name = "measured",
     .offset = offsetof(struct recipes_args, measured),
     .type = FIELD_TEXT,
     .flags = FLAG_FILE,
     .help = "or the color of measured reflectance, CGATS.17 / ISO 28178 text or CSV: other lights "
             "are judged by it"},
    F_TEXT(struct recipes_args, sample, "name of the sample in that file; else its only one"),
    {.name = "paints_max",
     .offset = offsetof(struct recipes_args, ask.paints),
     .type = FIELD_INT,
     .min = 1,
     .max = 6,
     .help = "at most so many paints; else 3"},
    {AT(parts), .type = FIELD_INT, .min = 1, .max = 512,
     .help = "measured in so many parts; else 16"},
    {AT(class), .type = FIELD_ID, .help = "only paints of this kind of product"},
    {AT(only), .count_offset = offsetof(struct recipes_args, ask.only_n), .type = FIELD_TEXTS,
     .items_max = 64, .help = "only these paints"},
    {AT(never), .count_offset = offsetof(struct recipes_args, ask.never_n), .type = FIELD_TEXTS,
     .items_max = 64, .help = "none of these paints"},
    {AT(must), .count_offset = offsetof(struct recipes_args, ask.must_n), .type = FIELD_TEXTS,
     .items_max = 6, .help = "each of these paints"},
    {.name = "sure",
     .offset = offsetof(struct recipes_args, ask.by_expected),
     .type = FIELD_BOOL,
     .help = "prefer recipes whose color is surer, not just nearer"},
    {AT(buy), .type = FIELD_BOOL,
     .help = "paint may be bought: what is left on the shelf does not bind"},
    F_ID(struct recipes_args, batch, 0,
         "a batch whose color this is: other lights are judged by its reflectance"),
    F_ID(struct recipes_args, recipe, 0, "the same for a kept recipe"),
    MEASURE_FIELDS(struct recipes_args),
    F_NUM(struct recipes_args, seconds, 0.1, 600,
          "of processor time at most, then what was found so far without proof; else 2"),
    POUR(struct recipes_args, amount, amount_ml, DIM_VOLUME, 0.5,
         "how much is wanted; then parts follow from the measure, stock and smallest pour bind"),
};
#undef AT
static DESC(desc_recipes, struct recipes_args, "recipes_args", "What to search for.",
            recipes_fields);

/* The reflectance of the target, and its color where none was written. */
static enum status target_measured(struct op_call *call, const struct recipes_args *args,
                                   struct recipe_ask *ask, struct why *why) {
    const struct weights d50 = weights_make(call->app->tables, OBSERVER_2, LIGHT_D50);
    const struct spectrum_read *r;
    struct spectrum_text file;
    char text[96];
    enum status s =
        measured_read(args->measured, "/measured", SCALE_UNSAID, call->arena, &file, why);
    if (s || (s = measured_sample(&file, args->sample, &r, why))) return s;
    if (r->values.values_n) ask->reflectance = &r->grid;
    if (ask->target.text) return OK;
    color_print(NOTATION_LAB, spectrum_read_color(r, &d50), text, sizeof text);
    const char *kept = arena_text(call->arena, text);
    return kept ? color_said_read(kept, call->arena, &ask->target, why) : why_no_memory(why);
}

static enum status recipes(struct op_call *call, struct why *why) {
    const struct recipes_args *args = call->args;
    struct recipe_ask ask = args->ask;
    struct gathered g;
    enum status s = gather_job(call, NULL, false, &g, why);
    if (s) return s;
    if (ask.paints == INT64_MIN) ask.paints = 3;
    if (ask.parts == INT64_MIN) ask.parts = 16;
    ask.part_ml = 0;
    ask.reflectance = NULL;
    struct mixed again = {.spectral = false};
    if (args->batch)
        s = mixed_of_batch(call, args->batch, &again, why);
    else if (args->recipe)
        s = mixed_of_recipe(call, args->recipe, &again, why);
    if (s) return s;
    if (again.spectral) ask.reflectance = &again.reflectance;
    if (args->measured && (s = target_measured(call, args, &ask, why))) return s;
    if (args->by.amount_ml > 0 && !in_parts(&args->by, &g.job.shop)) {
        ask.measuring =
            measuring_of(&g.job.shop, args->by.measure, args->by.step_ml, args->by.smallest_ml);
        const size_t there = palette_paints(call->app->tables, &g.job.shelf, ask.class),
                     n = ask.only_n && ask.only_n < there ? ask.only_n : there;
        measuring_grid(&ask.measuring, args->by.amount_ml,
                       measuring_parts_max(&ask.measuring, n, ask.paints, ask.by_expected),
                       &ask.parts, &ask.part_ml);
    }
    ask.seconds = isnan(args->seconds) ? SEARCH_S : args->seconds;
    s = color_recipes(call->app->tables, &g.job.shelf, &ask, call->limit, call->arena, call->result,
                      why);
    struct recipe_answer *answer = call->result;
    if (!s && ask.part_ml > 0)
        answer->coarse = measuring_coarse(&ask.measuring, args->by.amount_ml,
                                          (double)ask.parts * ask.part_ml, call->arena);
    if (!s) recipe_answer_print(answer, &call->out_body);
    return s;
}

struct mix_args {
    const char *items;
    struct color_said target;
    int64_t marks;
    double most, part_ml;
    struct measure_args by;
};
static const struct field mix_fields[] = {
    {F_AT(struct mix_args, items), .type = FIELD_TEXT, .flags = FLAG_REQUIRED,
     .help = "paints and parts: white=3,black=1"},
    F_COLOR(struct mix_args, target, "the color that it is compared with"),
    F_INT(struct mix_args, marks, 2, MIX_MARKS,
          "also the colors with less and more of each paint, at so many marks"),
    F_NUM(struct mix_args, most, 1, 512, "parts at the last mark; else 16"),
    {.name = "part",
     .offset = offsetof(struct mix_args, part_ml),
     .type = FIELD_QUANTITY,
     .dimension = DIM_VOLUME,
     .min = 0.01,
     .max = 1e5,
     .help = "size of one part, so that amounts are said too"},
    {.name = "measure",
     .offset = offsetof(struct mix_args, by.measure),
     .type = FIELD_WORD,
     .words = words_measure,
     .help = "what paint is measured with; else the shop's"},
};
static DESC(desc_mix, struct mix_args, "shelf_mix_args", "Which mix.", mix_fields);

static enum status items_read(struct op_call *call, const char *text, struct gathered *g,
                              struct mix_item **out, size_t *out_n, struct why *why) {
    enum status s = mix_text_read(text, call->arena, out, out_n, why);
    return s ? s : gather_job(call, NULL, false, g, why);
}

static enum status mix(struct op_call *call, struct why *why) {
    const struct mix_args *args = call->args;
    struct gathered g;
    struct mix_item *items;
    size_t n;
    enum status s = items_read(call, args->items, &g, &items, &n, why);
    if (s) return s;
    struct mix_ask ask = {.items = items,
                          .items_n = n,
                          .target = args->target.text ? &args->target : NULL,
                          .marks = args->marks == INT64_MIN ? 0 : (int)args->marks,
                          .most = isnan(args->most) ? 16 : args->most,
                          .part_ml = isnan(args->part_ml) ? 0 : args->part_ml,
                          .measuring = measuring_of(&g.job.shop, args->by.measure, NAN, NAN)};
    s = color_mix(call->app->tables, &g.job.shelf, &ask, call->arena, call->result, why);
    if (!s) mix_answer_print(call->result, &call->out_body);
    return s;
}

/* ---- how it is poured ---- */

struct steps_args {
    const char *items;
    struct measure_args by;
    struct color_said target;
};
static const struct field steps_fields[] = {
    {F_AT(struct steps_args, items), .type = FIELD_TEXT, .flags = FLAG_REQUIRED,
     .help = "paints and parts: white=3,black=1"},
    {.name = "amount",
     .offset = offsetof(struct steps_args, by.amount_ml),
     .type = FIELD_QUANTITY,
     .dimension = DIM_VOLUME,
     .min = 0.5,
     .max = 1e6,
     .flags = FLAG_REQUIRED,
     .help = "how much is wanted: 16 fl oz"},
    MEASURE_FIELDS(struct steps_args),
    F_COLOR(struct steps_args, target, "the color that it is compared with"),
};
static DESC(desc_steps, struct steps_args, "steps_args", "Which mix, and how much.", steps_fields);

static enum status steps(struct op_call *call, struct why *why) {
    const struct steps_args *args = call->args;
    struct gathered g;
    struct steps_ask ask = {.amount_ml = args->by.amount_ml,
                            .target = args->target.text ? &args->target : NULL};
    enum status s = items_read(call, args->items, &g, &ask.items, &ask.items_n, why);
    if (s) return s;
    ask.measuring =
        measuring_of(&g.job.shop, args->by.measure, args->by.step_ml, args->by.smallest_ml);
    s = steps_make(call->app->tables, &g.job.shelf, &ask, call->arena, call->result, why);
    if (!s) steps_print(call->result, &call->out_body);
    return s;
}

static const char *const positional_items[] = {"items", NULL};
static const struct op rows[] = {
    {"recipes", OP_POST, "/api/recipes", &desc_recipes, &desc_recipe_answer, NULL,
     OP_READS | OP_SLOW, "best recipes for a color from the book's shelf, learned from its samples",
     recipes},
    {"shelf mix", OP_GET, "/api/mix", &desc_mix, &desc_mix_answer, positional_items, OP_READS,
     "the predicted color of a mix from the book's shelf", mix},
    {"steps", OP_GET, "/api/steps", &desc_steps, &desc_steps_answer, positional_items, OP_READS,
     "how an amount of a mix is poured, the strongest paint last and little by little", steps},
};
extern const struct ops ops_mixing;
const struct ops ops_mixing = {rows, sizeof rows / sizeof *rows};
