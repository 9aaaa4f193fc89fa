#include "app/learned.h"

#include "codec/document.h"
#include "codec/job_desc.h"
#include "core/work/drying.h"
#include "core/work/fact.h"
#include "core/work/method.h"
#include "store/shop.h"
#include "store/sums.h"

#include <math.h>
#include <string.h>

static bool same(const char *a, const char *b) {
    return a == b || (a && b && !strcmp(a, b));
}

static const struct learn_prior *prior_of(const char *kind) {
    return !strcmp(kind, "spread") ? &learn_spread
           : !strcmp(kind, "loss") ? &learn_loss
                                   : &learn_hours;
}

/* ---- what is usual ---- */

/* The shop's day air; what it has not said is taken as the plan takes it (complete_shop). */
static enum status shop_air(struct op_call *call, struct air *out, struct why *why) {
    const char *document;
    int64_t revision;
    struct shop shop;
    desc_unsay(&desc_shop, &shop);
    enum status s = shop_document(call->book, call->arena, &document, &revision, why);
    if (!s)
        s = document_read(&desc_shop, SPELL_INPUT, document, strlen(document), call->arena, &shop,
                          why);
    if (s) return s;
    out->degc = isnan(shop.day_degc) ? 20 : shop.day_degc;
    out->rh_frac = isnan(shop.humidity_frac) ? .5 : shop.humidity_frac;
    return OK;
}

/* Middle of the class's spread, loss of the tool on broad work, time to the next coat in this air;
 * NAN where the tables do not know it. */
static double usual_of(const struct tables *t, const char *kind, const char *class,
                       const char *method, struct air air) {
    const struct product_classes_row *c = product_class_of(t, class);
    const struct methods_row *m = method_of(t, method);
    struct drying d;
    if (!strcmp(kind, "spread") && c) return sqrt(c->spread_low_m2_per_l * c->spread_high_m2_per_l);
    if (!strcmp(kind, "loss") && m) return m->loss_frac;
    if (!strcmp(kind, "drying") && c && !drying_times(c, NULL, air, NAN, &d, NULL))
        return d.recoat_min;
    return NAN;
}

/* ---- subjects ---- */

static bool same_subject(const struct record_pair *a, const struct record_pair *b) {
    return same(a->kind, b->kind) && same(a->class, b->class) && same(a->method, b->method) &&
           same(a->operation, b->operation);
}

/* A doubted record stays out until somebody confirms it: learn_from leaves out what is not
 * positive. */
static struct learn_record record_of(const struct record_pair *p) {
    bool out = p->doubted && !p->confirmed;
    return (struct learn_record){p->planned, out ? 0 : p->actual, p->confirmed};
}

enum status learned_rows(struct op_call *call, struct learned_row **out_rows, size_t *out_n,
                         struct why *why) {
    struct record_pair *pairs;
    struct air air;
    size_t n, rows_n = 0;
    enum status s = sums_records(call->book, call->arena, &pairs, &n, why);
    if (!s) s = shop_air(call, &air, why);
    if (s) return s;
    struct learn_record *records = arena_array(call->arena, n + 1, sizeof *records);
    struct learned_row *rows = arena_array(call->arena, n + 1, sizeof *rows);
    if (!records || !rows) return why_no_memory(why);
    for (size_t from = 0, to; from < n; from = to) {
        const struct record_pair *p = &pairs[from];
        for (to = from; to < n && same_subject(p, &pairs[to]); to++)
            records[to] = record_of(&pairs[to]);
        struct learn_answer a = learn_from(prior_of(p->kind), records + from, to - from, NULL);
        double usual = usual_of(call->app->tables, p->kind, p->class, p->method, air);
        rows[rows_n++] = (struct learned_row){.kind = p->kind,
                                              .class = p->class,
                                              .method = p->method,
                                              .operation = p->operation,
                                              .usual = usual,
                                              .shop = usual * a.factor,
                                              .factor = a.factor,
                                              .low = a.low,
                                              .high = a.high,
                                              .log_sd = a.log_sd,
                                              .used = (int64_t)a.used,
                                              .questioned = (int64_t)a.questioned};
    }
    *out_rows = rows, *out_n = rows_n;
    return OK;
}

enum status learned_shop(struct op_call *call, struct shop *shop, struct why *why) {
    struct learned_row *rows;
    size_t n, kept = 0;
    enum status s = learned_rows(call, &rows, &n, why);
    if (s) return s;
    struct learnt *learnt = arena_array(call->arena, n + 1, sizeof *learnt);
    if (!learnt) return why_no_memory(why);
    for (size_t i = 0; i < n; i++) {
        const char *subject = strcmp(rows[i].kind, "hours") ? rows[i].class : rows[i].operation;
        if (!rows[i].used || !subject) continue;
        learnt[kept++] = (struct learnt){.what = rows[i].kind,
                                         .class = subject,
                                         .method = rows[i].method,
                                         .factor = rows[i].factor,
                                         .log_sd = rows[i].log_sd,
                                         .records = rows[i].used};
    }
    shop->learnt = learnt;
    shop->learnt_n = kept;
    return OK;
}

/* ---- a new record ---- */

/* Further off than the shop's records so far, or shops among each other, let expect. */
static bool surprises(const struct record_row *row, const struct learned_row *so_far) {
    const struct learn_prior *prior = prior_of(row->kind);
    double sd = so_far ? so_far->log_sd : hypot(prior->between_log_sd, prior->single_log_sd);
    double off = fabs(log(row->actual / row->planned) - log(so_far ? so_far->factor : 1));
    return !(row->actual > 0) || off > 3 * sd;
}

enum status learned_prepare(struct op_call *call, struct record_row *row, struct why *why) {
    struct learned_row *rows;
    struct air air;
    size_t n;
    enum status s = learned_rows(call, &rows, &n, why);
    if (!s) s = shop_air(call, &air, why);
    if (s) return s;
    const struct learned_row *so_far = NULL;
    for (size_t i = 0; i < n && !so_far; i++)
        if (same(rows[i].kind, row->kind) && same(rows[i].class, row->class) &&
            same(rows[i].method, row->method) && same(rows[i].operation, row->operation))
            so_far = &rows[i];
    bool by_plan = !strcmp(row->kind, "hours") || !strcmp(row->kind, "drying");
    if (row->planned > 0 && by_plan && so_far && so_far->used) row->planned /= so_far->factor;
    if (!(row->planned > 0))
        row->planned = usual_of(call->app->tables, row->kind, row->class, row->method, air);
    row->doubted = row->planned > 0 && surprises(row, so_far);
    return OK;
}
