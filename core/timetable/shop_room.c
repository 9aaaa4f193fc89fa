/* Places as machines.
 *
 * Where every hold takes `amount` or more of a resource, no more than m = capacity / amount stand
 * at once, so that they can be dealt to m places each of which takes one after the other. Let each
 * hold have a price. If what one place can earn at most, over all sequences of holds with starts
 * in working hours and within their dates, is less than the sum of prices / m, there is no
 * timetable. The best sequence is a longest path over minutes (a hold may come twice in it, which
 * only makes it longer); prices are improved by subgradients. In whole numbers throughout, so that
 * a proof is one.
 *
 * Source: Lagrangian relaxation of the demand in a covering by machine schedules, as van den Akker,
 * Hoogeveen and van de Velde 1999, Operations Research 47, "Parallel machine scheduling by column
 * generation"; intervals of one capacity are colored by as many places (interval graphs). */
#include "core/timetable/shop_room.h"

#include <math.h>
#include <string.h>

enum {
    CLASSES_MOST = 96,
    PRICE_SCALE = 16, /* of a minute */
    PRICE_MOST = 1000000,
    HORIZON_MOST = 60 * 1440, /* minutes; beyond, nothing is proven here */
    PATIENCE = 10,            /* rounds without a gain before smaller steps from the best prices */
    HOPELESS_ROUNDS = 10,     /* after which a gap of HOPELESS_GAP will not close */
    FINISH_STEP = 5,          /* minutes to which the least finish is found */
};
static const double HOPELESS_GAP = .1;
static const int64_t DAY = 1440;

/* Holds that take a place for the same time from the same start, and may start on the same days. */
struct room_class {
    int hold;         /* one of them */
    int n;            /* how many */
    int64_t from, to; /* first and last start of any */
    int first, past;  /* the same as working minutes */
    int32_t price;    /* what a path gets for one */
    int32_t *until;   /* [minutes_n] of a start: first working minute with the place free; -1: no
                         start */
};

struct room {
    const struct shop *s;
    int64_t late;     /* weighted lateness that is allowed */
    int64_t *latest;  /* [tasks_n] ends for the finish in question */
    int64_t *minutes; /* [minutes_n] when somebody is at work */
    int minutes_n;
    struct room_class classes[CLASSES_MOST];
    int64_t *value; /* [minutes_n + 1] most that a path to each minute earns */
    int32_t *by;    /* class that ends this path, -1: it waits */
    int32_t *since; /* where that class began */
    int32_t *until;
    bool *fresh; /* [setups_n] tasks of this row are set up within the window they lie in, or go on
                    with one that is */
};

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
    for (int q = 0; q < s->p->persons_n; q++) {
        if (!shop_may(s->p, s->p->holds[k].first, q)) continue;
        const struct hours *h = &s->hours[q];
        if (hours_begin(h, start, t->work_min, t->pausable) != start) continue;
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

static bool same_class(const struct room *r, int a, int b) {
    const struct timetable_problem *p = r->s->p;
    const struct timetable_task *x = task_of(r, a), *y = task_of(r, b);
    const struct timetable_hold *h = &p->holds[a], *g = &p->holds[b];
    if (x->work_min != y->work_min || x->pausable != y->pausable || x->person != y->person ||
        x->skills != y->skills || (h->first == h->last) != (g->first == g->last) ||
        (h->until_lag < 0) != (g->until_lag < 0) || (x->setup < 0) != (y->setup < 0))
        return false;
    if (x->setup >= 0 && (r->fresh[x->setup] != r->fresh[y->setup] ||
                          p->setups[x->setup].setup_min != p->setups[y->setup].setup_min ||
                          p->setups[x->setup].keep_wet_min != p->setups[y->setup].keep_wet_min))
        return false;
    if (h->until_lag < 0) return true;
    const struct timetable_lag *l = &p->lags[h->until_lag], *m = &p->lags[g->until_lag];
    return l->min_min == m->min_min && l->climate == m->climate && l->from_start == m->from_start;
}

static enum status room_make(struct room *r, const struct shop *s, int64_t until,
                             struct arena *arena) {
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
    r->until = arena_array(arena, n * CLASSES_MOST, sizeof *r->until);
    return r->value && r->by && r->since && r->until ? OK : E_MEMORY;
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

/* The class that a hold belongs to, made where there is none yet; NULL: too many. */
static struct room_class *class_of(struct room *r, int *n, int k, int64_t from, int64_t to) {
    for (int c = 0; c < *n; c++) {
        struct room_class *x = &r->classes[c];
        if (same_class(r, x->hold, k) && x->from / DAY == from / DAY && x->to / DAY == to / DAY)
            return x;
    }
    if (*n == CLASSES_MOST) return NULL;
    int64_t price = (free_after(r, k, from) - from) * PRICE_SCALE;
    struct room_class *x = &r->classes[*n];
    *x = (struct room_class){.hold = k,
                             .from = from,
                             .to = to,
                             .price = price < PRICE_MOST ? (int32_t)price : PRICE_MOST,
                             .until = r->until + (size_t)*n * (size_t)(r->minutes_n + 2)};
    ++*n;
    return x;
}

/* Classes of the holds that take `amount` or more; 0: too many, or none. */
static int classes_make(struct room *r, int resource, int32_t amount) {
    const struct timetable_problem *p = r->s->p;
    int n = 0;
    for (int k = 0; k < p->holds_n; k++) {
        const struct timetable_hold *h = &p->holds[k];
        if (h->resource != resource || h->amount < amount || !counts(r, k)) continue;
        int64_t from = r->s->earliest[h->first];
        int64_t to = start_before(r->s, h->first, r->latest[h->first]);
        struct room_class *x = class_of(r, &n, k, from, to);
        if (!x) return 0;
        x->n++;
        if (from < x->from) x->from = from;
        if (to > x->to) x->to = to;
    }
    for (int c = 0; c < n; c++) {
        struct room_class *x = &r->classes[c];
        x->first = minute_at(r, x->from);
        x->past = minute_at(r, x->to + 1);
        for (int i = x->first; i < x->past; i++) {
            int64_t t = r->minutes[i];
            x->until[i] = may_start(r, x->hold, t) ? minute_at(r, free_after(r, x->hold, t)) : -1;
        }
    }
    return n;
}

/* What one place earns at most; in_path[c]: how often a class comes in the best sequence. */
static int64_t best_path(struct room *r, int n, int *in_path) {
    int first = r->minutes_n, past = 0;
    for (int c = 0; c < n; c++) {
        if (r->classes[c].first < first) first = r->classes[c].first;
        if (r->classes[c].past > past) past = r->classes[c].past;
    }
    for (int i = first; i <= r->minutes_n; i++) r->value[i] = 0, r->by[i] = -1;
    for (int i = first; i < past; i++) {
        if (i > first && r->value[i - 1] > r->value[i])
            r->value[i] = r->value[i - 1], r->by[i] = -1;
        for (int c = 0; c < n; c++) {
            const struct room_class *x = &r->classes[c];
            if (i < x->first || i >= x->past) continue;
            int e = x->until[i];
            if (e <= i || r->value[i] + x->price <= r->value[e]) continue;
            r->value[e] = r->value[i] + x->price;
            r->by[e] = c;
            r->since[e] = i;
        }
    }
    int best = first;
    for (int i = first; i <= r->minutes_n; i++)
        if (r->value[i] > r->value[best]) best = i;
    memset(in_path, 0, (size_t)n * sizeof *in_path);
    for (int i = best; i > first;)
        if (r->by[i] >= 0)
            in_path[r->by[i]]++, i = r->since[i];
        else
            i--;
    return r->value[best];
}

/* Proven that the classes do not fit into so many places? */
static bool overfull(struct room *r, int n, int64_t places, int rounds) {
    int in_path[CLASSES_MOST], idle = 0;
    int32_t kept[CLASSES_MOST];
    double length = 1, best = -INFINITY;
    for (int round = 0; round < rounds; round++) {
        int64_t sum = 0;
        for (int c = 0; c < n; c++) sum += (int64_t)r->classes[c].n * r->classes[c].price;
        int64_t gain = sum - places * best_path(r, n, in_path);
        if (gain > 0) return true;
        double share = (double)gain / (double)(sum ? sum : 1), norm = 0;
        if (share > best) {
            best = share;
            idle = 0;
            for (int c = 0; c < n; c++) kept[c] = r->classes[c].price;
        } else if (++idle == PATIENCE) {
            length *= .6;
            idle = 0;
            for (int c = 0; c < n; c++) r->classes[c].price = kept[c];
            continue;
        }
        if (round >= HOPELESS_ROUNDS && best < -HOPELESS_GAP) return false;
        for (int c = 0; c < n; c++) {
            double g = (double)r->classes[c].n - (double)places * in_path[c];
            norm += g * g;
        }
        if (norm == 0) return false;
        double step = length * (.02 * (double)sum - (double)gain) / norm;
        for (int c = 0; c < n; c++) {
            struct room_class *x = &r->classes[c];
            double price = x->price + step * ((double)x->n - (double)places * in_path[c]);
            x->price = price < 0 ? 0 : price > PRICE_MOST ? PRICE_MOST : (int32_t)price;
        }
    }
    return false;
}

/* false: proven that not all can be over by `finish`. */
static bool suffices(struct room *r, int64_t finish, int rounds) {
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
            int n = classes_make(r, k, amount);
            if (n && overfull(r, n, p->resources[k].capacity / amount, rounds)) return false;
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
    while (hi - lo > FINISH_STEP && !limit_asked(limit)) {
        int64_t mid = lo + (hi - lo) / 2;
        if (suffices(&r, mid, rounds))
            hi = mid;
        else
            lo = mid;
    }
    *out = over_from(s, lo + 1);
    return OK;
}
