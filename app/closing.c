#include "app/closing.h"
#include "app/op_shelf.h"
#include "core/work/amount.h"
#include "store/sums.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const struct field used_fields[] = {
    F_ID(struct used_up, paint, FLAG_REQUIRED, "which paint"),
    {.name = "amount",
     .offset = offsetof(struct used_up, amount_ml),
     .type = FIELD_QUANTITY,
     .dimension = DIM_VOLUME,
     .min = 0,
     .max = 1e6,
     .flags = FLAG_REQUIRED,
     .help = "used in all: 11 fl oz"},
};
DESC(desc_used_up, struct used_up, "used_up", "What was used of a paint.", used_fields);

static const struct field product_fields[] = {
    F_TEXT(struct closing_product_row, paint, "out of which can; missing: not from the shelf"),
    F_TEXT(struct closing_product_row, name, "what it is called"),
    F_TEXT(struct closing_product_row, class, "kind of product"),
    F_QTY(struct closing_product_row, planned, planned_ml, DIM_VOLUME, 0, 0,
          "likeliest, by the plan"),
    F_QTY(struct closing_product_row, actual, actual_ml, DIM_VOLUME, 0, 0, "really used"),
    F_QTY(struct closing_product_row, planned_cost, planned_cent, DIM_MONEY, 0, 0, "by the plan"),
    F_QTY(struct closing_product_row, actual_cost, actual_cent, DIM_MONEY, 0, 0,
          "at the cost of its can"),
};
DESC(desc_closing_product, struct closing_product_row, "closing_product",
     "A product: planned beside actual.", product_fields);

/* ---- what was really used ---- */

static double used_before(const struct paint_use *rows, size_t n, const char *paint) {
    for (size_t i = 0; i < n; i++)
        if (!strcmp(rows[i].paint, paint)) return rows[i].amount_ml;
    return 0;
}

enum status closing_use(struct op_call *call, const char *piece, const struct used_up *used,
                        size_t n, struct why *why) {
    enum { SAME_ML = 1 };
    struct paint_use *before;
    size_t before_n;
    char field[64];
    enum status s = sums_paint_use(call->book, piece, call->arena, &before, &before_n, why);
    for (size_t i = 0; i < n && !s; i++) {
        struct paint_row paint;
        snprintf(field, sizeof field, "/used/%zu/paint", i);
        for (size_t k = 0; k < i; k++)
            if (!strcmp(used[k].paint, used[i].paint))
                return why_say(why, E_DUPLICATE, field, "\"%.64s\" is named twice. Add both up.",
                               used[i].paint);
        s = row_get(call->book, &table_paint, "id", used[i].paint, call->arena, &paint, NULL);
        if (s == E_NOT_FOUND)
            return why_say(why, E_REFERENCE, field, "There is no paint \"%.64s\" on the shelf.",
                           used[i].paint);
        double more = used[i].amount_ml - used_before(before, before_n, used[i].paint);
        if (!s && fabs(more) >= SAME_ML)
            s = paint_move(call, paint.id, "used", -more, (double)NAN, piece, NULL, "at closing",
                           why);
    }
    return s;
}

/* ---- planned beside it ---- */

struct product_list {
    struct closing_product_row *rows; /* room for every can of the plan and of the records */
    size_t n;
};

static struct closing_product_row *row_for(struct product_list *l, const char *piece,
                                           const char *paint, const char *name) {
    for (size_t i = 0; i < l->n; i++) {
        struct closing_product_row *r = &l->rows[i];
        if (paint ? r->paint && !strcmp(r->paint, paint) : !r->paint && !strcmp(r->name, name))
            return r;
    }
    struct closing_product_row *r = &l->rows[l->n++];
    row_unsay(&table_closing_product, r);
    r->piece = piece;
    r->paint = paint;
    r->name = name;
    return r;
}

static void plan_more(struct product_list *l, const char *piece, const char *paint,
                      const char *name, const char *class, double ml, double cent) {
    struct closing_product_row *r = row_for(l, piece, paint, name ? name : paint);
    r->class = class;
    r->planned_ml = (isnan(r->planned_ml) ? 0 : r->planned_ml) + ml;
    r->planned_cent = (isnan(r->planned_cent) ? 0 : r->planned_cent) + cent;
}

/* A mixed color comes out of several cans, each with its share. */
static void plan_products(struct product_list *l, const struct piece_plan *plan) {
    for (size_t i = 0; i < plan->amounts.n; i++) {
        const struct amount *a = &plan->amounts.rows[i];
        const struct color_plan *c = amount_mix(plan, a);
        for (size_t k = 0; c && k < c->lines_n; k++) {
            double share = c->lines[k].parts / (double)c->parts;
            plan_more(l, plan->id, c->lines[k].paint, c->lines[k].name, a->class,
                      a->need_ml * share, a->cost_cent * share);
        }
        if (!c)
            plan_more(l, plan->id, a->product, a->name ? a->name : a->class, a->class, a->need_ml,
                      a->cost_cent);
    }
}

static double cent_of(double ml, double can_cent, double can_ml) {
    return can_ml > 0 ? ml * can_cent / can_ml : (double)NAN;
}

static enum status price_row(struct op_call *call, struct closing_product_row *r, struct why *why) {
    struct paint_row can;
    row_unsay(&table_paint, &can);
    enum status s = row_get(call->book, &table_paint, "id", r->paint, call->arena, &can, NULL);
    if (s == E_NOT_FOUND) { /* only in the plan's document */
        r->paint = NULL;
        return OK;
    }
    if (s) return why_say(why, s, "", "%s", status_text(s));
    r->name = can.name;
    r->class = can.class ? can.class : r->class;
    if (!isnan(r->planned_ml)) r->planned_cent = cent_of(r->planned_ml, can.cost_cent, can.size_ml);
    if (!isnan(r->actual_ml)) r->actual_cent = cent_of(r->actual_ml, can.cost_cent, can.size_ml);
    return OK;
}

enum status closing_products(struct op_call *call, const char *piece, const struct piece_plan *plan,
                             struct closing_product_row **out_rows, size_t *out_n,
                             struct why *why) {
    struct product_list l = {0};
    struct paint_use *used;
    size_t used_n;
    enum status s = sums_paint_use(call->book, piece, call->arena, &used, &used_n, why);
    if (s) return s;
    l.rows = arena_array(call->arena, used_n + (plan ? amount_pours(plan) : 0) + 1, sizeof *l.rows);
    if (!l.rows) return why_no_memory(why);
    if (plan) plan_products(&l, plan);
    for (size_t i = 0; i < used_n; i++)
        row_for(&l, piece, used[i].paint, used[i].paint)->actual_ml = used[i].amount_ml;
    for (size_t i = 0; i < l.n && !s; i++)
        if (l.rows[i].paint) s = price_row(call, &l.rows[i], why);
    *out_rows = l.rows;
    *out_n = l.n;
    return s;
}

static bool named(const struct used_up *used, size_t n, const char *paint) {
    for (size_t i = 0; i < n; i++)
        if (!strcmp(used[i].paint, paint)) return true;
    return false;
}

enum status closing_unlogged(struct op_call *call, const char *piece, const struct piece_plan *plan,
                             const struct used_up *used, size_t n, struct used_up **out,
                             size_t *out_n, struct why *why) {
    struct closing_product_row *rows;
    size_t rows_n;
    enum status s = closing_products(call, piece, plan, &rows, &rows_n, why);
    *out_n = 0;
    if (s) return s;
    if (!(*out = arena_array(call->arena, rows_n + 1, sizeof **out))) return why_no_memory(why);
    for (size_t i = 0; i < rows_n; i++)
        if (rows[i].paint && isnan(rows[i].actual_ml) && rows[i].planned_ml > 0 &&
            !named(used, n, rows[i].paint))
            (*out)[(*out_n)++] = (struct used_up){rows[i].paint, rows[i].planned_ml};
    return OK;
}

enum status closing_keep(struct op_call *call, const char *piece, const struct piece_plan *plan,
                         struct why *why) {
    struct closing_product_row *rows;
    size_t n;
    enum status s = closing_products(call, piece, plan, &rows, &n, why);
    for (size_t i = 0; i < n && !s; i++)
        s = row_add(call->book, &table_closing_product, &rows[i], why);
    return s;
}

enum status closing_read(struct op_call *call, const char *piece,
                         struct closing_product_row **out_rows, size_t *out_n, struct why *why) {
    struct row_query q = {.where = "piece = ?1", .texts = {piece}, .after = INT64_MIN};
    return row_list(call->book, &table_closing_product, &q, call->arena, (void **)out_rows, out_n,
                    NULL, why);
}
