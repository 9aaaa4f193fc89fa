/* Records: what was really used and how long it took. A correction is a new row. */
#include "app/op_record.h"
#include "app/op_shelf.h"
#include "core/work/learn.h"
#include "store/sums.h"

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
    F_NUM(struct record_row, planned, 0, 0, "what the plan said"),
    F_NUM(struct record_row, actual, 0, 0,
          "spread m2 per liter, loss as a fraction, hours and drying in minutes"),
    F_INT(struct record_row, weight, -1, 1, "1; -1 takes one back"),
    F_BOOL(struct record_row, doubted, "far off; not learnt from until it is confirmed"),
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
    const char *piece, *class, *method, *operation, *note;
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
    double ratio = row.planned > 0 && row.actual > 0 ? row.actual / row.planned : 1;
    row.doubted = ratio > 4 || ratio < 0.25;
    return row_add(call->book, &table_record, &row, why);
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
    struct row_query q = {.where = "(?1 IS NULL OR kind = ?1) AND (?2 IS NULL OR piece = ?2)",
                          .texts = {args->kind, args->piece},
                          .down = true};
    return book_list(call, &table_record, &q, args, why);
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
                               .planned = args->planned,
                               .actual = actual,
                               .weight = 1,
                               .note = args->note,
                               .at_utc_min = args->at_utc_min == INT64_MIN ? book_call_now(call)
                                                                           : args->at_utc_min,
                               .corrects = INT64_MIN};
    double ratio = row->planned > 0 ? actual / row->planned : 1;
    row->doubted = ratio > 4 || ratio < 0.25;
    s = row_add(call->book, &table_record, row, why);
    return s ? s : book_says(call->book, why, "%s", row->kind);
}

/* ---- what they teach ---------------------------------------------------------------------------
 */

struct learned_row {
    const char *kind, *class, *method, *operation;
    double factor, low, high;
    int64_t used, questioned;
};
static const struct field learned_fields[] = {
    F_TEXT(struct learned_row, kind, "spread, loss, hours or drying"),
    F_TEXT(struct learned_row, class, "kind of product"),
    F_TEXT(struct learned_row, method, "brush, roller, spray, ..."),
    F_TEXT(struct learned_row, operation, "kind of work"),
    F_NUM(struct learned_row, factor, 0, 0, "your shop against what is usual; 1: as usual"),
    F_NUM(struct learned_row, low, 0, 0, "of the next job: 1 in 10 below"),
    F_NUM(struct learned_row, high, 0, 0, "of the next job: 1 in 10 above"),
    F_INT(struct learned_row, used, 0, 1e9, "from so many records"),
    F_INT(struct learned_row, questioned, 0, 1e9, "so many look wrong and were left out"),
};
static DESC(desc_learned, struct learned_row, "learned_row", "What is usual -> your shop.",
            learned_fields);
static const struct field learneds_fields[] = {F_ROWS(&desc_learned)};
static DESC(desc_learneds, struct list_answer, "learned_rows", "What the shop's records teach.",
            learneds_fields);

static bool same_text(const char *a, const char *b) {
    return a == b || (a && b && !strcmp(a, b));
}

static bool same_subject(const struct record_pair *a, const struct record_pair *b) {
    return same_text(a->kind, b->kind) && same_text(a->class, b->class) &&
           same_text(a->method, b->method) && same_text(a->operation, b->operation);
}

static const struct learn_prior *prior_of(const char *kind) {
    return !strcmp(kind, "spread") ? &learn_spread
           : !strcmp(kind, "loss") ? &learn_loss
                                   : &learn_hours;
}

static enum status learned(struct op_call *call, struct why *why) {
    struct list_answer *answer = call->result;
    struct record_pair *pairs;
    size_t n;
    enum status s = sums_records(call->book, call->arena, &pairs, &n, why);
    if (s) return s;
    struct learn_record *records = arena_array(call->arena, n + 1, sizeof *records);
    struct learned_row *rows = arena_array(call->arena, n + 1, sizeof *rows);
    if (!records || !rows) return book_no_memory(why);
    for (size_t from = 0, to; from < n && answer->rows_n < LIST_MAX; from = to) {
        for (to = from; to < n && same_subject(&pairs[from], &pairs[to]); to++)
            records[to] = (struct learn_record){pairs[to].planned, pairs[to].actual, false};
        struct learn_answer a =
            learn_from(prior_of(pairs[from].kind), records + from, to - from, NULL);
        rows[answer->rows_n++] = (struct learned_row){pairs[from].kind,
                                                      pairs[from].class,
                                                      pairs[from].method,
                                                      pairs[from].operation,
                                                      a.factor,
                                                      a.low,
                                                      a.high,
                                                      (int64_t)a.used,
                                                      (int64_t)a.questioned};
    }
    answer->rows = rows;
    return OK;
}

static const struct op rows[] = {
    {"records", OP_GET, "/api/records", &desc_list, &desc_rows, NULL, OP_READS,
     "what was really used and how long it took", list},
    {"learned", OP_GET, "/api/learned", NULL, &desc_learneds, NULL, OP_READS,
     "what the shop's records teach: what is usual -> your shop", learned},
    {"record add", OP_POST, "/api/records", &desc_add, &desc_row, NULL, OP_WRITES,
     "log a spread, a loss, hours, a drying time or a call-back", add},
};
extern const struct ops ops_record;
const struct ops ops_record = {rows, sizeof rows / sizeof *rows};
