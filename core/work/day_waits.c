#include "core/work/day_waits.h"

#include "core/work/day_build.h"
#include "core/work/day_hours.h"

#include <stdio.h>
#include <string.h>

const struct waits_row *day_waits_row(const struct tables *t, const char *kind) {
    for (size_t i = 0; i < t->waits_n; i++)
        if (!strcmp(t->waits[i].id, kind)) return &t->waits[i];
    return NULL;
}

static enum status no_kind(const struct tables *t, const char *field, const char *kind,
                           struct why *why) {
    char kinds[200] = "";
    for (size_t i = 0, n = 0; i < t->waits_n && n < sizeof kinds; i++)
        n += (size_t)snprintf(kinds + n, sizeof kinds - n, "%s%s", i ? ", " : "", t->waits[i].id);
    return why_say(why, E_REFERENCE, field, "\"%.60s\" is nothing I know to wait for. Write %s.",
                   kind, kinds);
}

/* Is the word one of a list with blanks between? */
static bool among(const char *list, const char *word) {
    size_t n = strlen(word);
    for (const char *at = list; (at = strstr(at, word)); at += n)
        if ((at == list || at[-1] == ' ') && (!at[n] || at[n] == ' ')) return true;
    return false;
}

int64_t day_waits_at_least(const struct plan_options *o, const struct day_ask *ask, int64_t at) {
    int64_t local = ask->begin_utc_min + day_offset(o, ask->begin_utc_min);
    int64_t tomorrow = day_utc_of_local(o, (local / 1440 + 1) * 1440);
    return at > tomorrow ? at : tomorrow;
}

/* Is it a task of the piece that the wait holds up? "stops": those that a hazard blocks. */
static bool holds(const struct day_tasks *d, size_t task, size_t piece, const char *before) {
    const char *operation = d->meta[task].operation;
    if (d->meta[task].piece != piece || !operation) return false;
    return strcmp(before, "stops") != 0 ? among(before, operation)
                                        : d->tasks[task].wait != TIMETABLE_UNSAID;
}

/* Holds up the tasks of the piece; how many. */
static size_t hold(struct day_tasks *d, size_t piece, const char *before, const char *name,
                   int64_t until) {
    bool stops = !strcmp(before, "stops");
    size_t held = 0;
    for (size_t i = 0; i < d->n; i++) {
        struct timetable_task *task = &d->tasks[i];
        if (!holds(d, i, piece, before)) continue;
        held++;
        if (!stops && task->wait != TIMETABLE_UNSAID && task->wait > until) continue;
        task->wait = until;
        d->meta[i].waits_for = name;
    }
    return held;
}

static enum status no_step(const struct day_tasks *d, size_t piece, const char *field,
                           const char *before, struct why *why) {
    char steps[300] = "";
    size_t n = 0;
    for (size_t i = 0; i < d->n && n < sizeof steps; i++) {
        const char *operation = d->meta[i].operation;
        if (d->meta[i].piece != piece || !operation || among(steps, operation)) continue;
        n += (size_t)snprintf(steps + n, sizeof steps - n, "%s%s", n ? " " : "", operation);
    }
    return why_say(why, E_REFERENCE, field,
                   "This piece has no step \"%.100s\" to wait before. Its steps are: %s.", before,
                   steps);
}

bool day_waits_laboratory(const struct piece *p) {
    for (size_t i = 0; i < p->waits_n; i++)
        if (p->waits[i].kind && !strcmp(p->waits[i].kind, "laboratory")) return true;
    return false;
}

static int64_t until_of(const struct waits_row *row, const struct outside_wait *w,
                        const struct day_ask *ask, const struct plan_options *o) {
    int64_t at = w->until_day == INT64_MIN ? ask->begin_utc_min + (int64_t)(row->usual_days * 1440)
                                           : day_utc_of_local(o, w->until_day * 1440);
    return day_waits_at_least(o, ask, at);
}

static const char *before_of(const struct waits_row *row, const struct outside_wait *w) {
    return w->before ? w->before : row->before;
}

static const char *name_of(const struct waits_row *row, const struct outside_wait *w,
                           struct arena *arena) {
    return w->note ? arena_print(arena, "%s (%s)", row->name, w->note) : row->name;
}

static enum status wait_make(const struct tables *t, const struct outside_wait *w, size_t piece,
                             size_t at, const struct day_ask *ask, const struct plan_options *o,
                             struct ledger *l, struct day_tasks *d, struct why *why) {
    const char *field = arena_print(l->arena, "/pieces/%zu/waits/%zu", piece, at);
    const struct waits_row *row = day_waits_row(t, w->kind);
    if (!field) return E_MEMORY;
    if (!row) return no_kind(t, arena_print(l->arena, "%s/kind", field), w->kind, why);
    if (w->until_day == INT64_MIN)
        assume_number(l, arena_print(l->arena, "%s/until", field), row->usual_days * 1440,
                      DIM_DURATION, row->why, row->source);
    const char *before = before_of(row, w), *name = name_of(row, w, l->arena);
    /* a result that nothing waits for is no mistake; a step that is not there is one */
    if (!hold(d, piece, before, name, until_of(row, w, ask, o)) && w->before)
        return no_step(d, piece, arena_print(l->arena, "%s/before", field), before, why);
    return OK;
}

enum status day_waits_make(const struct tables *t, const struct plan *plan,
                           const struct day_ask *ask, const struct plan_options *o,
                           struct ledger *l, struct day_tasks *d, struct why *why) {
    for (size_t turn = 0; turn < plan->pieces_n; turn++) {
        size_t i = day_piece_in_turn(o, plan->pieces_n, turn);
        const struct piece *p = &plan->pieces[i].piece;
        if (plan->pieces[i].hazards.refused) continue;
        for (size_t k = 0; k < p->waits_n; k++) {
            enum status s = wait_make(t, &p->waits[k], i, k, ask, o, l, d, why);
            if (s) return s;
        }
    }
    return l->failed ? E_MEMORY : OK;
}

/* ---- shown ---- */

static bool is_open(const struct day_tasks *d, int task) {
    return d->tasks[task].state == TIMETABLE_OPEN;
}

static bool holds_open(const struct day_tasks *d, size_t piece, const char *before) {
    for (size_t i = 0; i < d->n; i++)
        if (holds(d, i, piece, before) && is_open(d, (int)i)) return true;
    return false;
}

static bool followed_by_open(const struct day_tasks *d, int task) {
    for (size_t i = 0; i < d->lags_n; i++)
        if (d->lags[i].from == task && is_open(d, d->lags[i].to)) return true;
    return false;
}

static void show_sample(const struct day_tasks *d, const struct timetable_answer *answer,
                        size_t piece, struct piece_plan *p) {
    for (size_t i = 0; i < d->n; i++)
        if (d->meta[i].kind == DAY_JOIN && d->meta[i].piece == piece && d->meta[i].waits_for &&
            followed_by_open(d, (int)i))
            p->outside[p->outside_n++] = (struct outside_plan){
                "sample", d->meta[i].waits_for, p->piece.agreement.sample_expected_day,
                answer->places[i].blocked ? INT64_MIN : answer->places[i].start};
}

enum status day_waits_show(const struct tables *t, const struct day_tasks *d,
                           const struct timetable_answer *answer, const struct day_ask *ask,
                           const struct plan_options *o, struct ledger *l, struct plan *plan) {
    for (size_t i = 0; i < plan->pieces_n; i++) {
        struct piece_plan *p = &plan->pieces[i];
        if (p->hazards.refused) continue;
        p->outside = arena_array(l->arena, p->piece.waits_n + 1, sizeof *p->outside);
        if (!p->outside) return E_MEMORY;
        show_sample(d, answer, i, p);
        for (size_t k = 0; k < p->piece.waits_n; k++) {
            const struct outside_wait *w = &p->piece.waits[k];
            const struct waits_row *row = day_waits_row(t, w->kind);
            if (row && holds_open(d, i, before_of(row, w)))
                p->outside[p->outside_n++] = (struct outside_plan){
                    w->kind, name_of(row, w, l->arena), w->until_day, until_of(row, w, ask, o)};
        }
    }
    return OK;
}
