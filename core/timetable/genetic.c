#include "core/timetable/genetic.h"

#include <string.h>

enum { MEMBERS = 100, MUTATE_PERCENT = 2, TIRED = 100 };

bool genetic_make(struct genetic *g, const struct project_net *net, uint64_t seed,
                  struct arena *arena) {
    size_t n = (size_t)net->p->tasks_n + 1;
    *g = (struct genetic){.net = net, .members = MEMBERS, .best_end = INT32_MAX};
    random_seed(&g->random, seed);
    g->lists = arena_array(arena, n * MEMBERS, sizeof(int));
    g->starts = arena_array(arena, n * MEMBERS, sizeof(int));
    g->ends = arena_array(arena, MEMBERS, sizeof(int));
    g->list = arena_array(arena, n, sizeof(int));
    g->start = arena_array(arena, n, sizeof(int));
    g->best = arena_array(arena, n, sizeof(int));
    g->missing = arena_array(arena, n, sizeof(int));
    g->ready = arena_array(arena, n, sizeof(int));
    return g->lists && g->starts && g->ends && g->list && g->start && g->best && g->missing &&
           g->ready && serial_make(&g->serial, net, arena);
}

int genetic_best(const struct genetic *g) {
    return g->best_end;
}
const int *genetic_start(const struct genetic *g) {
    return g->best;
}

/* A list in which long tails come early, at random by regret (Drexl 1991). greedy: no chance. */
static void sample(struct genetic *g, bool greedy) {
    const struct project *p = g->net->p;
    const struct serial_side *before = &g->serial.side[0], *after = &g->serial.side[1];
    int n = p->tasks_n, ready = 0;
    for (int i = 0; i < n; i++) {
        g->missing[i] = before->first[i + 1] - before->first[i];
        if (!g->missing[i]) g->ready[ready++] = i;
    }
    for (int m = 0; m < n; m++) {
        int least = INT32_MAX, most = 0;
        for (int k = 0; k < ready; k++) {
            int tail = g->net->tail[g->ready[k]];
            if (tail < least) least = tail;
            if (tail > most) most = tail;
        }
        int pick = 0;
        if (greedy) {
            while (g->net->tail[g->ready[pick]] < most) pick++;
        } else {
            double sum = 0;
            for (int k = 0; k < ready; k++) sum += g->net->tail[g->ready[k]] - least + 1;
            double at = random_unit(&g->random) * sum;
            while (pick + 1 < ready && (at -= g->net->tail[g->ready[pick]] - least + 1) >= 0)
                pick++;
        }
        int i = g->ready[pick];
        g->ready[pick] = g->ready[--ready];
        g->list[m] = i;
        for (int k = after->first[i]; k < after->first[i + 1]; k++)
            if (--g->missing[after->link[k].task] == 0) g->ready[ready++] = after->link[k].task;
    }
}

/* What one parent starts within a stretch of time, in its order; before and after it the order of
 * the other. */
static void cross(struct genetic *g, int a, int b) {
    int n = g->net->p->tasks_n, m = 0, end = g->ends[a];
    const int *start = &g->starts[a * n], *own = &g->lists[a * n], *other = &g->lists[b * n];
    int length = end / 4 + (int)random_below(&g->random, (uint32_t)(end / 2 + 1));
    int from = (int)random_below(&g->random, (uint32_t)(end - length + 1)), to = from + length;
    for (int k = 0; k < n; k++)
        if (start[other[k]] < from) g->list[m++] = other[k];
    for (int k = 0; k < n; k++)
        if (start[own[k]] >= from && start[own[k]] < to) g->list[m++] = own[k];
    for (int k = 0; k < n; k++)
        if (start[other[k]] >= to) g->list[m++] = other[k];
}

static bool precedes(const struct genetic *g, int a, int b) {
    const struct serial_side *before = &g->serial.side[0];
    for (int k = before->first[b]; k < before->first[b + 1]; k++)
        if (before->link[k].task == a) return true;
    return false;
}

static void mutate(struct genetic *g) {
    int n = g->net->p->tasks_n;
    for (int m = 0; m + 1 < n; m++) {
        if (random_below(&g->random, 100) >= MUTATE_PERCENT) continue;
        int a = g->list[m], b = g->list[m + 1];
        if (!precedes(g, a, b)) g->list[m] = b, g->list[m + 1] = a;
    }
}

static bool known(const struct genetic *g, int end) {
    size_t size = (size_t)g->net->p->tasks_n * sizeof *g->start;
    for (int m = 0; m < g->grown; m++)
        if (g->ends[m] == end && !memcmp(&g->starts[m * g->net->p->tasks_n], g->start, size))
            return true;
    return false;
}

/* Takes the child in, for the worse of its parents if all places are taken: the members stay
 * unlike each other longer than if the worst of all had to go. */
static void admit(struct genetic *g, int end, int worse) {
    int n = g->net->p->tasks_n, at = worse;
    if (end < g->best_end) {
        g->best_end = end;
        memcpy(g->best, g->start, (size_t)n * sizeof *g->best);
        g->idle = 0;
    } else {
        g->idle++;
    }
    if (known(g, end)) return;
    if (g->grown < g->members)
        at = g->grown++;
    else if (end > g->ends[at])
        return;
    g->ends[at] = end;
    memcpy(&g->lists[at * n], g->list, (size_t)n * sizeof *g->list);
    memcpy(&g->starts[at * n], g->start, (size_t)n * sizeof *g->start);
}

uint64_t genetic_run(struct genetic *g, int below, const struct limit *limit, uint64_t most) {
    int n = g->net->p->tasks_n;
    uint64_t made = 0;
    if (below < g->best_end) g->idle = 0;
    while (made < most && g->best_end > g->net->bound && below > g->net->bound && n > 0) {
        if (made && made % 48 == 0 && limit_asked(limit)) break;
        int worse = 0;
        if (g->grown < g->members) {
            sample(g, g->best_end == INT32_MAX);
        } else {
            int a = (int)random_below(&g->random, (uint32_t)g->members);
            int b = (int)random_below(&g->random, (uint32_t)g->members);
            worse = g->ends[a] >= g->ends[b] ? a : b;
            cross(g, a, b);
            mutate(g);
        }
        serial_build(&g->serial, g->list, false, g->start);
        int end = serial_justify(&g->serial, g->list, g->start);
        made += 3;
        admit(g, end, worse);
        if (g->idle > (uint64_t)(TIRED * g->members)) { /* all alike: begin with new ones */
            g->grown = 0;
            g->idle = 0;
        }
    }
    return made;
}
