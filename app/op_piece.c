/* Pieces of furniture: list, look at, enter, change, remove. The document stays as it was typed. */
#include "app/op_piece.h"
#include "app/op_client.h"
#include "app/piece_text.h"
#include "codec/job_desc.h"
#include "core/base/name.h"
#include "core/work/names.h"
#include "store/search.h"

#include <stdlib.h>
#include <string.h>

static const char *const words_stage[] = {"",      "looked_over", "agreed", "in_work", "curing",
                                          "ready", "closed",      "left",   NULL};

/* ---- shapes ---- */

static const struct field row_fields[] = {
    F_TEXT(struct piece_row, id, "public name"),
    F_REVISION(struct piece_row),
    F_TEXT(struct piece_row, title, "what to call it"),
    F_TEXT(struct piece_row, template, "what it is"),
    F_TEXT(struct piece_row, stage, "looked_over, agreed, in_work, curing, ready, closed or left"),
    F_TEXT(struct piece_row, client, "id of the client"),
    F_TEXT(struct piece_row, client_name, "the client's name"),
    F_TIME(struct piece_row, due, due_day, FIELD_DAY, "promised for"),
    F_QTY(struct piece_row, width, width_mm, DIM_LENGTH, 0, 0, "width"),
    F_QTY(struct piece_row, depth, depth_mm, DIM_LENGTH, 0, 0, "depth"),
    F_QTY(struct piece_row, height, height_mm, DIM_LENGTH, 0, 0, "height"),
    F_TEXT(struct piece_row, finish, "what is on it now"),
    F_TEXT(struct piece_row, shown_hex,
           "#rrggbb: the color predicted, or wanted while nothing was planned"),
    F_TEXT(struct piece_row, next_step, "what comes next, as last planned"),
    F_TEXT(struct piece_row, next_task, "id of that task"),
    F_QTY(struct piece_row, price, price_cent, DIM_MONEY, 0, 0,
          "price: quoted or asked, else as last planned; of a closed one what was paid"),
    F_QTY(struct piece_row, cost, cost_cent, DIM_MONEY, 0, 0, "cost, as last planned"),
    F_HOURS(struct piece_row, hours,
            "hands-on hours, as last planned; of a closed one what it took"),
    F_TIME(struct piece_row, ready, ready_utc_min, FIELD_INSTANT,
           "can be handed over, as last planned"),
    F_TEXT(struct piece_row, blocked_by, "what it waits for"),
    F_INT(struct piece_row, outlook_revision, 0, 9e15, "the book's revision that was planned"),
    F_TIME(struct piece_row, closed, closed_utc_min, FIELD_INSTANT, "when it was closed"),
    F_JSON(struct piece_row, document, "the piece as typed; in a list when asked for"),
};
DESC(desc_piece_row, struct piece_row, "piece_row", "A piece in the book.", row_fields);

static const struct field rows_fields[] = {F_ROWS(&desc_piece_row)};
static DESC(desc_rows, struct list_answer, "piece_rows", "A page of pieces, newest first.",
            rows_fields);

static const struct field list_fields[] = {
    F_TEXT(struct list_args, stage, "only this stage; open: all that are not closed or left"),
    F_ID(struct list_args, client, 0, "only this client's"),
    F_TEXT(struct list_args, q, "only those with these words"),
    F_BOOL(struct list_args, documents, "each with the piece as typed"),
    F_LIST_AFTER,
    F_LIST_LIMIT,
};
static DESC(desc_list, struct list_args, "pieces_args", "Which pieces.", list_fields);

struct piece_args {
    const char *id, *piece;
    int stage;
    const char *title, *template, *width, *depth, *height, *wood, *finish, *condition, *color;
    const char *client, *due;
    int64_t count, year;
};

#define F_TYPED(m, h) F_TEXT(struct piece_args, m, h)
#define TYPED_FIELDS                                                                               \
    F_FILE(struct piece_args, piece,                                                               \
           "the piece as in a job document, or the members that change (RFC 7396)"),               \
        F_WORD(struct piece_args, stage, words_stage, "where it stands"),                          \
        F_TYPED(title, "what to call it"), F_TYPED(template, "what it is: chest, table, ..."),     \
        F_TYPED(width, "width: 32 3/4 in"), F_TYPED(depth, "depth"), F_TYPED(height, "height"),    \
        F_INT(struct piece_args, count, 1, 200, "how many alike"),                                 \
        F_INT(struct piece_args, year, 1500, 2100, "made about"), F_TYPED(wood, "kind of wood"),   \
        F_TYPED(finish, "what is on it now"),                                                      \
        F_TYPED(condition, "sound, worn, damaged or flaking"), F_TYPED(color, "color wanted"),     \
        F_TYPED(client, "whose it is: id or name"), F_TYPED(due, "promised for: 2026-10-19")

static const struct field add_fields[] = {TYPED_FIELDS};
static DESC(desc_add, struct piece_args, "piece_add_args", "A new piece.", add_fields);
static const struct field change_fields[] = {
    F_ID(struct piece_args, id, FLAG_REQUIRED, "which piece"),
    TYPED_FIELDS,
};
static DESC(desc_change, struct piece_args, "piece_change_args", "What changes on a piece.",
            change_fields);

/* ---- columns taken out of the document ---- */

static const char *title_of(struct op_call *call, const struct piece *p) {
    if (name_said(p->title)) return p->title;
    if (!p->template) return "piece";
    char *title = arena_text(call->arena, p->template);
    for (char *c = title; c && *c; c++)
        if (*c == '_' || *c == '-') *c = ' ';
    return title;
}

static enum status take_columns(struct op_call *call, const struct piece *p, const char *document,
                                struct piece_row *row, struct why *why) {
    row->title = title_of(call, p);
    row->template = p->template;
    row->due_day = p->agreement.due_day;
    row->width_mm = p->width_mm;
    row->depth_mm = p->depth_mm;
    row->height_mm = p->height_mm;
    row->color_hex = book_hex(call, &p->wanted.color);
    row->finish = p->finish;
    row->document = document;
    if (!row->title) return why_no_memory(why);
    return client_named(call, p->agreement.client, &row->client, why);
}

/* What no plan would know is refused as it is entered; what a book had before may stay. */
static enum status check_names(struct op_call *call, const struct piece *p,
                               const struct piece_row *before, const char *member,
                               struct why *why) {
    struct piece said = *p;
    if (before && before->template && said.template && !strcmp(before->template, said.template))
        said.template = NULL;
    if (before && before->finish && said.finish && !strcmp(before->finish, said.finish))
        said.finish = NULL;
    return names_piece_check(call->app->tables, &said, member, call->arena, why);
}

static const char *typed_of(struct op_call *call, const struct piece_args *a) {
    const struct {
        const char *name;
        int64_t value;
    } numbers[] = {{"count", a->count}, {"year", a->year}};
    const char *typed =
        book_typed(call, "title", a->title, "template", a->template, "width", a->width, "depth",
                   a->depth, "height", a->height, "wood", a->wood, "finish", a->finish, "condition",
                   a->condition, "wanted.color", a->color, "agreement.client", a->client,
                   "agreement.due", a->due, (const char *)NULL);
    for (size_t i = 0; typed && i < sizeof numbers / sizeof *numbers; i++) {
        const char *more =
            arena_print(call->arena, "{\"%s\":%lld}", numbers[i].name, (long long)numbers[i].value);
        if (numbers[i].value == INT64_MIN) continue;
        if (!more || document_merge(typed, more, call->arena, &typed, NULL)) return NULL;
    }
    return typed;
}

/* ---- operations ---- */

/* Nothing comes next for a piece that is closed or has left; of a closed one what it came to is
 * told, not what was planned. */
static enum status at_rest(struct op_call *call, struct piece_row *row, struct why *why) {
    bool closed = row->stage && !strcmp(row->stage, "closed");
    if (row->stage && !closed && strcmp(row->stage, "left") != 0) return OK;
    row->next_step = row->next_task = row->blocked_by = NULL;
    row->ready_utc_min = INT64_MIN;
    if (!closed) return OK;
    struct closing_row *closing;
    size_t n;
    struct row_query q = {
        .where = "piece = ?1 AND removed = 0", .texts = {row->id}, .after = INT64_MIN, .limit = 1};
    enum status s =
        row_list(call->book, &table_closing, &q, call->arena, (void **)&closing, &n, NULL, why);
    if (s || !n) return s;
    row->price_cent = closing->actual_price_cent;
    row->hours = closing->actual_hours;
    return OK;
}

static enum status list(struct op_call *call, struct why *why) {
    const struct list_args *args = call->args;
    struct list_answer *answer = call->result;
    struct row_query q = {
        .where = "removed = 0 AND (?1 IS NULL OR stage = ?1 OR (?1 = 'open' AND stage NOT IN "
                 "('closed', 'left')))"
                 " AND (?2 IS NULL OR client = ?2)"
                 " AND (?3 IS NULL OR id IN (SELECT w.id FROM words w WHERE w.subject = 'piece' "
                 "AND words MATCH ?3))",
        .texts = {args->stage, args->client, args->q ? search_query(args->q, call->arena) : NULL},
        .down = true};
    bool known = !args->stage || !strcmp(args->stage, "open");
    for (size_t i = 1; words_stage[i] && !known; i++) known = !strcmp(args->stage, words_stage[i]);
    if (!known)
        return why_say(why, E_DOMAIN, "/stage",
                       "\"%.40s\" is not a stage. Write open, looked_over, agreed, in_work, "
                       "curing, ready, closed or left.",
                       args->stage);
    enum status s = book_list(call, &table_piece, &q, args, why);
    struct piece_row *rows = answer->rows;
    for (size_t i = 0; !s && i < answer->rows_n; i++) {
        s = at_rest(call, &rows[i], why);
        if (!args->documents) rows[i].document = NULL;
    }
    return s ? s : pieces_print(call, rows, answer->rows_n, answer->next, why);
}

static enum status show(struct op_call *call, struct why *why) {
    const struct id_args *args = call->args;
    enum status s = book_get(call, &table_piece, args->id, call->result, why);
    return s ? s : at_rest(call, call->result, why);
}

enum status piece_enter(struct op_call *call, const char *document, const char *member,
                        struct piece_row *out_row, struct why *why) {
    struct piece *p = arena_take(call->arena, sizeof *p);
    const char *id, *whole;
    if (!p) return why_no_memory(why);
    enum status s = book_merge(call, &desc_piece, document, NULL, member, &whole, p, why);
    if (!s) s = check_names(call, p, NULL, member, why);
    if (!s) s = book_new_id(call, &table_piece, p->id, title_of(call, p), &id, why);
    if (s) return s;
    row_unsay(&table_piece, out_row);
    out_row->id = id;
    out_row->stage = "looked_over";
    s = take_columns(call, p, whole, out_row, why);
    return s ? s : row_add(call->book, &table_piece, out_row, why);
}

static enum status add(struct op_call *call, struct why *why) {
    const struct piece_args *args = call->args;
    struct piece_row *row = call->result;
    const char *typed = typed_of(call, args), *whole;
    if (!typed) return why_no_memory(why);
    enum status s =
        document_merge(args->piece ? args->piece : "{}", typed, call->arena, &whole, why);
    if (s) {
        why_under(why, "/piece");
        return s;
    }
    s = piece_enter(call, whole, "/piece", row, why);
    if (!s && args->stage) {
        row->stage = words_stage[args->stage];
        s = row_change(call->book, &table_piece, row, why);
    }
    if (!s) s = book_says(call->book, why, "%s", row->title);
    return s ? s : book_get(call, &table_piece, row->id, row, why); /* with what its view adds */
}

enum status piece_rewrite(struct op_call *call, struct piece_row *row, const char *document,
                          const char *member, struct why *why) {
    struct piece *p = arena_take(call->arena, sizeof *p);
    const char *whole;
    if (!p) return why_no_memory(why);
    enum status s = book_fresh(call, &table_piece, row, why);
    if (!s) s = book_merge(call, &desc_piece, document, NULL, member, &whole, p, why);
    if (!s) s = check_names(call, p, row, member, why);
    if (s) return s;
    if (p->id && strcmp(p->id, row->id))
        return why_say(why, E_CONFLICT, "/piece/id", "The id of a piece in the book stays \"%s\".",
                       row->id);
    s = take_columns(call, p, whole, row, why);
    return s ? s : book_change(call, &table_piece, row, row->title, why);
}

static enum status change(struct op_call *call, struct why *why) {
    const struct piece_args *args = call->args;
    struct piece_row *row = call->result;
    const char *typed = typed_of(call, args), *document;
    if (!typed) return why_no_memory(why);
    enum status s = book_get(call, &table_piece, args->id, row, why);
    if (s) return s;
    document = row->document;
    if (args->piece) s = document_merge(document, args->piece, call->arena, &document, why);
    if (!s) s = document_merge(document, typed, call->arena, &document, why);
    if (s) {
        why_under(why, "/piece");
        return s;
    }
    if (args->stage) row->stage = words_stage[args->stage];
    s = piece_rewrite(call, row, document, "/piece", why);
    return s ? s : book_get(call, &table_piece, args->id, row, why);
}

enum status piece_there(struct op_call *call, const char *piece, struct why *why) {
    struct piece_row row;
    if (!piece) return OK;
    enum status s = row_get(call->book, &table_piece, "id", piece, call->arena, &row, NULL);
    return s == E_NOT_FOUND ? why_say(why, E_REFERENCE, "/piece",
                                      "There is no piece \"%.64s\" in the book.", piece)
                            : s;
}

static enum status remove_piece(struct op_call *call, struct why *why) {
    const struct id_args *args = call->args;
    struct piece_row row;
    return book_remove(call, &table_piece, args->id, &row, why);
}

static const struct op rows[] = {
    {"pieces", OP_GET, "/api/pieces", &desc_list, &desc_rows, NULL, OP_READS,
     "the pieces in the book, newest first", list},
    {"piece show", OP_GET, "/api/pieces/{id}", &desc_id_args, &desc_piece_row, positional_id,
     OP_READS, "one piece as it was typed, and where it stands", show},
    {"piece add", OP_POST, "/api/pieces", &desc_add, &desc_piece_row, NULL, OP_WRITES,
     "enter a piece: template and size are enough, all else is assumed and listed", add},
    {"piece change", OP_PATCH, "/api/pieces/{id}", &desc_change, &desc_piece_row, positional_id,
     OP_WRITES, "change what was said of a piece, or its stage", change},
    {"piece remove", OP_DELETE, "/api/pieces/{id}", &desc_id_args, &desc_done, positional_id,
     OP_WRITES, "take a piece off the list; undo brings it back", remove_piece},
};
extern const struct ops ops_piece;
const struct ops ops_piece = {rows, sizeof rows / sizeof *rows};
