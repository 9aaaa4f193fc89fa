/* The air of the shop: nothing is sanded while a film is still wet, on whatever piece, for dust
 * settles into it. A wet film holds one share of the air until it is dry to touch; sanding takes
 * all of it while it lasts. And what dries alike on one piece is sanded together before any of it
 * is coated again: one vacuuming, one tool. Common practice. */
#include "core/work/day_build.h"
#include "core/work/fact.h"

#include <string.h>

/* Whatever is worked with grit makes dust. */
static bool makes_dust(const struct day_build *b, const struct day_meta *m) {
    const struct operations_row *op = operation_row(b->t, m->operation);
    return m->kind == DAY_WORK && op && op->grit > 0;
}

static bool is_wet(const struct day_meta *m) {
    return m->coat && m->drying && day_is_film(m->coat->role);
}

static void hold_air(struct day_build *b, size_t first_task) {
    size_t tasks = b->out->n;
    for (size_t i = first_task; i < tasks; i++) {
        const struct day_meta *m = &b->out->meta[i];
        bool wet = is_wet(m);
        if (!wet && !makes_dust(b, m)) continue;
        int touch = wet ? day_sooner_lag(b, (int)i, m->coat->touch_min) : TIMETABLE_NONE;
        day_hold_add(b, (struct timetable_hold){
                            .first = (int)i,
                            .last = (int)i,
                            .resource = DAY_AIR,
                            .amount = wet ? 1 : DAY_AIR_ALL,
                            .until_lag = wet && touch == TIMETABLE_NONE ? m->dry_lag : touch});
    }
}

/* ---- sanded together ---- */

/* One sanding of a group, between the film that it levels and the one that comes on it. */
struct sanding {
    int task, film;    /* TIMETABLE_NONE: none comes */
    const char *group; /* borrowed */
    const char *under; /* class of the film below; NULL: the old ground */
    int nth;           /* of its group */
};

static bool same(const char *a, const char *b) {
    return a == b || (a && b && !strcmp(a, b));
}

static size_t sandings_of(const struct day_build *b, const char *group, size_t first_task,
                          struct sanding *out) {
    const char *under = NULL;
    size_t n = 0;
    for (size_t i = first_task; i < b->out->n; i++) {
        const struct day_meta *m = &b->out->meta[i];
        if (!m->coat || !same(m->group, group)) continue;
        if (makes_dust(b, m))
            out[n] = (struct sanding){(int)i, TIMETABLE_NONE, group, under, (int)n}, n++;
        if (!is_wet(m)) continue;
        if (n && out[n - 1].film == TIMETABLE_NONE) out[n - 1].film = (int)i;
        under = m->coat->class;
    }
    return n;
}

/* Days that were accepted, or a task that slipped: then the order stands, and one group does not
 * hold up another. */
static bool order_stands(const struct day_build *b) {
    for (size_t i = 0; i < b->o->kept_n; i++) {
        const struct task_kept *k = &b->o->kept[i];
        bool accepted = k->start_utc_min != INT64_MIN && !b->o->lay_anew;
        bool said = accepted || k->not_before_utc_min != INT64_MIN;
        if (said && same(k->piece, day_piece(b)->id)) return true;
    }
    return false;
}

/* Must `to` come after `from` already, as what keeps its wood comes after the color beside it?
 * mark: [tasks of the piece] */
static bool comes_after(const struct day_build *b, int from, int to, size_t first_task,
                        bool *mark) {
    const struct day_tasks *d = b->out;
    memset(mark, 0, (d->n - first_task) * sizeof *mark);
    mark[(size_t)from - first_task] = true;
    for (bool more = true; more && !mark[(size_t)to - first_task];) {
        more = false;
        for (size_t k = d->lags_n; k-- > 0 && d->lags[k].from >= (int)first_task;) {
            size_t before = (size_t)d->lags[k].from - first_task,
                   after = (size_t)d->lags[k].to - first_task;
            if (mark[before] && !mark[after]) mark[after] = more = true;
        }
    }
    return mark[(size_t)to - first_task];
}

static void sand_together(struct day_build *b, const struct day_chain *chains, size_t n,
                          size_t first_task) {
    size_t tasks = b->out->n - first_task, sandings_n = 0;
    struct sanding *s = arena_array(b->l->arena, tasks + 1, sizeof *s);
    bool *mark = arena_array(b->l->arena, tasks + 1, sizeof *mark);
    if (!s || !mark) return;
    for (size_t g = 0; g < n; g++)
        if (chains[g].group)
            sandings_n += sandings_of(b, chains[g].group, first_task, s + sandings_n);
    for (size_t i = 0; i < sandings_n; i++)
        for (size_t k = 0; k < sandings_n; k++)
            if (s[i].nth == s[k].nth && same(s[i].under, s[k].under) &&
                !same(s[i].group, s[k].group) && s[k].film != TIMETABLE_NONE &&
                !comes_after(b, s[k].film, s[i].task, first_task, mark))
                day_lag_add(b, day_after(s[i].task, s[k].film, 0, TIMETABLE_NONE));
}

void day_air(struct day_build *b, const struct day_chain *chains, size_t n, size_t first_task) {
    if (b->plan->shop.sand_apart == YN_YES) return; /* another room, another air */
    if (!order_stands(b) && !day_crowded(b)) sand_together(b, chains, n, first_task);
    hold_air(b, first_task);
}
