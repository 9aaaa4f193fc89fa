#include "core/work/day_build.h"

#include "core/work/climate.h"
#include "core/work/day_hours.h"
#include "core/work/drying.h"
#include "core/work/fact.h"
#include "core/work/hazard.h"
#include "core/work/learn.h"
#include "core/work/method.h"

#include <math.h>
#include <string.h>

static int64_t minutes(double m) {
    return isnan(m) || m < 0 ? 0 : (int64_t)ceil(m);
}

int day_task_add(struct day_build *b, struct day_meta meta, bool pausable) {
    struct day_tasks *d = b->out;
    void *tasks = ledger_grow(b->l, d->tasks, d->n, &d->tasks_cap, sizeof *d->tasks);
    void *metas = ledger_grow(b->l, d->meta, d->n, &d->meta_cap, sizeof *d->meta);
    if (!tasks || !metas) return TIMETABLE_NONE;
    d->tasks = tasks;
    d->meta = metas;
    int64_t work = minutes(meta.hands_min);
    struct timetable_task task = timetable_work((int32_t)(work > 100000 ? 100000 : work));
    task.name = meta.name;
    task.pausable = pausable || work > b->ask->longest_min;
    task.person = work ? TIMETABLE_ANYBODY : TIMETABLE_NOBODY;
    task.piece = (int)b->turn;
    d->tasks[d->n] = task;
    meta.dry_lag = meta.pot_lag = meta.hard_lag = TIMETABLE_NONE;
    meta.piece = b->piece;
    d->meta[d->n] = meta;
    return (int)d->n++;
}

int day_lag_add(struct day_build *b, struct timetable_lag lag) {
    struct day_tasks *d = b->out;
    if (lag.from == TIMETABLE_NONE || lag.to == TIMETABLE_NONE) return TIMETABLE_NONE;
    void *lags = ledger_grow(b->l, d->lags, d->lags_n, &d->lags_cap, sizeof *d->lags);
    if (!lags) return TIMETABLE_NONE;
    d->lags = lags;
    d->lags[d->lags_n] = lag;
    return (int)d->lags_n++;
}

struct timetable_lag day_after(int from, int to, double wait_min, int climate) {
    return (struct timetable_lag){.from = from,
                                  .to = to,
                                  .min_min = minutes(wait_min),
                                  .max_min = TIMETABLE_UNSAID,
                                  .climate = climate,
                                  .scuff_min = -1};
}

/* ---- drying: nights count for less ---- */

static int32_t night_permille(const struct day_build *b, const struct product_classes_row *row,
                              double night_degc, bool hardening) {
    const struct shop *s = &b->plan->shop;
    struct air day = {s->day_degc, s->humidity_frac};
    climate_bring(row, NAN, &day.degc, &day.rh_frac);
    struct air night = {night_degc, climate_rh_moved(day.degc, day.rh_frac, night_degc)};
    double rate = drying_rate(drying_cure_of(row), day, night, row->lowest_degc, hardening);
    return rate <= 0 || isnan(rate) ? 0 : rate > 4 ? 4000 : (int32_t)(rate * 1000);
}

/* Films that were laid before today have dried in the nights since, not at the pace of days. */
static int64_t first_laid(const struct day_build *b) {
    enum { LONGEST_AGO_MIN = 400 * 1440 };
    const int64_t begin = b->ask->begin_utc_min, least = begin - LONGEST_AGO_MIN;
    int64_t first = begin;
    for (size_t i = 0; i < b->o->kept_n; i++) {
        int64_t at = b->o->kept[i].begun_utc_min;
        if (at != INT64_MIN && at < first) first = at > least ? at : least;
    }
    return first;
}

/* By day at 1, by night slower, in the nights that were said to be cold slower still. */
static struct timetable_rate *rates_of(struct day_build *b, const struct product_classes_row *row,
                                       bool hardening, int *out_n) {
    const struct shop *s = &b->plan->shop;
    struct day_night *cold = arena_array(b->l->arena, s->nights_n + 1, sizeof *cold);
    if (!cold) return NULL;
    for (size_t i = 0; i < s->nights_n; i++)
        cold[i] = (struct day_night){s->nights[i].day,
                                     night_permille(b, row, s->nights[i].degc, hardening)};
    const int64_t first = first_laid(b);
    const int days = b->ask->days + (int)((b->ask->begin_utc_min - first) / 1440) + 1;
    return day_rates(b->o, first, days, night_permille(b, row, s->night_degc, hardening), cold,
                     s->nights_n, b->l->arena, out_n);
}

/* Row of the climates for a class of product and stage; TIMETABLE_NONE: by the clock. */
int day_climate_of(struct day_build *b, const char *class, bool hardening) {
    struct day_tasks *d = b->out;
    for (size_t i = 0; class && i < d->climates_n; i++)
        if (!strcmp(d->climate_keys[i].class, class) && d->climate_keys[i].hardening == hardening)
            return (int)i;
    const struct product_classes_row *row = product_class_of(b->t, class);
    if (!row) return TIMETABLE_NONE;
    void *climates =
        ledger_grow(b->l, d->climates, d->climates_n, &d->climates_cap, sizeof *d->climates);
    void *keys =
        ledger_grow(b->l, d->climate_keys, d->climates_n, &d->keys_cap, sizeof *d->climate_keys);
    int rates_n;
    struct timetable_rate *rates = rates_of(b, row, hardening, &rates_n);
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

bool day_rubs(const struct day_tasks *d, const struct timetable_lag *lag) {
    const struct coat *next = d->meta[lag->to].coat;
    return next && next->rub_min > 0 && (next->again || d->meta[lag->from].coat == next);
}

/* Minutes that scuffing costs where a film has become too hard to take the next one, beyond the
 * rubbing between the two, which it takes the place of. share of the next coat's area. */
static int32_t scuff_min(const struct day_build *b, const struct coat *next, double rub_min,
                         double share) {
    const struct operations_row *op = operation_row(b->t, "scuff");
    const struct learnt *pace = learnt_of(&b->plan->shop, day_piece(b)->id, "hours", "scuff", NULL);
    double min = op ? op->fixed_min + op->per_m2_min * next->area_m2 : 0;
    double more = (min * (pace ? pace->factor : 1) - rub_min) * share;
    return (int32_t)fmin(fmax(ceil(more), 1), 100000);
}

void day_window(const struct day_build *b, struct timetable_lag *lag, double until_min,
                const struct coat *next, double share) {
    if (isnan(until_min) || minutes(until_min) <= lag->min_min) return;
    lag->max_min = minutes(until_min);
    lag->scuff_min = scuff_min(b, next, day_rubs(b->out, lag) ? next->rub_min : 0, share);
}

void day_chain_follow(struct day_build *b, struct day_chain *c, int task, const struct coat *next) {
    if (c->last != TIMETABLE_NONE) {
        struct timetable_lag lag =
            day_after(c->last, task, c->wait_min, day_climate_of(b, c->film, false));
        if (next && c->film) day_window(b, &lag, c->until_min, next, 1);
        int row = day_lag_add(b, lag);
        if (c->wait_min > 0 && b->out->meta[c->last].dry_lag == TIMETABLE_NONE)
            b->out->meta[c->last].dry_lag = row;
    }
    c->last = task;
    c->wait_min = 0;
    c->until_min = NAN;
    c->film = NULL;
    c->back = TIMETABLE_NONE;
}

bool day_washed_wet(const struct notices *n) {
    bool mold = false, moisture = false;
    for (size_t i = 0; i < n->n; i++) {
        if (n->rows[i].rank != RANK_STOP) continue;
        mold |= !strcmp(n->rows[i].topic, "mold");
        moisture |= !strcmp(n->rows[i].topic, "moisture");
    }
    return mold && moisture;
}

/* A task whose operation a hazard blocks waits for the result from outside. */
void day_gate(struct day_build *b, int task, const char *operation) {
    if (task == TIMETABLE_NONE || !operation) return;
    const struct notices *n = &day_piece(b)->hazards.notices;
    const int64_t once = b->ask->gate_utc_min, twice = 2 * once - b->ask->begin_utc_min;
    const bool washed_wet = day_washed_wet(n);
    for (size_t i = 0; i < n->n; i++)
        if (n->rows[i].rank == RANK_STOP && hazard_blocks(b->t, &n->rows[i], operation))
            b->out->tasks[task].wait =
                washed_wet && !strcmp(n->rows[i].topic, "moisture") ? twice : once,
            b->out->meta[task].waits_for =
                strcmp(n->rows[i].topic, "lead") != 0
                    ? arena_print(b->l->arena, "what Hazards asks (%s)", n->rows[i].topic)
                    : "the result from outside";
}

/* ---- take-down, repairs, finish ---- */

static int step_task(struct day_build *b, const struct work_step *w) {
    int task = day_task_add(b,
                            (struct day_meta){.id = w->id,
                                              .name = w->text,
                                              .operation = w->operation,
                                              .hands_min = w->hands_min,
                                              .drying = w->wait_min > 0},
                            true);
    day_gate(b, task, w->operation);
    return task;
}

static void steps_chain(struct day_build *b, const struct steps *s, struct day_chain *c) {
    for (size_t i = 0; i < s->n; i++) {
        int task = step_task(b, &s->rows[i]);
        if (task == TIMETABLE_NONE) return;
        day_chain_follow(b, c, task, NULL);
        c->wait_min = s->rows[i].wait_min;
    }
}

bool day_in_seal(const struct day_build *b, const struct coat *film) {
    const struct coats *c = &day_piece(b)->coats;
    for (const struct coat *k = c->rows; k < c->rows + c->n; k++) {
        if (k->group && film->group && strcmp(k->group, film->group) != 0) continue;
        if (k->role >= ROLE_COLOR) return false;
        if (k->role == ROLE_BARRIER && k >= film) return true;
    }
    return false;
}

/* A smell test of a piece that is sealed proves the seal: it comes after it. */
static bool proves_seal(const struct day_build *b, const struct work_step *w) {
    const struct coats *c = &day_piece(b)->coats;
    if (!w->operation || strcmp(w->operation, "smell_test")) return false;
    for (size_t i = 0; i < c->n; i++)
        if (day_in_seal(b, &c->rows[i])) return true;
    return false;
}

const struct work_step *day_seal_test(const struct day_build *b) {
    const struct steps *s = &day_piece(b)->repairs;
    for (size_t i = 0; i < s->n; i++)
        if (proves_seal(b, &s->rows[i])) return &s->rows[i];
    return NULL;
}

/* Tape around what stays to be seen: sanding would tear it, so it comes after that. */
static bool tapes_edges(const struct work_step *w) {
    return w->operation && !strcmp(w->operation, "mask");
}

/* Tape where a drawer's bare side meets its front: sanding the front would tear it as well. */
static bool tapes_drawers(const struct work_step *w) {
    return w->operation && !strcmp(w->operation, "mask_drawers");
}

/* Glue and filler of several repairs set side by side; only drilling waits for the filler. All of
 * them must have set before the coats. */
static void repairs_chain(struct day_build *b, const struct steps *s, struct day_chain *c) {
    int join =
        day_task_add(b, (struct day_meta){.kind = DAY_JOIN, .name = "repairs have set"}, false);
    for (size_t i = 0; i < s->n; i++) {
        const struct work_step *w = &s->rows[i];
        if (proves_seal(b, w) || tapes_edges(w) || tapes_drawers(w)) continue;
        int task = step_task(b, w);
        if (task == TIMETABLE_NONE) return;
        bool drills = w->operation && !strcmp(w->operation, "drill_holes");
        if (i && !drills) c->wait_min = 0;
        day_chain_follow(b, c, task, NULL);
        c->wait_min = w->wait_min;
        int row = day_lag_add(b, day_after(task, join, w->wait_min, TIMETABLE_NONE));
        if (w->wait_min > 0) b->out->meta[task].dry_lag = row;
    }
    c->wait_min = 0;
    day_chain_follow(b, c, join, NULL);
}

/* Shut up and smelt when the shellac is dry, and before anything goes on it. */
static void smell_test(struct day_build *b, const struct work_step *w, size_t first_task) {
    size_t tasks = b->out->n;
    int smell = step_task(b, w);
    if (smell == TIMETABLE_NONE) return;
    for (size_t i = first_task; i < tasks; i++) {
        const struct coat *k = b->out->meta[i].coat;
        if (!k || !day_is_film(k->role) || k->role == ROLE_SPOT_SEAL) continue;
        bool seal = day_in_seal(b, k);
        if (seal && k->role != ROLE_BARRIER) continue;
        int row = seal ? day_lag_add(b, day_after((int)i, smell, k->recoat_min,
                                                  day_climate_of(b, k->class, false)))
                       : day_lag_add(b, day_after(smell, (int)i, w->wait_min, TIMETABLE_NONE));
        if (!seal && b->out->meta[smell].dry_lag == TIMETABLE_NONE)
            b->out->meta[smell].dry_lag = row;
    }
}

static bool in_color(const struct coats *c, const char *group) {
    for (size_t i = 0; i < c->n; i++)
        if (c->rows[i].role == ROLE_COLOR && group && !strcmp(c->rows[i].group, group)) return true;
    return false;
}

/* On when everything dry is done, and off again when the color is on: what keeps its wood gets its
 * own coats after that, or they would be torn with it; but for a seal against a smell, which
 * is proved and hard before the tape. What is no wood at all (leather, a woven seat) is covered
 * before that seal as well. */
static void tape_on(struct day_build *b, const struct work_step *w, size_t first_task) {
    const struct coats *c = &day_piece(b)->coats;
    size_t tasks = b->out->n;
    int tape = step_task(b, w);
    if (tape == TIMETABLE_NONE) return;
    const struct work_step *test = day_seal_test(b);
    bool late = test && !(day_piece(b)->surfaces.masked_m2 > 0);
    for (size_t i = first_task; i < tasks; i++) {
        const struct day_meta m = b->out->meta[i];
        bool film = m.coat && day_is_film(m.coat->role) && !(late && day_in_seal(b, m.coat));
        bool rub = m.coat && m.coat->role == ROLE_RUB;
        if (late && m.id && !strcmp(m.id, test->id))
            day_lag_add(b, day_after((int)i, tape, test->wait_min, TIMETABLE_NONE));
        if (film)
            day_lag_add(b, day_after(tape, (int)i, 0, TIMETABLE_NONE));
        else if (!rub && (m.coat || m.kind == DAY_JOIN))
            day_lag_add(b, day_after((int)i, tape, 0, TIMETABLE_NONE));
        if (!film || m.coat->role != ROLE_COLOR) continue;
        for (size_t k = first_task; k < tasks; k++) {
            const struct coat *n = b->out->meta[k].coat;
            if (!n || !day_is_film(n->role) || in_color(c, n->group)) continue;
            if (test && day_in_seal(b, n)) continue;
            day_lag_add(b, day_after((int)i, (int)k, m.coat->touch_min,
                                     day_climate_of(b, m.coat->class, false)));
        }
    }
}

static bool has_drawers(const struct day_build *b) {
    const struct surfaces *s = &day_piece(b)->surfaces;
    for (size_t i = 0; i < s->groups_n; i++)
        if (!strcmp(s->groups[i].id, "drawers")) return true;
    return false;
}

/* Between the sanding of the drawers, or of all where they are no group of their own, and their
 * first coat; but for a seal against a smell, which the sides get as well. */
static void tape_drawers(struct day_build *b, const struct work_step *w, size_t first_task) {
    size_t tasks = b->out->n;
    int tape = step_task(b, w);
    if (tape == TIMETABLE_NONE) return;
    bool own = has_drawers(b);
    const struct work_step *test = day_seal_test(b);
    for (size_t i = first_task; i < tasks; i++) {
        const struct day_meta m = b->out->meta[i];
        bool seal = test && m.coat && day_is_film(m.coat->role) && day_in_seal(b, m.coat);
        bool film = m.coat && day_is_film(m.coat->role) && !seal;
        bool rub = m.coat && m.coat->role == ROLE_RUB;
        if (test && m.id && !strcmp(m.id, test->id))
            day_lag_add(b, day_after((int)i, tape, test->wait_min, TIMETABLE_NONE));
        if (m.coat && own && (!m.group || strcmp(m.group, "drawers") != 0)) continue;
        if (film)
            day_lag_add(b, day_after(tape, (int)i, 0, TIMETABLE_NONE));
        else if (m.coat && !rub && !seal)
            day_lag_add(b, day_after((int)i, tape, 0, TIMETABLE_NONE));
    }
}

/* When all groups are clean; every chain goes on from the repairs. */
static void repairs(struct day_build *b, struct day_chain *chains, size_t n) {
    struct day_chain whole = {.last = TIMETABLE_NONE,
                              .until_min = NAN,
                              .coat_task = TIMETABLE_NONE,
                              .first_coat_task = TIMETABLE_NONE,
                              .back = TIMETABLE_NONE};
    int clean = day_task_add(b, (struct day_meta){.kind = DAY_JOIN, .name = "it is clean"}, false);
    for (size_t i = 0; i < n; i++) day_chain_follow(b, &chains[i], clean, NULL);
    whole.last = clean;
    repairs_chain(b, &day_piece(b)->repairs, &whole);
    for (size_t i = 0; i < n; i++) {
        chains[i].last = whole.last;
        chains[i].wait_min = 0;
    }
}

/* Nothing but the tape on the drawers: it holds up no other group. */
static bool taped_alone(const struct steps *s) {
    return s->n == 1 && tapes_drawers(&s->rows[0]);
}

/* ---- coats ---- */

/* What stays on the piece shares its air: no dust beside fresh film, and wax, which nothing holds
 * on, only when every other film of the piece is on. */
static void keep_apart(struct day_build *b, const struct day_chain *chains, size_t n,
                       size_t first_task) {
    const struct coats *c = &day_piece(b)->coats;
    const struct surfaces *s = &day_piece(b)->surfaces;
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
                day_lag_add(b, day_after(dusty, chains[o].first_coat_task, 0, TIMETABLE_NONE));
            bool waxes = chains[o].coat && chains[o].coat->role == ROLE_WAX;
            if (chains[o].coat && !waxes)
                day_lag_add(b, day_after(chains[o].coat_task, wax, 0, TIMETABLE_NONE));
        }
    }
}

/* ---- the end ---- */

static double light_use_min(const struct tables *t, const struct coat *k) {
    const struct product_classes_row *row = product_class_of(t, k->class);
    if (!row) return k->handle_min;
    /* the coat's cure is in this climate and by its label; light use keeps its share of it */
    double share = row->cure_high_min > 0 && k->cure_min > 0 ? k->cure_min / row->cure_high_min : 1;
    return row->light_use_min * share;
}

static int event(struct day_build *b, enum day_kind kind, const char *name) {
    return day_task_add(b, (struct day_meta){.kind = kind, .name = name}, false);
}

/* Once it has left the shop a film goes on curing in a room that is lived in. */
static double home_minutes(const struct day_build *b, const char *class) {
    const struct product_classes_row *row = product_class_of(b->t, class);
    if (!row || day_piece(b)->piece.place == PLACE_OUTDOOR) return NAN;
    struct air day = {b->plan->shop.day_degc, b->plan->shop.humidity_frac};
    climate_bring(row, NAN, &day.degc, &day.rh_frac);
    return drying_factor(drying_cure_of(row), day, drying_air_home, true);
}

static void cure_add(struct day_build *b, struct day_cure cure) {
    struct day_tasks *d = b->out;
    void *rows = ledger_grow(b->l, d->cures, d->cures_n, &d->cures_cap, sizeof *d->cures);
    if (!rows) return;
    d->cures = rows;
    d->cures[d->cures_n++] = cure;
}

static void ending(struct day_build *b, const struct day_chain *chains, size_t n) {
    int handle = event(b, DAY_HANDLE, "may be handled"), deliver;
    for (size_t i = 0; i < n; i++) {
        const struct day_chain *c = &chains[i];
        if (c->last == TIMETABLE_NONE) continue;
        double wait = c->coat && c->coat_task == c->last ? c->coat->handle_min : c->wait_min;
        const char *film = c->coat && c->coat_task == c->last ? c->coat->class : c->film;
        int row = day_lag_add(b, day_after(c->last, handle, wait, day_climate_of(b, film, false)));
        if (wait > 0 && row != TIMETABLE_NONE && b->out->meta[c->last].dry_lag == TIMETABLE_NONE)
            b->out->meta[c->last].dry_lag = row;
    }
    struct day_chain end = {
        .last = handle, .wait_min = 0, .until_min = NAN, .back = TIMETABLE_NONE};
    steps_chain(b, &day_piece(b)->finish, &end);
    /* blankets print a film that is only dry: it is wrapped when it bears light use */
    int packs = TIMETABLE_NONE, canes = TIMETABLE_NONE; /* wet cane marks a film that is soft */
    for (size_t i = (size_t)handle; handle != TIMETABLE_NONE && i < b->out->n; i++)
        if (b->out->meta[i].operation && !strcmp(b->out->meta[i].operation, "pack"))
            packs = (int)i;
        else if (b->out->meta[i].operation && !strcmp(b->out->meta[i].operation, "cane_in"))
            canes = (int)i;
    deliver = event(b, DAY_DELIVER, "may be delivered");
    day_lag_add(b, day_after(end.last, deliver, end.wait_min, TIMETABLE_NONE));
    for (size_t i = 0; i < n; i++) {
        const struct day_chain *c = &chains[i];
        if (!c->coat) continue;
        int hardening = day_climate_of(b, c->coat->class, true);
        double light_min = light_use_min(b->t, c->coat);
        day_lag_add(b, day_after(c->coat_task, deliver, light_min, hardening));
        day_lag_add(b, day_after(c->coat_task, packs, light_min, hardening)); /* none: no row */
        day_lag_add(b, day_after(c->coat_task, canes, light_min, hardening));
        cure_add(b, (struct day_cure){c->coat_task, deliver, c->coat->cure_min, hardening,
                                      home_minutes(b, c->coat->class)});
    }
    int64_t due = day_piece(b)->piece.agreement.due_day;
    if (due != INT64_MIN && deliver != TIMETABLE_NONE) {
        int64_t weight = day_piece(b)->piece.agreement.due_weight;
        b->out->tasks[deliver].due = day_utc_of_local(b->o, due * 1440 + 17 * 60);
        b->out->tasks[deliver].weight = weight > 0 ? (int32_t)weight : 1;
    }
}

/* Nothing is done to a piece before it is in the shop. */
static void arrival(struct day_build *b, size_t first_task) {
    int64_t day = day_piece(b)->piece.agreement.arrives_day;
    if (day == INT64_MIN) return;
    int64_t at = day_utc_of_local(b->o, day * 1440);
    for (size_t i = first_task; i < b->out->n; i++)
        if (b->out->meta[i].kind == DAY_WORK) b->out->tasks[i].release = at;
}

/* What fits in a day by itself may not with the scuffing after a missed window, or a batch mixed
 * anew: then it stops like what is longer than a day, rather than find no day at all. */
static void let_stop(struct day_build *b, size_t first_lag) {
    struct day_tasks *d = b->out;
    for (size_t i = first_lag; i < d->lags_n; i++) {
        int to = d->lags[i].to;
        const struct timetable_task *t = &d->tasks[to];
        int64_t most = t->work_min;
        if (t->setup != TIMETABLE_NONE)
            most += d->setups[t->setup].setup_min + d->setups[t->setup].cleanup_min;
        for (size_t k = i; k < d->lags_n; k++)
            if (d->lags[k].to == to && d->lags[k].max_min != TIMETABLE_UNSAID &&
                d->lags[k].scuff_min > 0)
                most += d->lags[k].scuff_min;
        if (most > b->ask->longest_min) d->tasks[to].pausable = true;
    }
}

static enum status piece_tasks(struct day_build *b) {
    const struct piece_plan *p = day_piece(b);
    size_t n = p->surfaces.groups_n ? p->surfaces.groups_n : 1, first_task = b->out->n,
           first_lag = b->out->lags_n;
    struct day_chain *chains = arena_array(b->l->arena, n, sizeof *chains);
    if (!chains) return E_MEMORY;
    struct day_chain start = {.last = TIMETABLE_NONE,
                              .until_min = NAN,
                              .coat_task = TIMETABLE_NONE,
                              .first_coat_task = TIMETABLE_NONE,
                              .back = TIMETABLE_NONE};
    steps_chain(b, &p->takedown, &start);
    for (size_t i = 0; i < n; i++) {
        chains[i] = start;
        chains[i].group = p->surfaces.groups_n ? p->surfaces.groups[i].id : NULL;
    }
    day_coats(b, chains, n, true);
    if (p->repairs.n && !taped_alone(&p->repairs)) repairs(b, chains, n);
    day_coats(b, chains, n, false);
    if (day_seal_test(b)) smell_test(b, day_seal_test(b), first_task);
    for (size_t i = 0; i < p->repairs.n; i++) {
        if (tapes_edges(&p->repairs.rows[i])) tape_on(b, &p->repairs.rows[i], first_task);
        if (tapes_drawers(&p->repairs.rows[i])) tape_drawers(b, &p->repairs.rows[i], first_task);
    }
    keep_apart(b, chains, n, first_task);
    day_test_board(b, &start, first_task);
    day_mixing(b, first_task);
    ending(b, chains, n);
    arrival(b, first_task);
    let_stop(b, first_lag);
    day_room(b, chains, n, first_task);
    return b->l->failed ? E_MEMORY : OK;
}

enum status day_tasks_make(const struct tables *t, const struct plan *plan,
                           const struct day_ask *ask, const struct plan_options *o,
                           struct ledger *l, struct day_tasks *out) {
    *out = (struct day_tasks){0};
    struct day_build b = {.t = t, .plan = plan, .o = o, .l = l, .ask = ask, .out = out};
    for (b.turn = 0; b.turn < plan->pieces_n; b.turn++) {
        b.piece = day_piece_in_turn(o, plan->pieces_n, b.turn);
        if (plan->pieces[b.piece].hazards.refused) continue;
        enum status s = piece_tasks(&b);
        if (s) return s;
    }
    size_t first_lag = out->lags_n;
    for (b.turn = 0; b.turn < plan->pieces_n; b.turn++) {
        b.piece = day_piece_in_turn(o, plan->pieces_n, b.turn);
        if (plan->pieces[b.piece].hazards.refused) continue;
        day_batch_shared(&b);
        day_sample(&b);
    }
    let_stop(&b, first_lag);
    return l->failed ? E_MEMORY : OK;
}
