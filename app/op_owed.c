/* Open pieces: what is agreed or asked for them, what came in, what is still to come. */
#include "app/explain.h"
#include "app/gather.h"
#include "app/owed_text.h"
#include "codec/job_desc.h"
#include "core/work/job.h"
#include "store/store.h"
#include "store/sums.h"

#include <math.h>
#include <string.h>

static const struct field row_fields[] = {
    F_TEXT(struct owed_row, id, "the piece"),
    F_TEXT(struct owed_row, title, "what it is called"),
    F_TEXT(struct owed_row, client_name, "the client's name"),
    F_TEXT(struct owed_row, stage, "where it stands"),
    F_QTY(struct owed_row, price, price_cent, DIM_MONEY, 0, 0, "price"),
    F_TEXT(struct owed_row, price_is,
           "quoted to the client, asked of a buyer, or planned: as last planned"),
    F_QTY(struct owed_row, paid, paid_cent, DIM_MONEY, 0, 0,
          "deposits, payments and sales less refunds"),
    F_QTY(struct owed_row, to_come, to_come_cent, DIM_MONEY, 0, 0,
          "of a quoted price, what is not paid yet"),
    F_QTY(struct owed_row, unbooked, unbooked_cent, DIM_MONEY, 0, 0,
          "what the piece was bought for, where no purchase is written down"),
    F_HOURS(struct owed_row, hours, "hands-on hours, as last planned"),
};
static DESC(desc_row, struct owed_row, "owed_row", "Price and payments of an open piece.",
            row_fields);
static const struct field rows_fields[] = {F_ROWS(&desc_row), F_BASES(struct explained_list)};
static DESC(desc_rows, struct explained_list, "owed_rows", "Open pieces with their money.",
            rows_fields);

struct owed_args {
    const char *piece;
    bool why;
};
static const struct field args_fields[] = {
    F_ID(struct owed_args, piece, 0, "only of this piece"),
    F_WHY(struct owed_args),
};
static DESC(desc_args, struct owed_args, "owed_args", "Which open pieces.", args_fields);

/* What the plan of now says, made when it is first asked for: all open pieces together, as their
 * sheets have it, and without days. */
struct now {
    struct op_call *call;
    const char *piece;       /* the only one that is asked for; NULL: all */
    bool made, cut;          /* cut: more are open than are planned together */
    const struct plan *plan; /* NULL: there is none */
};

static void now_make(struct now *w) {
    struct gathered *g = arena_take(w->call->arena, sizeof *g);
    struct plan_answer *a = arena_take(w->call->arena, sizeof *a);
    const struct plan_ask ask = {.now_utc_min = book_call_now(w->call), .no_days = true};
    w->made = true;
    if (!g || !a || gather_job(w->call, w->piece, true, g, NULL)) return;
    desc_unsay(&desc_plan_answer, a);
    w->cut = g->cut;
    if (!gather_plan(w->call, g, w->piece, &ask, a, NULL)) w->plan = &a->plan;
}

/* NULL: the piece is not in it, or has no price. */
static const struct price *price_now(struct now *w, const char *piece) {
    if (!w->made) now_make(w);
    for (size_t i = 0; w->plan && i < w->plan->pieces_n; i++)
        if (!strcmp(w->plan->pieces[i].id, piece) && w->plan->pieces[i].price.price_cent > 0)
            return &w->plan->pieces[i].price;
    return NULL;
}

/* What was kept of a plan is of the piece as it was then: one that was entered or changed since is
 * priced anew, so that no price is of another piece; so is one of which only the days are known.
 * Nothing where it cannot be planned. */
static void freshen(struct now *w, struct piece_row *p) {
    if (p->outlook_revision >= p->revision && !isnan(p->price_cent)) return;
    const struct price *price = price_now(w, p->id);
    if (!price && w->cut) return;
    p->price_cent = price ? price->price_cent : (double)NAN;
    p->hours = price ? price->hours : (double)NAN;
}

/* A piece for sale has an asking price, any other what was quoted; else what the plan came to. */
static enum status price_of(struct op_call *call, const struct piece_row *p, struct owed_row *out,
                            struct why *why) {
    struct piece said;
    desc_unsay(&desc_piece, &said);
    enum status s = document_read(&desc_piece, SPELL_INPUT, p->document, strlen(p->document),
                                  call->arena, &said, why);
    if (s) return s;
    const struct agreement *a = &said.agreement;
    bool sale = a->purpose == PURPOSE_SALE;
    double agreed = sale ? a->asking_cent : a->quoted_cent;
    out->price_is = isnan(agreed) ? "planned" : sale ? "asked" : "quoted";
    out->price_cent = isnan(agreed) ? p->price_cent : agreed;
    out->unbooked_cent = a->bought_cent > 0 ? a->bought_cent : (double)NAN;
    return OK;
}

static void hands_say(struct ledger *l, struct basis *b, double hours) {
    char text[32];
    if (!isnan(hours))
        basis_word(l, b, "hands-on", arena_print(l->arena, "%s", basis_hands(hours, text)));
}

/* The cost lines of the sheet; none when the shelf or the shop has changed since and they would
 * come to another price than the one that is shown. */
static void lines_say(struct ledger *l, struct basis *b, const struct price *p, double shown_cent) {
    if (!p || fabs(p->price_cent - shown_cent) >= 1) return;
    for (size_t i = 0; i < p->rows_n; i++)
        explain_number(l, b, p->rows[i].name, p->rows[i].cent, DIM_MONEY);
    basis_number(l, b, "cost in all", p->cost_cent, DIM_MONEY);
    basis_number(l, b, "with margin, fee and rounding", p->price_cent, DIM_MONEY);
}

/* As the plan came to it, and what of it is there. planned: of the last plan; NAN: none. */
static void explain(struct ledger *l, size_t i, const struct owed_row *r, double planned_cent,
                    const struct price *price) {
    bool planned = !strcmp(r->price_is, "planned"), asked = !strcmp(r->price_is, "asked");
    struct basis *b = ledger_basis(
        l, explain_at(l, "rows", i, "price_cent"),
        planned ? "what the plan came to: hours at the shop's rate, material, overhead and margin; "
                  "its sheet has every line of it"
        : asked ? "what a buyer is asked for it"
                : "what was quoted to the client",
        "CP", planned ? CERTAINTY_COMMON : CERTAINTY_SAID);
    if (planned) hands_say(l, b, r->hours), lines_say(l, b, price, r->price_cent);
    if (!planned) explain_number(l, b, "as last planned", planned_cent, DIM_MONEY);
    if (!isnan(r->hours)) {
        b = ledger_basis(l, explain_at(l, "rows", i, "hours"),
                         "the hands-on time of every step of its sheet, added up as last planned",
                         "CP", CERTAINTY_COMMON);
        hands_say(l, b, r->hours);
    }
    b = ledger_basis(l, explain_at(l, "rows", i, "paid_cent"),
                     "deposits, payments and sales less refunds", "CP", CERTAINTY_EXACT);
    basis_number(l, b, "came in", r->paid_cent, DIM_MONEY);
    if (isnan(r->to_come_cent)) return;
    b = ledger_basis(l, explain_at(l, "rows", i, "to_come_cent"), "what was quoted - what came in",
                     "CP", CERTAINTY_EXACT);
    basis_number(l, b, "quoted", r->price_cent, DIM_MONEY);
    basis_number(l, b, "came in", r->paid_cent, DIM_MONEY);
}

static enum status row_fill(struct op_call *call, const struct piece_row *p, struct owed_row *out,
                            struct why *why) {
    struct piece_sums sums;
    *out = (struct owed_row){.id = p->id,
                             .title = p->title,
                             .client_name = p->client_name,
                             .stage = p->stage,
                             .hours = p->hours,
                             .to_come_cent = (double)NAN};
    enum status s = price_of(call, p, out, why);
    if (!s) s = sums_of_piece(call->book, p->id, &sums, why);
    if (s) return s;
    out->paid_cent = sums.income_cent;
    if (sums.bought_cent > 0) out->unbooked_cent = (double)NAN;
    if (!strcmp(out->price_is, "quoted")) out->to_come_cent = out->price_cent - sums.income_cent;
    return OK;
}

static enum status owed(struct op_call *call, struct why *why) {
    const struct owed_args *args = call->args;
    struct explained_list *answer = call->result;
    struct now now = {.call = call, .piece = args->piece};
    struct ledger l;
    struct piece_row *pieces;
    size_t n;
    struct row_query q = {.where = "removed = 0 AND stage NOT IN ('closed', 'left')"
                                   " AND (?1 IS NULL OR id = ?1)",
                          .texts = {args->piece},
                          .after = INT64_MIN};
    ledger_init(&l, call->arena, args->why);
    enum status s =
        row_list(call->book, &table_piece, &q, call->arena, (void **)&pieces, &n, NULL, why);
    if (s) return s;
    struct owed_row *rows = arena_array(call->arena, n + 1, sizeof *rows);
    if (!rows) return why_no_memory(why);
    for (size_t i = 0; i < n; i++) {
        freshen(&now, &pieces[i]);
        if ((s = row_fill(call, &pieces[i], &rows[i], why))) return s;
        bool lines = args->why && !strcmp(rows[i].price_is, "planned");
        explain(&l, i, &rows[i], pieces[i].price_cent,
                lines ? price_now(&now, pieces[i].id) : NULL);
    }
    answer->list.rows = rows;
    answer->list.rows_n = n;
    if (!args->why) s = owed_print(call, rows, n, why);
    return s ? s : explain_done(call, &l, &answer->bases, &answer->bases_n, why);
}

static const struct op rows[] = {
    {"money open", OP_GET, "/api/money/open", &desc_args, &desc_rows, NULL, OP_READS | OP_SLOW,
     "open pieces: price, what is paid, what is to come", owed},
};
extern const struct ops ops_owed;
const struct ops ops_owed = {rows, sizeof rows / sizeof *rows};
