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
    struct task_row *rows; /* done; of the piece */
    size_t n;
    const char **open; /* names of promised work that was not ticked off, each once */
    size_t open_n;
};

static void not_ticked(const struct tables *t, struct ticked *k, const char *operation,
                       const char *text) {
    const struct operations_row *op = operation_row(t, operation);
    const char *name = op ? op->name : text;
    if (!operation || (op && op->promised != 1)) return;
    for (size_t i = 0; i < k->n; i++)
        if (k->rows[i].operation && !strcmp(k->rows[i].operation, operation)) return;
    for (size_t i = 0; i < k->open_n; i++)
        if (!strcmp(k->open[i], name)) return;
    k->open[k->open_n++] = name;
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
    const struct tables *t = call->app->tables;
    const struct piece_plan *p = h->piece;
    struct ticked k = {.open = arena_array(call->arena, p->repairs.n + p->coats.n + p->finish.n + 1,
                                           sizeof *k.open)};
    struct row_query q = {
        .where = "piece = ?1 AND done_utc_min IS NOT NULL", .texts = {p->id}, .after = INT64_MIN};
    if (!k.open) return why_no_memory(why);
    enum status s =
        row_list(call->book, &table_task, &q, call->arena, (void **)&k.rows, &k.n, NULL, why);
    if (s) return s;
    for (size_t i = 0; i < p->repairs.n; i++)
        not_ticked(t, &k, p->repairs.rows[i].operation, p->repairs.rows[i].text);
    for (size_t i = 0; i < p->coats.n; i++)
        not_ticked(t, &k, p->coats.rows[i].operation, p->coats.rows[i].text);
    for (size_t i = 0; i < p->finish.n; i++)
        not_ticked(t, &k, p->finish.rows[i].operation, p->finish.rows[i].text);
    return unsaid_words(call->arena, &k, out, why);
}

enum status handed_pictures(struct op_call *call, const char *piece, struct picture_row **rows,
                            size_t *n, struct why *why) {
    struct row_query q = {
        .where = "piece = ?1 AND removed = 0", .texts = {piece}, .after = INT64_MIN};
    return row_list(call->book, &table_picture, &q, call->arena, (void **)rows, n, NULL, why);
}
