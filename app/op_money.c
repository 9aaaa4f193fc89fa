/* Money in and out. */
#include "app/explain.h"
#include "app/gather.h"
#include "app/money_text.h"
#include "app/op_piece.h"
#include "app/zone.h"
#include "codec/time_text.h"
#include "codec/units_text.h"
#include "core/work/basis.h"

#include <math.h>
#include <string.h>

static const struct field row_fields[] = {
    F_INT(struct money_row, number, 0, 9e15, "order of entry"),
    F_REVISION(struct money_row),
    F_TEXT(struct money_row, kind,
           "deposit, payment, sale, refund, purchase, material, tool, fee, mileage, rent or other"),
    {.name = "amount_cent",
     .offset = offsetof(struct money_row, amount_cent),
     .type = FIELD_INT,
     .help = "in (+) or out (-), in cents"},
    F_TEXT(struct money_row, piece, "for which piece"),
    F_TEXT(struct money_row, piece_title, "what that piece is called"),
    F_TEXT(struct money_row, client, "from or to whom"),
    F_NUM(struct money_row, distance_m, 0, 0, "driven, in meters"),
    F_TIME(struct money_row, day, day, FIELD_DAY, "date for the books"),
    F_TEXT(struct money_row, note, "anything else"),
    F_TIME(struct money_row, at, at_utc_min, FIELD_INSTANT, "when it was entered"),
    F_INT(struct money_row, corrects, 0, 9e15, "number of the entry that this one takes back"),
};
static DESC(desc_row, struct money_row, "money_row", "Money in or out.", row_fields);
static const struct field rows_fields[] = {F_ROWS(&desc_row), F_BASES(struct explained_list)};
static DESC(desc_rows, struct explained_list, "money_rows", "A page of entries, newest first.",
            rows_fields);
struct entries_args {
    struct list_args list;
    bool why;
};
static const struct field list_fields[] = {
    F_ID(struct list_args, piece, 0, "only of this piece"),
    F_ID(struct list_args, kind, 0, "only this kind"),
    F_LIST_AFTER,
    F_LIST_LIMIT,
    F_WHY(struct entries_args),
};
static DESC(desc_list, struct entries_args, "money_args", "Which entries.", list_fields);

static const char *const words_kind[] = {"",         "deposit",  "payment", "sale", "refund",
                                         "purchase", "material", "tool",    "fee",  "mileage",
                                         "rent",     "other",    NULL};
enum { MONEY_UNSAID, MONEY_DEPOSIT, MONEY_PAYMENT, MONEY_SALE, MONEY_MILEAGE = 9 };
struct money_args {
    int kind;
    double amount_cent, distance_mm;
    const char *piece, *client, *note;
    int64_t day;
};
static const struct field add_fields[] = {
    {F_AT(struct money_args, kind), .type = FIELD_WORD, .words = words_kind, .flags = FLAG_REQUIRED,
     .help = "what it was for"},
    {.name = "amount",
     .offset = offsetof(struct money_args, amount_cent),
     .type = FIELD_QUANTITY,
     .dimension = DIM_MONEY,
     .min = -1e11,
     .max = 1e11,
     .help =
         "how much: $120; whether in or out follows from what it was for; may be left out where "
         "a way was driven: only the way counts then"},
    {.name = "distance",
     .offset = offsetof(struct money_args, distance_mm),
     .type = FIELD_QUANTITY,
     .dimension = DIM_LENGTH,
     .flags = FLAG_DRIVEN,
     .min = 0,
     .max = 1e13,
     .help = "driven, for mileage"},
    F_ID(struct money_args, piece, 0, "for which piece"),
    F_ID(struct money_args, client, 0, "from or to whom"),
    F_TIME(struct money_args, day, day, FIELD_DAY, "date for the books; today when not said"),
    F_TEXT(struct money_args, note, "anything else"),
};
static DESC(desc_add, struct money_args, "money_add_args", "Money in or out.", add_fields);

static void entry_explain(struct ledger *l, size_t i, const struct money_row *r) {
    char day[24];
    struct basis *b = ledger_basis(l, explain_at(l, "rows", i, "amount_cent"),
                                   r->corrects != INT64_MIN ? "takes back an earlier entry"
                                                            : "an entry as it was written down; a "
                                                              "correction is an entry of its own",
                                   "CP", CERTAINTY_SAID);
    basis_number(l, b, "entry", (double)r->number, DIM_NONE);
    if (r->corrects != INT64_MIN)
        basis_number(l, b, "takes back entry", (double)r->corrects, DIM_NONE);
    day_print(r->day, day, sizeof day);
    basis_word(l, b, "date for the books", arena_print(l->arena, "%s", day));
    if (!isnan(r->distance_m)) basis_number(l, b, "driven", r->distance_m * 1000, DIM_LENGTH);
}

static enum status list(struct op_call *call, struct why *why) {
    const struct entries_args *args = call->args;
    struct explained_list *answer = call->result;
    struct row_query q = {.where = "(?1 IS NULL OR piece = ?1) AND (?2 IS NULL OR kind = ?2)",
                          .texts = {args->list.piece, args->list.kind},
                          .down = true};
    struct ledger l;
    enum status s = book_list(call, &table_money, &q, &args->list, why);
    ledger_init(&l, call->arena, args->why);
    const struct money_row *rows = answer->list.rows;
    for (size_t i = 0; !s && args->why && i < answer->list.rows_n; i++)
        entry_explain(&l, i, &rows[i]);
    if (!s && !args->why) s = money_print(call, &answer->list, why);
    return s ? s : explain_done(call, &l, &answer->bases, &answer->bases_n, why);
}

static enum status client_there(struct op_call *call, const char *client, struct why *why) {
    struct client_row row;
    if (!client) return OK;
    enum status s = row_get(call->book, &table_client, "id", client, call->arena, &row, NULL);
    return s == E_NOT_FOUND ? why_say(why, E_REFERENCE, "/client",
                                      "There is no client \"%.64s\" in the book.", client)
                            : s;
}

static enum status money_enter(struct op_call *call, const struct money_args *args,
                               struct money_row *row, struct why *why) {
    /* what comes in is named in first place; a minus turns it round: a sale that was taken back */
    bool comes_in =
        args->kind == MONEY_DEPOSIT || args->kind == MONEY_PAYMENT || args->kind == MONEY_SALE;
    bool way = args->kind == MONEY_MILEAGE && args->distance_mm > 0;
    if (isnan(args->amount_cent) && !way)
        return why_say(why, E_MISSING, "/amount", "Write how much it was: $24.50.");
    double cent = isnan(args->amount_cent) ? 0 : args->amount_cent;
    if (!llround(cent) && !way)
        return why_say(why, E_DOMAIN, "/amount",
                       "$0 is no money in or out. Write how much it was: $24.50.");
    row_unsay(&table_money, row);
    row->kind = words_kind[args->kind];
    row->amount_cent = llround(comes_in ? cent : -cent);
    row->piece = args->piece;
    row->client = args->client;
    row->distance_m = args->distance_mm / 1000;
    row->at_utc_min = book_call_now(call);
    struct shop shop;
    enum status s = gather_shop(call, &shop, why);
    if (s) return s;
    row->day =
        args->day == INT64_MIN ? zone_day(shop.zone, row->at_utc_min, call->arena) : args->day;
    row->note = args->note;
    s = piece_there(call, args->piece, why);
    if (!s) s = client_there(call, args->client, why);
    return s ? s : row_add(call->book, &table_money, row, why);
}

/* The line that the list will have for it. */
static enum status added_print(struct op_call *call, struct money_row row, struct why *why) {
    struct piece_row piece;
    struct list_answer one = {.rows = &row, .rows_n = 1};
    if (row.piece && !book_get(call, &table_piece, row.piece, &piece, NULL))
        row.piece_title = piece.title;
    return money_print(call, &one, why);
}

static enum status add(struct op_call *call, struct why *why) {
    struct money_row *row = call->result;
    enum status s = money_enter(call, call->args, row, why);
    if (!s) s = added_print(call, *row, why);
    if (s) return s;
    struct shop shop;
    s = gather_shop(call, &shop, why);
    return s ? s
             : book_says(call->book, why, "%s %s", row->kind,
                         money_amount(call->arena, shop.units, row));
}

static const struct op rows[] = {
    {"money", OP_GET, "/api/money", &desc_list, &desc_rows, NULL, OP_READS,
     "money in and out, newest first", list},
    {"money add", OP_POST, "/api/money", &desc_add, &desc_row, NULL, OP_WRITES,
     "write down money in or out", add},
};
extern const struct ops ops_money;
const struct ops ops_money = {rows, sizeof rows / sizeof *rows};
