/* What the solver of the bare scheduling problem proves, beside every timetable there is: small
 * projects with two resources, minimum and maximum lags, all starts tried one after the other. */
#include "core/base/random.h"
#include "core/timetable/project.h"
#include "test/check.h"

enum { TASKS = 5, ARCS = 5, LATEST = 14, PROJECTS = 2000 };

static int duration[TASKS], use[TASKS * 2], capacity[2], start[TASKS], best;
static struct project_arc arc[ARCS];
static struct project problem;

static void draw(uint64_t seed) {
    struct random r;
    random_seed(&r, seed);
    for (int k = 0; k < 2; k++) capacity[k] = 2 + (int)random_below(&r, 2);
    for (int i = 0; i < TASKS; i++) {
        duration[i] = 1 + (int)random_below(&r, 3);
        for (int k = 0; k < 2; k++)
            use[2 * i + k] = (int)random_below(&r, (uint32_t)capacity[k] + 1);
    }
    problem = (struct project){TASKS, 2, 0, duration, use, capacity, arc};
    for (int k = 0; k < 3; k++) {
        int from = (int)random_below(&r, TASKS - 1);
        int to = from + 1 + (int)random_below(&r, (uint32_t)(TASKS - 1 - from));
        arc[problem.arcs_n++] = (struct project_arc){from, to, (int)random_below(&r, 4)};
        if (k < 2 && random_below(&r, 2)) /* and no later than so much after */
            arc[problem.arcs_n++] = (struct project_arc){to, from, -1 - (int)random_below(&r, 4)};
    }
}

/* Do the first n tasks keep every rule? */
static bool keeps(const int *at, int n) {
    for (int k = 0; k < problem.arcs_n; k++)
        if (arc[k].from < n && arc[k].to < n && at[arc[k].to] < at[arc[k].from] + arc[k].min)
            return false;
    for (int t = 0; t < 60; t++)
        for (int k = 0; k < 2; k++) {
            int sum = 0;
            for (int i = 0; i < n; i++)
                if (at[i] <= t && t < at[i] + duration[i]) sum += use[2 * i + k];
            if (sum > capacity[k]) return false;
        }
    return true;
}

static void walk(int n, int end) {
    if (n == TASKS) {
        best = end;
        return;
    }
    for (start[n] = 0; start[n] + duration[n] < best; start[n]++)
        if (keeps(start, n + 1))
            walk(n + 1, start[n] + duration[n] > end ? start[n] + duration[n] : end);
}

int main(void) {
    int optimal = 0, none = 0;
    CASE("2,000 projects: the least makespan is the least there is, and none is none") {
        for (uint64_t seed = 0; seed < PROJECTS; seed++) {
            struct arena arena;
            struct project_answer a;
            struct why why = {0};
            draw(seed);
            arena_init(&arena, alloc_heap(), 0);
            CHECK(!project_solve(&problem, (struct limit){.steps = 20000}, 1, &arena, &a, &why));
            best = LATEST + 1;
            walk(0, 0);
            if (a.status == PROJECT_OPTIMAL) {
                CHECK(keeps(a.start, TASKS) && a.lower_bound == a.makespan);
                CHECK(a.makespan > LATEST ? best > LATEST : a.makespan == best);
                optimal++;
            }
            none += a.status == PROJECT_INFEASIBLE;
            CHECK(a.status != PROJECT_INFEASIBLE || best > LATEST);
            arena_free(&arena);
        }
        printf("proven least %d, proven impossible %d\n", optimal, none);
        CHECK(optimal + none == PROJECTS && none > 100);
    }
    return check_done();
}
