/* recipe and mix: on a shelf document, or on the book's own shelf where one is open. */
#include "app/color_correct.h"
#include "app/color_learn.h"
#include "app/color_print.h"
#include "app/color_work.h"
#include "app/op.h"
#include "codec/job_desc.h"
#include "codec/mix_text.h"
#include "core/base/units.h"
#include "core/work/cans.h"
#include "core/work/names.h"
#include "core/work/unsaid_class.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static enum status shelf_read(struct op_call *call, const char *text, struct shelf **out,
                              struct why *why) {
    *out = arena_take(call->arena, sizeof **out);
    if (!*out) return why_no_memory(why);
    enum status s =
        document_read(&desc_shelf, SPELL_INPUT, text, strlen(text), call->arena, *out, why);
    if (!s) s = names_shelf_check(call->app->tables, *out, "", call->arena, why);
    if (!s) cans_fill(*out);
    if (!s) unsaid_classes(call->app->tables, *out);
    return s;
}

/* ---- recipe ---- */

struct recipe_args {
    const char *shelf;
    struct recipe_ask ask;
};

#define A(m) .offset = offsetof(struct recipe_args, ask.m)
static const struct field recipe_fields[] = {
    {F_AT(struct recipe_args, shelf), .type = FIELD_JSON, .flags = FLAG_REQUIRED | FLAG_FILE,
     .help = "the shelf document"},
    {.name = "target",
     A(target),
     .type = FIELD_COLOR,
     .flags = FLAG_REQUIRED,
     .help = "color wanted, as CSS text or Munsell notation"},
    {.name = "paints",
     A(paints),
     .type = FIELD_INT,
     .min = 1,
     .max = 6,
     .help = "at most so many paints; else 3"},
    {.name = "parts",
     A(parts),
     .type = FIELD_INT,
     .min = 1,
     .max = 512,
     .help = "measured in so many parts; else 16"},
    {.name = "class", A(class), .type = FIELD_ID, .help = "only paints of this class of product"},
    {.name = "only",
     A(only),
     .count_offset = offsetof(struct recipe_args, ask.only_n),
     .type = FIELD_TEXTS,
     .items_max = 64,
     .help = "only these paints"},
    {.name = "never",
     A(never),
     .count_offset = offsetof(struct recipe_args, ask.never_n),
     .type = FIELD_TEXTS,
     .items_max = 64,
     .help = "none of these paints"},
    {.name = "must",
     A(must),
     .count_offset = offsetof(struct recipe_args, ask.must_n),
     .type = FIELD_TEXTS,
     .items_max = 6,
     .help = "each of these paints"},
    {.name = "sure",
     A(by_expected),
     .type = FIELD_BOOL,
     .help = "prefer recipes whose color is surer, not just nearer"},
};
#undef A
static DESC(desc_recipe_args, struct recipe_args, "recipe_args", "What to search for.",
            recipe_fields);

static enum status run_recipe(struct op_call *call, struct why *why) {
    const struct recipe_args *a = call->args;
    struct recipe_ask ask = a->ask;
    struct shelf *shelf;
    enum status s = shelf_read(call, a->shelf, &shelf, why);
    if (s) return s;
    if (ask.paints == INT64_MIN) ask.paints = 3;
    if (ask.parts == INT64_MIN) ask.parts = 16;
    s = color_recipes(call->app->tables, shelf, &ask, call->limit, call->arena, call->result, why);
    if (!s) recipe_answer_print(call->result, &call->out_body);
    return s;
}

/* ---- mix ---- */

struct mix_args {
    const char *shelf, *items;
};

static const struct field mix_fields[] = {
    {F_AT(struct mix_args, shelf), .type = FIELD_JSON, .flags = FLAG_REQUIRED | FLAG_FILE,
     .help = "the shelf document"},
    {F_AT(struct mix_args, items), .type = FIELD_TEXT, .flags = FLAG_REQUIRED,
     .help = "paints and parts: white=3,black=1"},
};
static DESC(desc_mix_args, struct mix_args, "mix_args", "Which mix.", mix_fields);

static enum status run_mix(struct op_call *call, struct why *why) {
    const struct mix_args *a = call->args;
    struct shelf *shelf;
    struct mix_item *items;
    size_t n;
    enum status s = shelf_read(call, a->shelf, &shelf, why);
    if (s || (s = mix_text_read(a->items, call->arena, &items, &n, why))) return s;
    struct mix_ask ask = {.items = items, .items_n = n};
    s = color_mix(call->app->tables, shelf, &ask, call->arena, call->result, why);
    if (!s) mix_answer_print(call->result, &call->out_body);
    return s;
}

/* ---- next sample, correction ---- */

struct learn_args {
    const char *shelf, *items;
    struct color_said target, dried;
    double batch_ml, need_ml, most_ml;
    int64_t paints, parts_max;
    enum reading read;
    double good;
};

#define SHELF_ARG                                                                                  \
    {                                                                                              \
        F_AT(struct learn_args, shelf), .type = FIELD_JSON, .flags = FLAG_REQUIRED | FLAG_FILE,    \
                                        .help = "the shelf document"                               \
    }
#define TARGET_ARG                                                                                 \
    {                                                                                              \
        F_AT(struct learn_args, target), .type = FIELD_COLOR, .flags = FLAG_REQUIRED,              \
                                         .help = "color wanted"                                    \
    }

static const struct field next_fields[] = {
    SHELF_ARG,
    TARGET_ARG,
    F_TEXT(struct learn_args, items, "the recipe in hand: white=3,black=1; else the best"),
    F_INT(struct learn_args, parts_max, 2, 64, "parts of the test mix at most; else 12"),
    F_WORD(struct learn_args, read, words_reading, "how the card will be read; else by photo"),
};
static DESC(desc_next_args, struct learn_args, "next_sample_args", "For which recipe.",
            next_fields);

static enum status run_next(struct op_call *call, struct why *why) {
    const struct learn_args *a = call->args;
    struct next_ask ask = {
        .target = a->target, .parts_max = a->parts_max, .read = a->read, .smallest_ml = NAN};
    struct shelf *shelf;
    enum status s = shelf_read(call, a->shelf, &shelf, why);
    if (s ||
        (a->items && (s = mix_text_read(a->items, call->arena, &ask.items, &ask.items_n, why))))
        return s;
    s = color_next(call->app->tables, shelf, &ask, call->limit, call->arena, call->result, why);
    if (!s) next_answer_print(call->result, &call->out_body);
    return s;
}

static const struct field correct_fields[] = {
    SHELF_ARG,
    TARGET_ARG,
    {F_AT(struct learn_args, dried), .type = FIELD_COLOR, .flags = FLAG_REQUIRED,
     .help = "color the batch dried to"},
    {F_AT(struct learn_args, items), .type = FIELD_TEXT, .flags = FLAG_REQUIRED,
     .help = "what is in it: white=3,black=1"},
    {.name = "batch",
     .offset = offsetof(struct learn_args, batch_ml),
     .type = FIELD_QUANTITY,
     .dimension = DIM_VOLUME,
     .min = 1,
     .max = 1e5,
     .flags = FLAG_REQUIRED,
     .help = "how much is in it: 13 fl oz"},
    {.name = "need",
     .offset = offsetof(struct learn_args, need_ml),
     .type = FIELD_QUANTITY,
     .dimension = DIM_VOLUME,
     .min = 0,
     .max = 1e5,
     .help = "how much is needed; else as much"},
    {.name = "most",
     .offset = offsetof(struct learn_args, most_ml),
     .type = FIELD_QUANTITY,
     .dimension = DIM_VOLUME,
     .min = 1,
     .max = 1e6,
     .help = "how much may become of it; else twice"},
    F_INT(struct learn_args, paints, 1, 5, "paints to add at most; else 3"),
    F_NUM(struct learn_args, good, 0.1, 20, "predicted difference that is near enough; else 0.7"),
};
static DESC(desc_correct_args, struct learn_args, "correct_args", "Which batch.", correct_fields);

static enum status run_correct(struct op_call *call, struct why *why) {
    const struct learn_args *a = call->args;
    struct correct_ask ask = {.target = a->target,
                              .dried = a->dried,
                              .batch_ml = a->batch_ml,
                              .need_ml = a->need_ml,
                              .most_ml = a->most_ml,
                              .paints = a->paints,
                              .good = a->good};
    /* quarter ounces; of a small batch they would be a large share, and spoons show less */
    const struct shop us = {.units = UNITS_US};
    ask.measuring = measuring_of(
        &us, a->batch_ml < 8 * ML_PER_US_FL_OZ ? MEASURE_TSP : MEASURE_FL_OZ, NAN, NAN);
    struct shelf *shelf;
    enum status s = shelf_read(call, a->shelf, &shelf, why);
    if (s || (s = mix_text_read(a->items, call->arena, &ask.items, &ask.items_n, why))) return s;
    s = color_correct(call->app->tables, shelf, &ask, call->limit, call->arena, call->result, why);
    if (!s) correct_answer_print(call->result, &call->out_body);
    return s;
}

static const struct op rows[] = {
    {"next sample", OP_POST, "/api/documents/next-sample", &desc_next_args, &desc_next_answer, NULL,
     OP_SLOW, "the sample card that would make a recipe surest", run_next},
    {"correct", OP_POST, "/api/documents/correct", &desc_correct_args, &desc_correct_answer, NULL,
     OP_SLOW, "what to add to a batch that dried to another color", run_correct},
    {"recipe", OP_POST, "/api/documents/recipe", &desc_recipe_args, &desc_recipe_answer, NULL,
     OP_SLOW, "best recipes for a color from the paints of a shelf document, proven", run_recipe},
    {"mix", OP_POST, "/api/documents/mix", &desc_mix_args, &desc_mix_answer, NULL, 0,
     "the predicted color of a mix from a shelf document", run_mix},
};
extern const struct ops ops_color_work;
const struct ops ops_color_work = {rows, sizeof rows / sizeof *rows};
