#include "core/timetable/timetable.h"

#include "core/timetable/answer.h"
#include "core/timetable/decode.h"

/* Slack until the due date of all that follows: what is most pressing goes first. */
static void rank_by_due(const struct shop *s, double *rank) {
    const struct timetable_problem *p = s->p;
    for (int i = 0; i < p->tasks_n; i++) rank[i] = -(double)s->tail[i];
}

enum status timetable_solve(const struct timetable_problem *problem, struct limit limit,
                            uint64_t seed, struct arena *arena, struct timetable_answer *out_answer,
                            struct why *why) {
    struct shop shop;
    struct decoder d;
    (void)seed;
    (void)limit;
    enum status st = shop_make(problem, arena, &shop, why);
    if (st) return st;
    double *rank = arena_array(arena, (size_t)problem->tasks_n + 1, sizeof *rank);
    if (!rank || !decoder_make(&d, &shop, arena))
        return why_say(why, E_MEMORY, "", "There is not enough memory for the timetable.");
    rank_by_due(&shop, rank);
    if (!decode(&d, rank))
        return why_say(why, E_LIMIT, "/tasks", "No timetable was found that keeps every rule.");
    struct timetable_answer a;
    if (answer_make(&d, arena, &a)) return why_say(why, E_MEMORY, "", "Not enough memory.");
    a.steps = 1;
    *out_answer = a;
    return OK;
}
