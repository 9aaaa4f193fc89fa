/* Records: what was really used and how long it took. A correction is a new row. */
#include "app/op_record.h"
#include "app/explain.h"
#include "app/learned.h"
#include "app/op_piece.h"
#include "app/record_text.h"

#include <math.h>
#include <string.h>

static const struct field row_fields[] = {
    F_INT(struct record_row, number, 0, 9e15, "order of entry"),
    F_REVISION(struct record_row),
    F_TEXT(struct record_row, piece, "on which piece"),
    F_TEXT(struct record_row, kind, "spread, loss, hours, drying or callback"),
    F_TEXT(struct record_row, class, "kind of product"),
    F_TEXT(struct record_row, method, "brush, roller, spray, ..."),
    F_TEXT(struct record_row, operation, "kind of work"),
    F_TEXT(struct record_row, person, "whose work it was, of the shop's crew"),
    F_NUM(struct record_row, planned, 0, 0,
          "what is usual: the plan's figure without what the shop had taught it"),
    F_NUM(struct record_row, actual, 0, 0,
          "spread m2 per liter, loss as a fraction, hours and drying in minutes"),
    F_INT(struct record_row, weight, -1, 1, "1; -1 takes one back"),
    F_BOOL(struct record_row, doubted, "far off; not learned from until it is confirmed"),
    F_TIME(struct record_row, at, at_utc_min, FIELD_INSTANT, "when"),
    F_TEXT(struct record_row, note, "anything else"),
    F_INT(struct record_row, corrects, 0, 9e15, "number of the record that this one takes back"),
};
static DESC(desc_row, struct record_row, "record_row", "A record.", row_fields);
static const struct field rows_fields[] = {F_ROWS(&desc_row)};
static DESC(desc_rows, struct list_answer, "record_rows", "A page of records, newest first.",
            rows_fields);

static const struct field list_fields[] = {
    F_ID(struct list_args, kind, 0, "only this kind"),
    F_ID(struct list_args, piece, 0, "only of this piece"),
    F_ID(struct list_args, person, 0, "only of this one's work, of the shop's crew or no longer"),
    F_LIST_AFTER,
    F_LIST_LIMIT,
};
static DESC(desc_list, struct list_args, "records_args", "Which records.", list_fields);

enum record_kind {
    RECORD_UNSAID,
    RECORD_SPREAD,
    RECORD_LOSS,
    RECORD_HOURS,
    RECORD_DRYING,
    RECORD_CALLBACK
};
static const char *const words_kind[] = {"", "spread", "loss", "hours", "drying", "callback", NULL};
struct record_args {
    enum record_kind kind;
    const char *piece, *class, *method, *operation, *person, *note;
    double spread_m2_per_l, loss_frac, took_min, planned;
    int64_t at_utc_min;
};
static const struct field add_fields[] = {
    {F_AT(struct record_args, kind), .type = FIELD_WORD, .words = words_kind,
     .flags = FLAG_REQUIRED, .help = "what was measured"},
    F_ID(struct record_args, piece, 0, "on which piece"),
    F_ID(struct record_args, class, 0, "kind of product: of a spread, a loss, a drying"),
    F_ID(struct record_args, method, 0, "brush, roller, spray, ..."),
    F_ID(struct record_args, operation, 0, "kind of work: of hours"),
    F_ID(struct record_args, person, 0, "whose work it was, of the shop's crew"),
    F_QTY(struct record_args, spread, spread_m2_per_l, DIM_SPREAD, 0.1, 100,
          "of a spread: 380 ft2/gal"),
    F_QTY(struct record_args, loss, loss_frac, DIM_FRACTION, 0, 1, "of a loss: 35 %"),
    F_QTY(struct record_args, took, took_min, DIM_DURATION, 0, 1e6,
          "of hours and drying: 2 h 10 min"),
    F_NUM(struct record_args, planned, 0, 0,
          "what the plan had said, in the same unit as the record"),
    F_TIME(struct record_args, at, at_utc_min, FIELD_INSTANT, "when; now when not said"),
    F_TEXT(struct record_args, note, "anything else"),
};
static DESC(desc_add, struct record_args, "record_add_args", "A record.", add_fields);

enum status record_enter(struct op_call *call, const struct record_row *record, struct why *why) {
    struct record_row row = *record;
    enum status s = learned_prepare(call, &row, why);
    return s ? s : row_add(call->book, &table_record, &row, why);
}

enum status record_take_back(struct op_call *call, const char *kind, const char *note,
                             struct why *why) {
    struct record_row *rows;
    size_t n;
    struct row_query q = {.where = "kind = ?1 AND note = ?2 AND weight > 0 AND number NOT IN "
                                   "(SELECT corrects FROM record WHERE corrects IS NOT NULL)",
                          .texts = {kind, note},
                          .after = INT64_MIN,
                          .limit = 1,
                          .down = true};
    enum status s =
        row_list(call->book, &table_record, &q, call->arena, (void **)&rows, &n, NULL, why);
    if (s || !n) return s;
    struct record_row back = rows[0];
    back.corrects = rows[0].number;
    back.weight = -1;
    back.at_utc_min = book_call_now(call);
    return row_add(call->book, &table_record, &back, why);
}

static enum status list(struct op_call *call, struct why *why) {
    const struct list_args *args = call->args;
    struct row_query q = {.where = "(?1 IS NULL OR kind = ?1) AND (?2 IS NULL OR piece = ?2) AND "
                                   "(?3 IS NULL OR person = ?3)",
                          .texts = {args->kind, args->piece, args->person},
                          .down = true};
    enum status s = book_list(call, &table_record, &q, args, why);
    return s ? s : records_print(call, call->result, why);
}

static enum status add(struct op_call *call, struct why *why) {
    const struct record_args *args = call->args;
    struct record_row *row = call->result;
    row_unsay(&table_record, row);
    static const char *const needs[] = {"", "/spread", "/loss", "/took", "/took", ""};
    double actual = args->kind == RECORD_SPREAD     ? args->spread_m2_per_l
                    : args->kind == RECORD_LOSS     ? args->loss_frac
                    : args->kind == RECORD_CALLBACK ? 1
                                                    : args->took_min;
    if (isnan(actual)) return why_say(why, E_MISSING, needs[args->kind], "Say how much it was.");
    if (args->kind == RECORD_HOURS && !args->operation)
        return why_say(why, E_MISSING, "/operation", "Say what kind of work took so long.");
    if ((args->kind == RECORD_SPREAD || args->kind == RECORD_LOSS || args->kind == RECORD_DRYING) &&
        !args->class)
        return why_say(why, E_MISSING, "/class", "Say what kind of product it was.");
    enum status s = piece_there(call, args->piece, why);
    if (s) return s;
    *row = (struct record_row){.piece = args->piece,
                               .kind = words_kind[args->kind],
                               .class = args->class,
                               .method = args->method,
                               .operation = args->operation,
                               .person = args->person,
                               .planned = args->planned,
                               .actual = actual,
                               .weight = 1,
                               .note = args->note,
                               .at_utc_min = args->at_utc_min == INT64_MIN ? book_call_now(call)
                                                                           : args->at_utc_min,
                               .corrects = INT64_MIN};
    s = args->kind == RECORD_CALLBACK ? OK : learned_prepare(call, row, why);
    if (!s) s = row_add(call->book, &table_record, row, why);
    const struct list_answer one = {.rows = row, .rows_n = 1};
    if (!s) s = records_print(call, &one, why);
    return s ? s : book_says(call->book, why, "%s", record_words(call, row));
}

/* ---- what they teach ---- */

static const struct field learned_fields[] = {
    F_TEXT(struct learned_row, kind, "spread, loss, hours or drying"),
    F_TEXT(struct learned_row, class, "kind of product"),
    F_TEXT(struct learned_row, method, "brush, roller, spray, ..."),
    F_TEXT(struct learned_row, operation, "kind of work"),
    F_NUM(struct learned_row, usual, 0, 0,
          "usual of the class or tool: m2 per liter, fraction, minutes to the next coat"),
    F_NUM(struct learned_row, shop, 0, 0, "the same in your shop; plans reckon with it"),
    F_NUM(struct learned_row, factor, 0, 0, "your shop against what is usual; 1: as usual"),
    F_NUM(struct learned_row, low, 0, 0, "of the next job: 1 in 10 below"),
    F_NUM(struct learned_row, high, 0, 0, "of the next job: 1 in 10 above"),
    F_INT(struct learned_row, used, 0, 1e9, "from so many records"),
    F_INT(struct learned_row, questioned, 0, 1e9, "so many look wrong and were left out"),
};
static DESC(desc_learned, struct learned_row, "learned_row", "What is usual -> your shop.",
            learned_fields);
static const struct field learneds_fields[] = {F_ROWS(&desc_learned),
                                               F_BASES(struct explained_list)};
static DESC(desc_learneds, struct explained_list, "learned_rows", "What the shop's records teach.",
            learneds_fields);

static enum dimension learned_unit(const char *kind) {
    return !strcmp(kind, "spread") ? DIM_SPREAD
           : !strcmp(kind, "loss") ? DIM_FRACTION
                                   : DIM_DURATION;
}

static void learned_explain(struct ledger *l, size_t i, const struct learned_row *r) {
    struct basis *b =
        ledger_basis(l, explain_at(l, "rows", i, "factor"),
                     "the shop's records against what is usual: the more records, the less what is "
                     "usual counts; "
                     "those that look wrong are left out. The range is that of the next job",
                     "CP", CERTAINTY_MEASURED);
    basis_number(l, b, "records that count", (double)r->used, DIM_NONE);
    if (r->questioned) basis_number(l, b, "left out", (double)r->questioned, DIM_NONE);
    basis_range(b, DIM_NONE, r->low, r->high);
    if (isnan(r->shop)) return;
    b = ledger_basis(l, explain_at(l, "rows", i, "shop"), "what is usual x the shop's factor", "CP",
                     CERTAINTY_MEASURED);
    basis_number(l, b, "usual", r->usual, learned_unit(r->kind));
    basis_number(l, b, "the shop's factor", r->factor, DIM_NONE);
    basis_number(l, b, "records that count", (double)r->used, DIM_NONE);
}

static enum status learned(struct op_call *call, struct why *why) {
    const struct why_args *args = call->args;
    struct explained_list *answer = call->result;
    struct learned_row *rows;
    struct ledger l;
    size_t n;
    ledger_init(&l, call->arena, args->why);
    enum status s = learned_rows(call, &rows, &n, why);
    answer->list.rows = rows;
    answer->list.rows_n = s ? 0 : n < LIST_MAX ? n : LIST_MAX;
    for (size_t i = 0; i < answer->list.rows_n; i++) learned_explain(&l, i, &rows[i]);
    if (!s && !args->why) s = learned_print(call, rows, answer->list.rows_n, why);
    return s ? s : explain_done(call, &l, &answer->bases, &answer->bases_n, why);
}

/* ---- a doubted one that is right after all ---- */

struct confirm_args {
    int64_t number;
};
static const struct field confirm_fields[] = {
    {F_AT(struct confirm_args, number), .type = FIELD_INT, .min = 1, .max = 9e15,
     .flags = FLAG_REQUIRED, .help = "number of the record"},
};
static DESC(desc_confirm, struct confirm_args, "record_confirm_args", "Which record.",
            confirm_fields);

static enum status record_numbered(struct op_call *call, int64_t number, struct record_row *out,
                                   struct why *why) {
    struct record_row *rows;
    size_t n;
    struct row_query q = {.after = number - 1, .limit = 1};
    enum status s =
        row_list(call->book, &table_record, &q, call->arena, (void **)&rows, &n, NULL, why);
    if (s) return s;
    if (!n || rows[0].number != number)
        return why_say(why, E_NOT_FOUND, "/number", "There is no record %lld.", (long long)number);
    *out = rows[0];
    return OK;
}

/* Taken back as doubted and put back as sure: the two rows cancel in every sum. */
static enum status confirm(struct op_call *call, struct why *why) {
    const struct confirm_args *args = call->args;
    struct record_row *put = call->result, back;
    enum status s = record_numbered(call, args->number, &back, why);
    if (s) return s;
    if (!back.doubted || back.corrects != INT64_MIN)
        return why_say(why, E_CONFLICT, "/number", "Record %lld is not doubted.",
                       (long long)args->number);
    *put = back;
    put->corrects = back.corrects = args->number;
    put->doubted = false;
    put->at_utc_min = back.at_utc_min = book_call_now(call);
    back.weight = -1;
    if (!(s = row_add(call->book, &table_record, &back, why)))
        s = row_add(call->book, &table_record, put, why);
    return s ? s : book_says(call->book, why, "confirmed: %s", record_words(call, put));
}

static const struct op rows[] = {
    {"records", OP_GET, "/api/records", &desc_list, &desc_rows, NULL, OP_READS,
     "what was really used and how long it took", list},
    {"learned", OP_GET, "/api/learned", &desc_why_args, &desc_learneds, NULL, OP_READS,
     "what the shop's records teach: what is usual -> your shop", learned},
    {"record add", OP_POST, "/api/records", &desc_add, &desc_row, NULL, OP_WRITES,
     "log a spread, a loss, hours, a drying time or a call-back", add},
    {"record confirm", OP_POST, "/api/records/confirm", &desc_confirm, &desc_row, NULL, OP_WRITES,
     "a record that looked wrong is right: learn from it", confirm},
};
extern const struct ops ops_record;
const struct ops ops_record = {rows, sizeof rows / sizeof *rows};
