/* After a batch was mixed: what to do when it dried to another color, what is left, its label. */
#include "app/color_print.h"
#include "app/gather.h"
#include "app/label.h"
#include "app/op_batch.h"
#include "app/op_sample.h"
#include "app/op_shelf.h"
#include "app/zone.h"
#include "codec/color_said.h"
#include "codec/job_desc.h"
#include "codec/text_wrap.h"
#include "codec/time_text.h"
#include "codec/units_text.h"

#include <math.h>

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
    F_QTY(struct correct_args, step, step_ml, DIM_POUR, 0.005, 1e6,
          "what the measure shows; else the shop's smallest"),
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
    if (ask.batch_ml > v->row.amount_ml * 1.001)
        return why_say(why, E_DOMAIN, "/holds", "It cannot hold more than was mixed, %s.",
                       gather_volume(call, v->row.amount_ml));
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
        s = why_say(why, E_DOMAIN, "/amount", "No more can be left than was mixed, %s.",
                    gather_volume(call, v->row.amount_ml));
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
    if (!s) s = batch_fill(call, v, why);
    return s ? s
             : book_says(call->book, why, "%s: %s left", v->row.name,
                         gather_volume(call, args->amount_ml));
}

/* ---- label ---- */

struct label_args {
    const char *id, *base;
    enum unit_system units;
};
static const struct field label_fields[] = {
    F_ID(struct label_args, id, FLAG_REQUIRED, "which batch"),
    F_TEXT(struct label_args, base, "address of the app, for the code: http://127.0.0.1:7878"),
    F_WORD(struct label_args, units, words_units, "us or metric; the shop's when not said"),
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

/* "Oct 12, 2026" by the shop's clock; NULL where that is not known: a wrong day is worse than none.
 */
static const char *made_text(struct op_call *call, const char *shop_zone, int64_t at_utc_min) {
    const struct zone_span *zone;
    size_t n;
    char text[32];
    if (zone_spans(shop_zone, at_utc_min, call->arena, &zone, &n, NULL)) return NULL;
    date_print(zone_local_day(zone, n, at_utc_min), text, sizeof text);
    return arena_text(call->arena, text);
}

/* To the mark at which it was poured: by the label the color is mixed again. */
static const char *pour_text(struct op_call *call, enum measure measure, enum unit_system units,
                             const struct batch_part *part) {
    char text[64];
    if (units != UNITS_METRIC || measure == MEASURE_GRAM) return part->text;
    units_print_measure(MEASURE_ML, part->amount_ml, (double)NAN, text, sizeof text);
    return arena_text(call->arena, text);
}

/* As on the jar, without its code: that is for a phone. */
static void label_print(const struct label_answer *l, struct text *out) {
    text_wrap(out, 0, 0, l->title);
    for (size_t i = 0; i < l->lines_n; i++)
        text_print(out, "  "), text_wrap(out, 2, 4, l->lines[i]);
}

static enum status label(struct op_call *call, struct why *why) {
    const struct label_args *args = call->args;
    struct label_answer *answer = call->result;
    struct batch_view v;
    struct shop shop = {0};
    enum status s = batch_get(call, args->id, &v, why);
    if (!s) s = gather_shop(call, &shop, why);
    if (s) return s;
    const enum unit_system units = args->units ? args->units : shop.units;
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
        answer->lines[answer->lines_n++] = arena_print(
            call->arena, "%s of %s (%.1f %%)", pour_text(call, shop.measure, units, &v.items[i]),
            v.items[i].name, 100 * v.items[i].parts / sum);
    const char *made = made_text(call, shop.zone, v.row.made_utc_min);
    if (made) answer->lines[answer->lines_n++] = arena_print(call->arena, "Mixed %s", made);
    if (v.row.target)
        answer->lines[answer->lines_n++] =
            isnan(v.difference)
                ? arena_print(call->arena, "Target %s", v.row.target)
                : arena_print(call->arena, "Target %s; dried %.1f off", v.row.target, v.difference);
    label_print(answer, &call->out_body);
    const char *address =
        arena_print(call->arena, "%s/batches/%s", args->base ? args->base : "", v.row.id);
    return address ? label_code(address, call->arena, &answer->qr, why) : why_no_memory(why);
}

static const struct op rows[] = {
    {"batch correct", OP_POST, "/api/batches/{id}/correct", &desc_correct, &desc_correct_answer,
     positional_id, OP_WRITES | OP_PREPARES | OP_SLOW,
     "the batch dried to another color: learn from it, and what to add or start again with",
     correct},
    {"batch left", OP_POST, "/api/batches/{id}/left", &desc_left, &desc_batch, positional_id,
     OP_WRITES, "so much is left of a batch: it stands on the shelf as a paint of its own", left},
    {"batch label", OP_GET, "/api/batches/{id}/label", &desc_label_args, &desc_label, positional_id,
     OP_READS, "what the jar's label says", label},
};
extern const struct ops ops_batch_after;
const struct ops ops_batch_after = {rows, sizeof rows / sizeof *rows};
