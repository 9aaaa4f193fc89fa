/* Where the hours of a piece went: planned beside on record, by the parts of the work that the
 * price counts. */
#include "app/book.h"
#include "app/days_words.h"
#include "app/gather.h"
#include "codec/text_wrap.h"
#include "core/work/work_part.h"
#include "store/books.h"

#include <math.h>
#include <string.h>

struct went_row {
    const char *id, *name;
    double planned_min, actual_min; /* NAN: not planned, nothing on record */
};
static const struct field went_fields[] = {
    F_TEXT(struct went_row, id, "part of the work, as the price counts it"),
    F_TEXT(struct went_row, name, "in words"),
    F_QTY(struct went_row, planned, planned_min, DIM_DURATION, 0, 0, "hands-on, by the plan"),
    F_QTY(struct went_row, actual, actual_min, DIM_DURATION, 0, 0, "hands-on, on record"),
};
static DESC(desc_went_row, struct went_row, "went_row", "A part of the work.", went_fields);
static const struct field wents_fields[] = {F_ROWS(&desc_went_row)};
static DESC(desc_wents, struct list_answer, "went_rows", "Where the hours went.", wents_fields);

enum { OTHER = WORK_PARTS, ROWS };

static void add_min(double *sum, double more) {
    *sum = (isnan(*sum) ? 0 : *sum) + more;
}

static void rows_begin(struct went_row *rows) {
    for (size_t i = 0; i < ROWS; i++)
        rows[i] = i == OTHER ? (struct went_row){"other", "Other work", NAN, NAN}
                             : (struct went_row){work_part_id((enum work_part)i),
                                                 work_part_name((enum work_part)i), NAN, NAN};
}

/* A piece that cannot be planned has its records all the same. */
static enum status planned_add(struct op_call *call, struct gathered *g, const char *piece,
                               struct went_row *rows, struct why *why) {
    const struct plan_ask ask = {.now_utc_min = book_call_now(call), .no_days = true};
    struct plan_answer *plan = arena_take(call->arena, sizeof *plan);
    if (!plan) return why_no_memory(why);
    desc_unsay(&desc_plan_answer, plan);
    if (gather_plan(call, g, piece, &ask, plan, NULL) || !plan->plan.pieces_n) return OK;
    const struct price *p = &plan->plan.pieces[0].price;
    for (size_t i = 0; i < p->rows_n; i++)
        for (size_t k = 0; k < OTHER; k++)
            if (!strcmp(rows[k].id, p->rows[i].id) && p->rows[i].hours > 0)
                add_min(&rows[k].planned_min, p->rows[i].hours * 60);
    return OK;
}

static const char *span_words(const struct days_clock *c, double min) {
    return isnan(min) ? "-" : days_span(c, min);
}

static enum status went_print(struct op_call *call, const struct went_row *rows, size_t n,
                              struct why *why) {
    enum { PART = 32, SPAN = 14 };
    struct text *out = &call->out_body;
    struct days_clock c;
    double planned = 0, actual = 0;
    enum status s = n ? days_clock_of_shop(call, &c, why) : OK;
    if (s || !n) return s;
    text_print(out, "%-*s%*s%*s\n", PART, "", SPAN, "planned", SPAN, "on record");
    for (size_t i = 0; i < n; i++) {
        text_left(out, PART, rows[i].name);
        text_right(out, SPAN, span_words(&c, rows[i].planned_min));
        text_right(out, SPAN, span_words(&c, rows[i].actual_min));
        text_print(out, "\n");
        planned += isnan(rows[i].planned_min) ? 0 : rows[i].planned_min;
        actual += isnan(rows[i].actual_min) ? 0 : rows[i].actual_min;
    }
    text_left(out, PART, "In all");
    text_right(out, SPAN, days_span(&c, planned));
    text_right(out, SPAN, actual > 0 ? days_span(&c, actual) : "-");
    text_print(out, "\n");
    return OK;
}

static enum status went(struct op_call *call, struct why *why) {
    const struct id_args *args = call->args;
    struct list_answer *answer = call->result;
    struct went_row *rows = arena_array(call->arena, ROWS, sizeof *rows), *kept = rows;
    struct gathered g;
    struct books_hours *hours;
    size_t n;
    if (!rows) return why_no_memory(why);
    rows_begin(rows);
    enum status s = gather_job(call, args->id, false, &g, why);
    if (!s) s = books_hours(call->book, args->id, call->arena, &hours, &n, why);
    if (!s) s = planned_add(call, &g, args->id, rows, why);
    if (s) return s;
    for (size_t i = 0; i < n; i++)
        add_min(&rows[work_part_of(call->app->tables, hours[i].operation)].actual_min,
                hours[i].min);
    for (size_t i = 0; i < ROWS; i++)
        if (!isnan(rows[i].planned_min) || !isnan(rows[i].actual_min)) *kept++ = rows[i];
    answer->rows = rows;
    answer->rows_n = (size_t)(kept - rows);
    return went_print(call, rows, answer->rows_n, why);
}

static const struct op rows[] = {
    {"piece went", OP_GET, "/api/pieces/{id}/went", &desc_id_args, &desc_wents, positional_id,
     OP_READS | OP_SLOW, "where the hours of a piece went, planned beside on record", went},
};
extern const struct ops ops_went;
const struct ops ops_went = {rows, sizeof rows / sizeof *rows};
