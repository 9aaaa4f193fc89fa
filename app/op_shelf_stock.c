/* The stock of the shelf's paints: the sum of movements. */
#include "app/explain.h"
#include "app/gather.h"
#include "app/op_piece.h"
#include "app/op_shelf.h"
#include "app/stock_text.h"
#include "app/uncounted.h"
#include "core/work/basis.h"

#include <math.h>

static const struct field movement_fields[] = {
    F_INT(struct stock_movement_row, number, 0, 9e15, "order of entry"),
    F_REVISION(struct stock_movement_row),
    F_TEXT(struct stock_movement_row, paint, "of what"),
    F_TEXT(struct stock_movement_row, kind, "bought, used, counted, thrown, mixed or corrected"),
    F_QTY(struct stock_movement_row, amount, amount_ml, DIM_VOLUME, 0, 0, "more (+) or less (-)"),
    F_QTY(struct stock_movement_row, cost, cost_cent, DIM_MONEY, 0, 0, "what was paid"),
    F_TEXT(struct stock_movement_row, piece, "what it was used for"),
    F_TEXT(struct stock_movement_row, batch, "the batch it went into or came from"),
    F_TIME(struct stock_movement_row, at, at_utc_min, FIELD_INSTANT, "when"),
    F_TEXT(struct stock_movement_row, note, "anything else"),
    F_INT(struct stock_movement_row, corrects, 0, 9e15,
          "number of the movement that this one takes back"),
};
static DESC(desc_movement_row, struct stock_movement_row, "stock_movement", "A change of stock.",
            movement_fields);
static const struct field movements_fields[] = {F_ROWS(&desc_movement_row),
                                                F_BASES(struct explained_list)};
static DESC(desc_movements, struct explained_list, "stock_movements",
            "A page of movements, newest first.", movements_fields);

struct moves_args {
    struct list_args list;
    bool why;
};
static const struct field moves_fields[] = {
    F_ID(struct list_args, id, FLAG_REQUIRED, "which paint"),
    F_LIST_AFTER,
    F_LIST_LIMIT,
    F_WHY(struct moves_args),
};
static DESC(desc_moves, struct moves_args, "paint_movements_args", "Whose movements.",
            moves_fields);

const char *const words_stock_move[] = {"", "bought", "used", "counted", "thrown", NULL};
struct move_args {
    const char *id;
    enum stock_move kind;
    double amount_ml, cost_cent;
    const char *piece, *note;
};
static const struct field move_fields[] = {
    F_ID(struct move_args, id, FLAG_REQUIRED, "which paint"),
    {F_AT(struct move_args, kind), .type = FIELD_WORD, .words = words_stock_move,
     .flags = FLAG_REQUIRED, .help = "why it changes; counted: so much is left"},
    {.name = "amount",
     .offset = offsetof(struct move_args, amount_ml),
     .type = FIELD_QUANTITY,
     .dimension = DIM_VOLUME,
     .min = 0,
     .max = 1e7,
     .flags = FLAG_REQUIRED,
     .help = "how much: 13 fl oz"},
    F_QTY(struct move_args, cost, cost_cent, DIM_MONEY, 0, 1e9, "what was paid"),
    F_ID(struct move_args, piece, 0, "the piece it was used for"),
    F_TEXT(struct move_args, note, "anything else"),
};
static DESC(desc_move, struct move_args, "paint_stock_args", "A change of stock.", move_fields);

enum status paint_move(struct op_call *call, const char *paint, const char *kind, double amount_ml,
                       double cost_cent, const char *piece, const char *batch, const char *note,
                       struct why *why) {
    struct stock_movement_row m;
    row_unsay(&table_stock_movement, &m);
    m.paint = paint;
    m.kind = kind;
    m.amount_ml = amount_ml;
    m.cost_cent = cost_cent;
    m.piece = piece;
    m.batch = batch;
    m.note = note;
    m.at_utc_min = book_call_now(call);
    return row_add(call->book, &table_stock_movement, &m, why);
}

double stock_moved(enum stock_move kind, double said, double there) {
    return kind == STOCK_BOUGHT ? said : kind == STOCK_COUNTED ? said - there : -said;
}

static enum status move(struct op_call *call, struct why *why) {
    const struct move_args *args = call->args;
    struct paint_row *row = call->result;
    enum status s = book_get(call, &table_paint, args->id, row, why);
    if (!s) s = book_fresh(call, &table_paint, row, why);
    if (!s) s = piece_there(call, args->piece, why);
    if (s) return s;
    const char *kind = words_stock_move[args->kind];
    s = paint_move(call, args->id, kind, stock_moved(args->kind, args->amount_ml, row->stock_ml),
                   args->cost_cent, args->piece, NULL, args->note, why);
    if (!s)
        s = book_says(call->book, why, "%s %s: %s", row->name, kind,
                      gather_volume(call, args->amount_ml));
    if (!s) s = book_get(call, &table_paint, args->id, row, why);
    return s ? s : uncounted_unsay(call, row, 1, why);
}

/* The newest movements; what is before them is one sum. */
static void stock_explain(struct ledger *l, const struct explained_list *a, double stock_ml) {
    enum { NEWEST = 6 };
    const struct stock_movement_row *rows = a->list.rows;
    size_t n = a->list.rows_n < NEWEST ? a->list.rows_n : NEWEST;
    double before_ml = stock_ml;
    struct basis *b = ledger_basis(l, "/stock_ml",
                                   "what was counted, and what came and went since: every batch "
                                   "and every record takes its share",
                                   "CP", CERTAINTY_SAID);
    for (size_t i = 0; i < n; i++) before_ml -= rows[i].amount_ml;
    if (n && fabs(before_ml) > 0.5) basis_number(l, b, "there before", before_ml, DIM_VOLUME);
    for (size_t i = n; i-- > 0;)
        basis_number(l, b,
                     rows[i].note && *rows[i].note
                         ? arena_print(l->arena, "%s: %s", rows[i].kind, rows[i].note)
                         : rows[i].kind,
                     rows[i].amount_ml, DIM_VOLUME);
}

static enum status movements(struct op_call *call, struct why *why) {
    const struct moves_args *args = call->args;
    const char *id = args->list.id;
    struct explained_list *answer = call->result;
    struct paint_row row;
    struct ledger l;
    struct row_query q = {.where = "paint = ?1", .texts = {id}, .down = true};
    ledger_init(&l, call->arena, args->why);
    enum status s = row_get(call->book, &table_paint, "id", id, call->arena, &row, why);
    if (!s) s = book_list(call, &table_stock_movement, &q, &args->list, why);
    if (!s && !args->why) s = movements_print(call, id, &answer->list, why);
    if (!s && args->why && !isnan(row.stock_ml)) stock_explain(&l, answer, row.stock_ml);
    return s ? s : explain_done(call, &l, &answer->bases, &answer->bases_n, why);
}

static const struct op rows[] = {
    {"paint stock", OP_POST, "/api/paints/{id}/stock", &desc_move, &desc_paint_row, positional_id,
     OP_WRITES, "enter what was bought, used, counted or thrown away", move},
    {"paint movements", OP_GET, "/api/paints/{id}/stock", &desc_moves, &desc_movements,
     positional_id, OP_READS, "how the stock of a paint came about", movements},
};
extern const struct ops ops_shelf_stock;
const struct ops ops_shelf_stock = {rows, sizeof rows / sizeof *rows};
