/* Mixing on the book's own shelf: recipes, the color of a mix, batches and their labels, and the
 * correction of a batch that dried to another color. */
#include "app/color_work.h"
#include "app/gather.h"
#include "app/label.h"
#include "app/op_sample.h"
#include "app/op_shelf.h"
#include "codec/color_said.h"
#include "codec/job_desc.h"
#include "codec/mix_text.h"
#include "codec/units_text.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { BATCH_ITEMS = 16 };

/* ---- recipes and mixes -------------------------------------------------------------------------
 */

#define AT(m) .name = #m, .offset = offsetof(struct recipe_ask, m)
static const struct field recipes_fields[] = {
    {AT(target), .type = FIELD_COLOR, .flags = FLAG_REQUIRED,
     .help = "color wanted, as CSS text or Munsell notation"},
    {.name = "paints_max",
     .offset = offsetof(struct recipe_ask, paints),
     .type = FIELD_INT,
     .min = 1,
     .max = 6,
     .help = "at most so many paints; else 3"},
    {AT(parts), .type = FIELD_INT, .min = 1, .max = 512,
     .help = "measured in so many parts; else 16"},
    {AT(class), .type = FIELD_ID, .help = "only paints of this kind of product"},
    {AT(only), .count_offset = offsetof(struct recipe_ask, only_n), .type = FIELD_TEXTS,
     .items_max = 64, .help = "only these paints"},
    {AT(never), .count_offset = offsetof(struct recipe_ask, never_n), .type = FIELD_TEXTS,
     .items_max = 64, .help = "none of these paints"},
    {AT(must), .count_offset = offsetof(struct recipe_ask, must_n), .type = FIELD_TEXTS,
     .items_max = 6, .help = "each of these paints"},
    {.name = "sure",
     .offset = offsetof(struct recipe_ask, by_expected),
     .type = FIELD_BOOL,
     .help = "prefer recipes whose color is surer, not just nearer"},
};
#undef AT
static DESC(desc_recipes, struct recipe_ask, "recipes_args", "What to search for.", recipes_fields);

static enum status recipes(struct op_call *call, struct why *why) {
    struct recipe_ask ask = *(const struct recipe_ask *)call->args;
    struct gathered g;
    if (ask.paints == INT64_MIN) ask.paints = 3;
    if (ask.parts == INT64_MIN) ask.parts = 16;
    enum status s = gather_job(call, NULL, false, &g, why);
    return s ? s
             : color_recipes(call->app->tables, &g.job.shelf, &ask, call->limit, call->arena,
                             call->result, why);
}

struct mix_args {
    const char *items;
    struct color_said target;
};
static const struct field mix_fields[] = {
    {F_AT(struct mix_args, items), .type = FIELD_TEXT, .flags = FLAG_REQUIRED,
     .help = "paints and parts: white=3,black=1"},
    F_COLOR(struct mix_args, target, "the color that it is compared with"),
};
static DESC(desc_mix, struct mix_args, "shelf_mix_args", "Which mix.", mix_fields);

static enum status mix(struct op_call *call, struct why *why) {
    const struct mix_args *args = call->args;
    struct gathered g;
    struct mix_item *items;
    size_t n;
    enum status s = mix_text_read(args->items, call->arena, &items, &n, why);
    if (s) why_under(why, "/items");
    if (!s) s = gather_job(call, NULL, false, &g, why);
    return s ? s
             : color_mix(call->app->tables, &g.job.shelf, items, n,
                         args->target.text ? &args->target : NULL, call->arena, call->result, why);
}

/* ---- batches -----------------------------------------------------------------------------------
 */

struct batch_view {
    struct batch_row row;
    struct batch_item_row *items;
    size_t items_n;
};
static const struct field item_fields[] = {
    F_TEXT(struct batch_item_row, paint, "of what"),
    F_NUM(struct batch_item_row, parts, 0, 0, "by volume"),
    F_QTY(struct batch_item_row, amount, amount_ml, DIM_VOLUME, 0, 0, "poured"),
};
static DESC(desc_item, struct batch_item_row, "batch_item", "What went into a batch.", item_fields);
#define ROW(m) .name = #m, .offset = offsetof(struct batch_view, row.m), .type = FIELD_TEXT
static const struct field view_fields[] = {
    {ROW(id), .help = "public name, printed on the jar"},
    {.name = "revision",
     .offset = offsetof(struct batch_view, row.revision),
     .type = FIELD_INT,
     .min = 0,
     .max = 9e15,
     .help = "the book's revision when it was last written"},
    {ROW(piece), .help = "mixed for"},
    {ROW(name), .help = "as the shop calls it"},
    {ROW(target), .help = "color aimed at"},
    {ROW(predicted_hex), .help = "#rrggbb predicted"},
    {ROW(dried), .help = "color it dried to"},
    {.name = "amount",
     .offset = offsetof(struct batch_view, row.amount_ml),
     .type = FIELD_QUANTITY,
     .dimension = DIM_VOLUME,
     .help = "how much was mixed"},
    {.name = "made",
     .offset = offsetof(struct batch_view, row.made_utc_min),
     .type = FIELD_INSTANT,
     .help = "when"},
    {ROW(note), .help = "anything else"},
    F_LIST(struct batch_view, items, &desc_item, BATCH_ITEMS, "what went into it"),
};
#undef ROW
static DESC(desc_view, struct batch_view, "batch_row", "Paint that was mixed.", view_fields);
static const struct field rows_fields[] = {F_ROWS(&desc_view)};
static DESC(desc_rows, struct list_answer, "batch_rows", "A page of batches, newest first.",
            rows_fields);
static const struct field list_fields[] = {
    F_ID(struct list_args, piece, 0, "only for this piece"),
    F_LIST_AFTER,
    F_LIST_LIMIT,
};
static DESC(desc_list, struct list_args, "batches_args", "Which batches.", list_fields);

struct batch_args {
    const char *name, *piece, *note;
    struct color_said target;
    struct mix_item *items;
    size_t items_n;
    double amount_ml;
};
static const struct field add_fields[] = {
    F_TEXT(struct batch_args, name, "as the shop calls it; the piece's title when not said"),
    F_ID(struct batch_args, piece, 0, "mixed for"),
    F_COLOR(struct batch_args, target, "color aimed at"),
    {F_AT(struct batch_args, items), .count_offset = offsetof(struct batch_args, items_n),
     .type = FIELD_LIST, .of = &desc_mix_item, .items_max = BATCH_ITEMS, .flags = FLAG_REQUIRED,
     .help = "paints and parts"},
    {.name = "amount",
     .offset = offsetof(struct batch_args, amount_ml),
     .type = FIELD_QUANTITY,
     .dimension = DIM_VOLUME,
     .min = 0.1,
     .max = 1e6,
     .flags = FLAG_REQUIRED,
     .help = "how much was mixed: 13 fl oz"},
    F_TEXT(struct batch_args, note, "anything else"),
};
static DESC(desc_add, struct batch_args, "batch_add_args", "What was mixed.", add_fields);

static enum status items_of(struct op_call *call, struct batch_view *v, struct why *why) {
    struct row_query q = {.where = "batch = ?1", .texts = {v->row.id}, .after = INT64_MIN};
    return row_list(call->book, &table_batch_item, &q, call->arena, (void **)&v->items, &v->items_n,
                    NULL, why);
}

static enum status list(struct op_call *call, struct why *why) {
    const struct list_args *args = call->args;
    struct list_answer *answer = call->result;
    struct row_query q = {.where = "removed = 0 AND (?1 IS NULL OR piece = ?1)",
                          .texts = {args->piece},
                          .down = true};
    enum status s = book_list(call, &table_batch, &q, args, why);
    struct batch_row *rows = answer->rows;
    struct batch_view *views = arena_array(call->arena, answer->rows_n + 1, sizeof *views);
    if (!s && !views) s = book_no_memory(why);
    for (size_t i = 0; !s && i < answer->rows_n; i++) {
        views[i].row = rows[i];
        s = items_of(call, &views[i], why);
    }
    answer->rows = views;
    return s;
}

static enum status show(struct op_call *call, struct why *why) {
    const struct id_args *args = call->args;
    struct batch_view *v = call->result;
    enum status s = book_get(call, &table_batch, args->id, &v->row, why);
    return s ? s : items_of(call, v, why);
}

static enum status pour(struct op_call *call, const struct batch_args *args,
                        const struct batch_row *batch, struct why *why) {
    double parts = 0;
    for (size_t i = 0; i < args->items_n; i++) parts += args->items[i].parts;
    if (!(parts > 0))
        return why_say(why, E_DOMAIN, "/items", "Give at least one paint with more than 0 parts.");
    enum status s = OK;
    for (size_t i = 0; i < args->items_n && !s; i++) {
        struct paint_row paint;
        struct batch_item_row row;
        char field[64];
        if (!(args->items[i].parts > 0)) continue;
        s = row_get(call->book, &table_paint, "id", args->items[i].paint, call->arena, &paint,
                    NULL);
        snprintf(field, sizeof field, "/items/%zu/paint", i);
        if (s)
            return s != E_NOT_FOUND
                       ? s
                       : why_say(why, E_REFERENCE, field,
                                 "There is no paint \"%.64s\" on the shelf.", args->items[i].paint);
        row_unsay(&table_batch_item, &row);
        row.batch = batch->id;
        row.paint = paint.id;
        row.parts = args->items[i].parts;
        row.amount_ml = args->amount_ml * row.parts / parts;
        s = row_add(call->book, &table_batch_item, &row, why);
        if (!s)
            s = paint_move(call, paint.id, "used", -row.amount_ml, (double)NAN, args->piece,
                           batch->id, NULL, why);
    }
    return s;
}

static const char *predicted(struct op_call *call, const struct batch_args *args) {
    struct gathered g;
    struct mix_answer answer;
    desc_unsay(&desc_mix_answer, &answer);
    if (gather_job(call, NULL, false, &g, NULL)) return NULL;
    if (color_mix(call->app->tables, &g.job.shelf, args->items, args->items_n, NULL, call->arena,
                  &answer, NULL))
        return NULL;
    return answer.hex;
}

static enum status add(struct op_call *call, struct why *why) {
    const struct batch_args *args = call->args;
    struct batch_view *v = call->result;
    struct piece_row piece;
    row_unsay(&table_batch, &v->row);
    row_unsay(&table_piece, &piece);
    enum status s = piece_there(call, args->piece, why);
    if (!s && args->piece) s = book_get(call, &table_piece, args->piece, &piece, why);
    if (s) return s;
    v->row.name = args->name && *args->name ? args->name : piece.title ? piece.title : "Batch";
    v->row.piece = args->piece;
    v->row.target = args->target.text;
    v->row.amount_ml = args->amount_ml;
    v->row.made_utc_min = book_call_now(call);
    v->row.note = args->note;
    v->row.predicted_hex = predicted(call, args);
    s = row_free_id(call->book, &table_batch, v->row.name, call->arena, &v->row.id, why);
    if (!s) s = row_add(call->book, &table_batch, &v->row, why);
    if (!s) s = pour(call, args, &v->row, why);
    if (!s) s = items_of(call, v, why);
    return s ? s : book_says(call->book, why, "%s: %.0f ml", v->row.name, args->amount_ml);
}

/* ---- a batch that dried to another color
 * --------------------------------------------------------- */

struct correct_args {
    const char *id;
    struct color_said dried;
    int read;
    int64_t parts;
};
static const struct field correct_fields[] = {
    F_ID(struct correct_args, id, FLAG_REQUIRED, "which batch"),
    {F_AT(struct correct_args, dried), .type = FIELD_COLOR, .flags = FLAG_REQUIRED,
     .help = "the color that it dried to"},
    F_WORD(struct correct_args, read, words_reading, "how the color was read"),
    F_INT(struct correct_args, parts, 1, 512,
          "what is in the batch counts as so many parts; 64 when not said"),
};
static DESC(desc_correct, struct correct_args, "batch_correct_args", "What it dried to.",
            correct_fields);

/* The reading becomes a sample, so that all later mixes learn from it. */
static enum status log_reading(struct op_call *call, const struct correct_args *args,
                               const struct batch_view *v, struct why *why) {
    struct text t = {0};
    struct sample_row row;
    text_print(&t, "{\"items\":[");
    for (size_t i = 0; i < v->items_n; i++) {
        char parts[40];
        number_print(v->items[i].parts, parts, sizeof parts);
        text_print(&t, "%s{\"paint\":\"%s\",\"parts\":%s}", i ? "," : "", v->items[i].paint, parts);
    }
    text_print(&t, "],\"color\":");
    text_json(&t, args->dried.text);
    if (args->read) text_print(&t, ",\"read\":\"%s\"", words_reading[args->read]);
    text_print(&t, ",\"note\":");
    text_json(&t, v->row.id);
    text_print(&t, "}");
    enum status s = t.failed ? book_no_memory(why) : sample_enter(call, t.at, "/dried", &row, why);
    text_free(&t);
    return s;
}

static enum status correct(struct op_call *call, struct why *why) {
    const struct correct_args *args = call->args;
    struct batch_view v;
    struct gathered g;
    struct recipe_ask ask = {.paints = 4, .parts = args->parts == INT64_MIN ? 64 : args->parts};
    enum status s = book_get(call, &table_batch, args->id, &v.row, why);
    if (!s) s = items_of(call, &v, why);
    if (!s && !v.row.target)
        s = why_say(why, E_MISSING, "/id", "This batch has no color that was aimed at.");
    if (!s) s = log_reading(call, args, &v, why);
    if (s) return s;
    v.row.dried = args->dried.text;
    s = row_change(call->book, &table_batch, &v.row, why);
    if (!s) s = color_said_read(v.row.target, call->arena, &ask.target, why);
    if (!s) s = gather_job(call, NULL, false, &g, why);
    ask.batch = s ? NULL : arena_array(call->arena, v.items_n + 1, sizeof *ask.batch);
    if (!s && !ask.batch) s = book_no_memory(why);
    for (size_t i = 0; !s && i < v.items_n; i++)
        ask.batch[i] = (struct mix_item){v.items[i].paint, v.items[i].parts};
    ask.batch_n = v.items_n;
    if (!s)
        s = color_recipes(call->app->tables, &g.job.shelf, &ask, call->limit, call->arena,
                          call->result, why);
    return s ? s : book_says(call->book, why, "%s dried to %s", v.row.name, args->dried.text);
}

/* ---- label -------------------------------------------------------------------------------------
 */

struct label_args {
    const char *id, *base;
    enum unit_system units;
};
static const struct field label_fields[] = {
    F_ID(struct label_args, id, FLAG_REQUIRED, "which batch"),
    F_TEXT(struct label_args, base, "address of the app, for the code: http://127.0.0.1:7878"),
    F_WORD(struct label_args, units, words_units, "us or metric; us when not said"),
};
static DESC(desc_label_args, struct label_args, "batch_label_args", "Which label.", label_fields);
struct label_answer {
    const char *title, *hex, *qr;
    const char **lines;
    size_t lines_n;
};
static const struct field answer_fields[] = {
    F_TEXT(struct label_answer, title, "first line"),
    F_TEXTS(struct label_answer, lines, 40, "the lines below"),
    F_TEXT(struct label_answer, hex, "#rrggbb of the swatch"),
    {F_AT(struct label_answer, qr), .type = FIELD_TEXT,
     .help = "code that leads to the batch, as SVG"},
};
static DESC(desc_label, struct label_answer, "batch_label", "A jar's label.", answer_fields);

static enum status label(struct op_call *call, struct why *why) {
    const struct label_args *args = call->args;
    struct label_answer *answer = call->result;
    struct batch_view v;
    enum unit_system units = args->units ? args->units : UNITS_US;
    enum status s = book_get(call, &table_batch, args->id, &v.row, why);
    if (!s) s = items_of(call, &v, why);
    if (s) return s;
    answer->lines = arena_array(call->arena, v.items_n + 2, sizeof *answer->lines);
    if (!answer->lines) return book_no_memory(why);
    answer->title = v.row.name;
    answer->hex = v.row.predicted_hex;
    answer->lines[answer->lines_n++] =
        arena_print(call->arena, "%s, batch %s",
                    units_text(call->arena, DIM_VOLUME, units, v.row.amount_ml), v.row.id);
    for (size_t i = 0; i < v.items_n; i++) {
        struct paint_row paint;
        row_unsay(&table_paint, &paint);
        s = row_get(call->book, &table_paint, "id", v.items[i].paint, call->arena, &paint, why);
        if (s) return s;
        char parts[40];
        number_print(v.items[i].parts, parts, sizeof parts);
        answer->lines[answer->lines_n++] = arena_print(
            call->arena, "%s %s %s: %s", parts, v.items[i].parts > 1 ? "parts" : "part", paint.name,
            units_text(call->arena, DIM_VOLUME, units, v.items[i].amount_ml));
    }
    const char *address =
        arena_print(call->arena, "%s/batches/%s", args->base ? args->base : "", v.row.id);
    return address ? label_code(address, call->arena, &answer->qr, why) : book_no_memory(why);
}

static const char *const positional_items[] = {"items", NULL};
static const struct op rows[] = {
    {"recipes", OP_POST, "/api/recipes", &desc_recipes, &desc_recipe_answer, NULL,
     OP_READS | OP_SLOW, "best recipes for a color from the book's shelf, learnt from its samples",
     recipes},
    {"shelf mix", OP_GET, "/api/mix", &desc_mix, &desc_mix_answer, positional_items, OP_READS,
     "the predicted color of a mix from the book's shelf", mix},
    {"batches", OP_GET, "/api/batches", &desc_list, &desc_rows, NULL, OP_READS,
     "paint that was mixed, newest first", list},
    {"batch show", OP_GET, "/api/batches/{id}", &desc_id_args, &desc_view, positional_id, OP_READS,
     "one batch and what went into it", show},
    {"batch add", OP_POST, "/api/batches", &desc_add, &desc_view, NULL, OP_WRITES,
     "log a batch: the shelf is less by what was poured", add},
    {"batch correct", OP_POST, "/api/batches/{id}/correct", &desc_correct, &desc_recipe_answer,
     positional_id, OP_WRITES | OP_SLOW,
     "the batch dried to another color: learn from it, and what to add", correct},
    {"batch label", OP_GET, "/api/batches/{id}/label", &desc_label_args, &desc_label, positional_id,
     OP_READS, "what the jar's label says", label},
};
extern const struct ops ops_mixing;
const struct ops ops_mixing = {rows, sizeof rows / sizeof *rows};
