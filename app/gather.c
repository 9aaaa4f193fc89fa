#include "app/gather.h"
#include "app/batch_there.h"
#include "app/book.h"
#include "app/learned.h"
#include "app/shop_kept.h"
#include "app/uncounted.h"
#include "app/zone.h"
#include "codec/color_said.h"
#include "codec/job_desc.h"
#include "codec/units_text.h"
#include "core/work/unsaid_class.h"
#include "store/outlook.h"
#include "store/store.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static enum status read_document(struct op_call *call, const struct desc *d, const char *document,
                                 const char *pointer, void *out, struct why *why) {
    desc_unsay(d, out);
    enum status s =
        document_read(d, SPELL_INPUT, document, strlen(document), call->arena, out, why);
    if (s) why_under(why, pointer);
    return s;
}

/* ---- shelf ---- */

static enum status gather_paints(struct op_call *call, struct shelf *shelf, struct why *why) {
    struct paint_row *rows;
    size_t n;
    struct row_query q = {.where = "removed = 0", .after = INT64_MIN};
    enum status s =
        row_list(call->book, &table_paint, &q, call->arena, (void **)&rows, &n, NULL, why);
    if (s || (s = uncounted_unsay(call, rows, n, why))) return s;
    shelf->paints = arena_array(call->arena, n + 1, sizeof *shelf->paints);
    if (!shelf->paints) return why_no_memory(why);
    for (size_t i = 0; i < n && !s; i++) {
        struct paint *p = &shelf->paints[i];
        s = read_document(call, &desc_paint, rows[i].document, "/shelf/paints", p, why);
        p->id = rows[i].id;
        p->stock_ml = rows[i].stock_ml < 0 ? 0 : rows[i].stock_ml; /* used more than was counted */
    }
    shelf->paints_n = n;
    return s;
}

static bool among(const struct paint *paints, size_t n, const char *id) {
    for (size_t i = 0; i < n; i++)
        if (!strcmp(paints[i].id, id)) return true;
    return false;
}

static bool gone_room(struct shelf *shelf, size_t *cap, struct arena *arena) {
    if (shelf->gone_n < *cap) return true;
    *cap = *cap ? *cap * 2 : 8;
    struct paint *rows = arena_array(arena, *cap, sizeof *rows);
    if (rows && shelf->gone_n) memcpy(rows, shelf->gone, shelf->gone_n * sizeof *rows);
    shelf->gone = rows;
    return rows != NULL;
}

/* *io_id: of a paint that left the shelf; then of the one that it was a can of, or NULL. */
static enum status add_gone(struct op_call *call, struct shelf *shelf, size_t *cap,
                            const char **io_id, struct why *why) {
    struct paint_row row;
    enum status s = row_get(call->book, &table_paint, "id", *io_id, call->arena, &row, why);
    *io_id = NULL;
    if (s == E_NOT_FOUND) return OK; /* its entry was taken back */
    if (!s && !gone_room(shelf, cap, call->arena)) s = why_no_memory(why);
    if (s) return s;
    struct paint *p = &shelf->gone[shelf->gone_n++];
    s = read_document(call, &desc_paint, row.document, "/shelf/paints", p, why);
    p->id = row.id;
    p->stock_ml = 0;
    *io_id = p->can_of;
    return s;
}

/* What a can on the shelf is another can of, and that again: its samples hold for the next can. */
static enum status gather_gone(struct op_call *call, struct shelf *shelf, struct why *why) {
    enum status s = OK;
    size_t cap = 0;
    for (size_t i = 0; i < shelf->paints_n && !s; i++) {
        const char *id = shelf->paints[i].can_of;
        while (id && !s && !among(shelf->paints, shelf->paints_n, id) &&
               !among(shelf->gone, shelf->gone_n, id))
            s = add_gone(call, shelf, &cap, &id, why);
    }
    return s;
}

static enum supply_kind kind_of(const char *word) {
    for (int i = 1; word && words_supply[i]; i++)
        if (!strcmp(words_supply[i], word)) return (enum supply_kind)i;
    return SUPPLY_UNSAID;
}

static enum status gather_supplies(struct op_call *call, struct shelf *shelf, struct why *why) {
    struct supply_row *rows;
    size_t n;
    struct row_query q = {.where = "removed = 0", .after = INT64_MIN};
    enum status s =
        row_list(call->book, &table_supply, &q, call->arena, (void **)&rows, &n, NULL, why);
    if (s) return s;
    shelf->supplies = arena_array(call->arena, n + 1, sizeof *shelf->supplies);
    if (!shelf->supplies) return why_no_memory(why);
    for (size_t i = 0; i < n; i++)
        shelf->supplies[i] = (struct supply){.id = rows[i].id,
                                             .name = rows[i].name,
                                             .kind = kind_of(rows[i].kind),
                                             .count = rows[i].count > 0 ? rows[i].count : 0,
                                             .cost_cent = rows[i].cost_cent};
    shelf->supplies_n = n;
    return OK;
}

/* Samples with a paint that left the shelf teach nothing about what is there, unless another can of
 * it is. */
static enum status gather_samples(struct op_call *call, struct shelf *shelf, struct why *why) {
    struct sample_row *rows;
    size_t n;
    struct row_query q = {.where = "removed = 0", .after = INT64_MIN};
    enum status s =
        row_list(call->book, &table_sample, &q, call->arena, (void **)&rows, &n, NULL, why);
    if (s) return s;
    shelf->samples = arena_array(call->arena, n + 1, sizeof *shelf->samples);
    if (!shelf->samples) return why_no_memory(why);
    for (size_t i = 0; i < n && !s; i++) {
        struct sample *p = &shelf->samples[shelf->samples_n];
        s = read_document(call, &desc_sample, rows[i].document, "/shelf/samples", p, why);
        bool known = !s;
        for (size_t k = 0; known && k < p->items_n; k++)
            known = among(shelf->paints, shelf->paints_n, p->items[k].paint) ||
                    among(shelf->gone, shelf->gone_n, p->items[k].paint);
        p->id = rows[i].id;
        shelf->samples_n += known;
    }
    return s;
}

/* ---- pieces ---- */

static enum status add_piece(struct op_call *call, struct job *job, const struct piece_row *row,
                             struct why *why) {
    struct piece *p = &job->pieces[job->pieces_n++];
    enum status s = read_document(call, &desc_piece, row->document, "/piece", p, why);
    p->id = row->id;
    p->title = row->title;
    /* as the client is called now: the document may have the id, or the name of before */
    if (!s && row->client_name) p->agreement.client = row->client_name;
    return s;
}

/* A piece that the book does not have yet, under an id that none of its pieces has. */
static enum status add_guest(struct op_call *call, struct job *job, const char *document,
                             struct piece_row *out_row, struct why *why) {
    struct piece *p = &job->pieces[job->pieces_n++];
    enum status s = read_document(call, &desc_piece, document, "/piece", p, why);
    if (!s) s = book_new_id(call, &table_piece, NULL, p->title ? p->title : "new", &p->id, why);
    if (s) return s;
    *out_row = (struct piece_row){.due_day = p->agreement.due_day, .number = INT64_MAX};
    return OK;
}

static int sooner(const struct piece_row *a, const struct piece_row *b) {
    int64_t x = a->due_day == INT64_MIN ? INT64_MAX : a->due_day,
            y = b->due_day == INT64_MIN ? INT64_MAX : b->due_day;
    return x != y ? (x < y ? -1 : 1) : a->number < b->number ? -1 : a->number > b->number;
}

/* The best `most` rows to the front, in order: few of possibly thousands. */
static size_t choose(struct piece_row *rows, size_t n, size_t most, const char *first) {
    size_t kept = 0;
    while (kept < most) {
        size_t best = n;
        for (size_t i = kept; i < n; i++) {
            if (first && !strcmp(rows[i].id, first)) continue;
            if (best == n || sooner(&rows[i], &rows[best]) < 0) best = i;
        }
        if (best == n) break;
        struct piece_row t = rows[kept];
        rows[kept++] = rows[best];
        rows[best] = t;
    }
    return kept;
}

/* What it came to; its days are over, and other work no longer shares them. */
static enum status gather_closed(struct op_call *call, const struct piece_row *piece,
                                 struct gathered *g, struct why *why) {
    struct closing_row row;
    struct sheet_closed *c = arena_take(call->arena, sizeof *c);
    if (!c) return why_no_memory(why);
    enum status s = row_get(call->book, &table_closing, "piece", piece->id, call->arena, &row, why);
    if (s == E_NOT_FOUND) { /* it was called closed without being closed */
        row_unsay(&table_closing, &row);
        s = OK;
    }
    *c = (struct sheet_closed){piece->closed_utc_min, row.actual_hours, row.actual_price_cent,
                               row.hour_cent};
    g->closed = c;
    g->alone = true;
    return s;
}

/* first: a piece of the book by its id, or guest: the document of one that is not in it. */
static enum status gather_pieces(struct op_call *call, const char *first, const char *guest,
                                 struct gathered *g, struct why *why) {
    struct piece_row one, *rows = NULL;
    size_t n = 0, kept = 0;
    enum status s = OK;
    g->job.pieces = arena_array(call->arena, GATHER_PIECES + 1, sizeof *g->job.pieces);
    if (!g->job.pieces) return why_no_memory(why);
    if (first) s = book_get(call, &table_piece, first, &one, why);
    if (!s && first) s = add_piece(call, &g->job, &one, why);
    if (!s && guest) s = add_guest(call, &g->job, guest, &one, why);
    if (!s && first && one.closed_utc_min != INT64_MIN) s = gather_closed(call, &one, g, why);
    if (s || g->alone) return s;
    struct row_query q = {
        .where = "removed = 0 AND stage IN ('looked_over', 'agreed', 'in_work', 'curing')",
        .after = INT64_MIN};
    s = row_list(call->book, &table_piece, &q, call->arena, (void **)&rows, &n, NULL, why);
    if (!s) kept = choose(rows, n, GATHER_PIECES - g->job.pieces_n, first);
    if (!s && (first || guest))
        while (g->first_turn < kept && sooner(&rows[g->first_turn], &one) < 0) g->first_turn++;
    g->cut = kept + (first ? 1 : 0) < n;
    for (size_t i = 0; i < kept && !s; i++) s = add_piece(call, &g->job, &rows[i], why);
    return s;
}

/* Of a closed piece only what was done: days that were accepted for it are over. */
static enum status gather_kept(struct op_call *call, const char *first, struct gathered *g,
                               struct why *why) {
    struct task_row *rows;
    size_t n;
    struct row_query q = {.where = "((begun_utc_min IS NOT NULL OR start_utc_min IS NOT NULL OR "
                                   "not_before_utc_min IS NOT NULL) AND "
                                   "piece IN (SELECT p.id FROM piece p WHERE p.removed = 0"
                                   " AND p.stage NOT IN ('closed', 'left'))) OR "
                                   "(piece = ?1 AND done_utc_min IS NOT NULL)",
                          .texts = {first},
                          .after = INT64_MIN};
    enum status s =
        row_list(call->book, &table_task, &q, call->arena, (void **)&rows, &n, NULL, why);
    if (s) return s;
    g->kept = arena_array(call->arena, n + 1, sizeof *g->kept);
    if (!g->kept) return why_no_memory(why);
    for (size_t i = 0; i < n; i++)
        g->kept[i] = (struct task_kept){rows[i].piece,
                                        rows[i].id,
                                        rows[i].begun_utc_min,
                                        rows[i].done_utc_min,
                                        rows[i].start_utc_min,
                                        rows[i].end_utc_min,
                                        rows[i].not_before_utc_min,
                                        rows[i].person};
    g->kept_n = n;
    return OK;
}

enum status gather_shop(struct op_call *call, struct shop *out, struct why *why) {
    const char *document;
    int64_t revision;
    const char *was;
    enum status s = shop_kept(call, &document, &revision, &was, why);
    if (!s) s = read_document(call, &desc_shop, document, "/shop", out, why);
    if (!s) out->smallest_was = was;
    return s;
}

const char *gather_volume(struct op_call *call, double ml) {
    struct shop shop = {0};
    if (gather_shop(call, &shop, NULL)) shop.units = UNITS_UNSAID;
    return units_text(call->arena, DIM_VOLUME, shop.units, ml);
}

enum status gather_clock(struct op_call *call, const struct zone_span **out, size_t *out_n,
                         struct why *why) {
    struct shop shop = {0};
    enum status s = OK;
    if (call->app->store) {
        if ((s = store_read(call->app->store, &call->book, why))) return s;
        s = gather_shop(call, &shop, why);
        store_read_end(call->book);
        call->book = NULL;
    }
    return s ? s
             : zone_spans(shop.zone, call->app->now_utc_min(call->app->now_ctx), call->arena, out,
                          out_n, why);
}

static enum status gather(struct op_call *call, const char *first, const char *guest, bool others,
                          bool batches, struct gathered *out, struct why *why) {
    memset(out, 0, sizeof *out);
    desc_unsay(&desc_job, &out->job);
    out->alone = !others;
    enum status s = gather_shop(call, &out->job.shop, why);
    if (!s) s = gather_paints(call, &out->job.shelf, why);
    if (!s) unsaid_classes(call->app->tables, &out->job.shelf);
    if (!s) s = gather_gone(call, &out->job.shelf, why);
    if (!s) s = gather_supplies(call, &out->job.shelf, why);
    if (!s) s = gather_samples(call, &out->job.shelf, why);
    if (!s) s = gather_pieces(call, first, guest, out, why);
    if (!s) s = learned_job(call, &out->job, why);
    if (!s && batches) s = batches_there(call, &out->job, why);
    if (!s) s = gather_kept(call, first, out, why);
    if (!s && out->job.pieces_n) out->job.title = out->job.pieces[0].title;
    return s;
}

enum status gather_job(struct op_call *call, const char *first, bool others, struct gathered *out,
                       struct why *why) {
    return gather(call, first, NULL, others, true, out, why);
}

enum status gather_guest(struct op_call *call, const char *document, struct gathered *out,
                         struct why *why) {
    return gather(call, NULL, document, true, true, out, why);
}

double gather_color_ml(struct op_call *call, const char *piece, const char *class) {
    struct gathered g;
    struct plan_answer *answer = arena_take(call->arena, sizeof *answer);
    struct plan_ask ask = {.now_utc_min = book_call_now(call),
                           .no_days = true,
                           .recipes_of = "",
                           .limit = call->limit};
    if (!answer || gather(call, piece, NULL, false, false, &g, NULL)) return 0;
    desc_unsay(&desc_plan_answer, answer);
    if (plan_of_job(call->app->tables, &g.job, &ask, call->arena, answer, NULL)) return 0;
    const struct amounts *rows = &answer->plan.pieces[0].amounts;
    for (size_t i = 0; i < rows->n; i++) {
        const struct amount *a = &rows->rows[i];
        if (a->role == ROLE_COLOR && !a->color_row && !a->product && class &&
            !strcmp(a->class, class))
            return a->need_ml;
    }
    return 0;
}

/* ---- planning and what lists show of it ---- */

static const struct day_task *next_task(const struct plan *plan, const struct gathered *g,
                                        const char *piece) {
    for (size_t i = 0; i < plan->days.n; i++) {
        const struct day_task *t = &plan->days.rows[i];
        bool done = strcmp(t->piece, piece) != 0;
        for (size_t k = 0; k < g->kept_n && !done; k++)
            done = !strcmp(g->kept[k].id, t->id) && g->kept[k].done_utc_min != INT64_MIN;
        if (!done) return t;
    }
    return NULL;
}

static const char *waits_for(const struct plan *plan, const struct piece_plan *p,
                             const struct day_task *next) {
    if (p->hazards.refused) return p->hazards.refusal;
    if (p->deliver_utc_min == INT64_MIN)
        return p->blocked_by ? p->blocked_by : plan->days.blocked_by;
    for (size_t i = 0; i < p->hazards.notices.n; i++)
        if (p->hazards.notices.rows[i].rank == RANK_STOP && p->hazards.notices.rows[i].blocks)
            return p->hazards.notices.rows[i].text;
    return next ? next->waits_for : NULL;
}

static struct outlook outlook_of(struct op_call *call, const struct gathered *g,
                                 const struct plan *plan, const struct piece_plan *p,
                                 const struct plan_ask *ask) {
    const struct day_task *next = next_task(plan, g, p->id);
    struct color_said color = p->color.target;
    bool predicted = p->color.lines_n && !isnan(p->color.lab[0]);
    if (predicted) {
        color.text = "predicted";
        memcpy(color.lab, p->color.lab, sizeof color.lab);
    }
    const struct agreement *a = &p->piece.agreement;
    double agreed = a->purpose == PURPOSE_SALE ? a->asking_cent : a->quoted_cent;
    bool days_only = ask->recipes_of && strcmp(ask->recipes_of, p->id) != 0;
    bool priced = p->price.price_cent > 0;
    double planned = priced && !days_only ? p->price.price_cent : (double)NAN;
    return (struct outlook){.piece = p->id,
                            .part = ask->no_days ? OUTLOOK_MONEY
                                    : days_only  ? OUTLOOK_DAYS
                                                 : OUTLOOK_ALL,
                            .next_step = next ? next->name : NULL,
                            .next_task = next ? next->id : NULL,
                            .blocked_by = waits_for(plan, p, next),
                            .color_hex = book_hex(call, &color),
                            .price_cent = isnan(agreed) ? planned : agreed,
                            .cost_cent = priced ? p->price.cost_cent : (double)NAN,
                            .hours = priced ? p->price.hours : (double)NAN,
                            .ready_utc_min = p->deliver_utc_min};
}

/* A pointer is for programs. */
static void words_of_path(const char *path, char *out, size_t cap) {
    size_t n = 0;
    for (; *path && n + 3 < cap; path++) {
        if (*path == '/') out[n++] = ',';
        out[n++] = *path == '/' || *path == '_' ? ' ' : *path;
    }
    out[n] = 0;
}

/* Takes the piece that an error points into out of the job; false: it is not one that may be left
 * out. */
static bool leave_out(struct op_call *call, struct gathered *g, const char *first,
                      const struct why *why) {
    unsigned i;
    struct job *job = &g->job;
    if (sscanf(why->field, "/pieces/%u", &i) != 1 || i >= job->pieces_n) return false;
    const struct piece *p = &job->pieces[i];
    if (first && !strcmp(p->id, first)) return false;
    if (!g->left_out)
        g->left_out = arena_array(call->arena, GATHER_PIECES + 1, sizeof *g->left_out);
    const char *rest = strchr(why->field + 8, '/');
    if (rest && strstr(why->text, rest + 1)) rest = NULL; /* the sentence names it */
    char member[sizeof why->field] = ""; /* wanted/clear_coats: "wanted, clear coats" */
    if (rest) words_of_path(rest + 1, member, sizeof member);
    const char *text =
        arena_print(call->arena, "Cannot be planned: %s%s%s", member, rest ? ": " : "", why->text);
    if (!g->left_out || !text) return false;
    g->left_out[g->left_out_n++] = (struct left_out){p->id, p->title, text};
    memmove(&job->pieces[i], &job->pieces[i + 1], (job->pieces_n - i - 1) * sizeof *p);
    if (i && i <= g->first_turn) g->first_turn--;
    return --job->pieces_n > 0;
}

const char **gather_left_out(struct arena *arena, const struct gathered *g, size_t *out_n) {
    const char **out = arena_array(arena, g->left_out_n + 1, sizeof *out);
    *out_n = 0;
    for (size_t i = 0; out && i < g->left_out_n; i++) {
        const struct left_out *l = &g->left_out[i];
        size_t k = 0;
        while (strcmp(g->left_out[k].text, l->text)) k++;
        if (k < i) continue; /* it stands with the first */
        const char *names = l->title;
        for (k = i + 1; k < g->left_out_n && names; k++)
            if (!strcmp(g->left_out[k].text, l->text))
                names = arena_print(arena, "%s; %s", names, g->left_out[k].title);
        const char *line = names ? arena_print(arena, "%s: %s", names, l->text) : NULL;
        if (!line) return NULL;
        out[(*out_n)++] = line;
    }
    return out;
}

enum status gather_plan(struct op_call *call, struct gathered *g, const char *first,
                        const struct plan_ask *ask, struct plan_answer *out, struct why *why) {
    struct plan_ask full = *ask;
    full.kept = g->kept;
    full.kept_n = g->kept_n;
    full.closed = g->closed;
    full.limit = call->limit;
    if (first) full.recipes_of = first;
    struct why inner = {{0}, {0}};
    enum status s;
    do {
        full.first_turn = g->first_turn;
        s = plan_of_job(call->app->tables, &g->job, &full, call->arena, out, &inner);
    } while (s && leave_out(call, g, first, &inner));
    if (s && !g->job.pieces_n) { /* none is left: empty days, and the reasons */
        desc_unsay(&desc_plan_answer, out);
        return OK;
    }
    if (s) why_say(why, s, inner.field, "%s", inner.text);
    if (s || ask->supposed || g->alone || (ask->no_days && full.recipes_of) ||
        book_writes(call->book))
        return s; /* a change under way keeps no outlook: it may fail */
    struct outlook *rows = arena_array(call->arena, out->plan.pieces_n + 1, sizeof *rows);
    if (!rows) return why_no_memory(why);
    for (size_t i = 0; i < out->plan.pieces_n; i++)
        rows[i] = outlook_of(call, g, &out->plan, &out->plan.pieces[i], &full);
    outlook_keep(call->app->store, rows, out->plan.pieces_n, book_revision(call->book), NULL);
    return OK;
}
