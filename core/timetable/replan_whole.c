/* Whole timetables after a slip, where mending task by task leaves more lateness than must be.
 *
 * First the old order with no task before its old time (right shift, Abumaizar and Svestka 1997,
 * IJPR 35); then what cannot stay gives way, everything else is placed first, where it was, and it
 * takes the gaps; then the tasks that must follow the moved ones, and at last all, are set free. */
#include "core/timetable/replan_inside.h"

#include <string.h>

enum { ROUNDS = 60, MENDS = 55000 /* timetables begun to move less, times tasks */ };

static const double BEHIND = 1e9; /* minutes: after all others */

/* Who gives way: what cannot stay; that with what comes after it; or others to that. */
enum giving { ITSELF, WITH_AFTER, OTHERS };

/* Who gives way goes last and takes the gaps; the first that this moves in turn, or all of them,
 * do so the next time. */
static void give_way(struct replan *r, bool *last, bool *stays, enum giving giving, bool all) {
    const int n = r->p->tasks_n;
    for (int i = 0; i < n; i++) last[i] = replan_displaced(r, i), stays[i] = false;
    if (giving != ITSELF) replan_mark_after(r, last);
    for (int i = 0; giving == OTHERS && i < n; i++) stays[i] = last[i], last[i] = false;
    for (int round = 0; round < ROUNDS; round++) {
        replan_rank(r);
        for (int i = 0; i < n; i++)
            if (last[i]) r->rank[i] += BEHIND;
        replan_attempt(r, round % 2 == 0, NULL);
        int first = -1; /* the others may have moved only because of this one */
        for (int i = 0; i < n; i++) {
            const struct timetable_place *was = replan_old_place(r, i);
            if (last[i] || stays[i] || !was || !replan_open(r, i) ||
                r->d.stand[i].start == was->start)
                continue;
            if (all) last[i] = true;
            if (first < 0 || was->start < replan_old_place(r, first)->start) first = i;
        }
        if (first < 0 && round > 0) return;
        if (first >= 0) last[first] = true;
        if (giving == OTHERS) {
            replan_mark_after(r, last);
            for (int i = 0; i < n; i++) last[i] &= !stays[i];
        }
    }
}

/* Pieces one of whose tasks stands later than before in the decoder's timetable. */
static void free_moved_pieces(const struct replan *r, bool *free) {
    for (int i = 0; i < r->p->tasks_n; i++) {
        const struct timetable_place *was = replan_old_place(r, i);
        free[i] = !was || (replan_open(r, i) && r->d.stand[i].start != was->start);
    }
    for (int i = 0; i < r->p->tasks_n; i++)
        for (int k = 0; k < r->p->tasks_n && !free[i]; k++)
            free[i] = free[k] && r->p->tasks[k].piece >= 0 &&
                      r->p->tasks[k].piece == r->p->tasks[i].piece && replan_open(r, i);
}

/* Promises first among the free ones, each time another weight of the due date. */
static void search_free(struct replan *r, const bool *free, struct limit limit, uint64_t tries,
                        struct random *random, int64_t least) {
    for (uint64_t k = 0; k < tries && (!r->best.found || r->best.lateness > least); k++) {
        if (limit_asked(&limit)) return;
        replan_rank(r);
        double ahead = random_unit(random) * 4 * 1440;
        for (int i = 0; i < r->p->tasks_n; i++)
            if (!free || free[i]) r->rank[i] -= ahead * random_unit(random);
        replan_attempt(r, k % 2 == 0, NULL);
    }
}

/* Lets a few other tasks stay or give way, as long as that is less late or moves less. */
static void mend(struct replan *r, struct kept *from, bool *mark, uint64_t rounds,
                 const struct limit *limit, struct random *random) {
    const int n = r->p->tasks_n;
    uint64_t most = r->d.rounds + rounds;
    for (int k = 0; r->d.rounds < most && from->found && from->moved > 0; k++) {
        if (k % 8 == 0 && limit_asked(limit)) return;
        replan_take_up(r, from);
        int changes = 1 + (int)random_below(random, 3);
        for (int c = 0; c < changes; c++) {
            int i = (int)random_below(random, (uint32_t)n);
            for (int t = 0; t < 3 && !from->shifted[i]; t++) /* mostly one that moves */
                i = (int)random_below(random, (uint32_t)n);
            const struct timetable_place *was = replan_old_place(r, i);
            if (!was || !replan_open(r, i)) continue;
            double old = (double)(was->start - r->p->now);
            switch (random_below(random, 6)) {
            case 4:
            case 5:
                memset(mark, 0, (size_t)n * sizeof *mark);
                mark[i] = true;
                replan_mark_after(r, mark);
                for (int m = 0; m < n; m++)
                    if (mark[m] && replan_old_place(r, m))
                        r->rank[m] = (double)(replan_old_place(r, m)->start - r->p->now) + BEHIND;
                break;
            case 0: r->rank[i] = old; break;
            case 1: r->rank[i] = old + BEHIND * (1 + random_unit(random)); break;
            case 2: r->rank[i] = old + 2 * 1440 * (random_unit(random) - .5); break;
            default: r->d.keep_person[i] = TIMETABLE_ANYBODY;
            }
        }
        replan_attempt(r, random_below(random, 8) ? from->keeps : !from->keeps, from);
    }
}

void replan_whole(struct replan *r, bool *free, bool *stays, struct limit limit, int64_t bound,
                  struct random *random) {
    size_t n = (size_t)r->p->tasks_n + 1;
    replan_wish(r, NULL);
    for (int way = 0; way < 6; way++) give_way(r, free, stays, (enum giving)(way / 2), way % 2);
    int64_t least = bound > r->old->score.lateness ? bound : r->old->score.lateness;
    uint64_t tries = limit.steps ? limit.steps : 60;
    if (!r->best.found || r->best.lateness > least) {
        if (r->best.found)
            free_moved_pieces(r, free);
        else
            memset(free, 1, n * sizeof *free);
        replan_wish(r, free);
        search_free(r, free, limit, tries / 2, random, least);
    }
    if (!r->best.found) {
        memset(free, 1, n * sizeof *free);
        replan_wish(r, free);
        search_free(r, NULL, limit, tries, random, least);
    }
    if (r->lean.found && r->lean.moved < r->best.moved)
        mend(r, &r->lean, free, MENDS / n, &limit, random);
    mend(r, &r->best, free, MENDS / n, &limit, random);
}
