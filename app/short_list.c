#include "app/short_list.h"

#include "app/explain.h"

#include "core/work/amount.h"
#include "core/work/can_set.h"
#include "store/sums.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const struct field short_fields[] = {
    F_TEXT(struct short_row, product, "id on the shelf, or the kind of product"),
    F_TEXT(struct short_row, name, "what it is"),
    F_TEXT(struct short_row, class, "kind of product"),
    F_QTY(struct short_row, need, need_ml, DIM_VOLUME, 0, 0,
          "still to be mixed or poured, all pieces"),
    F_QTY(struct short_row, stock, stock_ml, DIM_VOLUME, 0, 0, "how much is left"),
    F_QTY(struct short_row, used, used_ml, DIM_VOLUME, 0, 0,
          "of it, what coats that are done took and nobody logged"),
    F_QTY(struct short_row, buy, buy_ml, DIM_VOLUME, 0, 0, "what is short"),
    F_INT(struct short_row, cans, 0, 1e6, "cans to buy; missing: it is not sold"),
    F_TEXT(struct short_row, cans_text, "the cheapest set that holds it: 1 gallon, 2 quarts"),
    F_QTY(struct short_row, cost, cost_cent, DIM_MONEY, 0, 0,
          "what the cans cost, where it is known"),
    F_BOOL(struct short_row, estimated,
           "the cost: one size is known, others go by what is usual between sizes"),
    F_TEXTS(struct short_row, pieces, GATHER_PIECES, "for which pieces"),
};
DESC(desc_short, struct short_row, "short_row", "Something that runs short.", short_fields);

static const struct paint *on_shelf(const struct shelf *shelf, const char *id) {
    for (size_t i = 0; i < shelf->paints_n; i++)
        if (!strcmp(shelf->paints[i].id, id)) return &shelf->paints[i];
    return NULL;
}

struct short_list {
    struct arena *arena;
    const struct gathered *g;
    struct short_row *rows;
    size_t n, pieces_most;
    struct paint_use *logged; /* out of each can for the piece at hand */
    size_t logged_n;
};

/* ---- coats that are done ---- */

static bool task_done(const struct gathered *g, const char *piece, const char *id) {
    for (size_t i = 0; i < g->kept_n; i++)
        if (g->kept[i].done_utc_min != INT64_MIN && !strcmp(g->kept[i].id, id) &&
            !strcmp(g->kept[i].piece, piece))
            return true;
    return false;
}

/* How many of a row's coats are on (ids as day_coats.c makes them). */
static int64_t coats_done(const struct gathered *g, const char *piece, const struct coat *c) {
    int64_t done = 0;
    char id[160];
    for (int64_t i = 1; i <= c->coats; i++) {
        snprintf(id, sizeof id, c->coats > 1 ? "%.120s-coat%lld" : "%.120s", c->id, (long long)i);
        done += task_done(g, piece, id);
    }
    return done;
}

static bool is_of(const struct coat *c, const struct amount *a) {
    bool same =
        a->product && c->product ? !strcmp(a->product, c->product) : !a->product && !c->product;
    return c->role == a->role && c->color_row == a->color_row && same;
}

/* Share of an amount that is on the piece already, by the area of its coats. */
static double share_done(const struct gathered *g, const struct piece_plan *p,
                         const struct amount *a) {
    double all = 0, done = 0;
    for (size_t i = 0; i < p->coats.n; i++) {
        const struct coat *c = &p->coats.rows[i];
        if (!is_of(c, a) || !c->id) continue;
        all += c->area_m2 * (double)c->coats;
        done += c->area_m2 * (double)coats_done(g, p->id, c);
    }
    return all > 0 ? done / all : 0;
}

/* ---- the list ---- */

/* What of `took` nobody has logged; what was logged is taken off once. */
static double unlogged(struct short_list *l, const char *product, double took_ml) {
    for (size_t i = 0; i < l->logged_n; i++)
        if (!strcmp(l->logged[i].paint, product)) {
            double known = fmin(took_ml, l->logged[i].amount_ml);
            l->logged[i].amount_ml -= known;
            return took_ml - known;
        }
    return took_ml;
}

/* False without memory. */
static bool need_add(struct short_list *l, const char *product, const char *name, const char *class,
                     double need_ml, double done, const char *piece) {
    size_t i = 0;
    if (!product || isnan(need_ml)) return true;
    while (i < l->n && strcmp(l->rows[i].product, product)) i++;
    struct short_row *r = &l->rows[i];
    if (i == l->n) {
        *r = (struct short_row){.product = product, .name = name, .class = class};
        r->pieces = arena_array(l->arena, l->pieces_most, sizeof *r->pieces);
        r->wants_ml = arena_array(l->arena, l->pieces_most, sizeof *r->wants_ml);
        if (!r->pieces || !r->wants_ml) return false;
        l->n++;
    }
    r->used_ml += unlogged(l, product, need_ml * done);
    if (done >= 1) return true;
    r->need_ml += need_ml * (1 - done);
    if (!r->pieces_n || r->pieces[r->pieces_n - 1] != piece) {
        r->wants_ml[r->pieces_n] = 0;
        r->pieces[r->pieces_n++] = piece;
    }
    r->wants_ml[r->pieces_n - 1] += need_ml * (1 - done);
    return true;
}

/* A color that is mixed here is needed as the paints that it is mixed from. */
static bool amount_add(struct short_list *l, const struct piece_plan *p, const struct amount *a) {
    double need_ml = isnan(a->mix_ml) ? a->need_ml : a->mix_ml, done = share_done(l->g, p, a);
    const struct color_plan *c = amount_mix(p, a);
    if (!c)
        return need_add(l,
                        a->product ? a->product
                        : a->class ? a->class
                                   : a->name,
                        a->name, a->class, need_ml, done, p->title);
    for (size_t i = 0; i < c->lines_n; i++) {
        const struct recipe_line *line = &c->lines[i];
        if (!need_add(l, line->paint, line->name, a->class,
                      (need_ml - a->mixed_ml) * line->parts / (double)c->parts, done, p->title))
            return false;
    }
    return true;
}

enum status short_find(struct op_call *call, const struct gathered *g, const struct plan *plan,
                       struct short_row **out_rows, size_t *out_n, struct why *why) {
    const struct shelf *shelf = &g->job.shelf;
    size_t pours = 0, kept = 0;
    for (size_t i = 0; i < plan->pieces_n; i++) pours += amount_pours(&plan->pieces[i]);
    struct short_list l = {.arena = call->arena,
                           .g = g,
                           .rows = arena_array(call->arena, pours + 1, sizeof *l.rows),
                           .pieces_most = plan->pieces_n + 1};
    if (!l.rows) return why_no_memory(why);
    for (size_t i = 0; i < plan->pieces_n; i++) {
        const struct piece_plan *p = &plan->pieces[i];
        enum status s = sums_paint_use(call->book, p->id, call->arena, &l.logged, &l.logged_n, why);
        if (s) return s;
        for (size_t k = 0; k < p->amounts.n; k++)
            if (!amount_add(&l, p, &p->amounts.rows[k])) return why_no_memory(why);
    }
    for (size_t i = 0; i < l.n; i++) {
        struct short_row r = l.rows[i];
        const struct paint *p = on_shelf(shelf, r.product);
        r.stock_ml = p && !isnan(p->stock_ml) ? p->stock_ml : 0;
        r.used_ml = fmin(r.used_ml, r.stock_ml);
        r.buy_ml = r.need_ml - (r.stock_ml - r.used_ml);
        if (r.buy_ml <= 0.5) continue; /* less than anybody can measure */
        struct can_set set =
            can_set_of(call->app->tables, call->arena, plan->shop.units, p, r.class, r.buy_ml);
        r.cans = set.cans ? set.cans : INT64_MIN;
        r.cans_text = set.text;
        r.cost_cent = set.cost_cent;
        r.estimated = set.estimated && !isnan(set.cost_cent);
        l.rows[kept++] = r;
    }
    *out_rows = l.rows, *out_n = kept;
    return OK;
}

double short_cost(struct ledger *l, const struct short_row *rows, size_t n) {
    bool any = false, estimated = false;
    double sum_cent = 0;
    for (size_t i = 0; i < n; i++) {
        if (isnan(rows[i].cost_cent)) continue;
        sum_cent += rows[i].cost_cent;
        estimated |= rows[i].estimated;
        any = true;
    }
    if (!any) return (double)NAN;
    struct basis *b = ledger_basis(l, l->wanted ? "/cost_cent" : "",
                                   "what the cans to buy cost, added up; what has no price counts "
                                   "for nothing",
                                   "CP", estimated ? CERTAINTY_ASSUMED : CERTAINTY_SAID);
    for (size_t i = 0; i < n; i++)
        if (isnan(rows[i].cost_cent))
            basis_word(l, b, rows[i].name, "no price");
        else
            basis_number(l, b, rows[i].name, rows[i].cost_cent, DIM_MONEY);
    return sum_cent;
}

void short_explain(struct ledger *l, const struct short_row *rows, size_t n) {
    for (size_t i = 0; i < n; i++) {
        const struct short_row *r = &rows[i];
        struct basis *b = ledger_basis(l, explain_at(l, "rows", i, "buy_ml"),
                                       "what the open pieces still want, less what is on the shelf",
                                       "CP", CERTAINTY_COMMON);
        for (size_t k = 0; k < r->pieces_n; k++)
            basis_number(l, b, r->pieces[k], r->wants_ml[k], DIM_VOLUME);
        basis_number(l, b, "on the shelf", r->stock_ml, DIM_VOLUME);
        if (r->used_ml > 0)
            basis_number(l, b, "of it gone into coats that are done and were not logged",
                         r->used_ml, DIM_VOLUME);
        if (isnan(r->cost_cent)) continue;
        b = ledger_basis(l, explain_at(l, "rows", i, "cost_cent"),
                         r->estimated ? "the cheapest set of cans that holds what is short; sizes "
                                        "without a price go by what is usual between sizes"
                                      : "the cheapest set of cans that holds what is short",
                         "CP", r->estimated ? CERTAINTY_ASSUMED : CERTAINTY_SAID);
        basis_number(l, b, "short", r->buy_ml, DIM_VOLUME);
        if (r->cans_text) basis_word(l, b, "to buy", r->cans_text);
    }
}
