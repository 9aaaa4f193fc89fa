/* Whatever the solver answers keeps every rule, as an independent judge sees it. */
#include "test/check.h"
#include "test/model/timetable_draw.h"
#include "test/model/timetable_judge.h"

int main(void) {
    static struct drawn d;
    int solved = 0, impossible = 0, gave_up = 0;
    CASE("20,000 random workshops: each answer keeps every rule") {
        for (uint64_t seed = 0; seed < 20000; seed++) {
            draw_shop(&d, seed, 2 + (int)(seed % 11));
            struct arena arena;
            arena_init(&arena, alloc_heap(), 0);
            struct timetable_answer a;
            struct why why = {0};
            enum status st =
                timetable_solve(&d.problem, (struct limit){.steps = 1}, 1, &arena, &a, &why);
            const char *bad = st ? NULL : timetable_judge(&d.problem, &a);
            if (bad) printf("seed %d: %s\n", (int)seed, bad);
            CHECK(!bad);
            CHECK(st == OK || st == E_IMPOSSIBLE || st == E_LIMIT);
            solved += st == OK, impossible += st == E_IMPOSSIBLE, gave_up += st == E_LIMIT;
            arena_free(&arena);
        }
        printf("solved %d, proved impossible %d, none found %d\n", solved, impossible, gave_up);
        CHECK(solved > 10000);
    }
    return check_done();
}
