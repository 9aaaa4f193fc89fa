#include "core/timetable/project.h"

#include "core/timetable/cumulative.h"
#include "core/timetable/genetic.h"
#include "core/timetable/learn.h"
#include "core/timetable/project_inside.h"

#include <string.h>

/* Timetables that the genetic search builds in about the time of one conflict, as measured on the
 * published sets; so both get the same time, until the genetic one has built IN_VAIN timetables a
 * task without gain: then half of it, and so on. */
enum { PER_CONFLICT = 12, FIRST_TURN = 500, FIRST_BUILDS = 1000, IN_VAIN = 100, HALVED_MOST = 10 };

/* The genetic search's turns between those of the learning one. */
struct turns {
    struct genetic *g;
    uint64_t in_vain; /* built since the last gain, or since its share was halved */
    int halved;
};

/* Starts are variables 0..n-1, the end of all is n, orders of pairs follow. */
struct model {
    struct learn learn;
    struct cumulative *resources;
    int end;
};

static enum status check(const struct project *p, struct why *why) {
    if (p->tasks_n < 0 || p->tasks_n > PROJECT_MAX_TASKS || p->resources_n < 0 ||
        p->resources_n > PROJECT_MAX_RESOURCES)
        return why_say(why, E_TOO_LARGE, "/tasks", "At most %d tasks and %d resources.",
                       PROJECT_MAX_TASKS, PROJECT_MAX_RESOURCES);
    for (int i = 0; i < p->tasks_n; i++) {
        if (p->duration[i] < 0 || p->duration[i] > 100000)
            return why_say(why, E_DOMAIN, "/duration", "Task %d: 0 to 100000 is possible.", i);
        for (int r = 0; r < p->resources_n; r++)
            if (p->use[i * p->resources_n + r] < 0 || p->use[i * p->resources_n + r] > 1000000)
                return why_say(why, E_DOMAIN, "/use", "Task %d: 0 to 1e6 is possible.", i);
    }
    for (int k = 0; k < p->arcs_n; k++) {
        const struct project_arc *a = &p->arcs[k];
        if (a->from < 0 || a->from >= p->tasks_n || a->to < 0 || a->to >= p->tasks_n ||
            a->min > 1000000 || a->min < -1000000)
            return why_say(why, E_DOMAIN, "/arcs", "Arc %d joins no two tasks or is too long.", k);
    }
    return OK;
}

static bool add_resources(struct model *m, const struct project_net *w, int horizon,
                          struct arena *arena, int32_t (*wake)[2], int *wake_n) {
    const struct project *p = w->p;
    m->resources = arena_array(arena, (size_t)p->resources_n + 1, sizeof *m->resources);
    if (!m->resources) return false;
    for (int r = 0; r < p->resources_n; r++) {
        struct cumulative *c = &m->resources[r];
        c->capacity = p->capacity[r];
        c->length = horizon + 1;
        c->tasks = arena_array(arena, (size_t)p->tasks_n + 1, sizeof *c->tasks);
        c->covering = arena_array(arena, (size_t)p->tasks_n + 1, sizeof *c->covering);
        c->height = arena_array(arena, (size_t)horizon + 4, sizeof *c->height);
        if (!c->tasks || !c->covering || !c->height) return false;
        for (int i = 0; i < p->tasks_n; i++) {
            int use = p->use[i * p->resources_n + r];
            if (!use || !p->duration[i]) continue;
            c->tasks[c->tasks_n++] = (struct cumulative_task){i, p->duration[i], use};
            wake[*wake_n][0] = i;
            wake[(*wake_n)++][1] = m->learn.propagators_n;
        }
        m->learn.propagators[m->learn.propagators_n++] =
            (struct propagator){cumulative_run, c, false};
    }
    return true;
}

static void add_arcs(struct model *m, const struct project_net *w) {
    const struct project *p = w->p;
    const struct lit always = {-1, 0};
    for (int k = 0; k < p->arcs_n; k++) {
        const struct project_arc *a = &p->arcs[k];
        learn_arc(&m->learn, (struct learn_arc){2 * a->from, 2 * a->to, a->min, always});
    }
    for (int i = 0; i < p->tasks_n; i++)
        learn_arc(&m->learn, (struct learn_arc){2 * i, 2 * m->end, w->tail[i], always});
    for (int k = 0; k < w->pairs_n; k++) {
        int a = w->pairs[k].a, b = w->pairs[k].b, x = m->end + 1 + k;
        learn_arc(&m->learn, (struct learn_arc){2 * a, 2 * b, p->duration[a], at_least(x, 1)});
        learn_arc(&m->learn, (struct learn_arc){2 * b, 2 * a, p->duration[b], at_most(x, 0)});
    }
}

/* most: makespan allowed. */
static bool model_make(struct model *m, const struct project_net *w, int most,
                       struct arena *arena) {
    const struct project *p = w->p;
    int n = p->tasks_n, vars = n + 1 + w->pairs_n;
    int32_t *low = arena_array(arena, (size_t)vars, sizeof *low);
    int32_t *high = arena_array(arena, (size_t)vars, sizeof *high);
    int32_t(*wake)[2] = arena_array(arena, (size_t)(n * p->resources_n) + 1, sizeof *wake);
    if (!low || !high || !wake) return false;
    m->end = n;
    for (int i = 0; i < n; i++) low[i] = w->head[i], high[i] = most - w->tail[i];
    low[n] = w->bound < most ? w->bound : most;
    high[n] = most;
    for (int k = 0; k < w->pairs_n; k++) high[n + 1 + k] = 1;
    int wake_n = 0;
    return learn_make(&m->learn, vars, low, high, p->arcs_n + n + 2 * w->pairs_n, p->resources_n,
                      arena) &&
           (add_arcs(m, w), add_resources(m, w, most, arena, wake, &wake_n)) &&
           learn_ready(&m->learn, (const int32_t(*)[2])wake, wake_n);
}

/* What the search should try first: the best known timetable. */
static void follow(struct model *m, const struct project_net *w, const int *start) {
    for (int i = 0; i < w->p->tasks_n; i++) m->learn.phase[i] = start[i];
    m->learn.phase[m->end] = INT32_MIN + 1;
    for (int k = 0; k < w->pairs_n; k++) {
        int a = w->pairs[k].a, b = w->pairs[k].b;
        m->learn.phase[m->end + 1 + k] = start[a] + w->p->duration[a] <= start[b];
    }
}

static void take(const struct project_net *w, struct project_answer *a, const int *start) {
    memcpy(a->start, start, (size_t)w->p->tasks_n * sizeof *start);
    a->makespan = project_makespan(w->p, start);
    a->status = PROJECT_FEASIBLE;
}

struct budget {
    struct limit limit;
    uint64_t used;
};

static bool spent(const struct budget *b) {
    return (b->limit.steps && b->used >= b->limit.steps) || limit_asked(&b->limit);
}

static void breed(const struct project_net *w, struct turns *t, uint64_t builds, struct budget *b,
                  struct project_answer *a) {
    uint64_t made = genetic_run(t->g, a->makespan, &b->limit, builds >> t->halved);
    b->used += made;
    t->in_vain += made;
    if (genetic_best(t->g) < a->makespan) {
        take(w, a, genetic_start(t->g));
        t->in_vain = 0;
        t->halved = 0;
    } else if (t->in_vain > (uint64_t)w->p->tasks_n * IN_VAIN && t->halved < HALVED_MOST) {
        t->in_vain = 0;
        t->halved++;
    }
}

/* Learning search with ever longer turns, between which the genetic one may go on. */
static bool prove(const struct project_net *w, struct model *m, struct genetic *g, struct budget *b,
                  struct project_answer *a, int *work) {
    uint64_t turn = FIRST_TURN;
    struct turns breeding = {.g = g};
    for (bool in_order = a->status == PROJECT_UNKNOWN;; in_order = false) {
        if (a->status == PROJECT_FEASIBLE && a->makespan <= w->bound) break;
        if (spent(b)) return !m->learn.out_of_memory;
        uint64_t before = m->learn.conflicts, most = turn;
        if (b->limit.steps && most > b->limit.steps - b->used) most = b->limit.steps - b->used;
        enum learn_result r = learn_search(&m->learn, m->end + 1, in_order, most, &b->limit);
        b->used += m->learn.conflicts - before + 1;
        if (m->learn.out_of_memory) return a->status != PROJECT_UNKNOWN;
        if (r == LEARN_NONE) break;
        if (r == LEARN_ANSWER) {
            for (int i = 0; i < w->p->tasks_n; i++) work[i] = learn_low(&m->learn, i);
            take(w, a, work);
        } else if (g) {
            breed(w, &breeding, turn * PER_CONFLICT, b, a);
            turn += turn / 2;
        }
        if (a->status == PROJECT_FEASIBLE) {
            follow(m, w, a->start);
            if (!learn_root(&m->learn, at_most(m->end, a->makespan - 1))) break;
        }
    }
    a->status = a->status == PROJECT_FEASIBLE ? PROJECT_OPTIMAL : PROJECT_INFEASIBLE;
    return true;
}

enum status project_solve(const struct project *p, struct limit limit, uint64_t seed,
                          struct arena *arena, struct project_answer *out, struct why *why) {
    struct project_net w;
    struct model m = {0};
    struct genetic g;
    struct budget b = {limit, 0};
    struct project_answer a = {.status = PROJECT_UNKNOWN};
    bool feasible;
    enum status st = check(p, why);
    if (st) return st;
    int *work = arena_array(arena, (size_t)p->tasks_n + 1, sizeof *work);
    int *start = arena_array(arena, (size_t)p->tasks_n + 1, sizeof *start);
    if (!work || !start || project_prepare(p, arena, &w, &feasible)) return why_no_memory(why);
    if (!feasible) {
        out[0] = (struct project_answer){.status = PROJECT_INFEASIBLE};
        return OK;
    }
    a.start = start;
    if (w.plain) {
        if (!genetic_make(&g, &w, seed, arena)) return why_no_memory(why);
        b.used += genetic_run(&g, INT32_MAX, &limit, FIRST_BUILDS);
        take(&w, &a, genetic_start(&g));
    }
    a.lower_bound = w.bound;
    if (a.status == PROJECT_FEASIBLE && a.makespan <= w.bound) a.status = PROJECT_OPTIMAL;
    int most = a.status == PROJECT_FEASIBLE ? a.makespan - 1 : w.horizon;
    if (a.status != PROJECT_OPTIMAL && w.lag && most >= w.bound) {
        if (!model_make(&m, &w, most, arena)) return why_no_memory(why);
        if (a.status == PROJECT_FEASIBLE) follow(&m, &w, a.start);
        if (!prove(&w, &m, w.plain ? &g : NULL, &b, &a, work)) return why_no_memory(why);
    }
    if (a.status == PROJECT_OPTIMAL) a.lower_bound = a.makespan;
    if (a.status == PROJECT_UNKNOWN || a.status == PROJECT_INFEASIBLE) a.start = NULL;
    a.steps = b.used;
    a.stopped = (a.status == PROJECT_FEASIBLE || a.status == PROJECT_UNKNOWN) &&
                !(limit.steps && b.used >= limit.steps);
    *out = a;
    return OK;
}
