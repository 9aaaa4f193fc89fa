/* Days judged by the rows alone: hours, people, drying, floor, booth, dates and waits, windows and
 * what is paid for them. Nothing of core/work/day_*.c is used. The rules are common practice
 * (docs/decisions/0012); the tables give times and layers. */
#include "test/model/days_model.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

int wrong_n, stacked_n;

void wrong(const struct day_task *t, const char *what) {
    if (wrong_n++ < 5)
        printf("  seed %llu, %s %s: %s\n", (unsigned long long)seed, t->piece, t->id, what);
}

const struct task_kept *kept_of(const struct day_task *t) {
    for (size_t i = 0; i < kept_n; i++)
        if (!strcmp(kept[i].id, t->id) && !strcmp(kept[i].piece, t->piece)) return &kept[i];
    return NULL;
}
static bool stands(const struct day_task *t) {
    const struct task_kept *k = kept_of(t);
    return k && k->begun_utc_min != INT64_MIN;
}

static const struct piece_plan *piece_of(const struct day_task *t) {
    for (size_t i = 0; i < answer.plan.pieces_n; i++)
        if (!strcmp(answer.plan.pieces[i].id, t->piece)) return &answer.plan.pieces[i];
    return NULL;
}

/* The row of the coat that a task lays on or prepares, and which of its coats: the id is that of
 * the row with "-coat2" and "-back" where there are several. */
static const struct coat *coat_of(const struct day_task *t, int *nth, bool *back) {
    const struct piece_plan *p = piece_of(t);
    for (size_t i = 0; p && i < p->coats.n; i++) {
        const struct coat *k = &p->coats.rows[i];
        size_t n = strlen(k->id);
        if (strncmp(t->id, k->id, n)) continue;
        const char *rest = t->id + n;
        *nth = 1;
        if (!strncmp(rest, "-coat", 5)) *nth = (int)strtol(rest + 5, (char **)&rest, 10);
        *back = !strcmp(rest, "-back");
        if (!*rest || *back) return k;
    }
    return NULL;
}

static bool films(const struct coat *k) {
    return k->role != ROLE_STRIP && k->role != ROLE_SCUFF && !isnan(k->recoat_min) &&
           k->film_um > 0;
}

/* Is the shop, or that one, at work in this whole minute? */
static bool open_at(const struct day_task *t, int64_t at) {
    const struct shop *s = &answer.plan.shop;
    int64_t day = at / DAY, minute = at % DAY, weekday = (day + 3) % 7; /* 1970-01-01: Thursday */
    for (size_t i = 0; i < s->days_off_n; i++)
        if (s->days_off[i] == day) return false;
    for (size_t i = 0; t->person && i < s->crew_n; i++)
        for (size_t k = 0; !strcmp(s->crew[i].name, t->person) && k < s->crew[i].days_off_n; k++)
            if (s->crew[i].days_off[k] == day) return false;
    for (size_t i = 0; i < s->hours_n; i++) {
        const struct shop_hours *h = &s->hours[i];
        bool on = h->day == DAILY || (h->day == WEEKDAYS && weekday < 5) ||
                  (int64_t)h->day - MON == weekday;
        if (on && minute >= h->open_min && minute < h->close_min) return true;
    }
    return false;
}

/* Minutes of the block in which hands were on it, and whether a closed one lies between. */
static int64_t open_minutes(const struct day_task *t, int64_t from, int64_t to) {
    int64_t n = 0;
    for (int64_t at = from; at < to; at++) n += open_at(t, at);
    return n;
}

static void judge_hours(const struct day_task *t) {
    int64_t from = t->start_utc_min - (int64_t)t->setup_min,
            to = t->end_utc_min + (int64_t)t->cleanup_min;
    if (stands(t)) return;
    if (t->start_utc_min < now_min) wrong(t, "begins in the past");
    if (t->end_utc_min == t->start_utc_min) return;
    int64_t open = open_minutes(t, from, to);
    if (!t->pauses && open < to - from) wrong(t, "goes on while the shop is closed");
    if (t->pauses && (!open_at(t, t->start_utc_min) || !open_at(t, t->end_utc_min - 1)))
        wrong(t, "begins or ends while the shop is closed");
    if ((double)open < t->hands_min - t->saved_min + t->extra_min - 60 && t->saved_min == 0 &&
        t->setup_min + t->cleanup_min > 0)
        wrong(t, "has less time than it takes");
}

/* No more at work than there are; nobody at two things. What stands is as it was. */
static void judge_people(void) {
    const struct days *d = &answer.plan.days;
    const struct shop *s = &answer.plan.shop;
    int64_t people = s->crew_n ? (int64_t)s->crew_n : s->people > 0 ? s->people : 1;
    for (size_t i = 0; i < d->n; i++) {
        const struct day_task *t = &d->rows[i];
        int64_t at = t->start_utc_min - (int64_t)t->setup_min, busy = 0, same = 0;
        if (stands(t) || t->end_utc_min == t->start_utc_min) continue;
        for (size_t k = 0; k < d->n; k++) {
            const struct day_task *o = &d->rows[k];
            bool over = o->start_utc_min - (int64_t)o->setup_min <= at &&
                        at < o->end_utc_min + (int64_t)o->cleanup_min && !stands(o);
            busy += over;
            same += over && t->person && o->person && !strcmp(t->person, o->person);
        }
        if (busy > people || same > 1) wrong(t, "more hands than there are");
    }
}

/* The next coat of a group, on the same side, not before the one below may be gone over. Nights
 * are not warmer than days here, so drying takes at least the time that the coat's row says. */
static void judge_drying(const struct day_task *t) {
    const struct days *d = &answer.plan.days;
    int nth, other_nth;
    bool back, other_back;
    const struct coat *k = coat_of(t, &nth, &back);
    const struct task_kept *was = kept_of(t);
    if (!k || !films(k) || !k->group) return;
    /* done late, and what follows may have been begun before it was dry: nobody asked */
    if (stands(t) && was->done_utc_min != was->end_utc_min) return;
    for (size_t i = 0; i < d->n; i++) {
        const struct day_task *o = &d->rows[i];
        const struct coat *next =
            strcmp(o->piece, t->piece) ? NULL : coat_of(o, &other_nth, &other_back);
        if (!next || !next->group || strcmp(next->group, k->group) || stands(o)) continue;
        bool above = next > k || (next == k && other_nth > nth);
        bool turned = next == k && other_nth == nth && back && !other_back;
        if (above && back == other_back &&
            o->start_utc_min < t->end_utc_min + (int64_t)k->recoat_min)
            wrong(o, "goes on before the coat below is dry");
        if (turned && o->start_utc_min < t->end_utc_min + (int64_t)k->touch_min)
            wrong(o, "is turned while it is wet");
    }
}

/* A window that is missed is paid for. */
static void judge_window(const struct day_task *t) {
    const struct days *d = &answer.plan.days;
    int nth, other_nth;
    bool back, other_back;
    const struct coat *k = coat_of(t, &nth, &back);
    if (!k || t->window_end_utc_min == INT64_MIN) return;
    for (size_t i = 0; i < d->n; i++) {
        const struct day_task *o = &d->rows[i];
        const struct coat *next =
            strcmp(o->piece, t->piece) ? NULL : coat_of(o, &other_nth, &other_back);
        if (next != k || other_nth != nth + 1 || other_back != back || stands(o)) continue;
        if (o->start_utc_min > t->window_end_utc_min && !(o->extra_min > 0))
            wrong(o, "misses a window and pays nothing");
    }
}

static void judge_dates(const struct day_task *t) {
    const struct piece_plan *p = piece_of(t);
    if (!p || stands(t)) return;
    if (p->piece.agreement.arrives_day != INT64_MIN &&
        t->start_utc_min < p->piece.agreement.arrives_day * DAY)
        wrong(t, "is worked on before it has arrived");
    for (size_t i = 0; i < p->piece.waits_n; i++)
        if (!strcmp(t->operation, "color") && t->start_utc_min < p->piece.waits[i].until_day * DAY)
            wrong(t, "does not wait for the client's yes");
}

/* ---- room ---- */

static int64_t layers_of(const struct piece_plan *p, const struct surface_group *g) {
    int64_t parts = 0, bears = INT64_MAX;
    for (size_t i = g->first; i < g->first + g->n; i++)
        if (p->surfaces.rows[i].coated_m2 > 0 || p->surfaces.rows[i].clear_m2 > 0)
            parts += p->surfaces.rows[i].part.count;
    for (size_t i = 0; i < p->coats.n; i++) {
        const struct coat *k = &p->coats.rows[i];
        if (!films(k) || (k->group && strcmp(k->group, g->id))) continue;
        int64_t row = 1;
        for (size_t c = 0; c < tables_builtin.product_classes_n; c++)
            if (k->class && !strcmp(tables_builtin.product_classes[c].id, k->class))
                row = !strcmp(tables_builtin.product_classes[c].cure, "evaporates") ? 4 : 3;
        if (row < bears) bears = row;
    }
    return !g->lies_flat ? 1 : parts < bears ? parts : bears;
}

static bool is_of(const struct day_task *t, const struct piece_plan *p, const char *group) {
    int nth;
    bool back;
    const struct coat *k = strcmp(t->piece, p->id) ? NULL : coat_of(t, &nth, &back);
    return k && films(k) && (!k->group || !strcmp(k->group, group));
}

static int64_t dry_at(const struct day_task *t) {
    return t->dry_until_utc_min > t->end_utc_min ? t->dry_until_utc_min : t->end_utc_min;
}

static const struct day_task *smell_test_of(const struct piece_plan *p) {
    for (size_t i = 0; i < answer.plan.days.n; i++) {
        const struct day_task *t = &answer.plan.days.rows[i];
        if (!strcmp(t->piece, p->id) && !strcmp(t->operation, "smell_test")) return t;
    }
    return NULL;
}

/* Floor in dm2 that a group takes at a moment: nothing before its first film, after its last is dry
 * to handle, and while the piece stands together to be smelt; its stack's while every film on it
 * is hard; all of it else. */
static double floor_at(const struct piece_plan *p, const struct surface_group *g, int64_t at,
                       bool stacks) {
    const struct days *d = &answer.plan.days;
    const struct day_task *last = NULL, *final = NULL, *test = smell_test_of(p);
    for (size_t i = 0; i < d->n; i++) {
        const struct day_task *t = &d->rows[i];
        if (!is_of(t, p, g->id)) continue;
        if (t->start_utc_min <= at) last = t;
        final = t;
    }
    double full = ceil(g->floor_m2 * 100);
    if (!last || !final) return 0;
    bool to_smell = test && last->start_utc_min < test->start_utc_min;
    if ((last == final || to_smell) && at >= dry_at(last)) return 0;
    bool hard = stacks && last->stack_utc_min != INT64_MIN && at >= last->stack_utc_min;
    return hard ? ceil(full / (double)layers_of(p, g)) : full;
}

static void judge_room(void) {
    const struct plan *plan = &answer.plan;
    double floor = plan->shop.drying_area_m2 * 100;
    for (size_t i = 0; i < plan->days.n; i++) {
        int64_t at = plan->days.rows[i].start_utc_min;
        double taken = 0, flat = 0;
        bool all_fit = true, asked = false;
        for (size_t p = 0; p < plan->pieces_n; p++)
            for (size_t g = 0; g < plan->pieces[p].surfaces.groups_n; g++) {
                const struct surface_group *of = &plan->pieces[p].surfaces.groups[g];
                if (!(of->floor_m2 > 0) || plan->pieces[p].hazards.refused) continue;
                all_fit = all_fit && of->floor_m2 * 100 <= floor;
                asked = asked || is_of(&plan->days.rows[i], &plan->pieces[p], of->id);
                taken += floor_at(&plan->pieces[p], of, at, true);
                flat += floor_at(&plan->pieces[p], of, at, false);
            }
        if (!all_fit || stands(&plan->days.rows[i])) continue;
        if (asked && taken > floor) wrong(&plan->days.rows[i], "no floor left to dry on");
        stacked_n += asked && flat > floor && taken <= floor;
    }
}

static void judge_booth(void) {
    const struct days *d = &answer.plan.days;
    int nth;
    bool back;
    if (answer.plan.shop.booth != YN_YES) return;
    for (size_t i = 0; i < d->n; i++) {
        const struct day_task *a = &d->rows[i];
        const struct coat *k = coat_of(a, &nth, &back);
        if (!k || !films(k) || !k->tool || strcmp(k->tool, "hvlp")) continue;
        for (size_t j = 0; j < d->n; j++) {
            const struct day_task *b = &d->rows[j];
            const struct coat *o = coat_of(b, &nth, &back);
            if (i == j || !o || !films(o) || !o->tool || strcmp(o->tool, "hvlp") || stands(b))
                continue;
            if (b->start_utc_min >= a->start_utc_min &&
                b->start_utc_min < a->end_utc_min + (int64_t)k->touch_min)
                wrong(b, "is sprayed while the booth is taken");
        }
    }
}

static bool makes_dust(const struct day_task *t) {
    for (size_t i = 0; t->operation && i < tables_builtin.operations_n; i++)
        if (!strcmp(tables_builtin.operations[i].id, t->operation))
            return tables_builtin.operations[i].grit > 0;
    return false;
}

/* No dust beside what is not yet dry to touch, but where sanding has a room of its own. */
static void judge_air(void) {
    const struct days *d = &answer.plan.days;
    int nth;
    bool back;
    if (answer.plan.shop.sand_apart == YN_YES) return;
    for (size_t i = 0; i < d->n; i++) {
        const struct day_task *film = &d->rows[i];
        const struct coat *k = coat_of(film, &nth, &back);
        if (!k || !films(k)) continue;
        for (size_t j = 0; j < d->n; j++) {
            const struct day_task *dust = &d->rows[j];
            if (!makes_dust(dust) || (stands(film) && stands(dust))) continue;
            int64_t wet = film->end_utc_min + (stands(film) ? 0 : (int64_t)k->touch_min);
            if (dust->start_utc_min < wet && film->start_utc_min < dust->end_utc_min)
                wrong(dust, "makes dust beside a wet film");
        }
    }
}

void judge(void) {
    const struct days *d = &answer.plan.days;
    for (size_t i = 0; i < d->n; i++) {
        const struct day_task *t = &d->rows[i];
        for (size_t k = i + 1; k < d->n; k++)
            if (!strcmp(d->rows[k].id, t->id) && !strcmp(d->rows[k].piece, t->piece))
                wrong(t, "stands there twice");
        judge_hours(t);
        judge_drying(t);
        judge_window(t);
        judge_dates(t);
    }
    judge_people();
    judge_room();
    judge_booth();
    judge_air();
}
