#include "core/timetable/timetable.h"

#include "core/timetable/answer.h"
#include "core/timetable/shop_bound.h"
#include "core/timetable/shop_room.h"
#include "core/timetable/shop_search.h"

/* What the places prove costs as much as some hundred timetables. */
enum { ROOM_ROUNDS = 120, ROOM_STEPS = 100 };

struct timetable_task timetable_work(int32_t work_min) {
    return (struct timetable_task){.work_min = work_min,
                                   .person = TIMETABLE_ANYBODY,
                                   .piece = TIMETABLE_NONE,
                                   .setup = TIMETABLE_NONE,
                                   .release = TIMETABLE_UNSAID,
                                   .due = TIMETABLE_UNSAID,
                                   .wait = TIMETABLE_UNSAID,
                                   .fixed_person = TIMETABLE_NOBODY};
}

enum status timetable_solve(const struct timetable_problem *problem, struct limit limit,
                            uint64_t seed, struct arena *arena, struct timetable_answer *out_answer,
                            struct why *why) {
    struct shop shop;
    struct decoder d;
    struct shop_search search;
    struct timetable_score bound;
    enum status st = shop_make(problem, arena, &shop, why);
    if (st) return st;
    if (!decoder_make(&d, &shop, arena) || shop_search_make(&search, &d, seed, arena) ||
        shop_bound(&shop, arena, &bound))
        return why_no_memory(why);
    shop_search_begin(&search, &limit);
    if (!search.found)
        return why_say(why, E_LIMIT, "/tasks",
                       "No timetable was found that keeps every rule; none was proved impossible. "
                       "Give more time, or let a maximum be missed at a price.");
    if (shop_bound_late(&shop, bound.lateness, search.best.score.lateness, arena, &bound.lateness))
        return why_no_memory(why);
    /* more is known of the finish of those that are as little late as can be */
    int64_t late = search.best.score.lateness <= bound.lateness ? bound.lateness : INT64_MAX,
            finish;
    if (shop_bound_finish(&shop, late, arena, &finish)) return why_no_memory(why);
    if (finish > bound.finish) bound.finish = finish;
    const int64_t hands = bound.finish;
    int rounds = !limit.steps || limit.steps >= ROOM_STEPS ? ROOM_ROUNDS : 0;
    if (room_bound(&shop, late, bound.finish, search.best.score.finish, rounds, &limit, arena,
                   &bound.finish))
        return why_no_memory(why);
    search.hands_scarce = bound.finish == hands;
    if (shop_search_run(&search, &limit, &bound, arena)) return why_no_memory(why);
    struct timetable_answer a;
    if (!shop_search_best(&search) || answer_make(&d, arena, &a)) return why_no_memory(why);
    a.steps = search.steps;
    a.stopped = search.stopped;
    a.bound = bound;
    answer_judge(&a, problem->now);
    *out_answer = a;
    return OK;
}
