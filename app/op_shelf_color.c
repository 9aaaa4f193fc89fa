/* The shelf's colors: how well they are known, what they reach, how they hide. */
#include "app/color_hiding.h"
#include "app/color_known.h"
#include "app/color_print.h"
#include "app/color_reach.h"
#include "app/color_wet.h"
#include "app/entry_text.h"
#include "app/gather.h"
#include "app/id_words.h"
#include "codec/mix_text.h"
#include "core/work/wet_pairs.h"

static enum status known(struct op_call *call, struct why *why) {
    const struct why_args *args = call->args;
    struct known_answer *answer = call->result;
    struct ledger l;
    struct gathered g;
    ledger_init(&l, call->arena, args->why);
    enum status s = gather_job(call, NULL, false, &g, why);
    if (!s) s = color_known(call->app->tables, &g.job.shelf, call->arena, answer, why);
    if (!s) known_explain(&l, answer);
    if (!s) s = explain_done(call, &l, &answer->bases, &answer->bases_n, why);
    if (!s) known_print(answer, &call->out_body);
    return s;
}

struct reach_args {
    struct color_said target;
};
static const struct field reach_fields[] = {
    {F_AT(struct reach_args, target), .type = FIELD_COLOR, .flags = FLAG_REQUIRED,
     .help = "color wanted, as CSS text or Munsell notation"},
};
static DESC(desc_reach_args, struct reach_args, "reach_args", "At which hue.", reach_fields);

static enum status reach(struct op_call *call, struct why *why) {
    const struct reach_args *args = call->args;
    struct gathered g;
    enum status s = gather_job(call, NULL, false, &g, why);
    if (!s)
        s = color_reach(call->app->tables, &g.job.shelf, NULL, &args->target, call->limit,
                        call->arena, call->result, why);
    if (!s) reach_print(call->result, &call->out_body);
    return s;
}

struct hiding_args {
    const char *items;
    struct color_said ground;
};
static const struct field hiding_fields[] = {
    {F_AT(struct hiding_args, items), .type = FIELD_TEXT, .flags = FLAG_REQUIRED,
     .help = "paints and parts: white=3,black=1"},
    F_COLOR(struct hiding_args, ground, "color of what is to be hidden; else a brown old finish"),
};
static DESC(desc_hiding_args, struct hiding_args, "hiding_args", "Which mix over which ground.",
            hiding_fields);

static enum status hiding(struct op_call *call, struct why *why) {
    const struct hiding_args *args = call->args;
    struct gathered g;
    struct mix_item *items;
    size_t n;
    enum status s = mix_text_read(args->items, call->arena, &items, &n, why);
    if (!s) s = gather_job(call, NULL, false, &g, why);
    if (!s)
        s = color_hiding(call->app->tables, &g.job.shelf, items, n, &args->ground, g.job.shop.units,
                         call->arena, call->result, why);
    if (!s) hiding_print(call->result, &call->out_body);
    return s;
}

struct wet_args {
    struct color_said color;
    const char *items, *class;
};
static const struct field wet_fields[] = {
    F_COLOR(struct wet_args, color, "a color read while it was wet; else how each kind dries"),
    F_TEXT(struct wet_args, items, "paints and parts of that mix: white=3,black=1"),
    F_ID(struct wet_args, class, 0, "or its kind of product"),
};
static DESC(desc_wet_args, struct wet_args, "wet_args", "Which wet color.", wet_fields);

/* What was asked, else how each kind of product dries. */
static void wet_print(struct op_call *call, const struct wet_answer *r) {
    struct text *out = &call->out_body;
    if (r->text) text_wrap(out, 0, 0, r->text);
    for (size_t i = 0; !r->text && i < r->rows_n; i++) {
        const char *class = id_words(call->app->tables, "class", r->rows[i].class);
        text_wrap_print(out, 0, 2, "%s: %s", entry_words(call->arena, class), r->rows[i].text);
    }
}

static enum status wet(struct op_call *call, struct why *why) {
    const struct wet_args *args = call->args;
    struct sample mix = {0};
    struct gathered g;
    enum status s = gather_job(call, NULL, false, &g, why);
    if (!s && args->items)
        s = mix_text_read(args->items, call->arena, &mix.items, &mix.items_n, why);
    if (s) return s;
    const char *class = args->class;
    if (!class && args->items && !(class = wet_class_of(&g.job.shelf, &mix)))
        return why_say(why, E_DOMAIN, "/items",
                       "These paints are not of one kind, or not on the shelf: each kind dries in "
                       "its own way.");
    s = color_wet(&g.job.shelf, class, &args->color, call->arena, call->result, why);
    if (!s) wet_print(call, call->result);
    return s;
}

static const char *const positional_color[] = {"color", NULL};
static const char *const positional_target[] = {"target", NULL};
static const char *const positional_items[] = {"items", NULL};
static const struct op rows[] = {
    {"shelf known", OP_GET, "/api/shelf/known", &desc_why_args, &desc_known, NULL, OP_READS,
     "how well each paint's color is known, and which samples contradict the others", known},
    {"shelf reach", OP_GET, "/api/shelf/reach", &desc_reach_args, &desc_reach, positional_target,
     OP_READS | OP_SLOW, "what the shelf reaches at a color's hue, and what would extend it",
     reach},
    {"shelf wet", OP_GET, "/api/shelf/wet", &desc_wet_args, &desc_wet, positional_color, OP_READS,
     "what a wet color should dry to, from mixes that were read wet and dry", wet},
    {"hiding", OP_GET, "/api/hiding", &desc_hiding_args, &desc_hiding, positional_items, OP_READS,
     "how many coats of a mix hide the ground at hand", hiding},
};
extern const struct ops ops_shelf_color;
const struct ops ops_shelf_color = {rows, sizeof rows / sizeof *rows};
