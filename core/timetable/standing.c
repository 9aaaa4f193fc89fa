#include "core/timetable/standing.h"

#include "core/timetable/deadline.h"

#include <string.h>

enum { SETTLES = 40 };

bool standing_make(struct standing *s, const struct shop *shop, struct arena *arena) {
    const struct timetable_problem *p = shop->p;
    size_t n = (size_t)p->tasks_n + 1, holds = (size_t)p->holds_n + 1;
    *s = (struct standing){.shop = shop};
    s->stand = arena_array(arena, n, sizeof *s->stand);
    s->diaries = arena_array(arena, (size_t)p->persons_n + 1, sizeof *s->diaries);
    s->levels = arena_array(arena, (size_t)p->resources_n + 1, sizeof *s->levels);
    s->held = arena_array(arena, holds, sizeof *s->held);
    s->asked = arena_array(arena, holds, sizeof *s->asked);
    s->loose = arena_array(arena, n, sizeof *s->loose);
    s->loose_at = arena_array(arena, n, sizeof *s->loose_at);
    s->ragged = arena_array(arena, n, sizeof *s->ragged);
    s->holds_of.first = arena_array(arena, (size_t)p->resources_n + 2, sizeof *s->holds_of.first);
    s->holds_of.item = arena_array(arena, holds, sizeof *s->holds_of.item);
    if (!s->stand || !s->diaries || !s->levels || !s->held || !s->asked || !s->loose ||
        !s->loose_at || !s->ragged || !s->holds_of.first || !s->holds_of.item)
        return false;
    for (int q = 0; q < p->persons_n; q++)
        if (!diary_make(&s->diaries[q], 2 * p->tasks_n + 2, arena)) return false;
    int at = 0;
    for (int r = 0; r < p->resources_n; r++) {
        s->holds_of.first[r] = at;
        for (int k = 0; k < p->holds_n; k++)
            if (p->holds[k].resource == r) s->holds_of.item[at++] = k;
        int holds_n = at - s->holds_of.first[r];
        if (!level_make(&s->levels[r], holds_n, &p->resources[r], arena)) return false;
    }
    s->holds_of.first[p->resources_n] = at;
    return true;
}

void standing_copy(struct standing *to, const struct standing *from) {
    const struct timetable_problem *p = from->shop->p;
    size_t n = (size_t)p->tasks_n;
    memcpy(to->stand, from->stand, n * sizeof *to->stand);
    memcpy(to->held, from->held, (size_t)p->holds_n * sizeof *to->held);
    memcpy(to->loose, from->loose, (size_t)from->loose_n * sizeof *to->loose);
    memcpy(to->loose_at, from->loose_at, n * sizeof *to->loose_at);
    memcpy(to->ragged, from->ragged, (size_t)from->ragged_n * sizeof *to->ragged);
    to->loose_n = from->loose_n, to->ragged_n = from->ragged_n;
    for (int q = 0; q < p->persons_n; q++) {
        struct diary *d = &to->diaries[q];
        d->n = from->diaries[q].n;
        memcpy(d->blocks, from->diaries[q].blocks, (size_t)d->n * sizeof *d->blocks);
    }
    for (int r = 0; r < p->resources_n; r++) {
        struct level *l = &to->levels[r];
        l->n = from->levels[r].n;
        memcpy(l->steps, from->levels[r].steps, (size_t)l->n * sizeof *l->steps);
    }
}

/* ---- little things ---- */

static void loosen(struct standing *s, int i) {
    s->loose_at[i] = s->loose_n;
    s->loose[s->loose_n++] = i;
}

static void fasten(struct standing *s, int i) {
    int at = s->loose_at[i], last = s->loose[--s->loose_n];
    s->loose[at] = last;
    s->loose_at[last] = at;
    s->loose_at[i] = TIMETABLE_NONE;
}

static void fray(struct standing *s, int i) {
    if (!shop_open(s->shop, i)) return;
    for (int k = 0; k < s->ragged_n; k++)
        if (s->ragged[k] == i) return;
    s->ragged[s->ragged_n++] = i;
}

int standing_block(const struct diary *d, int64_t t) {
    int at = 0;
    for (int n = d->n; n > 0;) { /* without a branch that hangs on t */
        int half = (n + 1) / 2;
        at += d->blocks[at + half - 1].from < t ? half : 0;
        n -= half;
    }
    return at;
}

/* The one block of an open task that stands; NULL where it takes no time. */
static struct diary_block *block_of(struct standing *s, int i) {
    const struct stand *x = &s->stand[i];
    if (x->person < 0 || !shop_open(s->shop, i)) return NULL;
    struct diary *d = &s->diaries[x->person];
    for (int k = standing_block(d, x->block_from); k < d->n && d->blocks[k].from == x->block_from;
         k++)
        if (d->blocks[k].task == i) return &d->blocks[k];
    return NULL;
}

/* ---- holds ---- */

struct timetable_span standing_span(const struct standing *s, int hold, int i,
                                    const struct stand *at) {
    const struct timetable_problem *p = s->shop->p;
    const struct timetable_hold *h = &p->holds[hold];
    const struct stand *first = h->first == i ? at : &s->stand[h->first],
                       *last = h->last == i ? at : &s->stand[h->last];
    if (!first->placed) return (struct timetable_span){0, 0};
    if (s->shop->blocked_by[h->last] != TIMETABLE_NONE)
        return (struct timetable_span){first->start, BOOKING_FOREVER};
    if (!last->placed) return (struct timetable_span){0, 0};
    int64_t to = last->end;
    if (h->until_lag != TIMETABLE_NONE) {
        const struct timetable_lag *l = &p->lags[h->until_lag];
        to = later(to, lag_dry(s->shop, l, lag_base(l, last->start, last->end)));
    }
    return (struct timetable_span){first->start, later(first->start, to)};
}

static void book_hold(struct standing *s, int hold, struct timetable_span span) {
    const struct timetable_hold *h = &s->shop->p->holds[hold];
    struct timetable_span *was = &s->held[hold];
    if (was->from == span.from && was->to == span.to) return;
    level_add(&s->levels[h->resource], was->from, was->to, -(int64_t)h->amount);
    level_add(&s->levels[h->resource], span.from, span.to, h->amount);
    *was = span;
}

/* Books what task i holds as it stands, or lets go what it held. */
static void book_holds(struct standing *s, int i) {
    const struct shop_list *at = &s->shop->holds_at;
    for (int k = at->first[i]; k < at->first[i + 1]; k++)
        book_hold(s, at->item[k] / 2, standing_span(s, at->item[k] / 2, i, &s->stand[i]));
}

/* ---- put and take ---- */

void standing_take(struct standing *s, int i) {
    struct stand *x = &s->stand[i];
    struct diary_block *b = block_of(s, i);
    if (b) {
        struct diary *d = &s->diaries[x->person];
        size_t behind = (size_t)(d->blocks + d->n - b - 1);
        memmove(b, b + 1, behind * sizeof *b);
        d->n--;
    }
    if (x->follows != TIMETABLE_NONE) {
        s->stand[x->follows].followed = TIMETABLE_NONE;
        fray(s, x->follows);
    }
    if (x->followed != TIMETABLE_NONE) {
        s->stand[x->followed].follows = TIMETABLE_NONE;
        fray(s, x->followed);
    }
    x->placed = false;
    x->follows = x->followed = TIMETABLE_NONE;
    book_holds(s, i);
    loosen(s, i);
}

/* Without clean-up: the tool stays wet. */
static void end_wet(struct standing *s, int f) {
    struct stand *x = &s->stand[f];
    struct diary_block *b = block_of(s, f);
    if (b) b->to = x->end;
    x->cleanup_min = 0, x->block_to = x->end;
}

static void unlink(struct standing *s, int f) {
    int g = s->stand[f].followed;
    if (g == TIMETABLE_NONE) return;
    s->stand[f].followed = s->stand[g].follows = TIMETABLE_NONE;
    fray(s, f);
    fray(s, g);
}

/* Without set-up: it goes on with a wet tool. */
static void begin_wet(struct standing *s, int i) {
    struct stand *x = &s->stand[i];
    struct diary_block *b = block_of(s, i);
    if (b) b->from = x->start;
    x->setup_min = 0, x->block_from = x->start;
}

static void link(struct standing *s, int f, int g) {
    s->stand[f].followed = g;
    s->stand[g].follows = f;
}

/* Nobody is in the way any more. */
static void stand_as(struct standing *s, int i, const struct bid *b) {
    int f = b->at.follows, g = b->next;
    if (f != TIMETABLE_NONE) unlink(s, f), end_wet(s, f);
    if (g != TIMETABLE_NONE && s->stand[g].follows != TIMETABLE_NONE)
        unlink(s, s->stand[g].follows);
    if (g != TIMETABLE_NONE) begin_wet(s, g);
    s->stand[i] = b->at;
    s->stand[i].follows = s->stand[i].followed = TIMETABLE_NONE;
    if (b->at.person >= 0 && b->at.block_to > b->at.block_from)
        diary_add(&s->diaries[b->at.person], b->at.block_from, b->at.block_to, i);
    if (f != TIMETABLE_NONE) link(s, f, i);
    if (g != TIMETABLE_NONE) link(s, i, g);
    fasten(s, i);
    book_holds(s, i);
}

void standing_put(struct standing *s, int i, const struct bid *bid) {
    for (int k = 0; k < bid->gives_n; k++)
        if (s->stand[bid->gives[k]].placed) standing_take(s, bid->gives[k]);
    stand_as(s, i, bid);
    standing_settle(s);
}

void standing_return(struct standing *s, int i, const struct stand *was) {
    struct bid b = {.at = *was, .next = was->followed};
    s->ragged_n = 0;
    stand_as(s, i, &b);
}

/* Does a task have the set-up and clean-up that it must have? */
static bool is_whole(const struct standing *s, int i) {
    const struct timetable_setup *row = standing_row(s, i);
    const struct stand *x = &s->stand[i];
    if (!row || x->person < 0) return true;
    return x->setup_min == (x->follows == TIMETABLE_NONE ? row->setup_min : 0) &&
           x->cleanup_min == (x->followed == TIMETABLE_NONE ? row->cleanup_min : 0);
}

void standing_settle(struct standing *s) {
    for (int tries = SETTLES; s->ragged_n;) {
        int i = s->ragged[--s->ragged_n];
        struct stand was = s->stand[i];
        struct bid b;
        if (!was.placed || is_whole(s, i)) continue;
        standing_take(s, i);
        if (tries-- > 0 && standing_bid(s, i, was.person, was.start, NULL, 0, &b))
            stand_as(s, i, &b);
    }
}

/* ---- as it stood ---- */

static void stand_fixed(struct standing *s, int i) {
    const struct timetable_task *k = &s->shop->p->tasks[i];
    s->stand[i] = decode_fixed(k);
    if (k->fixed_person >= 0)
        diary_fill(&s->diaries[k->fixed_person], k->fixed_start, k->fixed_end, i);
}

void standing_clear(struct standing *s) {
    const struct timetable_problem *p = s->shop->p;
    for (int q = 0; q < p->persons_n; q++) s->diaries[q].n = 0;
    for (int r = 0; r < p->resources_n; r++) level_clear(&s->levels[r]);
    memset(s->held, 0, (size_t)p->holds_n * sizeof *s->held);
    s->loose_n = s->ragged_n = 0;
    for (int i = 0; i < p->tasks_n; i++) {
        s->stand[i] = (struct stand){.follows = TIMETABLE_NONE, .followed = TIMETABLE_NONE};
        s->loose_at[i] = TIMETABLE_NONE;
        if (p->tasks[i].state == TIMETABLE_FIXED)
            stand_fixed(s, i);
        else if (shop_open(s->shop, i))
            loosen(s, i);
    }
    for (int i = 0; i < p->tasks_n; i++)
        if (p->tasks[i].state == TIMETABLE_FIXED) book_holds(s, i);
}

bool standing_resume(struct standing *s, int i, int q, int64_t start, int follows, bool followed) {
    struct bid b;
    if (!standing_fits(s, i, q, start, follows, followed, &b)) return false;
    stand_as(s, i, &b);
    fray(s, i); /* who was to go on with its tool may never come */
    return true;
}
