/* Samples: known mixes, painted on a card, dried, their color read. Colors are learnt from them. */
#include "app/op_sample.h"
#include "app/color_learn.h"
#include "app/color_print.h"
#include "app/gather.h"
#include "app/sample_text.h"
#include "codec/job_desc.h"
#include "core/work/job.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Of a row, and of what has one as its first member. */
#define F_SAMPLE_ROW                                                                               \
    F_TEXT(struct sample_row, id, "public name"), F_REVISION(struct sample_row),                   \
        F_TEXT(struct sample_row, color_hex, "#rrggbb, for a swatch"),                             \
        F_TEXT(struct sample_row, read, "instrument, photo, chart or eye"),                        \
        F_TIME(struct sample_row, at, at_utc_min, FIELD_INSTANT, "when it was entered"),           \
        F_JSON(struct sample_row, document, "the sample as typed: items, color, how it was read")

static const struct field row_fields[] = {F_SAMPLE_ROW};
static DESC(desc_sample_row, struct sample_row, "sample_row", "A sample.", row_fields);
static const struct field rows_fields[] = {F_ROWS(&desc_sample_row)};
static DESC(desc_rows, struct list_answer, "sample_rows", "A page of samples, newest first.",
            rows_fields);
static const struct field list_fields[] = {
    F_ID(struct list_args, paint, 0, "only those with this paint in them"),
    F_LIST_AFTER,
    F_LIST_LIMIT,
};
static DESC(desc_list, struct list_args, "samples_args", "Which samples.", list_fields);

/* What was entered, and what is to be minded of it. */
struct sample_added {
    struct sample_row row;
    const char *text;
};
static const struct field added_fields[] = {
    F_SAMPLE_ROW,
    F_TEXT(struct sample_added, text, "that the same mix was read as the same color before"),
};
static DESC(desc_added, struct sample_added, "sample_added", "A sample that was logged.",
            added_fields);

struct sample_args {
    const char *sample;
};
static const struct field add_fields[] = {
    {F_AT(struct sample_args, sample), .type = FIELD_JSON, .flags = FLAG_FILE | FLAG_REQUIRED,
     .help =
         "the sample as in a shelf document: items with paint and parts, color or lab, how read"},
};
static DESC(desc_add, struct sample_args, "sample_add_args", "A new sample.", add_fields);

/* A mix of paints that are there, each once and with some parts. */
static enum status items_check(struct op_call *call, const struct sample *p, const char *member,
                               struct why *why) {
    struct paint_row paint;
    char field[128];
    snprintf(field, sizeof field, "%s/items", member);
    if (!p->items_n)
        return why_say(why, E_MISSING, field,
                       "Say what is on the card: paints, and parts of each by volume.");
    for (size_t i = 0; i < p->items_n; i++) {
        const char *id = p->items[i].paint;
        snprintf(field, sizeof field, "%s/items/%zu/parts", member, i);
        if (!(p->items[i].parts > 0))
            return why_say(why, E_DOMAIN, field,
                           "No part of \"%.64s\": write how many, or leave it out.", id);
        snprintf(field, sizeof field, "%s/items/%zu/paint", member, i);
        for (size_t k = 0; k < i; k++)
            if (!strcmp(p->items[k].paint, id))
                return why_say(why, E_DOMAIN, field,
                               "\"%.64s\" is in it twice: write all its parts once.", id);
        enum status s = row_get(call->book, &table_paint, "id", id, call->arena, &paint, NULL);
        if (s == E_NOT_FOUND)
            return why_say(why, E_REFERENCE, field, "There is no paint \"%.64s\" on the shelf.",
                           id);
        if (s) return s;
    }
    return OK;
}

enum status sample_enter(struct op_call *call, const char *document, const char *member,
                         struct sample_row *out_row, struct why *why) {
    struct sample *p = arena_take(call->arena, sizeof *p);
    if (!p) return why_no_memory(why);
    row_unsay(&table_sample, out_row);
    enum status s =
        book_merge(call, &desc_sample, document, NULL, member, &out_row->document, p, why);
    if (!s) s = items_check(call, p, member, why);
    if (!s && !p->color.text) {
        char field[96];
        snprintf(field, sizeof field, "%s/color", member);
        s = why_say(why, E_MISSING, field,
                    "Say what color it dried to: #2f5d62 or lab(36 -14 -8).");
    }
    if (!s) s = book_new_id(call, &table_sample, p->id, "sample", &out_row->id, why);
    if (s) return s;
    out_row->color_hex = book_hex(call, &p->color);
    out_row->read = p->read ? words_reading[p->read] : NULL;
    out_row->at_utc_min = book_call_now(call);
    return row_add(call->book, &table_sample, out_row, why);
}

static enum status list(struct op_call *call, struct why *why) {
    const struct list_args *args = call->args;
    struct row_query q = {
        .where =
            "removed = 0 AND (?1 IS NULL OR EXISTS (SELECT 1 FROM json_each(document, '$.items') i"
            " WHERE json_extract(i.value, '$.paint') = ?1))",
        .texts = {args->paint},
        .down = true};
    enum status s = book_list(call, &table_sample, &q, args, why);
    return s ? s : samples_print(call, call->result, why);
}

/* The same paints in the same proportion, whatever the size of the card's mix. */
static bool same_mix(const struct sample *a, const struct sample *b) {
    double scale = 0;
    if (a->items_n != b->items_n || (a->wet == YN_YES) != (b->wet == YN_YES)) return false;
    for (size_t i = 0; i < a->items_n; i++) {
        size_t k = 0;
        while (k < b->items_n && strcmp(a->items[i].paint, b->items[k].paint) != 0) k++;
        if (k == b->items_n) return false;
        double ratio = a->items[i].parts / b->items[k].parts;
        if (i && fabs(ratio - scale) > 1e-6 * scale) return false;
        scale = ratio;
    }
    return true;
}

/* A card that was logged twice weighs twice in all that is learned; one that was painted anew may.
 */
static enum status twin_words(struct op_call *call, const struct sample_row *row,
                              const char **out_text, struct why *why) {
    struct sample *own = arena_take(call->arena, sizeof *own),
                  *other = arena_take(call->arena, sizeof *other);
    struct sample_row *rows;
    struct row_query q = {.where = "removed = 0 AND id <> ?1 AND color_hex IS ?2 AND read IS ?3",
                          .texts = {row->id, row->color_hex, row->read},
                          .after = INT64_MIN,
                          .limit = 100,
                          .down = true};
    size_t n, twin;
    if (!own || !other) return why_no_memory(why);
    enum status s =
        row_list(call->book, &table_sample, &q, call->arena, (void **)&rows, &n, NULL, why);
    if (!s)
        s = document_read(&desc_sample, SPELL_INPUT, row->document, strlen(row->document),
                          call->arena, own, why);
    for (twin = 0; !s && twin < n; twin++) {
        const char *document = rows[twin].document;
        s = document_read(&desc_sample, SPELL_INPUT, document, strlen(document), call->arena, other,
                          why);
        if (!s && same_mix(own, other)) break;
    }
    if (!s && twin < n)
        *out_text = "The same mix was read as the same color before. Both are learned from: if it "
                    "is the same card, take one of them out.";
    return s;
}

static enum status add(struct op_call *call, struct why *why) {
    const struct sample_args *args = call->args;
    struct sample_added *added = call->result;
    enum status s = sample_enter(call, args->sample, "/sample", &added->row, why);
    added->text = NULL;
    if (!s) s = twin_words(call, &added->row, &added->text, why);
    return s ? s : book_says(call->book, why, "%s", added->row.id);
}

static enum status remove_sample(struct op_call *call, struct why *why) {
    const struct id_args *args = call->args;
    struct sample_row row;
    return book_remove(call, &table_sample, args->id, &row, why);
}

/* ---- the next one ---- */

static const struct field next_fields[] = {
    {F_AT(struct next_ask, target), .type = FIELD_COLOR, .flags = FLAG_REQUIRED,
     .help = "color wanted, as CSS text or Munsell notation"},
    F_LIST(struct next_ask, items, &desc_mix_item, 16, "the recipe in hand; else the best"),
    F_ID(struct next_ask, class, 0, "only paints of this kind of product"),
    F_WORD(struct next_ask, read, words_reading, "how the card will be read; else by photo"),
    F_INT(struct next_ask, parts_max, 2, 64, "parts of the test mix at most; else 12"),
};
static DESC(desc_next_ask, struct next_ask, "samples_next_args", "For which recipe.", next_fields);

static enum status next(struct op_call *call, struct why *why) {
    struct next_ask ask = *(const struct next_ask *)call->args;
    struct gathered g;
    enum status s = gather_job(call, NULL, false, &g, why);
    if (s) return s;
    ask.measure = measuring_of(&g.job.shop, MEASURE_UNSAID, NAN, NAN).measure;
    ask.smallest_ml = g.job.shop.smallest_ml;
    s = color_next(call->app->tables, &g.job.shelf, &ask, call->limit, call->arena, call->result,
                   why);
    if (!s) next_answer_print(call->result, &call->out_body);
    return s;
}

static const char *const positional_add[] = {"sample", NULL};
static const struct op rows[] = {
    {"samples", OP_GET, "/api/samples", &desc_list, &desc_rows, NULL, OP_READS,
     "the samples that colors are learned from", list},
    {"sample add", OP_POST, "/api/samples", &desc_add, &desc_added, positional_add, OP_WRITES,
     "log a sample: a known mix, dried, its color read", add},
    {"sample next", OP_POST, "/api/samples/next", &desc_next_ask, &desc_next_answer, NULL,
     OP_READS | OP_SLOW, "the sample card that would make a recipe from the book's shelf surest",
     next},
    {"sample remove", OP_DELETE, "/api/samples/{id}", &desc_id_args, &desc_done, positional_id,
     OP_WRITES, "a sample that must not be learned from; undo brings it back", remove_sample},
};
extern const struct ops ops_sample;
const struct ops ops_sample = {rows, sizeof rows / sizeof *rows};
