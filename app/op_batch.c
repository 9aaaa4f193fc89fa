/* Batches: paint that was mixed for a job, and what went into it. */
#include "app/op_batch.h"
#include "app/batch_task.h"
#include "app/batch_text.h"
#include "app/gather.h"
#include "app/measuring.h"
#include "app/mixed.h"
#include "app/op_piece.h"
#include "app/op_shelf.h"
#include "app/uncounted.h"
#include "codec/color_said.h"
#include "codec/job_desc.h"
#include "core/base/name.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* ---- what a batch is ---- */

static const struct field part_fields[] = {
    F_TEXT(struct batch_part, paint, "id of the paint"),
    F_TEXT(struct batch_part, name, "its name"),
    F_TEXT(struct batch_part, hex, "its color, #rrggbb"),
    F_NUM(struct batch_part, parts, 0, 0, "by volume"),
    F_QTY(struct batch_part, amount, amount_ml, DIM_VOLUME, 0, 0, "poured"),
    F_TEXT(struct batch_part, text, "the same as the shop measures it; not in lists"),
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
    F_TEXT(struct batch_view, ticked, "task that is done by logging it"),
    F_TEXT(struct batch_view, past, "what was poured now that the shelf had not"),
    F_LIST(struct batch_view, items, &desc_batch_part, BATCH_ITEMS, "what went into it"),
};
#undef ROW
DESC(desc_batch, struct batch_view, "batch_row", "Paint that was mixed.", view_fields);
static const struct field rows_fields[] = {F_ROWS(&desc_batch)};
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

/* A list shows no pours, and a shop that is read for each of its rows is slow. */
static enum status fill(struct op_call *call, struct batch_view *v, struct why *why) {
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

/* What the measure showed for this pour; a scale goes by the paint's own density. */
static enum status part_text(struct op_call *call, const struct measuring *by,
                             struct batch_part *part, struct why *why) {
    struct paint_row row;
    struct paint paint;
    enum status s = row_get(call->book, &table_paint, "id", part->paint, call->arena, &row, why);
    if (!s)
        s = document_read(&desc_paint, SPELL_INPUT, row.document, strlen(row.document), call->arena,
                          &paint, why);
    if (s) return s;
    part->text = measuring_text(by, call->app->tables, &paint, part->amount_ml, call->arena);
    return part->text ? OK : why_no_memory(why);
}

enum status batch_fill(struct op_call *call, struct batch_view *v, struct why *why) {
    struct shop shop = {0};
    enum status s = fill(call, v, why);
    if (!s) s = gather_shop(call, &shop, why);
    const struct measuring by = measuring_of(&shop, MEASURE_UNSAID, NAN, NAN);
    for (size_t i = 0; i < v->items_n && !s; i++) s = part_text(call, &by, &v->items[i], why);
    return s;
}

enum status batch_get(struct op_call *call, const char *id, struct batch_view *v, struct why *why) {
    enum status s = book_get(call, &table_batch, id, &v->row, why);
    return s ? s : batch_fill(call, v, why);
}

/* ---- list, show ---- */

static const struct field list_fields[] = {
    F_ID(struct list_args, piece, 0, "only for this piece"),
    F_LIST_AFTER,
    F_LIST_LIMIT,
};
static DESC(desc_list, struct list_args, "batches_args", "Which batches.", list_fields);

static enum status fill_any(struct op_call *call, void *view, struct why *why) {
    return fill(call, view, why);
}

static enum status list(struct op_call *call, struct why *why) {
    const struct list_answer *answer = call->result;
    enum status s = book_views(call, &table_batch, "removed = 0 AND (?1 IS NULL OR piece = ?1)",
                               sizeof(struct batch_view), fill_any, why);
    return s ? s : batches_print(call, answer->rows, answer->rows_n, answer->next, why);
}

static enum status show(struct op_call *call, struct why *why) {
    const struct id_args *args = call->args;
    enum status s = batch_get(call, args->id, call->result, why);
    return s ? s : batches_print(call, call->result, 1, NULL, why);
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
     .help = "paints and parts: white=14,ochre=1"},
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

/* Says it where more is poured than the shelf has: the jar was counted wrong, or the amount typed
 * so. It was poured all the same, and stays written down. */
static enum status past_shelf(struct op_call *call, struct batch_view *v, struct paint_row paint,
                              double ml, struct why *why) {
    enum { NOISE_ML = 1 }; /* a measure shows no less */
    enum status s = uncounted_unsay(call, &paint, 1, why);
    if (s || isnan(paint.stock_ml) || ml <= fmax(paint.stock_ml, 0) + NOISE_ML) return s;
    const char *had = paint.stock_ml > NOISE_ML ? gather_volume(call, paint.stock_ml) : "none",
               *poured = gather_volume(call, ml);
    if (had && poured)
        v->past = arena_print(call->arena, "%s%sThe shelf had %s of %s; %s was poured.",
                              v->past ? v->past : "", v->past ? " " : "", had, paint.name, poured);
    return had && poured && v->past ? OK : why_no_memory(why);
}
/* One pour: into the batch, and off the shelf. */
static enum status pour_one(struct op_call *call, struct batch_view *v, const char *said,
                            const char *field, double parts, double ml, struct why *why) {
    const struct batch_row *batch = &v->row;
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
    if (!s) s = past_shelf(call, v, paint, ml, why);
    if (s) return s;
    return paint_move(call, paint.id, "used", -ml, (double)NAN, batch->piece, batch->id, NULL, why);
}

static enum status pour_all(struct op_call *call, const struct batch_args *args,
                            struct batch_view *v, struct why *why) {
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
            s = pour_one(call, v, args->items[i].paint, field, parts, args->amount_ml * parts / sum,
                         why);
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
    v->row.name = name_said(args->name) ? args->name : piece.title ? piece.title : "Batch";
    v->row.piece = args->piece;
    v->row.target = args->target.text;
    v->row.amount_ml = args->amount_ml;
    v->row.made_utc_min = book_call_now(call);
    v->row.note = args->note;
    predict(call, args->items, args->items_n, &v->row);
    s = row_free_id(call->book, &table_batch, v->row.name, call->arena, &v->row.id, why);
    if (!s) s = row_add(call->book, &table_batch, &v->row, why);
    if (!s) s = pour_all(call, args, v, why);
    if (!s) s = batch_fill(call, v, why);
    if (!s) s = batch_task_tick(call, args->piece, &v->ticked, why);
    return s ? s
             : book_says(call->book, why, "%s: %s", v->row.name,
                         gather_volume(call, args->amount_ml));
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
    double amount_ml;
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
     .type = FIELD_LIST, .of = &desc_more_item, .items_max = BATCH_ITEMS,
     .help = "paints and amounts: white=1 fl oz, black=2 drops"},
    F_QTY(struct more_args, amount, amount_ml, DIM_VOLUME, 0.01, 1e5,
          "instead: so much more of the same, in its own shares: 4 fl oz"),
};
static DESC(desc_more, struct more_args, "batch_more_args", "What was poured.", more_fields);

/* More of the same: every paint of it again, by its share. */
static enum status more_of_same(struct op_call *call, const struct batch_view *v,
                                struct more_args *args, struct why *why) {
    if (isnan(args->amount_ml))
        return why_say(why, E_MISSING, "/items",
                       "Say what was poured: a paint and its amount, or how much of the same.");
    args->items = arena_array(call->arena, v->items_n + 1, sizeof *args->items);
    if (!args->items) return why_no_memory(why);
    double sum = 0;
    for (size_t i = 0; i < v->items_n; i++) sum += v->items[i].parts;
    for (size_t i = 0; i < v->items_n; i++)
        args->items[args->items_n++] =
            (struct more_item){v->items[i].paint, args->amount_ml * v->items[i].parts / sum};
    return OK;
}

static enum status more(struct op_call *call, struct why *why) {
    struct more_args asked = *(const struct more_args *)call->args, *args = &asked;
    struct batch_view *v = call->result;
    enum status s = batch_get(call, args->id, v, why);
    if (!s) s = book_fresh(call, &table_batch, &v->row, why);
    if (!s && !args->items_n) s = more_of_same(call, v, args, why);
    if (s) return s;
    double sum = 0, added = 0;
    for (size_t i = 0; i < v->items_n; i++) sum += v->items[i].parts;
    for (size_t i = 0; i < args->items_n && !s; i++) {
        char field[64];
        double ml = args->items[i].amount_ml;
        snprintf(field, sizeof field, "/items/%zu/paint", i);
        s = pour_one(call, v, args->items[i].paint, field, ml * sum / v->row.amount_ml, ml, why);
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
    if (!s) s = batch_fill(call, v, why);
    return s ? s
             : book_says(call->book, why, "%s: %s more", v->row.name, gather_volume(call, added));
}

static enum status remove_batch(struct op_call *call, struct why *why) {
    const struct id_args *args = call->args;
    struct batch_row row;
    return book_remove(call, &table_batch, args->id, &row, why);
}

static const struct op rows[] = {
    {"batches", OP_GET, "/api/batches", &desc_list, &desc_rows, NULL, OP_READS,
     "paint that was mixed, newest first", list},
    {"batch show", OP_GET, "/api/batches/{id}", &desc_id_args, &desc_batch, positional_id, OP_READS,
     "one batch and what went into it", show},
    {"batch add", OP_POST, "/api/batches", &desc_add, &desc_batch, NULL, OP_WRITES,
     "log a batch: the shelf is less by what was poured, its task is done when it is enough", add},
    {"batch pour", OP_POST, "/api/batches/{id}/pour", &desc_more, &desc_batch, positional_id,
     OP_WRITES, "pour more into a batch: as a correction says, by drops, or more of the same",
     more},
    {"batch remove", OP_DELETE, "/api/batches/{id}", &desc_id_args, &desc_done, positional_id,
     OP_WRITES, "no longer list a batch; what it took from the shelf stays taken", remove_batch},
};
extern const struct ops ops_batch;
const struct ops ops_batch = {rows, sizeof rows / sizeof *rows};
