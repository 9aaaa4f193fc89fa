/* Places as machines.
 *
 * Where every hold takes `amount` or more of a resource, no more than m = capacity / amount stand
 * at once, so that they can be dealt to m places each of which takes one after the other. Let each
 * hold have a price. If what one place can earn at most, over all sequences of holds with starts
 * in working hours and within their dates, is less than the sum of prices / m, there is no
 * timetable. The best sequence is a longest path over minutes (a hold may come twice in it, which
 * only makes it longer); room_prices.c looks for the prices. In whole numbers throughout, so that a
 * proof is one.
 *
 * Source: Lagrangian relaxation of the demand in a covering by machine schedules, as van den Akker,
 * Hoogeveen and van de Velde 1999, Operations Research 47, "Parallel machine scheduling by column
 * generation"; intervals of one capacity are colored by as many places (interval graphs). */
#include "core/timetable/shop_room.h"

#include "core/timetable/room_inside.h"
#include "core/timetable/shut.h"

enum {
    HORIZON_MOST = 60 * 1440, /* minutes; beyond, nothing is proven here */
    EXACT = 1000,             /* part of the time until the finish to which the least is found */
    LOOKS = 10,               /* times that rules are looked for */
    LINK_MOST = 8,            /* tasks between a hold and the one that follows it */
};
static const int64_t DAY = 1440;

static const struct timetable_task *task_of(const struct room *r, int hold) {
    return &r->s->p->tasks[r->s->p->holds[hold].first];
}

/* Only what begins in working hours. */
static bool counts(const struct room *r, int hold) {
    const struct timetable_hold *h = &r->s->p->holds[hold];
    const struct timetable_task *t = task_of(r, hold);
    return h->amount > 0 && shop_open(r->s, h->first) && shop_open(r->s, h->last) &&
           t->person != TIMETABLE_NOBODY && t->work_min > 0;
}

/* When the place is free again at the earliest if hold k begins at `start`. */
static int64_t free_after(const struct room *r, int k, int64_t start) {
    const struct shop *s = r->s;
    const struct timetable_hold *h = &s->p->holds[k];
    const struct timetable_task *t = task_of(r, k);
    int64_t end = INT64_MAX;
    for (int q = 0; q < s->p->persons_n; q++) {
        if (!shop_may(s->p, h->first, q)) continue;
        int64_t e = hours_end(&s->hours[q], start, t->work_min);
        if (e < end) end = e;
    }
    if (h->last != h->first) return end;
    if (h->until_lag == TIMETABLE_NONE || end == INT64_MAX) return end;
    const struct timetable_lag *l = &s->p->lags[h->until_lag];
    int64_t dry = lag_dry(s, l, lag_base(l, start, end));
    return dry > end ? dry : end;
}

/* May the task of hold k start at `start` with one of its people? */
static bool may_start(const struct room *r, int k, int64_t start) {
    const struct shop *s = r->s;
    const struct timetable_task *t = task_of(r, k);
    int first = s->p->holds[k].first;
    for (int q = 0; q < s->p->persons_n; q++) {
        if (!shop_may(s->p, first, q)) continue;
        const struct hours *h = &s->hours[q];
        if (hours_begin(h, start, t->work_min, t->pausable) != start) continue;
        if (shut_until(s, first, start, hours_end(h, start, t->work_min)) != start) continue;
        if (t->setup < 0 || !r->fresh[t->setup]) return true;
        /* room in the window for set-up and clean-up, or the tool stays wet across a break */
        const struct timetable_setup *row = &s->p->setups[t->setup];
        int w = hours_window(h, start);
        const struct timetable_span *at = &h->windows[w];
        bool begun = start - at->from >= row->setup_min ||
                     (w > 0 && at->from - at[-1].to <= row->keep_wet_min);
        bool ended = at->to - start - t->work_min >= row->cleanup_min ||
                     (w + 1 < h->n && at[1].from - at->to <= row->keep_wet_min);
        if (begun && ended) return true;
    }
    return false;
}

static bool same_kind(const struct room *r, int a, int b) {
    const struct timetable_problem *p = r->s->p;
    const struct timetable_task *x = task_of(r, a), *y = task_of(r, b);
    const struct timetable_hold *h = &p->holds[a], *g = &p->holds[b];
    if (x->work_min != y->work_min || x->pausable != y->pausable || x->person != y->person ||
        x->skills != y->skills || (h->first == h->last) != (g->first == g->last) ||
        (h->until_lag < 0) != (g->until_lag < 0) || (x->setup < 0) != (y->setup < 0))
        return false;
    if (x->setup >= 0 && (r->fresh[x->setup] != r->fresh[y->setup] ||
                          p->setups[x->setup].setup_min != p->setups[y->setup].setup_min ||
                          p->setups[x->setup].cleanup_min != p->setups[y->setup].cleanup_min ||
                          p->setups[x->setup].keep_wet_min != p->setups[y->setup].keep_wet_min))
        return false;
    if (!shut_alike(r->s, h->first, g->first)) return false;
    if (h->until_lag < 0) return true;
    const struct timetable_lag *l = &p->lags[h->until_lag], *m = &p->lags[g->until_lag];
    return l->min_min == m->min_min && l->climate == m->climate && l->from_start == m->from_start;
}

/* First working minute at or after t. */
static int minute_at(const struct room *r, int64_t t) {
    int lo = 0, hi = r->minutes_n;
    while (lo < hi) {
        int mid = lo + (hi - lo) / 2;
        if (r->minutes[mid] >= t)
            hi = mid;
        else
            lo = mid + 1;
    }
    return lo;
}

/* Kind of each hold that counts, and how long it takes a place: asked once, while dates change with
 * every finish. Without a number: too many kinds. */
static enum status make_kinds(struct room *r, struct arena *arena) {
    size_t n = (size_t)r->minutes_n + 2;
    for (int k = 0; k < r->s->p->holds_n; k++) {
        int c = 0;
        r->holds[k].kind = -1;
        if (!counts(r, k)) continue;
        while (c < r->kinds_n && !same_kind(r, r->kinds[c].hold, k)) c++;
        if (c < r->kinds_n) r->holds[k].kind = c;
        if (c < r->kinds_n || c == ROOM_CLASSES) continue;
        struct room_kind x = {k, arena_array(arena, n, sizeof *x.until),
                              arena_array(arena, n, sizeof *x.takes)};
        if (!x.until || !x.takes) return E_MEMORY;
        for (int i = 0; i < r->minutes_n; i++) {
            int64_t t = r->minutes[i], end = may_start(r, k, t) ? free_after(r, k, t) : -1;
            x.until[i] = end < 0 ? -1 : minute_at(r, end);
            x.takes[i] = end - t;
        }
        r->holds[k].kind = r->kinds_n;
        r->kinds[r->kinds_n++] = x;
    }
    return OK;
}

enum status room_make(struct room *r, const struct shop *s, int64_t until, struct arena *arena) {
    const struct timetable_problem *p = s->p;
    size_t n = (size_t)(until - p->now) + 2;
    *r = (struct room){.s = s};
    r->latest = arena_array(arena, (size_t)p->tasks_n + 1, sizeof *r->latest);
    r->minutes = arena_array(arena, n, sizeof *r->minutes);
    r->fresh = arena_array(arena, (size_t)p->setups_n + 1, sizeof *r->fresh);
    if (!r->latest || !r->minutes || !r->fresh) return E_MEMORY;
    for (int64_t t = p->now; t <= until; t++)
        if (all_worked(s, t + 1) > all_worked(s, t)) r->minutes[r->minutes_n++] = t;
    for (int k = 0; k < p->setups_n; k++) {
        r->fresh[k] = true;
        for (int m = s->same_setup.first[k]; m < s->same_setup.first[k + 1]; m++) {
            const struct timetable_task *t = &p->tasks[s->same_setup.item[m]];
            if (t->pausable || t->state == TIMETABLE_FIXED) r->fresh[k] = false;
        }
    }
    n = (size_t)r->minutes_n + 2;
    r->value = arena_array(arena, n, sizeof *r->value);
    r->by = arena_array(arena, n, sizeof *r->by);
    r->since = arena_array(arena, n, sizeof *r->since);
    r->holds = arena_array(arena, (size_t)p->holds_n + 1, sizeof *r->holds);
    if (!r->value || !r->by || !r->since || !r->holds) return E_MEMORY;
    for (int c = 0; c < ROOM_CLASSES && c < p->holds_n; c++) {
        r->classes[c].earns = arena_array(arena, n, sizeof *r->classes[c].earns);
        if (!r->classes[c].earns) return E_MEMORY;
    }
    if (make_kinds(r, arena)) return E_MEMORY;
    return room_prices_make(r, arena);
}

/* Is hold k among those that take so much of the resource? */
static bool among(const struct room *r, int k, int resource, int32_t amount) {
    const struct timetable_hold *h = &r->s->p->holds[k];
    return h->resource == resource && h->amount >= amount && counts(r, k);
}

/* A hold of these that task i begins, and that follows none yet; -1: none. */
static int opens(const struct room *r, int i, int resource, int32_t amount) {
    const struct shop_list *at = &r->s->holds_at;
    for (int m = at->first[i]; m < at->first[i + 1]; m++) {
        int k = at->item[m] / 2;
        if (r->s->p->holds[k].first == i && among(r, k, resource, amount))
            return r->holds[k].follows < 0 ? k : -1;
    }
    return -1;
}

/* A lag that lets its task begin no sooner than the one before is over? */
static bool waits_for_end(const struct room *r, int lag) {
    const struct timetable_lag *l = &r->s->p->lags[lag];
    return !l->from_start && l->min_min != TIMETABLE_UNSAID && l->min_min >= 0 &&
           shop_open(r->s, l->to);
}

/* The hold that begins no sooner than the place of hold k is free again, if one is seen. */
static void link_hold(struct room *r, int k, int resource, int32_t amount) {
    const struct shop *s = r->s;
    const struct timetable_hold *h = &s->p->holds[k];
    int lag = h->until_lag, gap = 0, i = h->first;
    if (h->first != h->last || (lag >= 0 && !waits_for_end(r, lag))) return;
    for (int step = 0; step < LINK_MOST; step++) {
        for (int m = s->lags_out.first[i]; lag < 0 && m < s->lags_out.first[i + 1]; m++)
            if (waits_for_end(r, s->lags_out.item[m])) lag = s->lags_out.item[m];
        if (lag < 0) return;
        i = s->p->lags[lag].to;
        lag = -1;
        int next = opens(r, i, resource, amount);
        if (next >= 0 && next != k) {
            r->holds[k].followed = next;
            r->holds[k].gap = gap;
            r->holds[next].follows = k;
            return;
        }
        if (s->p->tasks[i].person != TIMETABLE_NOBODY) gap += s->p->tasks[i].work_min;
    }
}

static void link_holds(struct room *r, int resource, int32_t amount, bool linked) {
    int n = r->s->p->holds_n;
    for (int k = 0; k < n; k++)
        r->holds[k] = (struct room_hold){r->holds[k].kind, -1, 0, 0, -1, -1, 0, 0};
    if (!linked) return;
    for (int k = 0; k < n; k++)
        if (among(r, k, resource, amount)) link_hold(r, k, resource, amount);
    for (int k = 0; k < n; k++)
        for (int h = r->holds[k].follows; h >= 0 && r->holds[k].depth < n; h = r->holds[h].follows)
            r->holds[k].depth++;
}

/* The class that a hold belongs to, made where there is none yet; NULL: too many. */
static struct room_class *class_of(struct room *r, int k, int64_t from, int64_t to) {
    const struct room_hold *h = &r->holds[k];
    for (int c = 0; c < r->classes_n; c++) {
        struct room_class *x = &r->classes[c];
        if (x->kind == h->kind && x->from / DAY == from / DAY && x->to / DAY == to / DAY &&
            x->depth == h->depth && x->after == (h->follows >= 0) &&
            x->before == (h->followed >= 0))
            return x;
    }
    if (r->classes_n == ROOM_CLASSES || h->kind < 0) return NULL;
    struct room_class *x = &r->classes[r->classes_n++];
    *x = (struct room_class){.kind = h->kind,
                             .from = from,
                             .to = to,
                             .work = task_of(r, k)->pausable ? 0 : task_of(r, k)->work_min,
                             .depth = h->depth,
                             .after = h->follows >= 0,
                             .before = h->followed >= 0,
                             .gap = h->gap,
                             .until = r->kinds[h->kind].until,
                             .earns = x->earns};
    return x;
}

/* From when to when the holds of a class may start, and how long they take a place at least. */
static void class_dates(struct room *r, struct room_class *x) {
    const int64_t *takes = r->kinds[x->kind].takes;
    int64_t least = INT64_MAX;
    x->first = minute_at(r, x->from);
    x->past = minute_at(r, x->to + 1);
    for (int i = x->first; i < x->past; i++)
        if (x->until[i] >= 0 && takes[i] < least) least = takes[i];
    x->weight = least < 1 ? 1 : least == INT64_MAX ? DAY : least;
}

bool room_classes(struct room *r, int resource, int32_t amount, bool linked) {
    r->classes_n = 0;
    link_holds(r, resource, amount, linked);
    for (int k = 0; k < r->s->p->holds_n; k++) {
        if (!among(r, k, resource, amount)) continue;
        int first = r->s->p->holds[k].first;
        int64_t from = r->s->earliest[first];
        int64_t to = start_before(r->s, first, r->latest[first]);
        struct room_class *x = class_of(r, k, from, to);
        if (!x) return linked && room_classes(r, resource, amount, false);
        x->n++;
        if (from < x->from) x->from = from;
        if (to > x->to) x->to = to;
        if (r->holds[k].gap < x->gap) x->gap = r->holds[k].gap;
        r->holds[k].class = (int)(x - r->classes);
        r->holds[k].first = minute_at(r, from);
        r->holds[k].past = minute_at(r, to + 1);
    }
    for (int c = 0; c < r->classes_n; c++) class_dates(r, &r->classes[c]);
    return r->classes_n > 0;
}

/* false: proven that not all can be over by `finish`. */
static bool suffices(struct room *r, int64_t finish, int rounds, int looks,
                     const struct limit *limit) {
    const struct timetable_problem *p = r->s->p;
    if (!deadlines(r->s, finish, r->late, r->latest)) return false;
    for (int k = 0; k < p->resources_n; k++) {
        int32_t amount = INT32_MAX;
        for (int h = 0; h < p->holds_n; h++)
            if (p->holds[h].resource == k && counts(r, h) && p->holds[h].amount < amount)
                amount = p->holds[h].amount;
        if (amount == INT32_MAX) continue;
        /* all of them; then those of which only one has room */
        for (int32_t half = p->resources[k].capacity / 2 + 1; amount > 0; amount = half) {
            if (room_classes(r, k, amount, true) &&
                room_overfull(r, p->resources[k].capacity / amount, rounds, looks, limit))
                return false;
            if (amount >= half) break;
        }
    }
    return true;
}

enum status room_bound(const struct shop *s, int64_t late, int64_t least, int64_t known, int rounds,
                       const struct limit *limit, struct arena *arena, int64_t *out) {
    struct room r;
    *out = least;
    if (!s->p->holds_n || !s->p->persons_n || known - s->p->now > HORIZON_MOST || rounds <= 0)
        return OK;
    if (room_make(&r, s, known, arena)) return E_MEMORY;
    r.late = late;
    int64_t lo = least - 1, hi = known; /* nothing is over by lo */
    int64_t exact = 1 + (known - s->p->now) / EXACT;
    if (lo + exact < hi && suffices(&r, lo + exact, rounds, 0, limit)) hi = lo + exact;
    while (hi - lo > exact && !limit_asked(limit)) { /* places alone, which is quick */
        int64_t mid = lo + (hi - lo) / 2;
        if (suffices(&r, mid, rounds, 0, limit))
            hi = mid;
        else
            lo = mid;
    }
    int64_t step = exact;
    for (int gained = 0; !limit_asked(limit);) { /* with rules, which is slow where it fails */
        int64_t next = over_from(s, lo + step);
        if (next < known && !suffices(&r, next, rounds, LOOKS, limit)) {
            lo = next;
            if (++gained > 1) step *= 2;
        } else if (step > exact) {
            step = exact;
            gained = 0;
        } else {
            break;
        }
    }
    *out = over_from(s, lo + 1);
    return OK;
}
