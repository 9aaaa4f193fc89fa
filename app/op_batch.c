/* Batches: paint that was mixed for a job, what went into it, its label, what is left of it, and
 * what to do when it dried to another color. */
#include "app/color_correct.h"
#include "app/color_print.h"
#include "app/gather.h"
#include "app/label.h"
#include "app/mixed.h"
#include "app/op_sample.h"
#include "app/op_shelf.h"
#include "app/zone.h"
#include "codec/color_said.h"
#include "codec/job_desc.h"
#include "codec/time_text.h"
#include "codec/units_text.h"
#include "store/store.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { BATCH_ITEMS = 16 };

/* ---- what a batch is ---- */

struct batch_part { /* one paint of it, all its pours together */
    const char *paint, *name, *hex;
    double parts, amount_ml;
};
struct batch_view {
    struct batch_row row;
    struct batch_part *items;
    size_t items_n;
    double difference; /* of what it dried to; NAN: not read, or no target */
    double left_ml;    /* of it on the shelf; NAN: not put there */
};
static const struct field part_fields[] = {
    F_TEXT(struct batch_part, paint, "id of the paint"),
    F_TEXT(struct batch_part, name, "its name"),
    F_TEXT(struct batch_part, hex, "its color, #rrggbb"),
    F_NUM(struct batch_part, parts, 0, 0, "by volume"),
    F_QTY(struct batch_part, amount, amount_ml, DIM_VOLUME, 0, 0, "poured"),
};
static DESC(desc_batch_part, struct batch_part, "batch_item", "What went into a batch.",
            part_fields);
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
    {ROW(left_paint), .help = "the leftover on the shelf"},
    {ROW(note), .help = "anything else"},
    F_NUM(struct batch_view, difference, 0, 0, "of what it dried to from the target, CIEDE2000"),
    F_QTY(struct batch_view, left, left_ml, DIM_VOLUME, 0, 0, "left of it on the shelf"),
    F_LIST(struct batch_view, items, &desc_batch_part, BATCH_ITEMS, "what went into it"),
};
#undef ROW
static DESC(desc_view, struct batch_view, "batch_row", "Paint that was mixed.", view_fields);
static const struct field rows_fields[] = {F_ROWS(&desc_view)};
static DESC(desc_rows, struct list_answer, "batch_rows", "A page of batches, newest first.",
            rows_fields);

static enum status pours_of(struct op_call *call, const char *batch, struct batch_item_row **out,
                            size_t *out_n, struct why *why) {
    struct row_query q = {.where = "batch = ?1", .texts = {batch}, .after = INT64_MIN};
    return row_list(call->book, &table_batch_item, &q, call->arena, (void **)out, out_n, NULL, why);
}

static enum status part_name(struct op_call *call, struct batch_part *part, struct why *why) {
    struct paint_row paint;
    row_unsay(&table_paint, &paint);
    enum status s = row_get(call->book, &table_paint, "id", part->paint, call->arena, &paint, why);
    part->name = paint.name;
    part->hex = paint.color_hex;
    return s;
}

/* One part a paint: a correction may have poured the same one again. */
static enum status parts_of(struct op_call *call, struct batch_view *v, struct why *why) {
    struct batch_item_row *pours;
    size_t n;
    enum status s = pours_of(call, v->row.id, &pours, &n, why);
    if (s) return s;
    v->items = arena_array(call->arena, n + 1, sizeof *v->items);
    if (!v->items) return why_no_memory(why);
    v->items_n = 0;
    for (size_t i = 0; i < n && !s; i++) {
        size_t k = 0;
        while (k < v->items_n && strcmp(v->items[k].paint, pours[i].paint)) k++;
        if (k == v->items_n) {
            v->items[v->items_n++] = (struct batch_part){.paint = pours[i].paint};
            s = part_name(call, &v->items[k], why);
        }
        v->items[k].parts += pours[i].parts;
        v->items[k].amount_ml += pours[i].amount_ml;
    }
    return s;
}

static enum status view_fill(struct op_call *call, struct batch_view *v, struct why *why) {
    struct color_said target, dried;
    struct paint_row left;
    enum status s = parts_of(call, v, why);
    v->difference = v->left_ml = NAN;
    if (s) return s;
    if (v->row.target && v->row.dried &&
        !color_said_read(v->row.target, call->arena, &target, NULL) &&
        !color_said_read(v->row.dried, call->arena, &dried, NULL))
        v->difference = ciede2000(color_lab(&target), color_lab(&dried));
    if (v->row.left_paint &&
        !row_get(call->book, &table_paint, "id", v->row.left_paint, call->arena, &left, NULL))
        v->left_ml = left.removed ? NAN : left.stock_ml;
    return OK;
}

static enum status batch_get(struct op_call *call, const char *id, struct batch_view *v,
                             struct why *why) {
    enum status s = book_get(call, &table_batch, id, &v->row, why);
    return s ? s : view_fill(call, v, why);
}

/* ---- list, show ---- */

static const struct field list_fields[] = {
    F_ID(struct list_args, piece, 0, "only for this piece"),
    F_LIST_AFTER,
    F_LIST_LIMIT,
};
static DESC(desc_list, struct list_args, "batches_args", "Which batches.", list_fields);

static enum status list(struct op_call *call, struct why *why) {
    const struct list_args *args = call->args;
    struct list_answer *answer = call->result;
    struct row_query q = {.where = "removed = 0 AND (?1 IS NULL OR piece = ?1)",
                          .texts = {args->piece},
                          .down = true};
    enum status s = book_list(call, &table_batch, &q, args, why);
    struct batch_row *rows = answer->rows;
    struct batch_view *views = arena_array(call->arena, answer->rows_n + 1, sizeof *views);
    if (!s && !views) s = why_no_memory(why);
    for (size_t i = 0; !s && i < answer->rows_n; i++) {
        views[i].row = rows[i];
        s = view_fill(call, &views[i], why);
    }
    answer->rows = views;
    return s;
}

static enum status show(struct op_call *call, struct why *why) {
    const struct id_args *args = call->args;
    return batch_get(call, args->id, call->result, why);
}

/* ---- mixing one ---- */

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

/* One pour: into the batch, and off the shelf. */
static enum status pour_one(struct op_call *call, const struct batch_row *batch, const char *said,
                            const char *field, double parts, double ml, struct why *why) {
    struct paint_row paint;
    struct batch_item_row row;
    enum status s = row_get(call->book, &table_paint, "id", said, call->arena, &paint, NULL);
    if (s == E_NOT_FOUND || (!s && paint.removed))
        return why_say(why, E_REFERENCE, field, "There is no paint \"%.64s\" on the shelf.", said);
    if (s) return s;
    row_unsay(&table_batch_item, &row);
    row.batch = batch->id;
    row.paint = paint.id;
    row.parts = parts;
    row.amount_ml = ml;
    row.color_hex = paint.color_hex;
    s = row_add(call->book, &table_batch_item, &row, why);
    if (s) return s;
    return paint_move(call, paint.id, "used", -ml, (double)NAN, batch->piece, batch->id, NULL, why);
}

static enum status pour_all(struct op_call *call, const struct batch_args *args,
                            const struct batch_row *batch, struct why *why) {
    double sum = 0;
    for (size_t i = 0; i < args->items_n; i++) sum += args->items[i].parts;
    if (!(sum > 0))
        return why_say(why, E_DOMAIN, "/items", "Give at least one paint with more than 0 parts.");
    enum status s = OK;
    for (size_t i = 0; i < args->items_n && !s; i++) {
        char field[64];
        double parts = args->items[i].parts;
        snprintf(field, sizeof field, "/items/%zu/paint", i);
        if (parts > 0)
            s = pour_one(call, batch, args->items[i].paint, field, parts,
                         args->amount_ml * parts / sum, why);
    }
    return s;
}

static void predict(struct op_call *call, const struct mix_item *items, size_t n,
                    struct batch_row *row) {
    struct gathered g;
    struct mix_answer answer;
    struct mix_ask ask = {.items = items, .items_n = n};
    row->predicted_hex = row->spectrum = NULL;
    if (gather_job(call, NULL, false, &g, NULL) ||
        color_mix(call->app->tables, &g.job.shelf, &ask, call->arena, &answer, NULL))
        return; /* paints without a known color are mixed too */
    row->predicted_hex = answer.hex;
    row->spectrum = mixed_spectrum_text(call, &answer.reflectance);
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
    predict(call, args->items, args->items_n, &v->row);
    s = row_free_id(call->book, &table_batch, v->row.name, call->arena, &v->row.id, why);
    if (!s) s = row_add(call->book, &table_batch, &v->row, why);
    if (!s) s = pour_all(call, args, &v->row, why);
    if (!s) s = view_fill(call, v, why);
    return s ? s : book_says(call->book, why, "%s: %.0f ml", v->row.name, args->amount_ml);
}

/* ---- pouring more into it ---- */

struct more_item {
    const char *paint;
    double amount_ml;
};
struct more_args {
    const char *id;
    struct more_item *items;
    size_t items_n;
};
static const struct field more_item_fields[] = {
    F_ID(struct more_item, paint, FLAG_REQUIRED, "id of the paint"),
    {.name = "amount",
     .offset = offsetof(struct more_item, amount_ml),
     .type = FIELD_QUANTITY,
     .dimension = DIM_VOLUME,
     .min = 0.01,
     .max = 1e5,
     .flags = FLAG_REQUIRED,
     .help = "how much: 1/2 fl oz"},
};
static DESC(desc_more_item, struct more_item, "batch_more_item", "One pour.", more_item_fields);
static const struct field more_fields[] = {
    F_ID(struct more_args, id, FLAG_REQUIRED, "which batch"),
    {F_AT(struct more_args, items), .count_offset = offsetof(struct more_args, items_n),
     .type = FIELD_LIST, .of = &desc_more_item, .items_max = BATCH_ITEMS, .flags = FLAG_REQUIRED,
     .help = "paints and amounts"},
};
static DESC(desc_more, struct more_args, "batch_more_args", "What was poured.", more_fields);

static enum status more(struct op_call *call, struct why *why) {
    const struct more_args *args = call->args;
    struct batch_view *v = call->result;
    enum status s = batch_get(call, args->id, v, why);
    if (!s) s = book_fresh(call, &table_batch, &v->row, why);
    if (!s && !args->items_n)
        s = why_say(why, E_MISSING, "/items", "Say what was poured: a paint and its amount.");
    if (s) return s;
    double sum = 0, added = 0;
    for (size_t i = 0; i < v->items_n; i++) sum += v->items[i].parts;
    for (size_t i = 0; i < args->items_n && !s; i++) {
        char field[64];
        double ml = args->items[i].amount_ml;
        snprintf(field, sizeof field, "/items/%zu/paint", i);
        s = pour_one(call, &v->row, args->items[i].paint, field, ml * sum / v->row.amount_ml, ml,
                     why);
        added += ml;
    }
    if (!s) s = parts_of(call, v, why);
    if (!s && v->items_n > BATCH_ITEMS)
        s = why_say(why, E_TOO_LARGE, "/items", "A batch holds at most %d different paints.",
                    BATCH_ITEMS);
    if (s) return s;
    struct mix_item now[BATCH_ITEMS];
    for (size_t i = 0; i < v->items_n; i++)
        now[i] = (struct mix_item){v->items[i].paint, v->items[i].parts};
    v->row.amount_ml += added;
    v->row.dried = NULL; /* it is another color now, and has not dried */
    predict(call, now, v->items_n, &v->row);
    s = row_change(call->book, &table_batch, &v->row, why);
    if (!s) s = view_fill(call, v, why);
    return s ? s : book_says(call->book, why, "%s: %.0f ml more", v->row.name, added);
}

/* ---- a batch that dried to another color ---- */

struct correct_args {
    const char *id;
    struct color_said dried;
    int read, sheen;
    double holds_ml, need_ml, most_ml, step_ml, good;
    enum measure measure;
    int64_t paints;
};
#define ML(stem, m, lo, h) F_QTY(struct correct_args, stem, m, DIM_VOLUME, lo, 1e6, h)
static const struct field correct_fields[] = {
    F_ID(struct correct_args, id, FLAG_REQUIRED, "which batch"),
    {F_AT(struct correct_args, dried), .type = FIELD_COLOR, .flags = FLAG_REQUIRED,
     .help = "the color that it dried to"},
    F_WORD(struct correct_args, read, words_reading, "how the color was read"),
    F_WORD(struct correct_args, sheen, words_sheen, "sheen of the card"),
    ML(holds, holds_ml, 1, "how much is in it now; all that was mixed when not said"),
    ML(need, need_ml, 0, "how much is needed in the end; else as much as it holds"),
    ML(most, most_ml, 1, "how much may become of it; else twice"),
    F_WORD(struct correct_args, measure, words_measure, "what is measured with; else the shop's"),
    ML(step, step_ml, 0.01, "what the measure shows; else the shop's smallest"),
    F_INT(struct correct_args, paints, 1, 5, "paints to add at most; else 3"),
    F_NUM(struct correct_args, good, 0.1, 20, "predicted difference that is near enough; else 0.7"),
};
#undef ML
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
    if (args->sheen) text_print(&t, ",\"sheen\":\"%s\"", words_sheen[args->sheen]);
    text_print(&t, ",\"note\":");
    text_json(&t, v->row.name);
    text_print(&t, "}");
    enum status s = t.failed ? why_no_memory(why) : sample_enter(call, t.at, "/dried", &row, why);
    text_free(&t);
    return s;
}

static enum status correct_ask_fill(struct op_call *call, const struct correct_args *args,
                                    const struct batch_view *v, const struct shop *shop,
                                    struct correct_ask *out, struct why *why) {
    struct correct_ask ask = {.dried = args->dried,
                              .read = (enum reading)args->read,
                              .batch_ml = isnan(args->holds_ml) ? v->row.amount_ml : args->holds_ml,
                              .need_ml = args->need_ml,
                              .most_ml = args->most_ml,
                              .paints = args->paints,
                              .good = args->good};
    ask.measuring = measuring_of(shop, args->measure, args->step_ml, NAN);
    ask.part_ml = ask.measuring.step_ml;
    if (ask.batch_ml > v->row.amount_ml * 1.001)
        return why_say(why, E_DOMAIN, "/holds", "It cannot hold more than was mixed, %.0f ml.",
                       v->row.amount_ml);
    enum status s = color_said_read(v->row.target, call->arena, &ask.target, why);
    ask.items = arena_array(call->arena, v->items_n + 1, sizeof *ask.items);
    if (!s && !ask.items) s = why_no_memory(why);
    if (s) return s;
    ask.items_n = v->items_n;
    for (size_t i = 0; i < v->items_n; i++)
        ask.items[i] = (struct mix_item){v->items[i].paint, v->items[i].parts};
    *out = ask;
    return OK;
}

static enum status correct(struct op_call *call, struct why *why) {
    const struct correct_args *args = call->args;
    struct batch_view v;
    struct gathered g;
    struct correct_ask ask;
    enum status s = batch_get(call, args->id, &v, why);
    if (!s && !v.row.target)
        s = why_say(why, E_MISSING, "/id", "This batch has no color that was aimed at.");
    if (!s && !call->prepared) { /* the answer itself is what is prepared */
        s = gather_job(call, NULL, false, &g, why);
        if (!s) s = correct_ask_fill(call, args, &v, &g.job.shop, &ask, why);
        if (!s)
            s = color_correct(call->app->tables, &g.job.shelf, &ask, call->limit, call->arena,
                              call->result, why);
        if (!s) correct_answer_print(call->result, &call->out_body);
        call->prepared = call->result;
    }
    if (s || !book_writes(call->book)) return s;
    s = log_reading(call, args, &v, why);
    v.row.dried = args->dried.text;
    if (!s) s = row_change(call->book, &table_batch, &v.row, why);
    return s ? s : book_says(call->book, why, "%s dried to %s", v.row.name, args->dried.text);
}

/* ---- what is left of it ---- */

struct left_args {
    const char *id;
    double amount_ml;
};
static const struct field left_fields[] = {
    F_ID(struct left_args, id, FLAG_REQUIRED, "which batch"),
    {.name = "amount",
     .offset = offsetof(struct left_args, amount_ml),
     .type = FIELD_QUANTITY,
     .dimension = DIM_VOLUME,
     .min = 0,
     .max = 1e6,
     .flags = FLAG_REQUIRED,
     .help = "how much is left: 4 fl oz"},
};
static DESC(desc_left, struct left_args, "batch_left_args", "How much is left.", left_fields);

/* A leftover knows what it was mixed of; class and sheen are those of its first paint. */
static enum status left_document(struct op_call *call, const struct batch_view *v, double ml,
                                 const char **out, struct why *why) {
    struct paint_row first;
    struct text t = {0};
    row_unsay(&table_paint, &first);
    enum status s =
        row_get(call->book, &table_paint, "id", v->items[0].paint, call->arena, &first, why);
    if (s) return s;
    const char *name = arena_print(call->arena, "%s, left", v->row.name);
    if (!name) return why_no_memory(why);
    if ((s = paint_free_name(call, name, &name, why))) return s; /* mixed and left before */
    text_print(&t, "{\"name\":");
    text_json(&t, name);
    if (first.class) text_print(&t, ",\"class\":\"%s\"", first.class);
    if (first.sheen) text_print(&t, ",\"sheen\":\"%s\"", first.sheen);
    const char *color = v->row.dried ? v->row.dried : v->row.predicted_hex;
    if (color) text_print(&t, ",\"color\":"), text_json(&t, color);
    text_print(&t, ",\"stock\":\"%.6f ml\",\"leftover_of\":[", ml);
    for (size_t i = 0; i < v->items_n; i++) {
        char parts[40];
        number_print(v->items[i].parts, parts, sizeof parts);
        text_print(&t, "%s{\"paint\":\"%s\",\"parts\":%s}", i ? "," : "", v->items[i].paint, parts);
    }
    text_print(&t, "]}");
    *out = t.failed ? NULL : arena_text(call->arena, t.at);
    text_free(&t);
    return *out ? OK : why_no_memory(why);
}

static enum status left(struct op_call *call, struct why *why) {
    const struct left_args *args = call->args;
    struct batch_view *v = call->result;
    struct paint_row paint;
    const char *document;
    enum status s = batch_get(call, args->id, v, why);
    if (!s && args->amount_ml > v->row.amount_ml * 1.001)
        s = why_say(why, E_DOMAIN, "/amount", "No more can be left than was mixed, %.0f ml.",
                    v->row.amount_ml);
    if (s) return s;
    if (v->row.left_paint && !isnan(v->left_ml)) { /* counted again */
        s = paint_move(call, v->row.left_paint, "counted", args->amount_ml - v->left_ml,
                       (double)NAN, v->row.piece, v->row.id, NULL, why);
    } else {
        s = left_document(call, v, args->amount_ml, &document, why);
        if (!s) s = paint_enter(call, document, "/amount", &paint, why);
        v->row.left_paint = s ? NULL : paint.id;
        if (!s) s = row_change(call->book, &table_batch, &v->row, why);
    }
    if (!s) s = view_fill(call, v, why);
    return s ? s : book_says(call->book, why, "%s: %.0f ml left", v->row.name, args->amount_ml);
}

/* ---- label ---- */

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

static const char *swatch_of(struct op_call *call, const struct batch_row *row) {
    struct color_said dried;
    if (row->dried && !color_said_read(row->dried, call->arena, &dried, NULL))
        return book_hex(call, &dried);
    return row->predicted_hex;
}

/* "Oct 12, 2026" in the shop's zone; NULL where that is not known. */
static const char *made_text(struct op_call *call, int64_t at_utc_min) {
    const struct zone_span *zone;
    struct gathered g;
    size_t n;
    char text[32];
    if (gather_job(call, NULL, false, &g, NULL) ||
        zone_spans(g.job.shop.zone, at_utc_min, call->arena, &zone, &n, NULL))
        return NULL;
    date_print((at_utc_min + zone_offset_min(zone, n, at_utc_min)) / 1440, text, sizeof text);
    return arena_text(call->arena, text);
}

static enum status label(struct op_call *call, struct why *why) {
    const struct label_args *args = call->args;
    struct label_answer *answer = call->result;
    struct batch_view v;
    enum unit_system units = args->units ? args->units : UNITS_US;
    enum status s = batch_get(call, args->id, &v, why);
    if (s) return s;
    answer->lines = arena_array(call->arena, v.items_n + 4, sizeof *answer->lines);
    if (!answer->lines) return why_no_memory(why);
    answer->title = v.row.name;
    answer->hex = swatch_of(call, &v.row);
    answer->lines[answer->lines_n++] =
        arena_print(call->arena, "%s, batch %s",
                    units_text(call->arena, DIM_VOLUME, units, v.row.amount_ml), v.row.id);
    double sum = 0;
    for (size_t i = 0; i < v.items_n; i++) sum += v.items[i].parts;
    for (size_t i = 0; i < v.items_n; i++)
        answer->lines[answer->lines_n++] =
            arena_print(call->arena, "%s of %s (%.1f %%)",
                        units_text(call->arena, DIM_VOLUME, units, v.items[i].amount_ml),
                        v.items[i].name, 100 * v.items[i].parts / sum);
    const char *made = made_text(call, v.row.made_utc_min);
    if (made) answer->lines[answer->lines_n++] = arena_print(call->arena, "Mixed %s", made);
    if (v.row.target)
        answer->lines[answer->lines_n++] =
            isnan(v.difference)
                ? arena_print(call->arena, "Target %s", v.row.target)
                : arena_print(call->arena, "Target %s; dried %.1f off", v.row.target, v.difference);
    const char *address =
        arena_print(call->arena, "%s/batches/%s", args->base ? args->base : "", v.row.id);
    return address ? label_code(address, call->arena, &answer->qr, why) : why_no_memory(why);
}

static enum status remove_batch(struct op_call *call, struct why *why) {
    const struct id_args *args = call->args;
    struct batch_row row;
    return book_remove(call, &table_batch, args->id, &row, why);
}

static const struct op rows[] = {
    {"batches", OP_GET, "/api/batches", &desc_list, &desc_rows, NULL, OP_READS,
     "paint that was mixed, newest first", list},
    {"batch show", OP_GET, "/api/batches/{id}", &desc_id_args, &desc_view, positional_id, OP_READS,
     "one batch and what went into it", show},
    {"batch add", OP_POST, "/api/batches", &desc_add, &desc_view, NULL, OP_WRITES,
     "log a batch: the shelf is less by what was poured", add},
    {"batch pour", OP_POST, "/api/batches/{id}/pour", &desc_more, &desc_view, positional_id,
     OP_WRITES, "pour more into a batch, as a correction says", more},
    {"batch correct", OP_POST, "/api/batches/{id}/correct", &desc_correct, &desc_correct_answer,
     positional_id, OP_WRITES | OP_PREPARES | OP_SLOW,
     "the batch dried to another color: learn from it, and what to add or start again with",
     correct},
    {"batch left", OP_POST, "/api/batches/{id}/left", &desc_left, &desc_view, positional_id,
     OP_WRITES, "so much is left of a batch: it stands on the shelf as a paint of its own", left},
    {"batch label", OP_GET, "/api/batches/{id}/label", &desc_label_args, &desc_label, positional_id,
     OP_READS, "what the jar's label says", label},
    {"batch remove", OP_DELETE, "/api/batches/{id}", &desc_id_args, &desc_done, positional_id,
     OP_WRITES, "no longer list a batch; what it took from the shelf stays taken", remove_batch},
};
extern const struct ops ops_batch;
const struct ops ops_batch = {rows, sizeof rows / sizeof *rows};
