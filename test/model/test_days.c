/* Random jobs by their seeds, planned, slipped and planned again. */
#include "test/check.h"
#include "test/model/days_model.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static int unmoved(void) {
    int moved = 0;
    for (size_t i = 0; i < answer.plan.days.n; i++) {
        const struct day_task *t = &answer.plan.days.rows[i];
        const struct task_kept *k = kept_of(t);
        moved += !k || k->start_utc_min != t->start_utc_min;
    }
    return moved;
}

/* One task cannot go on for a day or two: it waits, and pieces that have nothing to do with it
 * mostly stay where they were. Adds to the tasks of other pieces, and how many of them moved. */
static void slip(int *others, int *others_moved) {
    if (!kept_n) return;
    size_t at = (size_t)below((int)kept_n);
    struct task_kept *late = &kept[at];
    late->not_before_utc_min = late->start_utc_min + DAY + below(DAY);
    enum status s = plan();
    if (s) printf("  seed %llu: %s %s\n", (unsigned long long)seed, why.field, why.text);
    CHECK(s == OK);
    if (s) return;
    judge();
    for (size_t i = 0; i < answer.plan.days.n; i++) {
        const struct day_task *t = &answer.plan.days.rows[i];
        const struct task_kept *k = kept_of(t);
        if (k == late && t->start_utc_min < late->not_before_utc_min)
            wrong(t, "goes on before it can");
        if (!strcmp(t->piece, late->piece)) continue;
        *others += 1;
        *others_moved += k && k->start_utc_min != t->start_utc_min;
    }
    late->not_before_utc_min = INT64_MIN;
}

static void seeds(uint64_t from, uint64_t to) {
    int planned = 0, impossible = 0, replanned = 0, others = 0, others_moved = 0;
    for (seed = from; seed < to; seed++) {
        random_seed(&rnd, seed);
        kept_n = 0;
        now_min = NOW;
        job_draw();
        enum status s = plan();
        bool ours = strstr(why.text, "wait for each other"); /* rules of the trade, not facts */
        if (!ours && (s == E_DOMAIN || s == E_IMPOSSIBLE)) { /* due before it comes, nobody there */
            impossible++;
            continue;
        }
        if (s)
            printf("  seed %llu: %s %s\n%s\n", (unsigned long long)seed, why.field, why.text, doc);
        CHECK(s == OK);
        if (s) continue;
        planned++;
        judge();
        time_passes(NOW);
        CHECK(plan() == OK);
        int moved = unmoved();
        if (moved)
            printf("  seed %llu: %d move though nothing happened\n", (unsigned long long)seed,
                   moved);
        CHECK(moved == 0);
        slip(&others, &others_moved);
        time_passes(NOW + below(12 * DAY));
        s = plan();
        if (s) printf("  seed %llu: %s %s\n", (unsigned long long)seed, why.field, why.text);
        CHECK(s == OK);
        if (s) continue;
        replanned++;
        judge();
    }
    printf("%d planned, %d planned again, %d impossible; %d coats found room only by stacking\n",
           planned, replanned, impossible, stacked_n);
    printf("after a slip %d of %d tasks of other pieces move\n", others_moved, others);
    CHECK(others_moved * 10 < others);
    CHECK(planned > impossible && replanned > 0);
    CHECK(wrong_n == 0);
}

/* Half of them under sanitizers, which are slower: what they look for shows in any. */
#ifdef __SANITIZE_ADDRESS__
enum { SEEDS = 60 };
#else
enum { SEEDS = 120 };
#endif

int main(int argc, char **argv) {
    uint64_t from = argc > 2 ? strtoull(argv[1], NULL, 10) : 0,
             to = argc > 2 ? strtoull(argv[2], NULL, 10) : SEEDS;
    CASE("random jobs, planned and planned again, break no rule") {
        seeds(from, to);
        CHECK(argc > 2 || stacked_n > 0);
    }
    arena_free(&arena);
    return check_done();
}
