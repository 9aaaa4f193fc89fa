/* Room that drying takes. What dries lying flat may be stacked once it is dry-hard: from then on it
 * keeps the floor of its stack only, until the next coat spreads it out again.
 *
 * The timetable's holds have one amount each. So a stack's floor is held from a group's first coat
 * until its last may be handled, and what lying side by side takes beyond that from each coat until
 * it is dry-hard. */
#include "core/work/day_build.h"
#include "core/work/fact.h"

#include <math.h>
#include <string.h>

void day_hold_add(struct day_build *b, struct timetable_hold hold) {
    struct day_tasks *d = b->out;
    void *rows = ledger_grow(b->l, d->holds, d->holds_n, &d->holds_cap, sizeof *d->holds);
    if (!rows) return;
    d->holds = rows;
    d->holds[d->holds_n++] = hold;
}

int day_sooner_lag(struct day_build *b, int task, double min) {
    int dry = b->out->meta[task].dry_lag;
    if (dry == TIMETABLE_NONE || isnan(min)) return TIMETABLE_NONE;
    struct timetable_lag lag = b->out->lags[dry];
    if (ceil(min) >= (double)lag.min_min) return TIMETABLE_NONE;
    lag.min_min = (int64_t)ceil(fmax(min, 0));
    lag.max_min = TIMETABLE_UNSAID;
    return day_lag_add(b, lag);
}

/* ---- the booth: a sprayed coat keeps it until it is dry to touch ---- */

static void booth_holds(struct day_build *b, size_t first_task) {
    for (size_t i = first_task; b->ask->booth && i < b->out->n; i++) {
        double min = b->out->meta[i].booth_min;
        if (!(min > 0)) continue;
        int touch = day_sooner_lag(b, (int)i, min);
        day_hold_add(b, (struct timetable_hold){.first = (int)i,
                                                .last = (int)i,
                                                .resource = DAY_BOOTH,
                                                .amount = 1,
                                                .until_lag = touch == TIMETABLE_NONE
                                                                 ? b->out->meta[i].dry_lag
                                                                 : touch});
    }
}

/* ---- the floor ---- */

static const struct stacking_row *stacking_of(const struct day_build *b, const struct coat *k) {
    const struct product_classes_row *class = product_class_of(b->t, k->class);
    for (size_t i = 0; class && i < b->t->stacking_n; i++)
        if (!strcmp(b->t->stacking[i].cure, class->cure)) return &b->t->stacking[i];
    return NULL;
}

/* Minutes until a film is dry-hard; NAN: not before it may be handled. */
static double hard_min(const struct day_build *b, const struct coat *k) {
    const struct stacking_row *row = stacking_of(b, k);
    if (!row || !(k->handle_min > k->touch_min)) return (double)NAN;
    return k->touch_min + row->hard_frac * (k->handle_min - k->touch_min);
}

/* Of that group, or of all groups at once. */
static bool is_film_of(const struct day_meta *m, const char *group) {
    return m->coat && m->drying && day_is_film(m->coat->role) &&
           (!m->group || !strcmp(m->group, group));
}

bool day_crowded(const struct day_build *b) {
    double dm2 = 0;
    for (size_t i = 0; i < b->plan->pieces_n; i++) {
        const struct surfaces *s = &b->plan->pieces[i].surfaces;
        for (size_t g = 0; g < s->groups_n && !b->plan->pieces[i].hazards.refused; g++)
            if (s->groups[g].floor_m2 > 0) dm2 += ceil(s->groups[g].floor_m2 * 100);
    }
    return dm2 > b->ask->floor_dm2;
}

/* Parts of the group on one another: as many as all its films bear, none if one bears none. */
static int64_t layers(const struct day_build *b, const struct surface_group *g, size_t first_task) {
    const struct surfaces *s = &day_piece(b)->surfaces;
    int64_t most = 0;
    for (size_t i = g->first; i < g->first + g->n; i++) {
        bool worked = s->rows[i].coated_m2 > 0 || s->rows[i].clear_m2 > 0;
        if (worked) most += s->rows[i].part.count > 0 ? s->rows[i].part.count : 1;
    }
    for (size_t i = first_task; i < b->out->n; i++) {
        if (!is_film_of(&b->out->meta[i], g->id)) continue;
        const struct stacking_row *row = stacking_of(b, b->out->meta[i].coat);
        int64_t bears = row ? row->layers : 1;
        if (bears < most) most = bears;
    }
    return g->lies_flat && most > 1 ? most : 1;
}

/* Last film of the group before a smell test, for which the piece stands together and takes no
 * floor; TIMETABLE_NONE: there is no such test, or nothing goes on after it. */
static int last_before_test(const struct day_build *b, const struct day_chain *c,
                            size_t first_task) {
    int last = TIMETABLE_NONE;
    for (size_t i = first_task; day_seal_test(b) && i < b->out->n; i++)
        if (is_film_of(&b->out->meta[i], c->group) && day_in_seal(b, b->out->meta[i].coat))
            last = (int)i;
    return last == c->coat_task ? TIMETABLE_NONE : last;
}

/* Side by side from each coat until it is dry-hard. A film that is not hard before the next coat
 * goes on stays spread out until that one is. */
static void spread_holds(struct day_build *b, const struct day_chain *c, int32_t amount,
                         int before_test, size_t first_task) {
    int first = TIMETABLE_NONE;
    size_t tasks = b->out->n;
    for (size_t i = first_task; i < tasks; i++) {
        struct day_meta *m = &b->out->meta[i];
        if (!is_film_of(m, c->group)) continue;
        if (first == TIMETABLE_NONE) first = (int)i;
        m->hard_lag = day_sooner_lag(b, (int)i, hard_min(b, m->coat));
        const struct stacking_row *row = stacking_of(b, m->coat);
        if (m->hard_lag != TIMETABLE_NONE && row) m->stack_how = row->how;
        bool ends = (int)i == c->coat_task || (int)i == before_test;
        if (m->hard_lag == TIMETABLE_NONE && !ends) continue;
        day_hold_add(b, (struct timetable_hold){
                            .first = first,
                            .last = (int)i,
                            .resource = DAY_FLOOR,
                            .amount = amount,
                            .until_lag = m->hard_lag == TIMETABLE_NONE ? m->dry_lag : m->hard_lag});
        first = TIMETABLE_NONE;
    }
}

static void stack_hold(struct day_build *b, int first, int last, int32_t amount) {
    day_hold_add(b, (struct timetable_hold){.first = first,
                                            .last = last,
                                            .resource = DAY_FLOOR,
                                            .amount = amount,
                                            .until_lag = b->out->meta[last].dry_lag});
}

static void floor_holds(struct day_build *b, const struct day_chain *c, size_t first_task) {
    const struct surfaces *s = &day_piece(b)->surfaces;
    const struct surface_group *g = NULL;
    for (size_t i = 0; c->group && i < s->groups_n; i++)
        if (!strcmp(s->groups[i].id, c->group)) g = &s->groups[i];
    if (!g || !(g->floor_m2 > 0) || c->first_coat_task == TIMETABLE_NONE) return;
    double dm2 = fmin(ceil(g->floor_m2 * 100), b->ask->floor_dm2);
    double stack = day_crowded(b) ? ceil(dm2 / (double)layers(b, g, first_task)) : dm2;
    int test = last_before_test(b, c, first_task), from = c->first_coat_task;
    if (test != TIMETABLE_NONE) {
        stack_hold(b, from, test, (int32_t)stack);
        for (from = test + 1; !is_film_of(&b->out->meta[from], c->group);) from++;
    }
    stack_hold(b, from, c->coat_task, (int32_t)stack);
    if (dm2 > stack) spread_holds(b, c, (int32_t)(dm2 - stack), test, first_task);
}

void day_room(struct day_build *b, const struct day_chain *chains, size_t n, size_t first_task) {
    for (size_t i = 0; i < n; i++) floor_holds(b, &chains[i], first_task);
    booth_holds(b, first_task);
    day_air(b, chains, n, first_task);
}
