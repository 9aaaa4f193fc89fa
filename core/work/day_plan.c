#include "core/work/day_plan.h"

#include "core/timetable/climate.h"
#include "core/work/climate.h"
#include "core/work/day_check.h"
#include "core/work/day_cold.h"
#include "core/work/day_crew.h"
#include "core/work/day_explain.h"
#include "core/work/day_hours.h"
#include "core/work/day_keep.h"
#include "core/work/day_recoat.h"
#include "core/work/day_setups.h"
#include "core/work/day_tasks.h"
#include "core/work/day_waits.h"
#include "core/work/lookup.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { HORIZON_DAYS = 400, SITTING_GAP_MIN = 20 };

/* ---- gates: what waits for an outside result ---- */

/* What the piece must wait for: an answer of the laboratory before anything else. */
static const struct notice *gate_of(const struct piece_plan *p) {
    const struct notice *first = NULL;
    for (size_t k = 0; k < p->hazards.notices.n && !p->hazards.refused; k++) {
        const struct notice *n = &p->hazards.notices.rows[k];
        if (n->rank != RANK_STOP || !n->blocks) continue;
        if (!first || (!strcmp(n->topic, "lead") && strcmp(first->topic, "lead"))) first = n;
    }
    return first;
}

static const char *gate_text(const struct tables *t, const struct plan *plan, size_t piece,
                             const struct notice *gate, struct ledger *l) {
    if (day_waits_laboratory(&plan->pieces[piece].piece))
        return "Nothing is sanded before the laboratory's answer is there. When it comes later "
               "than expected, plan again.";
    if (strcmp(gate->topic, "lead"))
        return arena_print(l->arena,
                           "%s The dates take that to be done within a week%s; when it takes "
                           "longer, plan again.",
                           gate->text,
                           day_washed_wet(&plan->pieces[piece].hazards.notices)
                               ? ", and the wood, washed, to dry for another"
                               : "");
    assume_number(l, arena_print(l->arena, "/pieces/%zu/tests/lead", piece),
                  figure(t, FIGURES_LEAD_ANSWER_DAYS) * 1440, DIM_DURATION,
                  "a laboratory's answer taken to come within a week", "CP");
    return "Nothing is sanded before the outside result is there. The dates take it to come within "
           "a week and to clear the piece; when it comes later, plan again.";
}

/* " Others wait too: Pine chest; Oak desk."; "": none besides this piece. */
static const char *others_wait(const struct plan *plan, const struct piece_plan *one,
                               struct ledger *l) {
    const char *names = NULL;
    for (size_t i = 0; i < plan->pieces_n; i++) {
        const struct piece_plan *p = &plan->pieces[i];
        if (!p->blocked_by || p == one) continue;
        names = names ? arena_print(l->arena, "%s; %s", names, p->title) : p->title;
        if (!names) return "";
    }
    return names ? arena_print(l->arena, " Others wait too: %s.", names) : "";
}

/* Each piece waits for its own; the days say what the first waits for, lead before anything else,
 * and which others wait. */
static void gate_say(const struct tables *t, struct plan *plan, struct ledger *l) {
    const struct notice *first = NULL;
    const struct piece_plan *whose = NULL;
    for (size_t i = 0; i < plan->pieces_n; i++) {
        struct piece_plan *p = &plan->pieces[i];
        const struct notice *gate = gate_of(p);
        if (!gate) continue;
        p->blocked_by = gate_text(t, plan, i, gate, l);
        if (first && (strcmp(gate->topic, "lead") || !strcmp(first->topic, "lead"))) continue;
        first = gate, whose = p;
    }
    if (!whose) return;
    plan->days.blocked_by = plan->pieces_n == 1
                                ? whose->blocked_by
                                : arena_print(l->arena, "%s: %s%s", whose->title, whose->blocked_by,
                                              others_wait(plan, whose, l));
}

/* ---- from the answer to days ---- */

struct answer_view {
    const struct timetable_problem *problem;
    const struct timetable_answer *answer;
    const struct day_tasks *d;
    const struct day_crew *crew;
    const struct piece_plan *pieces;
};

static int64_t dry_until(const struct answer_view *v, size_t i) {
    int lag = v->d->meta[i].dry_lag;
    if (!v->d->meta[i].drying || lag == TIMETABLE_NONE) return INT64_MIN;
    int64_t dry = v->answer->lags[lag].dry;
    return dry == TIMETABLE_UNSAID ? INT64_MIN : dry;
}

static int64_t window_end(const struct answer_view *v, size_t i) {
    int lag = v->d->meta[i].dry_lag;
    if (lag == TIMETABLE_NONE || v->answer->lags[lag].latest == TIMETABLE_UNSAID) return INT64_MIN;
    return v->answer->lags[lag].latest;
}

static int64_t stack_from(const struct answer_view *v, size_t i) {
    int lag = v->d->meta[i].hard_lag;
    if (lag == TIMETABLE_NONE || v->answer->lags[lag].dry == TIMETABLE_UNSAID) return INT64_MIN;
    return v->answer->lags[lag].dry;
}

bool day_dries(const char *operation) {
    return !operation || strcmp(operation, "smell_test") != 0;
}

/* How far a film must be for what waits: as far as for its next coat, less, as for dust or tape, or
 * more, to be handled and wrapped. */
static const char *how_dry(const struct answer_view *v, int lag) {
    const struct timetable_lag *lags = v->problem->lags;
    const struct day_meta *from = &v->d->meta[lags[lag].from];
    if (!day_dries(from->operation)) return "over";
    int next = from->dry_lag;
    if (next == TIMETABLE_NONE || lags[lag].min_min == lags[next].min_min) return "dry";
    return lags[lag].min_min < lags[next].min_min ? "dry to the touch" : "hard enough";
}

/* What from outside keeps a task from being earlier; NULL: nothing of the kind. */
static const char *waits_for(const struct answer_view *v, size_t i) {
    const struct timetable_place *at = &v->answer->places[i];
    if (at->reason == TIMETABLE_BY_WAIT) return v->d->meta[i].waits_for;
    return at->reason == TIMETABLE_BY_LAG
               ? v->d->meta[v->problem->lags[at->reason_index].from].waits_for
               : NULL;
}

/* What keeps a task from being earlier, where the rows above do not say it already. */
static const char *held_by(const struct answer_view *v, size_t i, struct arena *arena) {
    const struct timetable_place *at = &v->answer->places[i];
    int from;
    if (waits_for(v, i)) return arena_print(arena, "Waits for %s.", waits_for(v, i));
    switch (at->reason) {
    case TIMETABLE_BY_LAG:
        from = v->problem->lags[at->reason_index].from;
        return v->d->meta[from].drying && v->problem->lags[at->reason_index].min_min > 0
                   ? arena_print(arena, "Waits until \"%s\" is %s.", v->d->meta[from].name,
                                 how_dry(v, at->reason_index))
                   : NULL;
    case TIMETABLE_BY_RELEASE: return "Cannot go on earlier, as you said.";
    case TIMETABLE_BY_RESOURCE:
        return at->reason_index == DAY_BOOTH ? "Waits for the booth."
               : at->reason_index == DAY_AIR ? "Not while something is wet: dust settles in it."
               : at->reason_index >= DAY_RESOURCES
                   ? "Not so late that the cold of the night finds it wet."
                   : "Waits for room to dry.";
    case TIMETABLE_BY_NEXT: return "Not earlier, or the next coat would miss its window.";
    default: return NULL;
    }
}

/* The window of a lag to this task that is missed, its batch's age aside; TIMETABLE_NONE: none. */
static int missed_window(const struct answer_view *v, int task) {
    for (int k = 0; k < v->problem->lags_n; k++)
        if (v->problem->lags[k].to == task && v->answer->lags[k].missed &&
            k != v->d->meta[task].pot_lag)
            return k;
    return TIMETABLE_NONE;
}

/* What else is done here than the plan of the piece says: more work, or less. */
static const char *note_of(const struct answer_view *v, size_t i, struct arena *arena,
                           double *out_saved_min) {
    int32_t saved;
    int missed = missed_window(v, (int)i), pot = v->d->meta[i].pot_lag;
    const char *words = day_setup_words(v->d, v->answer, v->pieces, i, arena, &saved);
    *out_saved_min = saved;
    bool rubbed = missed != TIMETABLE_NONE && day_rubs(v->d, &v->problem->lags[missed]);
    if (missed != TIMETABLE_NONE)
        words = arena_print(arena, "The window of \"%s\" is missed: scuff first, %s%d min%s.%s%s",
                            v->d->meta[v->problem->lags[missed].from].name,
                            rubbed ? "not rub, " : "", (int)v->problem->lags[missed].scuff_min,
                            rubbed ? " more" : "", words ? " " : "", words ? words : "");
    if (pot != TIMETABLE_NONE && v->answer->lags[pot].missed)
        words =
            arena_print(arena, "The batch is too old by then: mix anew first, %d min.%s%s",
                        (int)v->problem->lags[pot].scuff_min, words ? " " : "", words ? words : "");
    return words;
}

static const char *person_name(const struct answer_view *v, int person) {
    return person >= 0 ? v->problem->persons[person].name : NULL;
}

static int by_start(const void *a, const void *b) {
    const struct day_task *x = a, *y = b;
    if (x->start_utc_min != y->start_utc_min) return x->start_utc_min < y->start_utc_min ? -1 : 1;
    return x->end_utc_min < y->end_utc_min ? -1 : x->end_utc_min > y->end_utc_min;
}

static int64_t latest(int64_t a, int64_t b) {
    return a > b ? a : b;
}

/* Somebody must be there to hand a piece over: the next time the shop is open. */
static int64_t when_open(const struct answer_view *v, int64_t at) {
    const struct timetable_person *p = &v->problem->persons[0];
    for (int i = 0; i < p->windows_n; i++)
        if (at < p->windows[i].to) return at > p->windows[i].from ? at : p->windows[i].from;
    return at;
}

static void event_keep(const struct answer_view *v, struct plan *plan, const struct day_meta *m,
                       int64_t at) {
    struct piece_plan *p = &plan->pieces[m->piece];
    if (m->kind == DAY_HANDLE) {
        p->handle_utc_min = at;
        plan->days.handle_utc_min = latest(plan->days.handle_utc_min, at);
    } else {
        p->cured_utc_min = at; /* films may take longer: cures_keep */
        at = when_open(v, at);
        p->deliver_utc_min = at;
        plan->days.deliver_utc_min = latest(plan->days.deliver_utc_min, at);
    }
}

/* So much of `minutes` of drying from t on has passed at `until`. */
static int64_t dried_by(const struct drying *air, int64_t t, int64_t minutes, int64_t until) {
    int64_t low = 0, high = minutes;
    while (low < high) {
        int64_t m = low + (high - low + 1) / 2;
        if (drying_after(air, t, m) <= until)
            low = m;
        else
            high = m - 1;
    }
    return low;
}

/* When the film is cured: in the shop's air until the piece may leave, then where it will stand. */
static int64_t cured_at(const struct day_cure *c, const struct drying *air, int64_t laid,
                        int64_t leaves) {
    int64_t minutes = isnan(c->cure_min) || c->cure_min < 0 ? 0 : (int64_t)ceil(c->cure_min);
    int64_t at = drying_after(air, laid, minutes);
    if (at <= leaves || !(c->home > 0)) return at;
    int64_t rest = minutes - dried_by(air, laid, minutes, leaves);
    return leaves + (int64_t)ceil((double)rest * c->home);
}

/* Films go on curing after the piece has left. */
static enum status cures_keep(const struct answer_view *v, struct ledger *l, struct plan *plan) {
    for (size_t i = 0; i < v->d->cures_n; i++) {
        const struct day_cure *c = &v->d->cures[i];
        const struct timetable_place *film = &v->answer->places[c->task],
                                     *left = &v->answer->places[c->deliver];
        if (film->blocked || left->blocked) continue;
        struct drying dries, *air = c->climate == TIMETABLE_NONE ? NULL : &dries;
        if (air) {
            const struct timetable_climate *climate = &v->d->climates[c->climate];
            size_t rows = (size_t)climate->rates_n;
            int *near = arena_array(l->arena, DRYING_NEAR * rows + 1, sizeof *near);
            if (!near) return E_MEMORY;
            dries = drying_make(climate, near);
        }
        struct piece_plan *p = &plan->pieces[v->d->meta[c->task].piece];
        p->cured_utc_min = latest(p->cured_utc_min, cured_at(c, air, film->end, left->start));
    }
    for (size_t i = 0; i < plan->pieces_n; i++)
        plan->days.load_utc_min = latest(plan->days.load_utc_min, plan->pieces[i].cured_utc_min);
    return OK;
}

static enum status rows_make(const struct answer_view *v, struct ledger *l, struct plan *plan) {
    struct days *days = &plan->days;
    days->rows = arena_array(l->arena, v->d->n + 1, sizeof *days->rows);
    if (!days->rows) return E_MEMORY;
    for (size_t i = 0; i < v->d->n; i++) {
        const struct timetable_place *at = &v->answer->places[i];
        const struct day_meta *m = &v->d->meta[i];
        if (at->blocked) continue;
        if (m->kind != DAY_WORK) {
            if (m->kind != DAY_JOIN) event_keep(v, plan, m, at->start);
            continue;
        }
        double saved;
        const char *note = note_of(v, i, l->arena, &saved);
        days->rows[days->n++] = (struct day_task){
            .id = m->id,
            .piece = plan->pieces[m->piece].id,
            .group = m->group,
            .name = m->name,
            .operation = m->operation,
            .person = person_name(v, at->person),
            .who = at->person >= 0 ? v->crew->ids[at->person] : NULL,
            .hands_min = m->hands_min,
            .start_utc_min = at->start,
            .end_utc_min = at->end,
            .dry_until_utc_min = dry_until(v, i),
            .window_end_utc_min = window_end(v, i),
            .stack_utc_min = stack_from(v, i),
            .stack_how = m->stack_how,
            .before_night = m->before_night,
            .pauses = v->d->tasks[i].state == TIMETABLE_OPEN && at->segments_n > 1,
            .setup_min = at->setup_min,
            .cleanup_min = at->cleanup_min,
            .extra_min = at->scuff_min,
            .held_by = held_by(v, i, l->arena),
            .waits_for = waits_for(v, i),
            .note = note,
            .saved_min = saved};
        days->shared_n += saved > 0, days->saved_min += saved;
    }
    qsort(days->rows, days->n, sizeof *days->rows, by_start);
    if (cures_keep(v, l, plan)) return E_MEMORY;
    days->proven = v->answer->proven;
    days->gap_frac = v->answer->gap_percent / 100;
    days->gap_is_late = v->answer->score.lateness > v->answer->bound.lateness;
    return OK;
}

/* ---- the whole ---- */

/* How many timetables are tried. n: tasks and holds. Each places every task and asks every hold for
 * room, and looks the longer the more stands there already: up to three pieces get all 1000 (60
 * ms), two dozen (800 tasks) are planned under 150 ms. Days that are laid out anew are worth a
 * second or two of waiting: of six pieces at a time out of the examples the last is ready more
 * than a day sooner then (bench/days.mjs), and what is accepted is only mended afterwards. */
static uint64_t timetables_for(int n, bool anew) {
    enum { MOST = 1000, MOST_ANEW = 8000, LEAST = 10, SMALL = 250 };
    double share = n > SMALL ? (double)SMALL / n : 1;
    return (uint64_t)fmax(anew ? MOST_ANEW * share * share : MOST * share * share * share, LEAST);
}

/* Nothing fits: most often there is more work than hours, and that is said in hours. */
static enum status no_timetable(enum status s, const struct timetable_problem *p, struct why *why) {
    int64_t work = 0, open = 0;
    for (int i = 0; i < p->tasks_n; i++)
        if (p->tasks[i].state == TIMETABLE_OPEN && p->tasks[i].person != TIMETABLE_NOBODY)
            work += p->tasks[i].work_min;
    for (int i = 0; i < p->persons_n; i++)
        for (int k = 0; k < p->persons[i].windows_n; k++)
            open += p->persons[i].windows[k].to - p->persons[i].windows[k].from;
    if (s == E_TOO_LARGE)
        return why_say(why, s, "/pieces",
                       "These are %d tasks; at most %d are planned together. "
                       "Plan fewer pieces at once.",
                       p->tasks_n, TIMETABLE_MAX_TASKS);
    if (work > open)
        return why_say(why, s, "/shop/hours",
                       "Both cannot be: %lld hours of work, and %lld hours in which the shop is "
                       "open in the next %d days. Open longer, or plan fewer pieces at once.",
                       (long long)(work / 60), (long long)(open / 60), HORIZON_DAYS);
    if (s == E_LIMIT)
        return why_say(why, s, "/shop/hours",
                       "No order of the work was found that keeps every rule in these hours within "
                       "%d days. Open longer, or plan fewer pieces at once.",
                       HORIZON_DAYS);
    char text[sizeof why->text];
    snprintf(text, sizeof text, "%s", why ? why->text : "");
    return why_say(why, s, "/shop/hours", "No timetable fits: %.700s", text);
}

/* The accepted days; task NULL: none. */
struct stood {
    struct timetable_answer old;
    int *task;
};

/* Days that were accepted are kept as far as they can be; where none were, they are laid out. */
static enum status lay_out(const struct timetable_problem *problem, const struct stood *stood,
                           const struct plan_options *o, struct ledger *l,
                           struct timetable_answer *answer, struct why *why) {
    const int n = problem->tasks_n + problem->holds_n;
    enum { STARTS_ANEW = 3 }; /* one that goes on longer seldom leaves where it ended up */
    struct limit limit = o->limit;
    struct timetable_change *changes;
    struct timetable_answer longer;
    int changes_n;
    if (!limit.steps) limit.steps = timetables_for(n, false);
    if (stood->task)
        return timetable_replan(problem, &stood->old, stood->task, limit, o->seed, l->arena, answer,
                                &changes, &changes_n, why);
    enum status s = timetable_solve(problem, limit, o->seed, l->arena, answer, why);
    if (s || !o->lay_anew || o->limit.steps || answer->proven) return s;
    limit.steps = timetables_for(n, true);
    for (uint64_t k = 0; !s && k < STARTS_ANEW && !answer->proven; k++) {
        s = timetable_solve(problem, limit, o->seed + k, l->arena, &longer, why);
        /* never behind what any page shows, which a longer search cools past by chance */
        if (!s && !score_less(&answer->score, &longer.score)) *answer = longer;
    }
    return s;
}

/* Again, with windows that must not pass, for a shop that wants that and whose windows did. What
 * closes within a day is let go first where no order is found: it hangs on the hours. */
static enum status keep_windows(const struct timetable_problem *problem, struct day_tasks *d,
                                const struct stood *stood, struct plan *plan,
                                const struct plan_options *o, struct ledger *l,
                                struct timetable_answer *answer, struct why *why) {
    static const int64_t from_min[] = {0, 1440, INT64_MAX};
    struct day_recoat r;
    enum status s = day_recoat_find(problem, d, plan, l, &plan->days.gates, &r);
    if (s) return why_say(why, s, "", "%s", status_text(s));
    if (!day_recoat_missed(d, &r, answer, stood->task ? &stood->old : NULL, stood->task)) return OK;
    for (size_t i = 0; i < sizeof from_min / sizeof *from_min; i++) {
        day_recoat_tighten(d, &r, from_min[i]);
        s = lay_out(problem, stood, o, l, answer, why);
        if (s != E_LIMIT && s != E_IMPOSSIBLE) return s;
        if (!i) day_recoat_say_loose(l, &plan->days.gates);
    }
    return s;
}

static enum status solve(const struct timetable_problem *problem, struct day_tasks *d,
                         const struct day_crew *crew, struct plan *plan,
                         const struct plan_options *o, struct ledger *l,
                         struct timetable_answer *answer, struct why *why) {
    struct stood stood = {.task = NULL};
    if (o->lay_anew || !day_keep_accepted(o, plan, d, crew, l->arena, &stood.old, &stood.task))
        stood.task = NULL;
    enum status s = lay_out(problem, &stood, o, l, answer, why);
    if ((s == E_LIMIT || s == E_IMPOSSIBLE) && day_pots_loosen(d, true))
        s = lay_out(problem, &stood, o, l, answer, why);
    if ((s == E_LIMIT || s == E_IMPOSSIBLE) && day_cold_drop(d, l, &plan->days.gates))
        s = lay_out(problem, &stood, o, l, answer, why);
    if (!s && plan->shop.within_windows == YN_YES)
        s = keep_windows(problem, d, &stood, plan, o, l, answer, why);
    return s ? no_timetable(s, problem, why) : OK;
}

enum status day_plan_make(const struct tables *t, const struct job *job,
                          const struct plan_options *o, struct ledger *l, struct plan *plan,
                          struct why *why) {
    plan->days.handle_utc_min = plan->days.deliver_utc_min = plan->days.load_utc_min = INT64_MIN;
    int64_t begin = o->now_utc_min;
    if (job->start_local_min != INT64_MIN) {
        int64_t start = day_utc_of_local(o, job->start_local_min);
        if (start > begin) begin = start;
    }
    struct day_crew crew;
    enum status s = day_crew_make(&plan->shop, o, begin, HORIZON_DAYS, l, &crew, why);
    if (s) return s;
    struct day_crew then = crew; /* their hours since the first task under way was begun */
    int64_t since = day_keep_since(o, begin);
    if (since < begin) s = day_crew_make(&plan->shop, o, since, HORIZON_DAYS, l, &then, why);
    if (s) return s;
    double floor = plan->shop.drying_area_m2 * 100;
    int32_t floor_dm2 = floor < 1 ? 1 : floor > 1e6 ? 1000000 : (int32_t)floor;
    struct day_tasks d;
    gate_say(t, plan, l);
    struct day_ask ask = {.shelf = &job->shelf,
                          .begin_utc_min = begin,
                          .longest_min = crew.longest_min,
                          .gate_utc_min =
                              begin + (int64_t)figure(t, FIGURES_LEAD_ANSWER_DAYS) * 1440,
                          .floor_dm2 = floor_dm2,
                          .booth = plan->shop.booth == YN_YES,
                          .days = HORIZON_DAYS};
    s = day_check_facts(job, plan, &ask, why);
    if (s) return s;
    s = day_tasks_make(t, plan, &ask, o, l, &d);
    if (s) return why_say(why, s, "", "%s", status_text(s));
    if (!d.n) return OK; /* every piece is refused */
    s = day_waits_make(t, plan, &ask, o, l, &d, why);
    if (!s) s = day_crew_one_go(t, &plan->shop, &crew, l, &d, why);
    if (!s) s = day_crew_skills(t, &plan->shop, l, &crew, &d, why);
    if (s) return s;
    plan->days.dew_degc = climate_dew_degc(plan->shop.day_degc, plan->shop.humidity_frac);
    day_check_air(t, plan, &job->shelf, l, &plan->days.gates);
    day_check_tasks(&d, plan, &ask, l, &plan->days.gates);
    s = day_cold_make(t, plan, &ask, &crew, o, l, &d, &plan->days.gates);
    if (s) return why_say(why, s, "", "%s", status_text(s));
    day_keep_tasks(o, plan, &then, &d);
    d.room[DAY_FLOOR] = (struct timetable_resource){.name = "drying floor", .capacity = floor_dm2};
    d.room[DAY_BOOTH] = (struct timetable_resource){.name = "spray booth", .capacity = 1};
    d.room[DAY_AIR] =
        (struct timetable_resource){.name = "air without dust", .capacity = DAY_AIR_ALL};
    struct timetable_problem problem = {.now = begin,
                                        .tasks = d.tasks,
                                        .lags = d.lags,
                                        .persons = crew.people,
                                        .resources = d.room,
                                        .holds = d.holds,
                                        .setups = d.setups,
                                        .climates = d.climates,
                                        .tasks_n = (int)d.n,
                                        .lags_n = (int)d.lags_n,
                                        .persons_n = crew.people_n,
                                        .resources_n = DAY_RESOURCES + d.warmth_n,
                                        .holds_n = (int)d.holds_n,
                                        .setups_n = (int)d.setups_n,
                                        .climates_n = (int)d.climates_n,
                                        .sitting_gap_min = SITTING_GAP_MIN};
    struct timetable_answer answer;
    s = solve(&problem, &d, &crew, plan, o, l, &answer, why);
    if (s) return s;
    day_setups_share(&d, &answer);
    struct answer_view view = {&problem, &answer, &d, &crew, plan->pieces};
    s = rows_make(&view, l, plan);
    if (!s) s = day_waits_show(t, &d, &answer, &ask, o, l, plan);
    if (s) return why_say(why, s, "", "%s", status_text(s));
    days_explain(t, l, plan);
    return OK;
}
