#include "app/handed.h"

#include "codec/job_desc.h"
#include "codec/units_text.h"
#include "core/work/fact.h"
#include "store/sums.h"

#include <string.h>

static const struct field args_fields[] = {
    F_ID(struct handed_args, id, FLAG_REQUIRED, "which piece"),
    F_WORD(struct handed_args, units, words_units, "us or metric; the shop's when not said"),
};
DESC(desc_handed_args, struct handed_args, "handing_args", "Of which piece.", args_fields);

enum status handed_make(struct op_call *call, struct handed **out, struct why *why) {
    const struct handed_args *a = call->args;
    struct handed *h = arena_take(call->arena, sizeof *h);
    struct plan_ask ask = {.now_utc_min = book_call_now(call)};
    if (!h) return why_no_memory(why);
    enum status s = gather_job(call, a->id, false, &h->gathered, why);
    if (s) return s;
    desc_unsay(&desc_plan_answer, &h->plan);
    s = gather_plan(call, &h->gathered, a->id, &ask, &h->plan, why);
    if (s) return s;
    h->piece = &h->plan.plan.pieces[0];
    if ((s = sums_promised_hours(call->book, a->id, &h->promised_h, why))) return s;
    h->units = a->units ? a->units : h->plan.plan.shop.units;
    *out = h;
    return OK;
}

const char *handed_size(struct op_call *call, const struct handed *h) {
    const struct piece *q = &h->piece->piece;
    const double mm[] = {q->width_mm, q->depth_mm, q->height_mm};
    static const char *const names[] = {"wide", "deep", "high"};
    const char *text = "";
    for (size_t i = 0; i < 3; i++)
        if (mm[i] > 0)
            text = arena_print(call->arena, "%s%s%s %s", text, *text ? ", " : "",
                               units_text(call->arena, DIM_LENGTH, h->units, mm[i]), names[i]);
    return *text ? text : NULL;
}

const char *handed_wood(struct op_call *call, const struct handed *h) {
    const char *id = h->piece->piece.wood;
    const struct wood_traits_row *w = wood_trait_of(call->app->tables, id);
    return w ? w->name : id;
}

/* ---- what is not known to be done ---- */

struct ticked {
    struct arena *arena;
    const struct tables *t;
    struct task_row *rows; /* done; of the piece */
    size_t n;
    const char **open; /* names of promised work that was not ticked off, each once */
    size_t open_n;
    bool failed; /* no memory */
};

/* NULL: work that no listing promises. A repair, which has no row, is promised. */
static const char *promised_name(const struct ticked *k, const char *operation, const char *text) {
    const struct operations_row *op = operation_row(k->t, operation);
    if (!operation || (op && op->promised != 1)) return NULL;
    return op ? op->name : text;
}

static bool done(const struct ticked *k, const char *id) {
    for (size_t i = 0; id && i < k->n; i++)
        if (!strcmp(k->rows[i].id, id)) return true;
    return false;
}

static void open_add(struct ticked *k, const char *name) {
    k->failed |= !name;
    for (size_t i = 0; i < k->open_n; i++)
        if (!name || !strcmp(k->open[i], name)) return;
    if (name) k->open[k->open_n++] = name;
}

static void steps_look(struct ticked *k, const struct steps *s) {
    for (size_t i = 0; i < s->n; i++) {
        const char *name = promised_name(k, s->rows[i].operation, s->rows[i].text);
        if (name && !done(k, s->rows[i].id)) open_add(k, name);
    }
}

/* All its coats. A side that is painted by itself first has a task of its own before the one that
 * is named as the coat is (core/work/day_coats.c). */
static bool coat_done(struct ticked *k, const struct coat *c) {
    for (int64_t n = 1; n <= c->coats && c->coats > 1; n++) {
        const char *id = arena_print(k->arena, "%s-coat%lld", c->id, (long long)n);
        k->failed |= !id;
        if (!done(k, id)) return false;
    }
    return c->coats > 1 || done(k, c->id);
}

static const char *group_name(const struct piece_plan *p, const char *id) {
    for (size_t i = 0; id && i < p->surfaces.groups_n; i++)
        if (!strcmp(p->surfaces.groups[i].id, id)) return p->surfaces.groups[i].name;
    return NULL;
}

/* The same was done to other parts. */
static bool done_elsewhere(struct ticked *k, const struct coats *all, const char *operation) {
    for (size_t i = 0; i < all->n; i++) {
        const struct coat *c = &all->rows[i];
        if (c->operation && !strcmp(c->operation, operation) && coat_done(k, c)) return true;
    }
    return false;
}

static void coats_look(struct ticked *k, const struct piece_plan *p) {
    for (size_t i = 0; i < p->coats.n; i++) {
        const struct coat *c = &p->coats.rows[i];
        const char *name = promised_name(k, c->operation, c->text),
                   *group = group_name(p, c->group);
        if (!name || coat_done(k, c)) continue;
        bool named = group && done_elsewhere(k, &p->coats, c->operation);
        open_add(k, named ? arena_print(k->arena, "%s: %s", group, name) : name);
    }
}

static enum status unsaid_words(struct arena *arena, const struct ticked *k, const char **out,
                                struct why *why) {
    struct text t = {0};
    *out = NULL;
    if (k->n && !k->open_n) return OK;
    text_print(&t, k->n ? "Not ticked off, so as planned only: "
                        : "No step was ticked off: the work is as planned.");
    for (size_t i = 0; k->n && i < k->open_n; i++)
        text_print(&t, "%s%s", k->open[i], i + 1 < k->open_n ? "; " : ".");
    *out = t.failed ? NULL : arena_text(arena, t.at);
    text_free(&t);
    return *out ? OK : why_no_memory(why);
}

enum status handed_unsaid(struct op_call *call, const struct handed *h, const char **out,
                          struct why *why) {
    const struct piece_plan *p = h->piece;
    struct ticked k = {.arena = call->arena,
                       .t = call->app->tables,
                       .open = arena_array(call->arena, p->repairs.n + p->coats.n + p->finish.n + 1,
                                           sizeof *k.open)};
    struct row_query q = {
        .where = "piece = ?1 AND done_utc_min IS NOT NULL", .texts = {p->id}, .after = INT64_MIN};
    if (!k.open) return why_no_memory(why);
    enum status s =
        row_list(call->book, &table_task, &q, call->arena, (void **)&k.rows, &k.n, NULL, why);
    if (s) return s;
    steps_look(&k, &p->repairs);
    coats_look(&k, p);
    steps_look(&k, &p->finish);
    if (k.failed) return why_no_memory(why);
    return unsaid_words(call->arena, &k, out, why);
}

enum status handed_pictures(struct op_call *call, const char *piece, struct picture_row **rows,
                            size_t *n, struct why *why) {
    struct row_query q = {
        .where = "piece = ?1 AND removed = 0", .texts = {piece}, .after = INT64_MIN};
    return row_list(call->book, &table_picture, &q, call->arena, (void **)rows, n, NULL, why);
}
