#include "core/timetable/project_inside.h"

#include <string.h>

int project_makespan(const struct project *p, const int *start) {
    int end = 0;
    for (int i = 0; i < p->tasks_n; i++)
        if (start[i] + p->duration[i] > end) end = start[i] + p->duration[i];
    return end;
}

/* Longest paths from the beginning (head) or to the end (tail) over the arcs; false: they circle
 * with gain. */
static bool longest(const struct project *p, int *value, bool forward) {
    for (int round = 0;; round++) {
        bool moved = false;
        for (int k = 0; k < p->arcs_n; k++) {
            const struct project_arc *a = &p->arcs[forward ? k : p->arcs_n - 1 - k];
            int from = forward ? a->from : a->to, to = forward ? a->to : a->from;
            if (value[from] + a->min <= value[to]) continue;
            value[to] = value[from] + a->min;
            moved = true;
        }
        if (!moved) return true;
        if (round > p->tasks_n) return false;
    }
}

/* If there is a timetable at all, one ends by the sum of what each task or its lags can cost. */
static int horizon_of(const struct project *p, struct arena *arena) {
    int *cost = arena_array(arena, (size_t)p->tasks_n + 1, sizeof *cost);
    if (!cost) return -1;
    int64_t sum = 0;
    memcpy(cost, p->duration, (size_t)p->tasks_n * sizeof *cost);
    for (int k = 0; k < p->arcs_n; k++)
        if (p->arcs[k].min > cost[p->arcs[k].from]) cost[p->arcs[k].from] = p->arcs[k].min;
    for (int i = 0; i < p->tasks_n; i++) sum += cost[i];
    return sum > PROJECT_MAX_HORIZON ? PROJECT_MAX_HORIZON : (int)sum;
}

static bool is_plain(const struct project *p, struct arena *arena) {
    int *missing = arena_array(arena, (size_t)p->tasks_n + 1, sizeof *missing);
    if (!missing) return false;
    for (int k = 0; k < p->arcs_n; k++) {
        if (p->arcs[k].min < 0) return false;
        missing[p->arcs[k].to]++;
    }
    int done = 0; /* peel off tasks without predecessors; what stays is a circle */
    for (bool moved = true; moved;) {
        moved = false;
        for (int i = 0; i < p->tasks_n; i++) {
            if (missing[i] != 0) continue;
            missing[i] = -1;
            done++;
            moved = true;
            for (int k = 0; k < p->arcs_n; k++)
                if (p->arcs[k].from == i) missing[p->arcs[k].to]--;
        }
    }
    return done == p->tasks_n;
}

/* All pairs, after Floyd and Warshall; false: a circle with gain. */
static bool close(int *lag, int n) {
    for (int k = 0; k < n; k++)
        for (int i = 0; i < n; i++) {
            int ik = lag[i * n + k];
            if (ik == NO_LAG) continue;
            for (int j = 0; j < n; j++) {
                int kj = lag[k * n + j];
                if (kj != NO_LAG && ik + kj > lag[i * n + j]) lag[i * n + j] = ik + kj;
            }
        }
    for (int i = 0; i < n; i++)
        if (lag[i * n + i] > 0) return false;
    return true;
}

/* One more lag in a closed table, and all that follows from it. */
static void add_closed(int *lag, int n, int a, int b, int min) {
    if (lag[a * n + b] >= min) return;
    for (int i = 0; i < n; i++) {
        if (lag[i * n + a] == NO_LAG) continue;
        int to_b = lag[i * n + a] + min;
        for (int j = 0; j < n; j++)
            if (lag[b * n + j] != NO_LAG && to_b + lag[b * n + j] > lag[i * n + j])
                lag[i * n + j] = to_b + lag[b * n + j];
    }
}

/* Orders that lags force on tasks that cannot run together; *pairs of those left open. */
static bool force_pairs(struct project_net *w, struct arena *arena) {
    const struct project *p = w->p;
    int n = p->tasks_n, *lag = w->lag;
    for (bool moved = true; moved;) {
        moved = false;
        w->pairs_n = 0;
        for (int a = 0; a < n; a++)
            for (int b = 0; b < a; b++) {
                if (!project_clash(p, a, b)) continue;
                int ab = lag[a * n + b], ba = lag[b * n + a];
                if (ab >= p->duration[a] || ba >= p->duration[b]) continue;
                bool a_first = ba + p->duration[a] <= 0, b_first = ab + p->duration[b] <= 0;
                if (!a_first && !b_first) return false;
                w->pairs_n++;
                if (a_first && b_first) continue;
                if (a_first)
                    add_closed(lag, n, a, b, p->duration[a]);
                else
                    add_closed(lag, n, b, a, p->duration[b]);
                moved = true;
            }
        for (int i = 0; i < n; i++)
            if (lag[i * n + i] > 0) return false;
    }
    w->pairs = arena_array(arena, (size_t)w->pairs_n + 1, sizeof *w->pairs);
    if (!w->pairs) return false;
    w->pairs_n = 0;
    for (int a = 0; a < n; a++)
        for (int b = 0; b < a; b++)
            if (project_clash(p, a, b) && lag[a * n + b] < p->duration[a] &&
                lag[b * n + a] < p->duration[b])
                w->pairs[w->pairs_n++] = (struct project_pair){a, b};
    return true;
}

static enum status all_lags(struct project_net *w, struct arena *arena, bool *feasible) {
    const struct project *p = w->p;
    int n = p->tasks_n;
    if (n > PAIRS_MOST_TASKS) return OK;
    w->lag = arena_array(arena, (size_t)n * (size_t)n + 1, sizeof *w->lag);
    if (!w->lag) return E_MEMORY;
    for (int i = 0; i < n * n; i++) w->lag[i] = NO_LAG;
    for (int i = 0; i < n; i++) w->lag[i * n + i] = 0;
    for (int k = 0; k < p->arcs_n; k++) {
        int *l = &w->lag[p->arcs[k].from * n + p->arcs[k].to];
        if (p->arcs[k].min > *l) *l = p->arcs[k].min;
    }
    *feasible = close(w->lag, n) && force_pairs(w, arena);
    if (!*feasible) return OK;
    for (int i = 0; i < n; i++)
        for (int j = 0; j < n; j++) {
            if (w->lag[i * n + j] == NO_LAG) continue;
            if (w->head[i] + w->lag[i * n + j] > w->head[j])
                w->head[j] = w->head[i] + w->lag[i * n + j];
            if (w->tail[j] + w->lag[i * n + j] > w->tail[i])
                w->tail[i] = w->tail[j] + w->lag[i * n + j];
        }
    return OK;
}

/* Work of each resource between the least head and the least tail that uses it. */
static int work_bound(const struct project_net *w) {
    const struct project *p = w->p;
    int best = 0;
    for (int i = 0; i < p->tasks_n; i++)
        if (w->head[i] + w->tail[i] > best) best = w->head[i] + w->tail[i];
    for (int r = 0; r < p->resources_n; r++) {
        int64_t work = 0;
        int head = INT32_MAX, after = INT32_MAX;
        for (int i = 0; i < p->tasks_n; i++) {
            int use = p->use[i * p->resources_n + r];
            if (!use || !p->duration[i]) continue;
            work += (int64_t)use * p->duration[i];
            if (w->head[i] < head) head = w->head[i];
            if (w->tail[i] - p->duration[i] < after) after = w->tail[i] - p->duration[i];
        }
        if (!work || !p->capacity[r]) continue;
        int64_t least = head + after + (work + p->capacity[r] - 1) / p->capacity[r];
        if (least > best && least <= PROJECT_MAX_HORIZON) best = (int)least;
    }
    return best;
}

enum status project_prepare(const struct project *p, struct arena *arena, struct project_net *out,
                            bool *out_feasible) {
    struct project_net w = {.p = p};
    size_t n = (size_t)p->tasks_n + 1;
    w.head = arena_array(arena, n, sizeof *w.head);
    w.tail = arena_array(arena, n, sizeof *w.tail);
    if (!w.head || !w.tail) return E_MEMORY;
    w.horizon = horizon_of(p, arena);
    if (w.horizon < 0) return E_MEMORY;
    memcpy(w.tail, p->duration, (size_t)p->tasks_n * sizeof *w.tail);
    w.plain = is_plain(p, arena);
    bool fits = true;
    for (int i = 0; i < p->tasks_n && fits; i++)
        for (int r = 0; r < p->resources_n; r++)
            if (p->duration[i] && p->use[i * p->resources_n + r] > p->capacity[r]) fits = false;
    *out_feasible = fits && longest(p, w.head, true) && longest(p, w.tail, false);
    enum status st = *out_feasible ? all_lags(&w, arena, out_feasible) : OK;
    if (!st && *out_feasible) w.bound = work_bound(&w);
    if (!st) *out = w;
    return st;
}
