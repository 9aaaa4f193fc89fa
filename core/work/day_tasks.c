#include "core/work/day_tasks.h"

#include "core/work/climate.h"
#include "core/work/day_hours.h"
#include "core/work/drying.h"
#include "core/work/fact.h"
#include "core/work/hazard.h"
#include "core/work/learn.h"
#include "core/work/method.h"

#include <math.h>
#include <string.h>

struct build {
    const struct tables *t;
    const struct plan *plan;
    const struct plan_options *o;
    struct ledger *l;
    const struct day_ask *ask;
    struct day_tasks *out;
    size_t piece; /* at hand */
};

/* Where a chain of work stands: its last task and what must pass before the next. */
struct chain {
    const char *group;
    int last; /* TIMETABLE_NONE: nothing yet */
    double wait_min, until_min;
    const char *film;        /* class of the film whose drying the wait is; NULL: a clock */
    const struct coat *coat; /* last film, for handling and cure */
    int coat_task, first_coat_task;
};

static const struct product_classes_row *class_row(const struct tables *t, const char *class) {
    for (size_t i = 0; class && i < t->product_classes_n; i++)
        if (!strcmp(t->product_classes[i].id, class)) return &t->product_classes[i];
    return NULL;
}

static int64_t minutes(double m) {
    return isnan(m) || m < 0 ? 0 : (int64_t)ceil(m);
}

static int task_add(struct build *b, struct day_meta meta, bool pausable) {
    struct day_tasks *d = b->out;
    void *tasks = ledger_grow(b->l, d->tasks, d->n, &d->tasks_cap, sizeof *d->tasks);
    void *metas = ledger_grow(b->l, d->meta, d->n, &d->meta_cap, sizeof *d->meta);
    if (!tasks || !metas) return TIMETABLE_NONE;
    d->tasks = tasks;
    d->meta = metas;
    int64_t work = minutes(meta.hands_min);
    d->tasks[d->n] = (struct timetable_task){
        .name = meta.name,
        .work_min = (int32_t)(work > 100000 ? 100000 : work),
        .pausable = pausable || work > b->ask->longest_min,
        .person = work ? TIMETABLE_ANYBODY : TIMETABLE_NOBODY,
        .piece = (int)b->piece,
        .setup = TIMETABLE_NONE,
        .release = TIMETABLE_UNSAID,
        .due = TIMETABLE_UNSAID,
        .wait = TIMETABLE_UNSAID,
        .fixed_person = TIMETABLE_NOBODY,
    };
    meta.dry_lag = TIMETABLE_NONE;
    meta.piece = b->piece;
    d->meta[d->n] = meta;
    return (int)d->n++;
}

static int lag_add(struct build *b, struct timetable_lag lag) {
    struct day_tasks *d = b->out;
    if (lag.from == TIMETABLE_NONE || lag.to == TIMETABLE_NONE) return TIMETABLE_NONE;
    void *lags = ledger_grow(b->l, d->lags, d->lags_n, &d->lags_cap, sizeof *d->lags);
    if (!lags) return TIMETABLE_NONE;
    d->lags = lags;
    d->lags[d->lags_n] = lag;
    return (int)d->lags_n++;
}

static struct timetable_lag after(int from, int to, double wait_min, int climate) {
    return (struct timetable_lag){.from = from,
                                  .to = to,
                                  .min_min = minutes(wait_min),
                                  .max_min = TIMETABLE_UNSAID,
                                  .climate = climate,
                                  .scuff_min = -1};
}

/* ---- drying: nights count for less -------------------------------------------------------------
 */

static int32_t night_permille(const struct build *b, const struct product_classes_row *row,
                              bool hardening) {
    const struct shop *s = &b->plan->shop;
    struct air day = {s->day_degc, s->humidity_frac},
               night = {s->night_degc,
                        climate_rh_moved(s->day_degc, s->humidity_frac, s->night_degc)};
    double rate = drying_rate(drying_cure_of(row), day, night, row->lowest_degc, hardening);
    return rate <= 0 || isnan(rate) ? 0 : rate > 4 ? 4000 : (int32_t)(rate * 1000);
}

/* Row of the climates for a class of product and stage; TIMETABLE_NONE: by the clock. */
static int climate_of(struct build *b, const char *class, bool hardening) {
    struct day_tasks *d = b->out;
    for (size_t i = 0; class && i < d->climates_n; i++)
        if (!strcmp(d->climate_keys[i].class, class) && d->climate_keys[i].hardening == hardening)
            return (int)i;
    const struct product_classes_row *row = class_row(b->t, class);
    if (!row) return TIMETABLE_NONE;
    void *climates =
        ledger_grow(b->l, d->climates, d->climates_n, &d->climates_cap, sizeof *d->climates);
    void *keys =
        ledger_grow(b->l, d->climate_keys, d->climates_n, &d->keys_cap, sizeof *d->climate_keys);
    int rates_n;
    struct timetable_rate *rates =
        day_rates(b->o, b->ask->begin_utc_min, b->ask->days, night_permille(b, row, hardening),
                  b->l->arena, &rates_n);
    if (!climates || !keys || !rates) {
        b->l->failed = true;
        return TIMETABLE_NONE;
    }
    d->climates = climates;
    d->climate_keys = keys;
    d->climates[d->climates_n] = (struct timetable_climate){rates, rates_n};
    d->climate_keys[d->climates_n] = (struct day_climate){class, hardening};
    return (int)d->climates_n++;
}

/* The next task of a chain, after what the last one asks for. A recoat window is an edge only for
 * a film that follows directly: whatever is sanded first needs no window. */
static void chain_follow(struct build *b, struct chain *c, int task, bool film_next) {
    if (c->last != TIMETABLE_NONE) {
        struct timetable_lag lag = after(c->last, task, c->wait_min, climate_of(b, c->film, false));
        if (film_next && c->film && c->until_min > c->wait_min) {
            lag.max_min = minutes(c->until_min);
            lag.scuff_min = 20;
        }
        int row = lag_add(b, lag);
        if (c->wait_min > 0 && b->out->meta[c->last].dry_lag == TIMETABLE_NONE)
            b->out->meta[c->last].dry_lag = row;
    }
    c->last = task;
    c->wait_min = 0;
    c->until_min = NAN;
    c->film = NULL;
}

static const struct piece_plan *piece_of(const struct build *b) {
    return &b->plan->pieces[b->piece];
}

/* A task whose operation a hazard blocks waits for the result from outside. */
static void gate(struct build *b, int task, const char *operation) {
    if (task == TIMETABLE_NONE || !operation) return;
    const struct notices *n = &piece_of(b)->hazards.notices;
    for (size_t i = 0; i < n->n; i++)
        if (n->rows[i].rank == RANK_STOP && hazard_blocks(b->t, &n->rows[i], operation))
            b->out->tasks[task].wait = b->ask->gate_utc_min,
            b->out->meta[task].waits_for = "the result from outside";
}

/* ---- take-down, repairs, finish
 * ------------------------------------------------------------------ */

static int step_task(struct build *b, const struct work_step *w) {
    int task = task_add(b,
                        (struct day_meta){.id = w->id,
                                          .name = w->text,
                                          .operation = w->operation,
                                          .hands_min = w->hands_min,
                                          .drying = w->wait_min > 0},
                        true);
    gate(b, task, w->operation);
    return task;
}

static void steps_chain(struct build *b, const struct steps *s, struct chain *c) {
    for (size_t i = 0; i < s->n; i++) {
        int task = step_task(b, &s->rows[i]);
        if (task == TIMETABLE_NONE) return;
        chain_follow(b, c, task, false);
        c->wait_min = s->rows[i].wait_min;
    }
}

/* Glue and filler of several repairs set side by side; only drilling waits for the filler. All of
 * them must have set before the coats. */
static void repairs_chain(struct build *b, const struct steps *s, struct chain *c) {
    if (!s->n) return;
    int join = task_add(b, (struct day_meta){.kind = DAY_JOIN, .name = "repairs have set"}, false);
    for (size_t i = 0; i < s->n; i++) {
        const struct work_step *w = &s->rows[i];
        int task = step_task(b, w);
        if (task == TIMETABLE_NONE) return;
        bool drills = w->operation && !strcmp(w->operation, "drill_holes");
        if (i && !drills) c->wait_min = 0;
        chain_follow(b, c, task, false);
        c->wait_min = w->wait_min;
        int row = lag_add(b, after(task, join, w->wait_min, TIMETABLE_NONE));
        if (w->wait_min > 0) b->out->meta[task].dry_lag = row;
    }
    c->wait_min = 0;
    chain_follow(b, c, join, false);
}

/* ---- coats
 * ------------------------------------------------------------------------------------------ */

static bool is_film(enum coat_role r) {
    return r == ROLE_SPOT_SEAL || r == ROLE_BARRIER || r == ROLE_PRIMER || r == ROLE_STAIN ||
           r == ROLE_COLOR || r == ROLE_EFFECT || r == ROLE_CLEAR || r == ROLE_WAX;
}

static const char *group_name(const struct piece_plan *p, const char *id) {
    for (size_t i = 0; id && i < p->surfaces.groups_n; i++)
        if (!strcmp(p->surfaces.groups[i].id, id)) return p->surfaces.groups[i].name;
    return NULL;
}

static int coat_task(struct build *b, const struct coat *k, int64_t n) {
    struct arena *a = b->l->arena;
    const char *group = group_name(piece_of(b), k->group);
    const char *name =
        k->coats > 1 ? arena_print(a, "%s, coat %lld", k->text, (long long)n) : k->text;
    if (group && piece_of(b)->surfaces.groups_n > 1) name = arena_print(a, "%s: %s", group, name);
    const char *id = k->coats > 1 ? arena_print(a, "%s-coat%lld", k->id, (long long)n) : k->id;
    int task = task_add(
        b,
        (struct day_meta){.id = id,
                          .name = name,
                          .group = k->group,
                          .operation = k->operation,
                          .hands_min = k->hands_min,
                          .drying = is_film(k->role),
                          .booth_min =
                              is_film(k->role) && method_sprays(b->t, k->tool) ? k->touch_min : 0},
        !is_film(k->role));
    if (task != TIMETABLE_NONE) gate(b, task, k->operation);
    return task;
}

static void chain_coat(struct build *b, struct chain *c, const struct coat *k, int task) {
    bool film = is_film(k->role);
    chain_follow(b, c, task, film);
    c->wait_min = k->recoat_min;
    c->until_min = k->recoat_until_min;
    if (!film) return;
    c->film = k->class;
    c->coat = k;
    c->coat_task = task;
    if (c->first_coat_task == TIMETABLE_NONE) c->first_coat_task = task;
}

static struct chain *chain_of(struct chain *chains, size_t n, const char *group) {
    for (size_t i = 0; i < n; i++)
        if (chains[i].group && group && !strcmp(chains[i].group, group)) return &chains[i];
    return NULL;
}

/* A coat of all groups at once: every chain leads into it and goes on from it. */
static void coat_of_all(struct build *b, struct chain *chains, size_t n, const struct coat *k,
                        int task) {
    for (size_t i = 0; i < n; i++) chain_coat(b, &chains[i], k, task);
}

static void coats_chains(struct build *b, struct chain *chains, size_t n) {
    const struct coats *c = &piece_of(b)->coats;
    for (size_t i = 0; i < c->n; i++) {
        const struct coat *k = &c->rows[i];
        int64_t times = k->coats > 1 ? k->coats : 1;
        for (int64_t j = 1; j <= times; j++) {
            int task = coat_task(b, k, j);
            if (task == TIMETABLE_NONE) return;
            struct chain *one = chain_of(chains, n, k->group);
            if (one)
                chain_coat(b, one, k, task);
            else
                coat_of_all(b, chains, n, k, task);
        }
    }
}

/* What stays on the piece shares its air: no dust beside fresh film, and wax, which nothing holds
 * on, only when every other film of the piece is on. */
static void keep_apart(struct build *b, const struct chain *chains, size_t n, size_t first_task) {
    const struct coats *c = &piece_of(b)->coats;
    const struct surfaces *s = &piece_of(b)->surfaces;
    size_t tasks = b->out->n;
    for (size_t g = 0; g < n; g++) {
        if (g >= s->groups_n || s->groups[g].lies_flat || !chains[g].group) continue;
        int dusty = TIMETABLE_NONE, wax = TIMETABLE_NONE;
        for (size_t i = first_task; i < tasks; i++) {
            const struct day_meta *m = &b->out->meta[i];
            if (!m->group || strcmp(m->group, chains[g].group)) continue;
            for (size_t k = 0; k < c->n; k++) {
                if (!m->operation || strcmp(c->rows[k].operation, m->operation) ||
                    strcmp(c->rows[k].group, m->group))
                    continue;
                enum coat_role role = c->rows[k].role;
                if (role == ROLE_STRIP || role == ROLE_SCUFF) dusty = (int)i;
                if (role == ROLE_WAX && wax == TIMETABLE_NONE) wax = (int)i;
            }
        }
        for (size_t o = 0; o < n; o++) {
            if (o == g || o >= s->groups_n || s->groups[o].lies_flat) continue;
            if (chains[o].first_coat_task != TIMETABLE_NONE)
                lag_add(b, after(dusty, chains[o].first_coat_task, 0, TIMETABLE_NONE));
            bool waxes = chains[o].coat && chains[o].coat->role == ROLE_WAX;
            if (chains[o].coat && !waxes)
                lag_add(b, after(chains[o].coat_task, wax, 0, TIMETABLE_NONE));
        }
    }
}

/* Work on the color before it may go on: minutes by the operations table and the shop's pace. */
static int color_task(struct build *b, const char *id, const char *name, const char *operation,
                      bool dries) {
    const struct operations_row *op = operation_row(b->t, operation);
    const struct learnt *pace = learnt_of(&b->plan->shop, "hours", operation, NULL);
    double min = op ? (op->fixed_min + op->each_min) * (pace ? pace->factor : 1) : 0;
    return task_add(
        b,
        (struct day_meta){
            .id = id, .name = name, .operation = operation, .hands_min = min, .drying = dries},
        false);
}

/* Every color coat waits for that task. */
static void color_waits(struct build *b, int task, double wait, size_t first_task, size_t last) {
    for (size_t i = first_task; i < last; i++) {
        const char *operation = b->out->meta[i].operation;
        if (!operation || strncmp(operation, "color", 5)) continue;
        int row = lag_add(b, after(task, (int)i, wait, TIMETABLE_NONE));
        if (wait > 0 && b->out->meta[task].dry_lag == TIMETABLE_NONE)
            b->out->meta[task].dry_lag = row;
    }
}

/* A color that is mixed is seen dry on a card before the batch is made. */
static void mixing(struct build *b, size_t first_task) {
    const struct piece_plan *p = piece_of(b);
    size_t last = b->out->n;
    for (size_t i = 0; i <= p->colors_n; i++) {
        const struct color_plan *c = i ? &p->colors[i - 1] : &p->color;
        if (c->lines_n < 2) continue;
        const char *which = i ? arena_print(b->l->arena, "-%zu", i + 1) : "";
        const char *of =
            c->target.text && p->colors_n ? arena_print(b->l->arena, " of %s", c->target.text) : "";
        int card = color_task(b, arena_print(b->l->arena, "%s-card%s", p->id, which),
                              arena_print(b->l->arena, "Sample card%s", of), "sample_card", true);
        int batch = color_task(b, arena_print(b->l->arena, "%s-mix%s", p->id, which),
                               arena_print(b->l->arena, "Mix the batch%s", of), "mix_batch", false);
        if (card == TIMETABLE_NONE || batch == TIMETABLE_NONE) return;
        const struct operations_row *op = operation_row(b->t, "sample_card");
        b->out->meta[card].dry_lag =
            lag_add(b, after(card, batch, op ? op->wait_min : 0, TIMETABLE_NONE));
        color_waits(b, batch, 0, first_task, last);
    }
}

/* The whole system on a board of this wood: color coats wait until it has dried and passed. */
static void test_board(struct build *b, const struct chain *start, size_t first_task) {
    const struct coats *c = &piece_of(b)->coats;
    if (!c->test_board) return;
    double wait = 24 * 60;
    const char *group = NULL;
    size_t last = b->out->n;
    for (size_t i = 0; i < c->n; i++) {
        const struct coat *k = &c->rows[i];
        if (!is_film(k->role) || isnan(k->recoat_min)) continue;
        if (!group) group = k->group ? k->group : "";
        if (!strcmp(group, k->group ? k->group : ""))
            wait += k->recoat_min * (double)(k->coats > 1 ? k->coats : 1);
    }
    int board = color_task(b, arena_print(b->l->arena, "%s-board", piece_of(b)->id),
                           "Test board: the whole system on this wood", "test_board", true);
    if (board == TIMETABLE_NONE) return;
    if (start->last != TIMETABLE_NONE) lag_add(b, after(start->last, board, 0, TIMETABLE_NONE));
    color_waits(b, board, wait, first_task, last);
}

/* ---- the end
 * ------------------------------------------------------------------------------------------- */

static double light_use_min(const struct tables *t, const struct coat *k) {
    const struct product_classes_row *row = class_row(t, k->class);
    if (!row) return k->handle_min;
    /* the coat's cure is in this climate and by its label; light use keeps its share of it */
    double share = row->cure_high_min > 0 && k->cure_min > 0 ? k->cure_min / row->cure_high_min : 1;
    return row->light_use_min * share;
}

static int event(struct build *b, enum day_kind kind, const char *name) {
    return task_add(b, (struct day_meta){.kind = kind, .name = name}, false);
}

static void ending(struct build *b, const struct chain *chains, size_t n) {
    int handle = event(b, DAY_HANDLE, "may be handled"), deliver, cured;
    for (size_t i = 0; i < n; i++) {
        const struct chain *c = &chains[i];
        if (c->last == TIMETABLE_NONE) continue;
        double wait = c->coat && c->coat_task == c->last ? c->coat->handle_min : c->wait_min;
        const char *film = c->coat && c->coat_task == c->last ? c->coat->class : c->film;
        int row = lag_add(b, after(c->last, handle, wait, climate_of(b, film, false)));
        if (wait > 0 && row != TIMETABLE_NONE && b->out->meta[c->last].dry_lag == TIMETABLE_NONE)
            b->out->meta[c->last].dry_lag = row;
    }
    struct chain end = {.last = handle, .wait_min = 0, .until_min = NAN};
    steps_chain(b, &piece_of(b)->finish, &end);
    deliver = event(b, DAY_DELIVER, "may be delivered");
    cured = event(b, DAY_CURED, "cured");
    lag_add(b, after(end.last, deliver, end.wait_min, TIMETABLE_NONE));
    lag_add(b, after(deliver, cured, 0, TIMETABLE_NONE));
    for (size_t i = 0; i < n; i++) {
        const struct chain *c = &chains[i];
        if (!c->coat) continue;
        int hardening = climate_of(b, c->coat->class, true);
        lag_add(b, after(c->coat_task, deliver, light_use_min(b->t, c->coat), hardening));
        lag_add(b, after(c->coat_task, cured, c->coat->cure_min, hardening));
    }
    int64_t due = piece_of(b)->piece.agreement.due_day;
    if (due != INT64_MIN && deliver != TIMETABLE_NONE) {
        b->out->tasks[deliver].due = day_utc_of_local(b->o, due * 1440 + 17 * 60);
        b->out->tasks[deliver].weight = 1;
    }
}

static void hold_add(struct build *b, struct timetable_hold hold) {
    struct day_tasks *d = b->out;
    void *rows = ledger_grow(b->l, d->holds, d->holds_n, &d->holds_cap, sizeof *d->holds);
    if (!rows) return;
    d->holds = rows;
    d->holds[d->holds_n++] = hold;
}

/* A sprayed coat keeps the booth until it is dry to touch. */
static void booth_holds(struct build *b, size_t first_task) {
    for (size_t i = first_task; b->ask->booth && i < b->out->n; i++) {
        const struct day_meta *m = &b->out->meta[i];
        if (!(m->booth_min > 0)) continue;
        struct timetable_hold hold = {.first = (int)i,
                                      .last = (int)i,
                                      .resource = DAY_BOOTH,
                                      .amount = 1,
                                      .until_lag = TIMETABLE_NONE};
        if (m->dry_lag != TIMETABLE_NONE) {
            struct timetable_lag touch = b->out->lags[m->dry_lag];
            touch.min_min = minutes(fmin(m->booth_min, (double)touch.min_min));
            touch.max_min = TIMETABLE_UNSAID;
            hold.until_lag = lag_add(b, touch);
        }
        hold_add(b, hold);
    }
}

/* A group takes floor from its first coat until its last one may be handled. */
static void floor_hold(struct build *b, const struct chain *c) {
    const struct surfaces *s = &piece_of(b)->surfaces;
    if (c->first_coat_task == TIMETABLE_NONE) return;
    for (size_t i = 0; i < s->groups_n; i++) {
        if (!c->group || strcmp(s->groups[i].id, c->group) || !(s->groups[i].floor_m2 > 0))
            continue;
        double dm2 = ceil(s->groups[i].floor_m2 * 100);
        hold_add(b, (struct timetable_hold){.first = c->first_coat_task,
                                            .last = c->coat_task,
                                            .resource = DAY_FLOOR,
                                            .amount = dm2 < b->ask->floor_dm2 ? (int32_t)dm2
                                                                              : b->ask->floor_dm2,
                                            .until_lag = b->out->meta[c->coat_task].dry_lag});
    }
}

static enum status piece_tasks(struct build *b) {
    const struct piece_plan *p = piece_of(b);
    size_t n = p->surfaces.groups_n ? p->surfaces.groups_n : 1, first_task = b->out->n;
    struct chain *chains = arena_array(b->l->arena, n, sizeof *chains);
    if (!chains) return E_MEMORY;
    struct chain start = {.last = TIMETABLE_NONE,
                          .until_min = NAN,
                          .coat_task = TIMETABLE_NONE,
                          .first_coat_task = TIMETABLE_NONE};
    steps_chain(b, &p->takedown, &start);
    repairs_chain(b, &p->repairs, &start);
    for (size_t i = 0; i < n; i++) {
        chains[i] = start;
        chains[i].group = p->surfaces.groups_n ? p->surfaces.groups[i].id : NULL;
    }
    coats_chains(b, chains, n);
    keep_apart(b, chains, n, first_task);
    test_board(b, &start, first_task);
    mixing(b, first_task);
    ending(b, chains, n);
    for (size_t i = 0; i < n; i++) floor_hold(b, &chains[i]);
    booth_holds(b, first_task);
    return b->l->failed ? E_MEMORY : OK;
}

enum status day_tasks_make(const struct tables *t, const struct plan *plan,
                           const struct day_ask *ask, const struct plan_options *o,
                           struct ledger *l, struct day_tasks *out) {
    *out = (struct day_tasks){0};
    struct build b = {.t = t, .plan = plan, .o = o, .l = l, .ask = ask, .out = out};
    for (b.piece = 0; b.piece < plan->pieces_n; b.piece++) {
        if (plan->pieces[b.piece].hazards.refused) continue;
        enum status s = piece_tasks(&b);
        if (s) return s;
    }
    return OK;
}
