#include "app/learned.h"

#include "app/shop_kept.h"

#include "codec/document.h"
#include "codec/job_desc.h"
#include "core/work/drying.h"
#include "core/work/fact.h"
#include "core/work/method.h"
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
    enum status s = shop_kept(call, &document, &revision, NULL, why);
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

/* Where the records of the subject that begins there end. */
static size_t subject_end(const struct record_pair *pairs, size_t n, size_t from) {
    size_t to = from;
    while (to < n && same_subject(&pairs[from], &pairs[to])) to++;
    return to;
}

/* What the [n] records of a subject teach without those of a piece; NULL: all. room holds n. */
static struct learn_answer taught_by(const char *kind, const struct record_pair *pairs, size_t n,
                                     const char *without, struct learn_record *room) {
    size_t kept = 0;
    for (size_t i = 0; i < n; i++)
        if (!without || !same(pairs[i].piece, without)) room[kept++] = record_of(&pairs[i]);
    return learn_from(prior_of(kind), room, kept, NULL);
}

enum status learned_rows(struct op_call *call, struct learned_row **out_rows, size_t *out_n,
                         struct why *why) {
    struct record_pair *pairs;
    struct air air;
    size_t n, rows_n = 0;
    enum status s = sums_records(call->book, call->arena, &pairs, &n, why);
    if (!s) s = shop_air(call, &air, why);
    if (s) return s;
    struct learn_record *room = arena_array(call->arena, n + 1, sizeof *room);
    struct learned_row *rows = arena_array(call->arena, n + 1, sizeof *rows);
    if (!room || !rows) return why_no_memory(why);
    for (size_t from = 0, to; from < n; from = to) {
        const struct record_pair *p = &pairs[from];
        to = subject_end(pairs, n, from);
        struct learn_answer a = taught_by(p->kind, p, to - from, NULL, room);
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

/* ---- for the plan ---- */

static struct learnt learnt_from(const struct record_pair *pairs, size_t n, const char *without,
                                 struct learn_record *room) {
    struct learn_answer a = taught_by(pairs->kind, pairs, n, without, room);
    return (struct learnt){.what = pairs->kind,
                           .class = strcmp(pairs->kind, "hours") ? pairs->class : pairs->operation,
                           .method = pairs->method,
                           .factor = a.factor,
                           .log_sd = a.log_sd,
                           .records = (int64_t)a.used,
                           .without = without};
}

static bool has_records(const struct record_pair *pairs, size_t n, const char *piece) {
    for (size_t i = 0; i < n; i++)
        if (pairs[i].piece && !strcmp(pairs[i].piece, piece)) return true;
    return false;
}

static enum status learn_apart(struct op_call *call, const struct job *job,
                               const struct record_pair *pairs, size_t n, struct learn_record *room,
                               struct learnt *l, struct why *why) {
    struct learnt *apart = arena_array(call->arena, job->pieces_n + 1, sizeof *apart);
    if (!apart) return why_no_memory(why);
    for (size_t i = 0; i < job->pieces_n; i++)
        if (has_records(pairs, n, job->pieces[i].id))
            apart[l->apart_n++] = learnt_from(pairs, n, job->pieces[i].id, room);
    l->apart = apart;
    return OK;
}

enum status learned_job(struct op_call *call, struct job *job, struct why *why) {
    struct record_pair *pairs;
    size_t n, kept = 0;
    enum status s = sums_records(call->book, call->arena, &pairs, &n, why);
    if (s) return s;
    struct learn_record *room = arena_array(call->arena, n + 1, sizeof *room);
    struct learnt *learnt = arena_array(call->arena, n + 1, sizeof *learnt);
    if (!room || !learnt) return why_no_memory(why);
    for (size_t from = 0, to; from < n && !s; from = to) {
        to = subject_end(pairs, n, from);
        learnt[kept] = learnt_from(&pairs[from], to - from, NULL, room);
        s = learn_apart(call, job, &pairs[from], to - from, room, &learnt[kept++], why);
    }
    job->shop.learnt = learnt;
    job->shop.learnt_n = kept;
    return s;
}

/* ---- a new record ---- */

/* Further off than the shop's records so far, or shops among each other, let expect. */
static bool surprises(const struct record_row *row, const struct learn_answer *so_far) {
    double off = fabs(log(row->actual / row->planned) - log(so_far->factor));
    return !(row->actual > 0) || off > 3 * so_far->log_sd;
}

/* The plan's figure was of the records of other pieces; whether the new record is believed is
 * judged by all. */
enum status learned_prepare(struct op_call *call, struct record_row *row, struct why *why) {
    const struct record_pair subject = {
        .kind = row->kind, .class = row->class, .method = row->method, .operation = row->operation};
    struct record_pair *pairs;
    struct air air;
    size_t n, from = 0, to;
    enum status s = sums_records(call->book, call->arena, &pairs, &n, why);
    if (!s) s = shop_air(call, &air, why);
    if (s) return s;
    struct learn_record *room = arena_array(call->arena, n + 1, sizeof *room);
    if (!room) return why_no_memory(why);
    while (from < n && !same_subject(&subject, &pairs[from])) from++;
    to = from < n ? subject_end(pairs, n, from) : from;
    bool by_plan = !strcmp(row->kind, "hours") || !strcmp(row->kind, "drying");
    if (row->planned > 0 && by_plan)
        row->planned /= taught_by(row->kind, pairs + from, to - from, row->piece, room).factor;
    if (!(row->planned > 0))
        row->planned = usual_of(call->app->tables, row->kind, row->class, row->method, air);
    struct learn_answer all = taught_by(row->kind, pairs + from, to - from, NULL, room);
    row->doubted = row->planned > 0 && surprises(row, &all);
    return OK;
}
