/* For the tax adviser and for oneself: money of a year by kind, distance driven, the stock at cost;
 * which coating systems come back. Nothing here is tax advice. */
#include "app/books_text.h"
#include "app/explain.h"
#include "app/gather.h"
#include "app/id_words.h"
#include "app/zone.h"
#include "codec/csv_text.h"
#include "codec/text_wrap.h"
#include "codec/time_text.h"
#include "core/base/units.h"
#include "store/books.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* ---- which days ---- */

struct days_args {
    int64_t from_day, to_day;
};
#define DAYS_FIELDS                                                                                \
    F_TIME(struct days_args, from, from_day, FIELD_DAY, "first day; January 1 when not said"),     \
        F_TIME(struct days_args, to, to_day, FIELD_DAY, "last day; December 31 when not said")
static const struct field days_fields[] = {DAYS_FIELDS};
static DESC(desc_from_to, struct days_args, "books_days_args", "Which days.", days_fields);
struct books_args {
    struct days_args days;
    bool why;
};
static const struct field books_args_fields[] = {
    DAYS_FIELDS,
    F_WHY(struct books_args),
};
static DESC(desc_books_args, struct books_args, "books_args", "Which days.", books_args_fields);

/* Today by the clock of the shop: the last evening of a year belongs to it. */
static int64_t today(struct op_call *call) {
    struct shop shop;
    int64_t now = book_call_now(call);
    return gather_shop(call, &shop, NULL) ? now / 1440 : zone_day(shop.zone, now, call->arena);
}

/* What is not said is the calendar year of the other end, or of today. */
static enum status days_of(struct op_call *call, int64_t *out_from, int64_t *out_to,
                           struct why *why) {
    const struct days_args *args = call->args;
    int64_t from = args->from_day, to = args->to_day, year;
    int month, dom;
    int64_t known = from != INT64_MIN ? from : to != INT64_MIN ? to : today(call);
    date_of_day(known, &year, &month, &dom);
    if (from == INT64_MIN) from = day_of_date(year, 1, 1);
    if (to == INT64_MIN) to = day_of_date(year, 12, 31);
    if (to < from)
        return why_say(why, E_DOMAIN, "/to",
                       "The last day lies before the first. Write a later "
                       "one.");
    *out_from = from, *out_to = to;
    return OK;
}

/* ---- sums ---- */

static const struct field sum_fields[] = {
    F_TEXT(struct books_sum, kind, "what for"),
    F_QTY(struct books_sum, in, in_cent, DIM_MONEY, 0, 0, "came in"),
    F_QTY(struct books_sum, out, out_cent, DIM_MONEY, 0, 0, "went out"),
    F_NUM(struct books_sum, distance_m, 0, 0, "driven, in meters"),
    F_INT(struct books_sum, entries, 0, 9e15, "entries, corrections among them"),
};
static DESC(desc_sum, struct books_sum, "books_sum", "Money of one kind.", sum_fields);
static const struct field books_fields[] = {
    F_TIME(struct books_answer, from, from_day, FIELD_DAY, "first day"),
    F_TIME(struct books_answer, to, to_day, FIELD_DAY, "last day"),
    F_LIST(struct books_answer, rows, &desc_sum, 64, "by kind"),
    F_QTY(struct books_answer, in, in_cent, DIM_MONEY, 0, 0, "came in"),
    F_QTY(struct books_answer, out, out_cent, DIM_MONEY, 0, 0, "went out"),
    F_QTY(struct books_answer, left, left_cent, DIM_MONEY, 0, 0, "in less out"),
    F_NUM(struct books_answer, distance_m, 0, 0, "driven, in meters"),
    F_QTY(struct books_answer, stock, stock_cent, DIM_MONEY, 0, 0, "stock of now at its cost"),
    F_TEXT(struct books_answer, note, "what to mind"),
    F_BASES(struct books_answer),
};
static DESC(desc_books, struct books_answer, "books_answer", "The books of some days.",
            books_fields);

struct stock {
    struct paint_row *paints;
    struct supply_row *supplies;
    size_t paints_n, supplies_n;
};

static double paint_cent(const struct paint_row *p) {
    bool known = p->stock_ml > 0 && p->size_ml > 0 && !isnan(p->cost_cent);
    return known ? p->stock_ml * p->cost_cent / p->size_ml : 0;
}

static double supply_cent(const struct supply_row *s) {
    return s->count > 0 && !isnan(s->cost_cent) ? s->count * s->cost_cent : 0;
}

static enum status stock_read(struct op_call *call, struct stock *out, struct why *why) {
    struct row_query q = {.where = "removed = 0", .after = INT64_MIN};
    enum status s = row_list(call->book, &table_paint, &q, call->arena, (void **)&out->paints,
                             &out->paints_n, NULL, why);
    if (s) return s;
    return row_list(call->book, &table_supply, &q, call->arena, (void **)&out->supplies,
                    &out->supplies_n, NULL, why);
}

/* One kind's sums. Each entry stands under In and out with its own basis. */
static void kind_explain(struct ledger *l, size_t i, const struct books_sum *r) {
    static const char *const members[] = {"in_cent", "out_cent", "distance_m"};
    const double values[] = {r->in_cent, r->out_cent, r->distance_m * 1000};
    for (size_t k = 0; k < 3; k++) {
        if (!(fabs(values[k]) > 0)) continue;
        struct basis *b = ledger_basis(l, explain_at(l, "rows", i, members[k]),
                                       "the entries of this kind on these days added up; one that "
                                       "was taken back counts against it",
                                       "CP", k == 2 ? CERTAINTY_SAID : CERTAINTY_EXACT);
        basis_number(l, b, "entries", (double)r->entries, DIM_NONE);
        basis_number(l, b, "together", values[k], k == 2 ? DIM_LENGTH : DIM_MONEY);
    }
}

/* Sums of what is written down: nothing in them is reckoned but the value of what is left in a can.
 */
static void explain(struct ledger *l, const struct books_answer *a, double paints_cent,
                    double supplies_cent) {
    struct basis *b =
        ledger_basis(l, "/in_cent", "everything that came in on these days, corrections taken off",
                     "CP", CERTAINTY_EXACT);
    for (size_t i = 0; i < a->rows_n; i++)
        if (a->rows[i].in_cent > 0)
            basis_number(l, b, a->rows[i].kind, a->rows[i].in_cent, DIM_MONEY);
    b = ledger_basis(l, "/out_cent",
                     "everything that went out on these days, corrections taken off", "CP",
                     CERTAINTY_EXACT);
    for (size_t i = 0; i < a->rows_n; i++)
        if (a->rows[i].out_cent > 0)
            basis_number(l, b, a->rows[i].kind, a->rows[i].out_cent, DIM_MONEY);
    b = ledger_basis(l, "/distance_m", "everything driven on these days, corrections taken off",
                     "CP", CERTAINTY_SAID);
    for (size_t i = 0; i < a->rows_n; i++)
        if (a->rows[i].distance_m > 0)
            basis_number(l, b, a->rows[i].kind, a->rows[i].distance_m * 1000, DIM_LENGTH);
    for (size_t i = 0; i < a->rows_n; i++) kind_explain(l, i, &a->rows[i]);
    b = ledger_basis(l, "/left_cent", "what came in - what went out", "CP", CERTAINTY_EXACT);
    basis_number(l, b, "came in", a->in_cent, DIM_MONEY);
    basis_number(l, b, "went out", a->out_cent, DIM_MONEY);
    b = ledger_basis(l, "/stock_cent",
                     "what is left in each can, at its share of what the full can cost; supplies "
                     "by the piece. What has no cost or is not counted counts for nothing",
                     "CP", CERTAINTY_EXACT);
    basis_number(l, b, "cans", paints_cent, DIM_MONEY);
    basis_number(l, b, "supplies", supplies_cent, DIM_MONEY);
}

static enum status books(struct op_call *call, struct why *why) {
    const struct books_args *args = call->args;
    struct books_answer *a = call->result;
    struct ledger l;
    ledger_init(&l, call->arena, args->why);
    struct stock stock;
    enum status s = days_of(call, &a->from_day, &a->to_day, why);
    if (!s)
        s = books_sums(call->book, a->from_day, a->to_day, call->arena, &a->rows, &a->rows_n, why);
    if (!s) s = stock_read(call, &stock, why);
    if (s) return s;
    a->in_cent = a->out_cent = a->distance_m = a->stock_cent = 0;
    for (size_t i = 0; i < a->rows_n; i++) {
        a->in_cent += a->rows[i].in_cent;
        a->out_cent += a->rows[i].out_cent;
        a->distance_m += a->rows[i].distance_m;
    }
    double paints_cent = 0, supplies_cent = 0;
    for (size_t i = 0; i < stock.paints_n; i++) paints_cent += paint_cent(&stock.paints[i]);
    for (size_t i = 0; i < stock.supplies_n; i++) supplies_cent += supply_cent(&stock.supplies[i]);
    a->stock_cent = paints_cent + supplies_cent;
    a->left_cent = a->in_cent - a->out_cent;
    a->note = "What is income, cost or stock for the tax differs by place: ask your adviser.";
    explain(&l, a, paints_cent, supplies_cent);
    s = explain_done(call, &l, &a->bases, &a->bases_n, why);
    return s || args->why ? s : books_print(call, a, why); /* bases are listed as they are */
}

/* ---- the same as CSV ---- */

static void csv_day(struct text *t, int64_t day, bool first) {
    char text[24];
    day_print(day, text, sizeof text);
    csv_field(t, text, first);
}

static void csv_heads(struct text *t, const char *const *heads, size_t n) {
    for (size_t i = 0; i < n; i++) csv_field(t, heads[i], i == 0);
    csv_end(t);
}

static void csv_money(struct text *t, double cent) {
    char text[40];
    snprintf(text, sizeof text, "%.2f", cent / 100);
    csv_field(t, text, false);
}

static enum status csv_done(struct op_call *call, struct why *why) {
    call->out_type = "text/csv; charset=utf-8";
    return call->out_body.failed ? why_no_memory(why) : OK;
}

static enum status books_table(struct op_call *call, struct why *why) {
    static const char *const heads[] = {"date",  "kind",   "amount", "miles", "km",
                                        "piece", "client", "note",   "entry", "corrects"};
    struct books_line *rows;
    struct text *t = &call->out_body;
    int64_t from, to;
    size_t n;
    enum status s = days_of(call, &from, &to, why);
    if (!s) s = books_lines(call->book, from, to, call->arena, &rows, &n, why);
    if (s) return s;
    csv_heads(t, heads, sizeof heads / sizeof *heads);
    for (size_t i = 0; i < n; i++) {
        const struct books_line *l = &rows[i];
        csv_day(t, l->day, true);
        csv_field(t, l->kind, false);
        csv_money(t, l->amount_cent);
        csv_number(t, l->distance_m / M_PER_MILE, false);
        csv_number(t, l->distance_m / 1000, false);
        csv_field(t, l->piece_title, false);
        csv_field(t, l->client_name, false);
        csv_field(t, l->note, false);
        csv_integer(t, l->number, false);
        csv_integer(t, l->corrects, false);
        csv_end(t);
    }
    call->out_file_name = "books.csv";
    return csv_done(call, why);
}

static enum status stock_table(struct op_call *call, struct why *why) {
    static const char *const heads[] = {"what", "id",          "name", "kind",         "left",
                                        "unit", "cost_of_one", "size", "value_at_cost"};
    struct text *t = &call->out_body;
    struct stock stock;
    enum status s = stock_read(call, &stock, why);
    if (s) return s;
    csv_heads(t, heads, sizeof heads / sizeof *heads);
    for (size_t i = 0; i < stock.paints_n; i++) {
        const struct paint_row *p = &stock.paints[i];
        const char *class = id_words(call->app->tables, "class", p->class);
        const char *const texts[] = {"paint", p->id, p->name, class ? class : p->class};
        for (size_t k = 0; k < 4; k++) csv_field(t, texts[k], k == 0);
        csv_number(t, fmax(0, p->stock_ml), false);
        csv_field(t, "ml", false);
        csv_money(t, isnan(p->cost_cent) ? 0 : p->cost_cent);
        csv_number(t, p->size_ml, false);
        csv_money(t, paint_cent(p));
        csv_end(t);
    }
    for (size_t i = 0; i < stock.supplies_n; i++) {
        const struct supply_row *u = &stock.supplies[i];
        const char *const texts[] = {"supply", u->id, u->name, u->kind};
        for (size_t k = 0; k < 4; k++) csv_field(t, texts[k], k == 0);
        csv_number(t, u->count, false);
        csv_field(t, "pieces", false);
        csv_money(t, isnan(u->cost_cent) ? 0 : u->cost_cent);
        csv_number(t, 1, false);
        csv_money(t, supply_cent(u));
        csv_end(t);
    }
    call->out_file_name = "stock.csv";
    return csv_done(call, why);
}

/* ---- what comes back ---- */

static const struct field system_fields[] = {
    F_TEXT(struct books_system, system, "what lay there + what was put on, in order"),
    F_INT(struct books_system, pieces, 0, 9e15, "closed pieces of it"),
    F_INT(struct books_system, callbacks, -9e15, 9e15, "call-backs on record"),
};
static DESC(desc_system, struct books_system, "coating_system", "A coating system.", system_fields);
static const struct field systems_fields[] = {F_ROWS(&desc_system)};
static DESC(desc_systems, struct list_answer, "callbacks_answer",
            "Coating systems, those that come back first.", systems_fields);

/* "lacquer + wb_enamel", a material and classes of product, as people read it. */
static const char *system_words(struct op_call *call, const char *system) {
    static const char and[] = " + ";
    const char *words = NULL;
    for (const char *at = system, *end; at; at = end ? end + sizeof and-1 : NULL) {
        end = strstr(at, and);
        const char *id = end ? arena_print(call->arena, "%.*s", (int)(end - at), at) : at;
        const char *name = id ? id_words(call->app->tables, words ? "class" : "finish", id) : NULL;
        if (!name) name = id ? id : "";
        words = words ? arena_print(call->arena, "%s%s%s", words, and, name) : name;
        if (!words) return system;
    }
    return words;
}

static enum status systems(struct op_call *call, struct books_system **out_rows, size_t *out_n,
                           struct why *why) {
    enum status s = books_systems(call->book, call->arena, out_rows, out_n, why);
    for (size_t i = 0; !s && i < *out_n; i++)
        (*out_rows)[i].system = system_words(call, (*out_rows)[i].system);
    return s;
}

static void systems_print(const struct books_system *rows, size_t n, struct text *out) {
    if (!n)
        text_wrap(
            out, 0, 0,
            "No piece is closed yet, so nothing is known of what comes back: coatwright piece "
            "close.");
    for (size_t i = 0; i < n; i++) {
        const struct books_system *r = &rows[i];
        text_wrap(out, 0, 2, r->system);
        text_print(out, "    ");
        text_wrap_print(out, 4, 4, "%lld closed %s, %lld %s.", (long long)r->pieces,
                        r->pieces == 1 ? "piece" : "pieces", (long long)r->callbacks,
                        r->callbacks == 1 ? "call-back" : "call-backs");
    }
}

static enum status callbacks(struct op_call *call, struct why *why) {
    struct list_answer *a = call->result;
    struct books_system *rows;
    size_t n;
    enum status s = systems(call, &rows, &n, why);
    a->rows = rows;
    a->rows_n = s ? 0 : n < LIST_MAX ? n : LIST_MAX;
    if (!s) systems_print(rows, a->rows_n, &call->out_body);
    return s;
}

static enum status callbacks_table(struct op_call *call, struct why *why) {
    static const char *const heads[] = {"system", "pieces", "callbacks"};
    struct books_system *rows;
    struct text *t = &call->out_body;
    size_t n;
    enum status s = systems(call, &rows, &n, why);
    if (s) return s;
    csv_heads(t, heads, sizeof heads / sizeof *heads);
    for (size_t i = 0; i < n; i++) {
        csv_field(t, rows[i].system, true);
        csv_integer(t, rows[i].pieces, false);
        csv_integer(t, rows[i].callbacks, false);
        csv_end(t);
    }
    call->out_file_name = "callbacks.csv";
    return csv_done(call, why);
}

static const struct op rows[] = {
    {"books", OP_GET, "/api/books", &desc_books_args, &desc_books, NULL, OP_READS,
     "money of a year by kind, distance driven, stock at cost: for the tax adviser", books},
    {"books table", OP_GET, "/api/books.csv", &desc_from_to, NULL, NULL, OP_READS,
     "every entry of a year as CSV, mileage among them", books_table},
    {"stock table", OP_GET, "/api/stock.csv", NULL, NULL, NULL, OP_READS,
     "the stock of now at its cost as CSV", stock_table},
    {"callbacks", OP_GET, "/api/callbacks", NULL, &desc_systems, NULL, OP_READS,
     "coating systems of closed pieces and how many came back", callbacks},
    {"callbacks table", OP_GET, "/api/callbacks.csv", NULL, NULL, NULL, OP_READS, "the same as CSV",
     callbacks_table},
};
extern const struct ops ops_books;
const struct ops ops_books = {rows, sizeof rows / sizeof *rows};
