/* recipe and mix: on a shelf document, or on the book's own shelf where one is open. */
#include "app/color_print.h"
#include "app/color_work.h"
#include "app/op.h"
#include "codec/job_desc.h"
#include "codec/mix_text.h"

#include <stdlib.h>
#include <string.h>

static enum status shelf_read(struct op_call *call, const char *text, struct shelf **out,
                              struct why *why) {
    *out = arena_take(call->arena, sizeof **out);
    if (!*out) return why_say(why, E_MEMORY, "", "%s", status_text(E_MEMORY));
    return document_read(&desc_shelf, SPELL_INPUT, text, strlen(text), call->arena, *out, why);
}

/* ---- recipe
 * ------------------------------------------------------------------------------------------ */

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

/* ---- mix
 * -----------------------------------------------------------------------------------------------
 */

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
    s = color_mix(call->app->tables, shelf, items, n, NULL, call->arena, call->result, why);
    if (!s) mix_answer_print(call->result, &call->out_body);
    return s;
}

static const struct op rows[] = {
    {"recipe", OP_POST, "/api/documents/recipe", &desc_recipe_args, &desc_recipe_answer, NULL,
     OP_SLOW, "best recipes for a color from the paints of a shelf document, proven", run_recipe},
    {"mix", OP_POST, "/api/documents/mix", &desc_mix_args, &desc_mix_answer, NULL, 0,
     "the predicted color of a mix from a shelf document", run_mix},
};
extern const struct ops ops_color_work;
const struct ops ops_color_work = {rows, sizeof rows / sizeof *rows};
