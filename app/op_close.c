/* Closing a piece: planned beside actual, and what an hour earned. */
#include "app/closing_text.h"
#include "app/explain.h"
#include "app/gather.h"
#include "app/zone.h"
#include "codec/text_wrap.h"
#include "codec/units_text.h"
#include "core/work/basis.h"
#include "store/sums.h"

#include <math.h>
#include <string.h>

static const struct field closing_fields[] = {
    F_TEXT(struct closing_row, piece, "which piece"),
    F_TEXT(struct closing_row, title, "what it is called"),
    F_TEXT(struct closing_row, template, "what it is"),
    F_REVISION(struct closing_row),
    F_HOURS(struct closing_row, planned_hours, "hands-on, by the plan"),
    F_HOURS(struct closing_row, actual_hours, "hands-on, really"),
    F_QTY(struct closing_row, planned_material, planned_material_cent, DIM_MONEY, 0, 0,
          "material, by the plan, without tape, abrasive and rags"),
    F_QTY(struct closing_row, actual_material, actual_material_cent, DIM_MONEY, 0, 0,
          "material at stock cost"),
    F_QTY(struct closing_row, planned_price, planned_price_cent, DIM_MONEY, 0, 0,
          "price, by the plan"),
    F_QTY(struct closing_row, actual_price, actual_price_cent, DIM_MONEY, 0, 0, "what was paid"),
    F_QTY(struct closing_view, unbooked, unbooked_cent, DIM_MONEY, 0, 0,
          "of what was paid: not written down as money, and so in no books"),
    F_QTY(struct closing_row, fee, fee_cent, DIM_MONEY, 0, 0, "fees of the sale"),
    F_QTY(struct closing_row, bought, bought_cent, DIM_MONEY, 0, 0, "what the piece itself cost"),
    F_QTY(struct closing_row, hour, hour_cent, DIM_MONEY, 0, 0,
          "what an hour earned: (paid - fees - bought - material) / hours"),
    F_TIME(struct closing_row, at, at_utc_min, FIELD_INSTANT, "when"),
    {.name = "days_to_sell",
     .offset = offsetof(struct closing_row, days_to_sell),
     .type = FIELD_INT,
     .help = "from the day it was listed for sale to this one"},
    F_TEXT(struct closing_row, note, "anything else"),
    F_LIST(struct closing_view, products, &desc_closing_product, 0,
           "what was used of each product"),
};
static DESC(desc_closing, struct closing_view, "closing_row",
            "A closed piece: planned beside actual.", closing_fields);
static const struct field closings_fields[] = {F_ROWS(&desc_closing),
                                               F_BASES(struct explained_list)};
static DESC(desc_closings, struct explained_list, "closing_rows", "Closed pieces, newest first.",
            closings_fields);
struct closed_args {
    struct list_args list;
    bool why;
};
static const struct field closed_fields[] = {F_ID(struct list_args, piece, 0, "only this one"),
                                             F_LIST_AFTER, F_LIST_LIMIT, F_WHY(struct closed_args)};
static DESC(desc_closed_list, struct closed_args, "money_pieces_args", "Which closed pieces.",
            closed_fields);

enum unlogged { UNLOGGED_UNSAID, UNLOGGED_PLANNED, UNLOGGED_NONE };
static const char *const words_unlogged[] = {"", "planned", "none", NULL};
enum { USED_MOST = 500 }; /* as many as a shelf holds */
struct close_args {
    const char *id, *note;
    enum unlogged unlogged;
    double hours_min, price_cent, material_cent;
    struct used_up *used;
    size_t used_n;
};
static const struct field close_fields[] = {
    F_ID(struct close_args, id, FLAG_REQUIRED, "which piece"),
    F_QTY(struct close_args, hours, hours_min, DIM_DURATION, 0, 1e7,
          "hands-on in all: 14 h 30 min; the sum of the records when not said"),
    F_QTY(struct close_args, price, price_cent, DIM_MONEY, 0, 1e11,
          "what was paid; the money on record when not said"),
    F_QTY(struct close_args, material, material_cent, DIM_MONEY, 0, 1e11,
          "material; what was used at stock cost when not said"),
    F_LIST(
        struct close_args, used, &desc_used_up, USED_MOST,
        "what was used of each paint in all: white=20 fl oz, ochre=1 fl oz; what is on record when "
        "not said. The shelf follows"),
    F_WORD(
        struct close_args, unlogged, words_unlogged,
        "cans that nobody logged anything of: planned counts them as planned, as when nothing is "
        "said, none as not used. The shelf follows"),
    F_TEXT(struct close_args, note, "anything else"),
};
static DESC(desc_close, struct close_args, "close_args", "What it came to.", close_fields);

/* The books of the year are what stands under Money, not what a closing says. */
static enum status unbooked(struct op_call *call, struct closing_view *v, struct why *why) {
    struct piece_sums sums;
    enum status s = sums_of_piece(call->book, v->row.piece, &sums, why);
    struct piece_row piece;
    row_unsay(&table_piece, &piece);
    if (!s) s = row_get(call->book, &table_piece, "id", v->row.piece, call->arena, &piece, why);
    if (!s) v->sale = !piece.client;
    double more = s ? 0 : v->row.actual_price_cent - sums.income_cent;
    v->unbooked_cent = more >= 1 ? more : (double)NAN;
    return s;
}

static enum status closing_fill(struct op_call *call, void *view, struct why *why) {
    struct closing_view *v = view;
    enum status s = unbooked(call, v, why);
    return s ? s : closing_read(call, v->row.piece, &v->products, &v->products_n, why);
}

static void closing_explain(struct ledger *l, size_t i, const struct closing_row *r) {
    static const char actual[] =
        "written down when the piece was closed; what nobody said then is the sum of the records";
    struct basis *b =
        ledger_basis(l, explain_at(l, "rows", i, "hour_cent"),
                     "(paid - fees - bought for - material) / hours", "CP", CERTAINTY_EXACT);
    basis_number(l, b, "paid", r->actual_price_cent, DIM_MONEY);
    explain_number(l, b, "fees", r->fee_cent, DIM_MONEY);
    explain_number(l, b, "bought for", r->bought_cent, DIM_MONEY);
    explain_number(l, b, "material", r->actual_material_cent, DIM_MONEY);
    explain_number(l, b, "hours", r->actual_hours * 60, DIM_DURATION);
    b = ledger_basis(l, explain_at(l, "rows", i, "actual_hours"), actual, "CP", CERTAINTY_MEASURED);
    explain_number(l, b, "planned", r->planned_hours * 60, DIM_DURATION);
    explain_number(l, b, "on record", r->actual_hours * 60, DIM_DURATION);
    b = ledger_basis(l, explain_at(l, "rows", i, "actual_material_cent"), actual, "CP",
                     CERTAINTY_MEASURED);
    explain_number(l, b, "planned", r->planned_material_cent, DIM_MONEY);
    explain_number(l, b, "used, at what the cans cost", r->actual_material_cent, DIM_MONEY);
    b = ledger_basis(l, explain_at(l, "rows", i, "actual_price_cent"), actual, "CP",
                     CERTAINTY_EXACT);
    explain_number(l, b, "quoted, asked or planned", r->planned_price_cent, DIM_MONEY);
    explain_number(l, b, "paid", r->actual_price_cent, DIM_MONEY);
}

static enum status pieces(struct op_call *call, struct why *why) {
    const struct closed_args *args = call->args;
    struct explained_list *answer = call->result;
    struct ledger l;
    enum status s = book_views(call, &table_closing, "(?1 IS NULL OR piece = ?1)",
                               sizeof(struct closing_view), closing_fill, why);
    ledger_init(&l, call->arena, args->why);
    const struct closing_view *rows = answer->list.rows;
    for (size_t i = 0; !s && i < answer->list.rows_n; i++) closing_explain(&l, i, &rows[i].row);
    if (!s && !args->why) s = closings_print(call, &answer->list, why);
    return s ? s : explain_done(call, &l, &answer->bases, &answer->bases_n, why);
}

static double said_or(double said, double else_value) {
    return isnan(said) ? else_value : said;
}

struct planned {                /* the piece before it is closed */
    struct agreement agreement; /* as the piece says it */
    const char *zone;           /* of the shop; NULL: the machine's own */
    struct plan_answer answer;
    const struct piece_plan *piece; /* NULL where it cannot be planned: closing needs no plan */
};

static enum status planned(struct op_call *call, const char *id, struct planned **out,
                           struct why *why) {
    struct gathered g;
    struct planned *p = arena_take(call->arena, sizeof *p);
    struct plan_ask ask = {.now_utc_min = book_call_now(call), .no_days = true};
    enum status s = p ? gather_job(call, id, false, &g, why) : why_no_memory(why);
    if (s) return s;
    p->agreement = g.job.pieces[0].agreement;
    p->zone = g.job.shop.zone;
    desc_unsay(&desc_plan_answer, &p->answer);
    if (!gather_plan(call, &g, id, &ask, &p->answer, NULL) && p->answer.plan.pieces_n)
        p->piece = &p->answer.plan.pieces[0];
    *out = p;
    return OK;
}

/* What was agreed counts where nothing is on record: the price paid for the piece, and how long one
 * for sale stood, by the days of the shop's clock. A day that is still to come counts for nothing.
 */
static void as_agreed(struct op_call *call, const struct planned *plan, struct closing_row *row) {
    const struct agreement *a = &plan->agreement;
    int64_t today = zone_day(plan->zone, row->at_utc_min, call->arena);
    row->bought_cent = a->bought_cent;
    if (a->purpose == PURPOSE_SALE && a->listed_day != INT64_MIN && a->listed_day <= today)
        row->days_to_sell = today - a->listed_day;
}

/* Tape, abrasive and rags are not booked by the piece: they are in the price, and in neither figure
 * here. */
static double booked_cent(const struct price *c) {
    double cent = c->material_cent;
    for (size_t i = 0; i < c->rows_n; i++)
        if (!strcmp(c->rows[i].id, "supplies")) cent -= c->rows[i].cent;
    return cent;
}

/* Beside what it came to stands what was reckoned with when it was agreed, not what a plan of today
 * would say. */
static enum status as_planned(struct op_call *call, const struct piece_plan *p,
                              struct closing_row *row, struct why *why) {
    const struct agreement *a = &p->piece.agreement;
    double promised, agreed = a->purpose == PURPOSE_SALE ? a->asking_cent : a->quoted_cent;
    enum status s = sums_promised_hours(call->book, row->piece, &promised, why);
    if (s) return s;
    row->planned_hours = isnan(promised) ? p->price.hours : promised;
    row->planned_material_cent = booked_cent(&p->price);
    row->planned_price_cent = isnan(agreed) ? p->price.price_cent : agreed;
    return OK;
}

static enum status actual(struct op_call *call, const struct close_args *args,
                          struct closing_row *row, struct why *why) {
    struct piece_sums sums;
    enum status s = sums_of_piece(call->book, args->id, &sums, why);
    if (s) return s;
    row->actual_hours = said_or(args->hours_min, sums.hours_min) / 60;
    row->actual_material_cent = said_or(args->material_cent, sums.material_cent);
    row->actual_price_cent = said_or(args->price_cent, sums.income_cent);
    row->fee_cent = sums.fee_cent;
    if (sums.bought_cent > 0 || isnan(row->bought_cent)) row->bought_cent = sums.bought_cent;
    if (!(row->actual_hours > 0))
        return why_say(why, E_MISSING, "/hours",
                       "Nothing on record says how long it took. Write the hours: 14 h 30 min.");
    row->hour_cent =
        (row->actual_price_cent - row->fee_cent - row->bought_cent - row->actual_material_cent) /
        row->actual_hours;
    return OK;
}

static enum status write_closing(struct op_call *call, struct closing_row *row, struct why *why) {
    int64_t number;
    enum status s = sums_closing_number(call->book, row->piece, &number, why);
    if (s) return s;
    row->number = number;
    return number == INT64_MIN ? row_add(call->book, &table_closing, row, why)
                               : row_change(call->book, &table_closing, row, why);
}

/* Each can once, with what is taken to have been used of it. */
static const char *unlogged_words(struct arena *arena, enum unit_system units,
                                  const struct closing_view *v, const struct used_up *cans,
                                  size_t n) {
    const char *text = NULL;
    for (size_t i = 0; i < n; i++)
        for (size_t k = 0; k < v->products_n; k++) {
            const struct closing_product_row *p = &v->products[k];
            if (!p->paint || strcmp(p->paint, cans[i].paint)) continue;
            const char *amount = units_text(arena, DIM_VOLUME, units, cans[i].amount_ml);
            text = text ? arena_print(arena, "%s; %s of %s", text, amount, p->name)
                        : arena_print(arena, "%s of %s", amount, p->name);
        }
    return text;
}

/* What it came to, and what was taken for granted on the way. */
static void say_closed(struct op_call *call, const struct closing_view *v,
                       const struct planned *plan, const struct used_up *cans, size_t n) {
    const struct closing_row *row = &v->row;
    struct arena *a = call->arena;
    struct text *out = &call->out_body;
    enum unit_system units = plan->piece ? plan->answer.plan.shop.units : UNITS_US;
    const char *taken = unlogged_words(a, units, v, cans, n);
    text_wrap(out, 0, 0, arena_print(a, "Closed: %s.", row->title));
    closing_lines(a, units, v, 2, out);
    const enum purpose purpose =
        plan->piece ? plan->piece->piece.agreement.purpose : plan->agreement.purpose;
    if (!(row->actual_price_cent > 0) && purpose != PURPOSE_OWN)
        text_print(out, "No money is on record for it. Undo, then close it with --price.\n");
    const char *unbooked = closing_unbooked(a, units, v);
    if (unbooked) text_wrap(out, 0, 0, unbooked);
    if (taken)
        text_wrap(out, 0, 0,
                  arena_print(a,
                              "Nobody logged these, so they count as planned, and the shelf has so "
                              "much less: %s. Was it otherwise? Undo, then close it with --used, "
                              "or with --unlogged none.",
                              taken));
}

static enum status close_piece(struct op_call *call, struct why *why) {
    const struct close_args *args = call->args;
    struct closing_view *view = call->result;
    struct closing_row *row = &view->row;
    struct planned *plan = call->prepared;
    struct piece_row piece;
    row_unsay(&table_closing, row);
    enum status s = book_get(call, &table_piece, args->id, &piece, why);
    if (!s && !plan) s = planned(call, args->id, &plan, why);
    if (!s && !book_writes(call->book)) {
        call->prepared = plan;
        return OK;
    }
    if (!s) s = book_fresh(call, &table_piece, &piece, why);
    if (!s && piece.closed_utc_min != INT64_MIN)
        s = why_say(why, E_CONFLICT, "/id", "%s is closed already. Undo opens it again.",
                    piece.title);
    row->piece = args->id;
    row->note = args->note;
    row->at_utc_min = book_call_now(call);
    row->removed = false;
    if (!s && plan->piece) s = as_planned(call, plan->piece, row, why);
    if (!s) as_agreed(call, plan, row);
    struct used_up *unlogged = NULL;
    size_t unlogged_n = 0;
    if (!s && args->unlogged != UNLOGGED_NONE)
        s = closing_unlogged(call, args->id, plan->piece, args->used, args->used_n, &unlogged,
                             &unlogged_n, why);
    if (!s) s = closing_use(call, args->id, args->used, args->used_n, why);
    if (!s) s = closing_use(call, args->id, unlogged, unlogged_n, why);
    if (!s) s = actual(call, args, row, why);
    if (!s) s = write_closing(call, row, why);
    if (!s) s = closing_keep(call, args->id, plan->piece, why);
    if (!s) s = closing_fill(call, view, why);
    if (s) return s;
    piece.stage = "closed";
    piece.closed_utc_min = row->at_utc_min;
    row->title = piece.title;
    row->template = piece.template;
    s = row_change(call->book, &table_piece, &piece, why);
    if (!s) say_closed(call, view, plan, unlogged, unlogged_n);
    return s ? s : book_says(call->book, why, "%s", piece.title);
}

static const struct op rows[] = {
    {"money pieces", OP_GET, "/api/money/pieces", &desc_closed_list, &desc_closings, NULL, OP_READS,
     "closed pieces: planned beside actual, and what an hour earned", pieces},
    {"piece close", OP_POST, "/api/pieces/{id}/close", &desc_close, &desc_closing, positional_id,
     OP_WRITES | OP_PREPARES, "close a piece: planned beside actual, and what an hour earned",
     close_piece},
};
extern const struct ops ops_close;
const struct ops ops_close = {rows, sizeof rows / sizeof *rows};
