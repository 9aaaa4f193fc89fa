#include "app/days_words.h"
#include "app/gather.h"

#include "app/zone.h"
#include "codec/time_text.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { STILL_MIN = 15 /* what moves by less is not told */ };

enum status days_clock_of_shop(struct op_call *call, struct days_clock *out, struct why *why) {
    struct shop shop;
    *out = (struct days_clock){.arena = call->arena};
    enum status s = gather_shop(call, &shop, why);
    if (s) return s;
    out->units = shop.units;
    return zone_spans(shop.zone, call->app->now_utc_min(call->app->now_ctx), call->arena,
                      &out->zone, &out->zone_n, why);
}

enum status days_clock_make(struct op_call *call, const struct days_view *v, struct days_clock *out,
                            struct why *why) {
    const struct shop *shop = &v->answer.plan.shop;
    *out = (struct days_clock){.arena = call->arena, .units = shop->units};
    return zone_spans(shop->zone, v->now_utc_min, call->arena, &out->zone, &out->zone_n, why);
}

int64_t days_local_day(const struct days_clock *c, int64_t utc_min) {
    return zone_local_day(c->zone, c->zone_n, utc_min);
}

static const char *kept(const struct days_clock *c, const char *text) {
    const char *copy = arena_text(c->arena, text);
    return copy ? copy : "";
}

const char *days_when(const struct days_clock *c, int64_t utc_min) {
    char text[64];
    moment_print(c->units, zone_local(c->zone, c->zone_n, utc_min), text, sizeof text);
    return kept(c, text);
}

const char *days_hour(const struct days_clock *c, int64_t utc_min) {
    char text[32];
    int64_t local = zone_local(c->zone, c->zone_n, utc_min);
    clock_print(c->units, local - days_local_day(c, utc_min) * 1440, text, sizeof text);
    return kept(c, text);
}

const char *days_day(const struct days_clock *c, int64_t day) {
    char text[32];
    weekday_print(day, text, sizeof text);
    return kept(c, text);
}

const char *days_span(const struct days_clock *c, double minutes) {
    long m = isnan(minutes) || minutes <= 0 ? 0 : minutes < 1 ? 1 : lround(minutes);
    if (m >= 60) m = (m + 2) / 5 * 5;
    if (m < 60) return arena_print(c->arena, "%ld min", m);
    return m % 60 ? arena_print(c->arena, "%ld h %ld min", m / 60, m % 60)
                  : arena_print(c->arena, "%ld h", m / 60);
}

/* ---- promises ---- */

/* The wait that ends last, if it ends after that day. */
static const struct outside_plan *wait_after(const struct days_clock *c, const struct piece_plan *p,
                                             int64_t day) {
    const struct outside_plan *last = NULL;
    for (size_t i = 0; i < p->outside_n; i++) {
        const struct outside_plan *w = &p->outside[i];
        if (w->until_utc_min != INT64_MIN && days_local_day(c, w->until_utc_min) > day &&
            (!last || w->until_utc_min > last->until_utc_min))
            last = w;
    }
    return last;
}

static const char *promise(const struct days_clock *c, const struct piece_plan *p) {
    int64_t due = p->piece.agreement.due_day, at = p->deliver_utc_min;
    if (due == INT64_MIN || at == INT64_MIN || days_local_day(c, at) <= due) return NULL;
    const char *line = arena_print(c->arena, "%s would be ready %s; promised for %s.", p->title,
                                   days_day(c, days_local_day(c, at)), days_day(c, due));
    const struct outside_plan *w = wait_after(c, p, due);
    return w ? arena_print(c->arena, "%s It waits for %s until %s, after that day.", line, w->name,
                           days_day(c, days_local_day(c, w->until_utc_min)))
             : line;
}

enum status days_promises(struct op_call *call, const struct days_view *v, const char ***out,
                          size_t *out_n, struct why *why) {
    const struct plan *plan = &v->answer.plan;
    struct days_clock c;
    enum status s = days_clock_make(call, v, &c, why);
    if (s) return s;
    *out_n = 0;
    *out = arena_array(call->arena, plan->pieces_n + 1, sizeof **out);
    if (!*out) return why_no_memory(why);
    for (size_t i = 0; i < plan->pieces_n; i++) {
        const char *line = promise(&c, &plan->pieces[i]);
        if (line) (*out)[(*out_n)++] = line;
    }
    return OK;
}

/* ---- how good it is ---- */

static bool was_accepted(const struct days_view *v) {
    for (size_t i = 0; i < v->tasks_n; i++)
        if (v->tasks[i].promised_utc_min != INT64_MIN) return true;
    return false;
}

const char *days_order(const struct days_clock *c, const struct days_view *v) {
    const struct days *d = &v->answer.plan.days;
    if (d->proven) return "None with these hours delivers sooner; that is proven.";
    const char *what = was_accepted(v) && !v->anew ? "As accepted, changed only where it must be"
                                                   : "The best order found";
    if (isnan(d->gap_frac) || d->gap_frac <= 0)
        return arena_print(c->arena, "%s; not proven.", what);
    double percent = ceil(d->gap_frac * 100);
    if (!d->gap_is_late)
        return arena_print(c->arena, "%s; none can be more than %.0f %% shorter.", what, percent);
    return percent < 100
               ? arena_print(c->arena, "%s; at most %.0f %% of what is late could be saved.", what,
                             percent)
               : arena_print(c->arena, "%s; whether all could be in time is not known.", what);
}

/* ---- a change of the clocks ---- */

const char *days_clock_change(const struct days_clock *c, const struct days_view *v) {
    int64_t last = INT64_MIN;
    for (size_t i = 0; i < v->tasks_n; i++)
        if (v->tasks[i].end_utc_min > last) last = v->tasks[i].end_utc_min;
    for (size_t i = 1; i < c->zone_n && c->zone[i].from_utc_min < last; i++) {
        int64_t at = c->zone[i].from_utc_min;
        int by = c->zone[i].offset_min - c->zone[i - 1].offset_min;
        if (at > v->now_utc_min && by)
            return arena_print(c->arena, "The clocks are set %s %s on %s.",
                               by < 0 ? "back" : "forward", days_span(c, abs(by)),
                               days_day(c, days_local_day(c, at)));
    }
    return NULL;
}

/* ---- what moves ---- */

static bool moves(const struct task_view *t) {
    return t->state != TASK_DONE && t->promised_utc_min != INT64_MIN &&
           llabs(t->start_utc_min - t->promised_utc_min) > STILL_MIN;
}

static bool is_new(const struct task_view *t) {
    return t->state == TASK_OPEN && t->promised_utc_min == INT64_MIN;
}

const char *days_move(const struct days_clock *c, const struct task_view *t) {
    const char *more = t->extra_min > 0 && t->note ? t->note : NULL;
    if (!moves(t) && !is_new(t)) return NULL;
    const char *is = days_when(c, t->start_utc_min);
    const char *line = is_new(t) ? arena_print(c->arena, "%s: new, %s.", t->name, is)
                                 : arena_print(c->arena, "%s: %s instead of %s.", t->name, is,
                                               days_when(c, t->promised_utc_min));
    return more ? arena_print(c->arena, "%s %s", line, more) : line;
}

const char *days_move_count(const struct days_clock *c, const struct days_view *v) {
    size_t open = 0, move = 0, fresh = 0;
    for (size_t i = 0; i < v->tasks_n; i++) {
        open += v->tasks[i].state != TASK_DONE;
        move += moves(&v->tasks[i]);
        fresh += is_new(&v->tasks[i]);
    }
    if (fresh == open) return NULL; /* nothing was accepted yet */
    if (!move && !fresh && !v->gone_n) return "Nothing moves.";
    const char *line =
        arena_print(c->arena, "%zu of %zu %s %s", move, open - fresh,
                    open - fresh == 1 ? "task" : "tasks", move == 1 ? "moves" : "move");
    if (fresh)
        line = arena_print(c->arena, "%s, %zu %s new", line, fresh, fresh == 1 ? "is" : "are");
    if (v->gone_n)
        line = arena_print(c->arena, "%s, %zu %s no longer needed", line, v->gone_n,
                           v->gone_n == 1 ? "is" : "are");
    return arena_print(c->arena, "%s.", line);
}
