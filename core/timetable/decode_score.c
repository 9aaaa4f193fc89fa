#include "core/timetable/decode.h"

bool score_less(const struct timetable_score *a, const struct timetable_score *b) {
    if (a->lateness != b->lateness) return a->lateness < b->lateness;
    if (a->finish != b->finish) return a->finish < b->finish;
    return a->sittings < b->sittings;
}

/* Sittings of one person: runs of work with pauses no longer than the gap allowed. */
static int32_t sittings(const struct decoder *d, int q) {
    const struct diary *diary = &d->diaries[q];
    const struct hours *h = &d->shop->hours[q];
    int64_t last = INT64_MIN, gap = d->shop->p->sitting_gap_min;
    int32_t n = 0;
    int w = 0;
    for (int i = 0; i < diary->n; i++) {
        const struct diary_block *b = &diary->blocks[i];
        if (d->shop->p->tasks[b->task].state == TIMETABLE_FIXED) {
            if (last == INT64_MIN || b->from - last > gap) n++;
            last = b->to;
            continue;
        }
        while (w < h->n && h->windows[w].to <= b->from) w++;
        for (int v = w; v < h->n && h->windows[v].from < b->to; v++) {
            int64_t from = later(b->from, h->windows[v].from);
            int64_t to = b->to < h->windows[v].to ? b->to : h->windows[v].to;
            if (last == INT64_MIN || from - last > gap) n++;
            last = to;
        }
    }
    return n;
}

struct timetable_score decode_score(const struct decoder *d) {
    const struct timetable_problem *p = d->shop->p;
    struct timetable_score s = {0, p->now, 0};
    for (int i = 0; i < p->tasks_n; i++) {
        if (!d->stand[i].placed) continue;
        const struct timetable_task *t = &p->tasks[i];
        s.finish = later(s.finish, d->stand[i].end);
        if (t->due != TIMETABLE_UNSAID && d->stand[i].end > t->due)
            s.lateness += t->weight * (d->stand[i].end - t->due);
    }
    for (int q = 0; q < p->persons_n; q++) s.sittings += sittings(d, q);
    return s;
}
