/* The shelf: paints as typed. */
#include "app/op_shelf.h"
#include "app/paint_text.h"
#include "app/shelf_can.h"
#include "app/uncounted.h"
#include "codec/color_text.h"
#include "codec/job_desc.h"
#include "core/base/name.h"
#include "core/color/color.h"
#include "core/work/drying.h"
#include "core/work/job.h"
#include "core/work/names.h"
#include "store/search.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* ---- shapes ---- */

static const struct field row_fields[] = {
    F_TEXT(struct paint_row, id, "public name, used in recipes"),
    F_REVISION(struct paint_row),
    F_TEXT(struct paint_row, name, "as on the can"),
    F_TEXT(struct paint_row, class, "kind of product"),
    F_TEXT(struct paint_row, color_hex, "#rrggbb, for a swatch"),
    F_TEXT(struct paint_row, sheen, "sheen"),
    F_QTY(struct paint_row, stock, stock_ml, DIM_VOLUME, 0, 0, "how much is left"),
    F_QTY(struct paint_row, size, size_ml, DIM_VOLUME, 0, 0, "content of one can"),
    F_QTY(struct paint_row, cost, cost_cent, DIM_MONEY, 0, 0, "cost of one can"),
    F_TIME(struct paint_row, opened, opened_day, FIELD_DAY, "when it was opened"),
    F_BOOL(struct paint_row, leftover, "mixed here, left over from a job"),
    F_JSON(struct paint_row, document, "the paint as typed, without its stock; left out in lists"),
};
DESC(desc_paint_row, struct paint_row, "paint_row", "A paint on the shelf.", row_fields);
static const struct field rows_fields[] = {F_ROWS(&desc_paint_row)};
static DESC(desc_rows, struct list_answer, "paint_rows", "A page of paints.", rows_fields);

static const struct field list_fields[] = {
    F_TEXT(struct list_args, q, "only those with these words"),
    F_ID(struct list_args, kind, 0, "only this kind of product"),
    F_LIST_AFTER,
    F_LIST_LIMIT,
};
static DESC(desc_list, struct list_args, "paints_args", "Which paints.", list_fields);
struct paint_args {
    const char *id, *paint;
    const char *name, *class, *color, *sheen, *stock, *size, *cost, *opened, *can_of, *note;
    int64_t hides_in;
};
#define F_TYPED(m, h) F_TEXT(struct paint_args, m, h)
#define TYPED_FIELDS                                                                               \
    F_FILE(struct paint_args, paint,                                                               \
           "the paint as in a shelf document, or the members that change (RFC 7396)"),             \
        F_TYPED(name, "as on the can"), F_TYPED(class, "kind of product"),                         \
        F_TYPED(color, "what it dries to"), F_TYPED(sheen, "sheen"),                               \
        F_TYPED(stock, "how much is left: 13 fl oz"), F_TYPED(size, "what one can holds"),         \
        F_TYPED(cost, "what one can costs"), F_TYPED(opened, "when it was opened"),                \
        F_TYPED(can_of,                                                                            \
                "id of the paint that it is another can of: begins with what was learned"),        \
        F_INT(struct paint_args, hides_in, 1, 12,                                                  \
              "coats until black and white of a card no longer showed"),                           \
        F_TYPED(note, "anything else")
static const struct field add_fields[] = {TYPED_FIELDS};
static DESC(desc_add, struct paint_args, "paint_add_args", "A new paint.", add_fields);
static const struct field change_fields[] = {
    F_ID(struct paint_args, id, FLAG_REQUIRED, "which paint"),
    TYPED_FIELDS,
};
static DESC(desc_change, struct paint_args, "paint_change_args", "What changes.", change_fields);

/* ---- paints ---- */

/* A spectrum that cannot be used would stop every recipe of the shelf: it is refused here. */
static enum status spectrum_fits(const struct paint *p, const char *member, struct why *why) {
    struct spectrum grid;
    char pointer[96];
    if (!p->spectrum.values_n) return OK;
    enum status s = spectrum_resample(p->spectrum.first_nm, p->spectrum.step_nm, p->spectrum.values,
                                      p->spectrum.values_n, &grid, why);
    snprintf(pointer, sizeof pointer, "%s/spectrum", member);
    if (s) why_under(why, pointer);
    return s;
}

static const char *spectrum_hex(struct op_call *call, const struct spectrum_said *said) {
    struct spectrum grid;
    char hex[8];
    if (spectrum_resample(said->first_nm, said->step_nm, said->values, said->values_n, &grid, NULL))
        return NULL;
    const struct weights d50 = weights_make(call->app->tables, OBSERVER_2, LIGHT_D50);
    color_print_hex(lab_of_xyz(xyz_of_spectrum(&d50, &grid), d50.white), hex);
    return arena_text(call->arena, hex);
}

static void take_columns(struct op_call *call, const struct paint *p, struct paint_row *row) {
    row->name = name_said(p->name) ? p->name : p->id;
    row->class = p->class;
    row->color_hex =
        p->spectrum.values_n ? spectrum_hex(call, &p->spectrum) : book_hex(call, &p->color);
    row->sheen = p->sheen ? words_sheen[p->sheen] : NULL;
    row->size_ml = p->size_ml;
    row->cost_cent = p->cost_cent;
    row->opened_day = p->opened_day;
    row->leftover = p->leftover_of_n > 0;
}

/* What a leftover was mixed from must be on the shelf. */
static enum status mixed_from_there(struct op_call *call, const struct mix_item *items, size_t n,
                                    const char *pointer, struct why *why) {
    struct paint_row other;
    for (size_t i = 0; i < n; i++) {
        char field[128];
        enum status s =
            row_get(call->book, &table_paint, "id", items[i].paint, call->arena, &other, NULL);
        snprintf(field, sizeof field, "%s/%zu/paint", pointer, i);
        if (s == E_NOT_FOUND)
            return why_say(why, E_REFERENCE, field, "There is no paint \"%.64s\" on the shelf.",
                           items[i].paint);
        if (s) return s;
    }
    return OK;
}

/* Another paint of the shelf with this name; *out NULL: none. SQL leaves those that differ in
 * blanks alone. */
static enum status named(struct op_call *call, const char *name, const char *but_id,
                         const struct paint_row **out, struct why *why) {
    struct paint_row *rows;
    size_t n;
    size_t size = strlen(name) + 1, end = 0;
    char *letters = arena_take(call->arena, size);
    if (!letters) return why_no_memory(why);
    name_fold(name, letters, size);
    for (const char *c = letters; *c; c++)
        if (*c != ' ') letters[end++] = *c;
    letters[end] = 0;
    struct row_query q = {.where =
                              "removed = 0 AND id <> ?1 AND replace(lower(name), ' ', '') = ?2",
                          .texts = {but_id ? but_id : "", letters},
                          .after = INT64_MIN};
    enum status s =
        row_list(call->book, &table_paint, &q, call->arena, (void **)&rows, &n, NULL, why);
    *out = NULL;
    for (size_t i = 0; !s && i < n && !*out; i++)
        if (name_same(rows[i].name, name)) *out = &rows[i];
    return s;
}

/* Two cans of one name could not be told apart in a recipe. */
static enum status name_free(struct op_call *call, const struct paint_row *row, const char *member,
                             struct why *why) {
    const struct paint_row *other;
    char field[96];
    enum status s = named(call, row->name, row->id, &other, why);
    if (s || !other) return s;
    snprintf(field, sizeof field, "%s/name", member);
    return why_say(why, E_DUPLICATE, field,
                   "There is a \"%.80s\" on the shelf already (id \"%.64s\"). Give this one a name "
                   "of its own, "
                   "such as \"%.80s 2\". As another can of that one it begins with what was "
                   "learned of it; more "
                   "of the same lot is stock of that one.",
                   other->name, other->id, row->name);
}

enum status paint_free_name(struct op_call *call, const char *name, const char **out,
                            struct why *why) {
    const struct paint_row *other;
    enum status s = named(call, name, NULL, &other, why);
    *out = name;
    for (int i = 2; !s && other; i++) {
        *out = arena_print(call->arena, "%s %d", name, i);
        s = *out ? named(call, *out, NULL, &other, why) : why_no_memory(why);
    }
    return s;
}

enum status paint_names_differ(struct op_call *call, const char *member, struct why *why) {
    struct paint_row *rows;
    size_t n;
    struct row_query q = {.where = "removed = 0", .after = INT64_MIN};
    enum status s =
        row_list(call->book, &table_paint, &q, call->arena, (void **)&rows, &n, NULL, why);
    for (size_t i = 0; !s && i < n; i++)
        for (size_t k = 0; k < i; k++)
            if (name_same(rows[i].name, rows[k].name))
                return why_say(why, E_CONFLICT, member,
                               "Then \"%.64s\" and \"%.64s\" would both be named \"%.80s\". Rename "
                               "one of them first.",
                               rows[k].id, rows[i].id, rows[i].name);
    return s;
}

/* A class that nobody knows would keep the can out of every recipe and coat, without a word. */
static enum status class_known(struct op_call *call, const struct paint *p, const char *member,
                               struct why *why) {
    struct paint one = {.class = p->class};
    const struct shelf shelf = {.paints = &one, .paints_n = 1};
    enum status s = names_shelf_check(call->app->tables, &shelf, "", call->arena, why);
    if (s && why) snprintf(why->field, sizeof why->field, "%s/class", member);
    return s;
}

static enum status paint_holds(struct op_call *call, const struct paint *p, const char *member,
                               struct why *why) {
    enum status s = spectrum_fits(p, member, why);
    if (!s) s = class_known(call, p, member, why);
    if (s) return s;
    if ((s = drying_label_check(p, why))) why_under(why, member);
    return s ? s : shelf_can_check(call, p, member, why);
}

enum status paint_enter(struct op_call *call, const char *document, const char *member,
                        struct paint_row *out_row, struct why *why) {
    struct paint *p = arena_take(call->arena, sizeof *p);
    const char *id, *whole, *kept, *put;
    char pointer[96];
    if (!p) return why_no_memory(why);
    /* the id is required in a shelf, here it may be made: "_" stands for none */
    enum status s =
        book_merge(call, &desc_paint, "{\"id\":\"_\"}", document, member, &whole, p, why);
    if (!s && p->can_of) {
        s = shelf_can_fill(call, p, member, &document, why);
        if (!s)
            s = book_merge(call, &desc_paint, "{\"id\":\"_\"}", document, member, &whole, p, why);
    }
    if (s) return s;
    if ((s = paint_holds(call, p, member, why))) return s;
    bool said = strcmp(p->id, "_") != 0;
    if ((s = book_new_id(call, &table_paint, said ? p->id : NULL, p->name, &id, why))) return s;
    snprintf(pointer, sizeof pointer, "%s/leftover_of", member);
    s = mixed_from_there(call, p->leftover_of, p->leftover_of_n, pointer, why);
    if (s) return s;
    put = arena_print(call->arena, "{\"id\":\"%s\",\"stock\":null}", id);
    s = put ? document_merge(whole, put, call->arena, &kept, why) : why_no_memory(why);
    if (s) return s;
    row_unsay(&table_paint, out_row);
    out_row->id = p->id = id;
    out_row->document = kept;
    take_columns(call, p, out_row);
    if ((s = name_free(call, out_row, member, why))) return s;
    s = row_add(call->book, &table_paint, out_row, why);
    if (!s && !isnan(p->stock_ml))
        s = paint_move(call, id, "counted", p->stock_ml, (double)NAN, NULL, NULL, NULL, why);
    out_row->stock_ml = p->stock_ml;
    return s;
}

static const char *typed_of(struct op_call *call, const struct paint_args *a) {
    const char *put,
        *typed = book_typed(call, "name", a->name, "class", a->class, "color", a->color, "sheen",
                            a->sheen, "stock", a->stock, "size", a->size, "cost", a->cost, "opened",
                            a->opened, "can_of", a->can_of, "note", a->note, (const char *)NULL);
    if (!typed || a->hides_in == INT64_MIN) return typed;
    put = arena_print(call->arena, "{\"hides_in\":%lld}", (long long)a->hides_in);
    return put && !document_merge(typed, put, call->arena, &typed, NULL) ? typed : NULL;
}

static enum status list(struct op_call *call, struct why *why) {
    const struct list_args *args = call->args;
    struct list_answer *answer = call->result;
    struct row_query q = {
        .where = "removed = 0 AND (?1 IS NULL OR class = ?1) AND (?2 IS NULL OR id IN"
                 " (SELECT w.id FROM words w WHERE w.subject = 'paint' AND words MATCH ?2))",
        .texts = {args->kind, args->q ? search_query(args->q, call->arena) : NULL}};
    enum status s = book_list(call, &table_paint, &q, args, why);
    struct paint_row *rows = answer->rows;
    for (size_t i = 0; !s && i < answer->rows_n; i++) rows[i].document = NULL;
    if (!s) s = uncounted_unsay(call, rows, answer->rows_n, why);
    return s ? s : paints_print(call, rows, answer->rows_n, answer->next, why);
}

/* The paint as it is now. */
static enum status paint_answer(struct op_call *call, const char *id, struct why *why) {
    enum status s = book_get(call, &table_paint, id, call->result, why);
    return s ? s : uncounted_unsay(call, call->result, 1, why);
}

static enum status show(struct op_call *call, struct why *why) {
    const struct id_args *args = call->args;
    return paint_answer(call, args->id, why);
}

static enum status add(struct op_call *call, struct why *why) {
    const struct paint_args *args = call->args;
    struct paint_row *row = call->result;
    const char *typed = typed_of(call, args), *whole;
    if (!typed) return why_no_memory(why);
    enum status s =
        book_merge_patches(call, args->paint ? args->paint : "{}", typed, &whole, "/paint", why);
    if (!s) s = paint_enter(call, whole, "/paint", row, why);
    return s ? s : book_says(call->book, why, "%s", row->name);
}

static enum status change(struct op_call *call, struct why *why) {
    const struct paint_args *args = call->args;
    struct paint_row *row = call->result;
    struct paint *p = arena_take(call->arena, sizeof *p);
    const char *typed = typed_of(call, args), *patch, *document;
    if (!typed || !p) return why_no_memory(why);
    enum status s = book_get(call, &table_paint, args->id, row, why);
    if (!s) s = book_fresh(call, &table_paint, row, why);
    if (!s)
        s = book_merge_patches(call, args->paint ? args->paint : "{}", typed, &patch, "/paint",
                               why);
    if (!s) s = book_merge(call, &desc_paint, row->document, patch, "/paint", &document, p, why);
    if (s) return s;
    if (strcmp(p->id, row->id))
        return why_say(why, E_CONFLICT, "/paint/id", "The id of a paint in the book stays \"%s\".",
                       row->id);
    s = mixed_from_there(call, p->leftover_of, p->leftover_of_n, "/paint/leftover_of", why);
    if (!s) s = paint_holds(call, p, "/paint", why);
    if (!s) s = document_merge(document, "{\"stock\":null}", call->arena, &row->document, why);
    take_columns(call, p, row);
    if (!s) s = name_free(call, row, "/paint", why);
    if (!s) s = book_change(call, &table_paint, row, row->name, why);
    if (!s && !isnan(p->stock_ml))
        s = paint_move(call, row->id, "counted", p->stock_ml - row->stock_ml, (double)NAN, NULL,
                       NULL, NULL, why);
    return s ? s : paint_answer(call, args->id, why);
}

static enum status remove_paint(struct op_call *call, struct why *why) {
    const struct id_args *args = call->args;
    struct paint_row row;
    return book_remove(call, &table_paint, args->id, &row, why);
}

static const struct op rows[] = {
    {"paints", OP_GET, "/api/paints", &desc_list, &desc_rows, NULL, OP_READS,
     "the shelf: everything that comes out of a can", list},
    {"paint show", OP_GET, "/api/paints/{id}", &desc_id_args, &desc_paint_row, positional_id,
     OP_READS, "one paint as it was typed", show},
    {"paint add", OP_POST, "/api/paints", &desc_add, &desc_paint_row, NULL, OP_WRITES,
     "put a paint on the shelf", add},
    {"paint change", OP_PATCH, "/api/paints/{id}", &desc_change, &desc_paint_row, positional_id,
     OP_WRITES, "change what was said of a paint; a stock said here is a stock take", change},
    {"paint remove", OP_DELETE, "/api/paints/{id}", &desc_id_args, &desc_done, positional_id,
     OP_WRITES, "take a paint off the shelf; undo brings it back", remove_paint},
};
extern const struct ops ops_shelf;
const struct ops ops_shelf = {rows, sizeof rows / sizeof *rows};
