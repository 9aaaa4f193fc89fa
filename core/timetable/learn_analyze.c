/* From a conflict to a clause: back along the trail to the first event of the newest level without
 * which it would not have come, together with what older levels lent to it. */
#include "core/timetable/learn_inside.h"

#include <string.h>

enum { RECURSION_MOST = 12 };

/* Marks the event behind a literal; returns 1 if it is of level `newest` and was not marked. */
static int want(struct learn *e, struct lit l, int newest) {
    int32_t i = learn_event_of(e, l);
    if (i < 0 || e->trail[i].level == 0) return 0;
    learn_bump(e, l);
    bool fresh = e->need[i] == NOBODY_NEEDS;
    if (l.k > e->need[i]) e->need[i] = l.k;
    if (!fresh) return 0;
    e->marked[e->marked_n++] = i;
    return e->trail[i].level == newest;
}

static int newest_level(const struct learn *e) {
    int newest = 0;
    for (int32_t i = 0; i < e->conflict_n; i++) {
        int32_t at = learn_event_of(e, e->conflict[i]);
        if (at >= 0 && e->trail[at].level > newest) newest = e->trail[at].level;
    }
    return newest;
}

static void bump_clause(struct learn *e, struct reason why) {
    if (why.kind != BY_CLAUSE) return;
    float a = 0;
    memcpy(&a, &e->clauses[why.ref + 2], sizeof a);
    a += e->clause_bump;
    memcpy(&e->clauses[why.ref + 2], &a, sizeof a);
}

/* Follows reasons back until one event of the newest level is left; returns it. */
static int32_t first_unique(struct learn *e, int newest) {
    int open = 0;
    for (int32_t i = 0; i < e->conflict_n; i++) open += want(e, e->conflict[i], newest);
    int32_t at = e->trail_n - 1;
    for (;; at--) {
        if (e->need[at] == NOBODY_NEEDS || e->trail[at].level != newest) continue;
        if (open == 1) return at;
        struct lit l = {e->trail[at].s, e->need[at]};
        e->need[at] = NOBODY_NEEDS;
        open--;
        bump_clause(e, e->trail[at].why);
        int32_t n = learn_explain(e, e->trail[at].why, l, at, e->conflict);
        for (int32_t i = 0; i < n; i++) open += want(e, e->conflict[i], newest);
    }
}

/* Is the literal a consequence of the other needed ones and the root? */
static bool follows(struct learn *e, struct lit l, int depth, struct lit *room) {
    int32_t i = learn_event_of(e, l);
    if (i < 0 || e->trail[i].level == 0) return true;
    int32_t b = e->best_of[l.s];
    if (b >= 0 && e->need[b] >= l.k) return true;
    if (depth == RECURSION_MOST || e->trail[i].why.kind == BY_CHOICE ||
        e->level_seen[e->trail[i].level] != e->level_stamp)
        return false;
    int32_t n = learn_explain(e, e->trail[i].why, l, i, room);
    for (int32_t k = 0; k < n; k++)
        if (!follows(e, room[k], depth + 1, room + n)) return false;
    return true;
}

/* Can needed event `at` be left out? Its own reasons may name a weaker bound of its form, which
 * must not count as following from `at` itself. */
static bool spare(struct learn *e, int32_t at) {
    if (e->trail[at].why.kind == BY_CHOICE) return false;
    struct lit l = {e->trail[at].s, e->need[at]};
    e->best_of[l.s] = -1;
    int32_t n = learn_explain(e, e->trail[at].why, l, at, e->why_stack);
    bool all = true;
    for (int32_t k = 0; k < n && all; k++) all = follows(e, e->why_stack[k], 1, e->why_stack + n);
    e->best_of[l.s] = all ? -1 : at;
    return all;
}

/* Of two needed events of one form the newer says more. */
static void only_newest(struct learn *e) {
    for (int32_t i = 0; i < e->marked_n; i++) {
        int32_t at = e->marked[i];
        if (e->need[at] == NOBODY_NEEDS) continue;
        int32_t *b = &e->best_of[e->trail[at].s];
        if (*b < 0 || *b == at)
            *b = at;
        else if (*b < at)
            e->need[*b] = NOBODY_NEEDS, *b = at;
        else
            e->need[at] = NOBODY_NEEDS;
        e->level_seen[e->trail[at].level] = e->level_stamp;
    }
}

static void clear(struct learn *e) {
    for (int32_t i = 0; i < e->marked_n; i++) {
        e->need[e->marked[i]] = NOBODY_NEEDS;
        e->best_of[e->trail[e->marked[i]].s] = -1;
    }
    e->marked_n = 0;
}

/* Fills e->out; the literal to assert first, one of the next newest level second. */
static void collect(struct learn *e, int32_t unique, int *out_level, int32_t *out_depth) {
    e->out_n = 0;
    e->out[e->out_n++] = (struct lit){e->trail[unique].s, e->need[unique]};
    int level = 0;
    int32_t depth = 1;
    e->level_stamp++;
    for (int32_t i = 0; i < e->marked_n; i++) {
        int32_t at = e->marked[i];
        if (at == unique || e->need[at] == NOBODY_NEEDS) continue;
        int l = e->trail[at].level;
        e->out[e->out_n++] = (struct lit){e->trail[at].s, e->need[at]};
        if (e->level_seen[l] != e->level_stamp) e->level_seen[l] = e->level_stamp, depth++;
        if (l > level) {
            level = l;
            struct lit t = e->out[1];
            e->out[1] = e->out[e->out_n - 1];
            e->out[e->out_n - 1] = t;
        }
    }
    *out_level = level;
    *out_depth = depth;
}

bool learn_analyze(struct learn *e, int *out_level, int32_t *out_depth) {
    int newest = newest_level(e);
    if (newest == 0) return false;
    learn_back(e, newest);
    e->marked_n = 0;
    e->level_stamp++;
    int32_t unique = first_unique(e, newest);
    only_newest(e);
    for (int32_t i = 0; i < e->marked_n; i++) {
        int32_t at = e->marked[i];
        if (at == unique || e->need[at] == NOBODY_NEEDS || !spare(e, at)) continue;
        e->need[at] = NOBODY_NEEDS;
    }
    collect(e, unique, out_level, out_depth);
    clear(e);
    return true;
}
