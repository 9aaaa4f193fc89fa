/* The client's signed sample: no batch is made and no color goes on before it. */
#include "core/work/day_build.h"
#include "core/work/day_hours.h"
#include "core/work/day_waits.h"
#include "core/work/fact.h"

#include <math.h>
#include <string.h>

const struct notice *day_waits_sample(const struct piece_plan *p) {
    const struct notices *n = &p->agreement;
    for (size_t i = 0; i < n->n && !p->hazards.refused; i++)
        if (n->rows[i].rank == RANK_STOP && !strcmp(n->rows[i].topic, "sample")) return &n->rows[i];
    return NULL;
}

/* Its own, or the card that it shares with the piece whose batch serves it. */
static bool is(const struct day_build *b, size_t task, const char *operation) {
    const struct day_meta *m = &b->out->meta[task];
    const char *of = day_piece(b)->batch_of;
    bool shared =
        of && !strcmp(operation, "sample_card") && !strcmp(b->plan->pieces[m->piece].id, of);
    return (m->piece == b->piece || shared) && m->operation && !strcmp(m->operation, operation);
}

/* The card or the board is what they sign: it must be dry, and they take their time. */
static bool after_what_is_signed(struct day_build *b, int yes, const char *operation,
                                 double answer_min) {
    const struct operations_row *op = operation_row(b->t, operation);
    bool any = false;
    for (size_t i = 0; op && i < b->out->n; i++) {
        if (!is(b, i, operation)) continue;
        day_lag_add(b, day_after((int)i, yes, op->wait_min + answer_min, TIMETABLE_NONE));
        any = true;
    }
    return any;
}

/* A batch of a color, no mixing of primer and hardener: some color coat comes after it. */
static bool is_batch(const struct day_build *b, size_t task) {
    bool mixes = is(b, task, "mix_batch") || is(b, task, "mix_pot");
    for (size_t k = 0; mixes && k < b->out->lags_n; k++) {
        const struct coat *c = b->out->meta[b->out->lags[k].to].coat;
        if (b->out->lags[k].from == (int)task && c && c->role == ROLE_COLOR) return true;
    }
    return false;
}

static bool is_color(const struct day_build *b, size_t task) {
    const struct day_meta *m = &b->out->meta[task];
    return m->piece == b->piece && m->coat && m->coat->role == ROLE_COLOR;
}

void day_sample(struct day_build *b) {
    const struct piece_plan *p = day_piece(b);
    const struct waits_row *row = day_waits_row(b->t, "client");
    if (!row || !day_waits_sample(p)) return;
    int yes = day_task_add(
        b, (struct day_meta){.kind = DAY_JOIN, .name = DAY_SAMPLE, .waits_for = DAY_SAMPLE}, false);
    if (yes == TIMETABLE_NONE) return;
    int64_t said = p->piece.agreement.sample_expected_day;
    double answer_min = said == INT64_MIN ? row->usual_days * 1440 : 0;
    bool shown = after_what_is_signed(b, yes, "sample_card", answer_min);
    shown = shown || after_what_is_signed(b, yes, "test_board", answer_min);
    int64_t at = said != INT64_MIN ? day_utc_of_local(b->o, said * 1440)
                 : shown           ? INT64_MIN
                                   : b->ask->begin_utc_min + (int64_t)answer_min;
    b->out->tasks[yes].wait = day_waits_at_least(b->o, b->ask, at);
    if (said == INT64_MIN)
        assume_number(b->l,
                      arena_print(b->l->arena, "/pieces/%zu/agreement/sample_expected", b->piece),
                      answer_min, DIM_DURATION, row->why, row->source);
    for (size_t i = 0; i < (size_t)yes; i++)
        if (is_color(b, i) || is_batch(b, i))
            day_lag_add(b, day_after(yes, (int)i, 0, TIMETABLE_NONE));
}
