/* Supplies: what is used up and does not come out of a can. */
#include "app/op_supply.h"
#include "app/explain.h"
#include "app/op_piece.h"
#include "app/op_shelf.h"
#include "app/paint_text.h"
#include "codec/job_desc.h"
#include "core/base/name.h"
#include "core/work/job.h"

#include <math.h>

static const struct field row_fields[] = {
    F_TEXT(struct supply_row, id, "public name"),
    F_REVISION(struct supply_row),
    F_TEXT(struct supply_row, name, "as the shop calls it"),
    F_TEXT(struct supply_row, kind,
           "tape, abrasive, roller, brush, rag, filler, glue, cane, hardware or other"),
    F_NUM(struct supply_row, count, 0, 0, "how many are left"),
    F_QTY(struct supply_row, cost, cost_cent, DIM_MONEY, 0, 0, "cost of one"),
    F_TEXT(struct supply_row, note, "anything else"),
};
static DESC(desc_row, struct supply_row, "supply_row", "A supply.", row_fields);
static const struct field rows_fields[] = {F_ROWS(&desc_row), F_BASES(struct explained_list)};
static DESC(desc_rows, struct explained_list, "supply_rows", "A page of supplies.", rows_fields);
struct supplies_args {
    struct list_args list;
    bool why;
};
static const struct field list_fields[] = {F_LIST_AFTER, F_LIST_LIMIT, F_WHY(struct supplies_args)};
static DESC(desc_list, struct supplies_args, "supplies_args", "Which supplies.", list_fields);

struct supply_args {
    const char *id, *name, *note;
    enum supply_kind kind;
    double count, cost_cent;
};
#define SUPPLY_FIELDS                                                                              \
    F_WORD(struct supply_args, kind, words_supply, "what it is"),                                  \
        F_NUM(struct supply_args, count, 0, 1e6, "how many are left: a stock take"),               \
        F_QTY(struct supply_args, cost, cost_cent, DIM_MONEY, 0, 1e7, "cost of one"),              \
        F_TEXT(struct supply_args, note, "anything else")
static const struct field add_fields[] = {
    F_ID(struct supply_args, id, 0, "public name; made of the name when not said"),
    {F_AT(struct supply_args, name), .type = FIELD_TEXT, .flags = FLAG_REQUIRED,
     .help = "as the shop calls it"},
    SUPPLY_FIELDS,
};
static DESC(desc_add, struct supply_args, "supply_add_args", "A new supply.", add_fields);
static const struct field change_fields[] = {
    F_ID(struct supply_args, id, FLAG_REQUIRED, "which supply"),
    F_TEXT(struct supply_args, name, "as the shop calls it"),
    SUPPLY_FIELDS,
};
static DESC(desc_change, struct supply_args, "supply_change_args", "What changes.", change_fields);

struct move_args {
    const char *id, *piece, *note;
    enum stock_move kind;
    double count, cost_cent;
};
static const struct field move_fields[] = {
    F_ID(struct move_args, id, FLAG_REQUIRED, "which supply"),
    {F_AT(struct move_args, kind), .type = FIELD_WORD, .words = words_stock_move,
     .flags = FLAG_REQUIRED, .help = "why it changes; counted: so many are left"},
    {F_AT(struct move_args, count), .type = FIELD_NUMBER, .min = 0, .max = 1e6,
     .flags = FLAG_REQUIRED, .help = "how many"},
    F_QTY(struct move_args, cost, cost_cent, DIM_MONEY, 0, 1e9, "what was paid"),
    F_ID(struct move_args, piece, 0, "the piece it was used for"),
    F_TEXT(struct move_args, note, "anything else"),
};
static DESC(desc_move, struct move_args, "supply_stock_args", "A change of stock.", move_fields);

static enum status add_movement(struct op_call *call, const char *supply, const char *kind,
                                double count, const struct move_args *more, struct why *why) {
    struct supply_movement_row m;
    row_unsay(&table_supply_movement, &m);
    m.supply = supply;
    m.kind = kind;
    m.count = count;
    m.cost_cent = more ? more->cost_cent : (double)NAN;
    m.piece = more ? more->piece : NULL;
    m.note = more ? more->note : NULL;
    m.at_utc_min = book_call_now(call);
    return row_add(call->book, &table_supply_movement, &m, why);
}

enum status supply_enter(struct op_call *call, const struct supply *s, struct supply_row *out_row,
                         struct why *why) {
    row_unsay(&table_supply, out_row);
    out_row->name = name_said(s->name) ? s->name : s->id;
    out_row->kind = s->kind ? words_supply[s->kind] : NULL;
    out_row->cost_cent = s->cost_cent;
    enum status status = book_new_id(call, &table_supply, s->id, s->name, &out_row->id, why);
    if (!status) status = row_add(call->book, &table_supply, out_row, why);
    if (!status && !isnan(s->count))
        status = add_movement(call, out_row->id, "counted", s->count, NULL, why);
    out_row->count = isnan(s->count) ? 0 : s->count;
    return status;
}

/* The newest movements of one supply; what is before them is one sum. */
static enum status count_explain(struct op_call *call, struct ledger *l, size_t i,
                                 const struct supply_row *r, struct why *why) {
    enum { NEWEST = 6 };
    struct supply_movement_row *rows;
    size_t n;
    struct row_query q = {.where = "supply = ?1",
                          .texts = {r->id},
                          .after = INT64_MIN,
                          .limit = NEWEST,
                          .down = true};
    enum status s = row_list(call->book, &table_supply_movement, &q, call->arena, (void **)&rows,
                             &n, NULL, why);
    if (s) return s;
    struct basis *b =
        ledger_basis(l, explain_at(l, "rows", i, "count"),
                     "what was counted, and what came and went since", "CP", CERTAINTY_SAID);
    double before = r->count;
    for (size_t k = 0; k < n; k++) before -= rows[k].count;
    if (n && fabs(before) > 1e-6) basis_number(l, b, "there before", before, DIM_NONE);
    for (size_t k = n; k-- > 0;)
        basis_number(l, b,
                     rows[k].note && *rows[k].note
                         ? arena_print(l->arena, "%s: %s", rows[k].kind, rows[k].note)
                         : rows[k].kind,
                     rows[k].count, DIM_NONE);
    return OK;
}

static enum status list(struct op_call *call, struct why *why) {
    const struct supplies_args *args = call->args;
    struct explained_list *answer = call->result;
    struct row_query q = {.where = "removed = 0"};
    struct ledger l;
    ledger_init(&l, call->arena, args->why);
    enum status s = book_list(call, &table_supply, &q, &args->list, why);
    const struct supply_row *rows = answer->list.rows;
    for (size_t i = 0; !s && args->why && i < answer->list.rows_n; i++)
        s = count_explain(call, &l, i, &rows[i], why);
    if (!s && !args->why)
        s = supplies_print(call, rows, answer->list.rows_n, answer->list.next, why);
    return s ? s : explain_done(call, &l, &answer->bases, &answer->bases_n, why);
}

static enum status show(struct op_call *call, struct why *why) {
    const struct id_args *args = call->args;
    return book_get(call, &table_supply, args->id, call->result, why);
}

static enum status add(struct op_call *call, struct why *why) {
    const struct supply_args *args = call->args;
    struct supply_row *row = call->result;
    struct supply s = {.id = args->id,
                       .name = args->name,
                       .kind = args->kind,
                       .count = args->count,
                       .cost_cent = args->cost_cent};
    enum status status = supply_enter(call, &s, row, why);
    if (!status && args->note) {
        row->note = args->note;
        status = row_change(call->book, &table_supply, row, why);
    }
    return status ? status : book_says(call->book, why, "%s", row->name);
}

static enum status change(struct op_call *call, struct why *why) {
    const struct supply_args *args = call->args;
    struct supply_row *row = call->result;
    enum status s = book_get(call, &table_supply, args->id, row, why);
    if (!s) s = book_fresh(call, &table_supply, row, why);
    if (s) return s;
    if (name_said(args->name)) row->name = args->name;
    if (args->kind) row->kind = words_supply[args->kind];
    if (!isnan(args->cost_cent)) row->cost_cent = args->cost_cent;
    if (args->note) row->note = *args->note ? args->note : NULL;
    s = book_change(call, &table_supply, row, row->name, why);
    if (!s && !isnan(args->count))
        s = add_movement(call, row->id, "counted", args->count - row->count, NULL, why);
    return s ? s : book_get(call, &table_supply, args->id, row, why);
}

static enum status remove_supply(struct op_call *call, struct why *why) {
    const struct id_args *args = call->args;
    struct supply_row row;
    return book_remove(call, &table_supply, args->id, &row, why);
}

static enum status move(struct op_call *call, struct why *why) {
    const struct move_args *args = call->args;
    struct supply_row *row = call->result;
    enum status s = book_get(call, &table_supply, args->id, row, why);
    if (!s) s = book_fresh(call, &table_supply, row, why);
    if (!s) s = piece_there(call, args->piece, why);
    if (s) return s;
    const char *kind = words_stock_move[args->kind];
    s = add_movement(call, args->id, kind, stock_moved(args->kind, args->count, row->count), args,
                     why);
    if (!s) s = book_says(call->book, why, "%s %s: %g", row->name, kind, args->count);
    return s ? s : book_get(call, &table_supply, args->id, row, why);
}

static const struct op rows[] = {
    {"supplies", OP_GET, "/api/supplies", &desc_list, &desc_rows, NULL, OP_READS,
     "tape, abrasive, rollers and the like", list},
    {"supply show", OP_GET, "/api/supplies/{id}", &desc_id_args, &desc_row, positional_id, OP_READS,
     "one supply", show},
    {"supply add", OP_POST, "/api/supplies", &desc_add, &desc_row, NULL, OP_WRITES,
     "enter a supply", add},
    {"supply change", OP_PATCH, "/api/supplies/{id}", &desc_change, &desc_row, positional_id,
     OP_WRITES, "change a supply", change},
    {"supply remove", OP_DELETE, "/api/supplies/{id}", &desc_id_args, &desc_done, positional_id,
     OP_WRITES, "take a supply off the list; undo brings it back", remove_supply},
    {"supply stock", OP_POST, "/api/supplies/{id}/stock", &desc_move, &desc_row, positional_id,
     OP_WRITES, "enter what was bought, used, counted or thrown away", move},
};
extern const struct ops ops_supply;
const struct ops ops_supply = {rows, sizeof rows / sizeof *rows};
