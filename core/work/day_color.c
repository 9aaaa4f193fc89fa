/* What must be there before a coat can go on: test board, sample card, a fresh batch. */
#include "core/work/day_build.h"
#include "core/work/fact.h"
#include "core/work/learn.h"
#include "core/work/pot.h"
#include "core/work/wood.h"

#include <math.h>
#include <string.h>

/* Work on the color before it may go on: minutes by the operations table and the shop's pace. */
static int color_task(struct day_build *b, const char *id, const char *name, const char *operation,
                      bool dries) {
    const struct operations_row *op = operation_row(b->t, operation);
    const struct learnt *pace =
        learnt_of(&b->plan->shop, day_piece(b)->id, "hours", operation, NULL);
    double min = op ? (op->fixed_min + op->each_min) * (pace ? pace->factor : 1) : 0;
    return day_task_add(
        b,
        (struct day_meta){
            .id = id, .name = name, .operation = operation, .hands_min = min, .drying = dries},
        false);
}

/* Every color coat of a row of colors waits for that task; color_row -1: of all. */
static void color_waits(struct day_build *b, int task, double wait, int64_t color_row,
                        size_t first_task, size_t last) {
    for (size_t i = first_task; i < last; i++) {
        const struct coat *k = b->out->meta[i].coat;
        if (!k || k->role != ROLE_COLOR || (color_row >= 0 && k->color_row != color_row)) continue;
        int row = day_lag_add(b, day_after(task, (int)i, wait, TIMETABLE_NONE));
        if (wait > 0 && b->out->meta[task].dry_lag == TIMETABLE_NONE)
            b->out->meta[task].dry_lag = row;
    }
}

void day_test_board(struct day_build *b, const struct day_chain *start, size_t first_task) {
    const struct coats *c = &day_piece(b)->coats;
    if (!c->test_board) return;
    double wait = figure(b->t, FIGURES_BOARD_DRY_MIN);
    const char *group = NULL;
    size_t last = b->out->n;
    for (size_t i = 0; i < c->n; i++) {
        const struct coat *k = &c->rows[i];
        if (!day_is_film(k->role) || isnan(k->recoat_min)) continue;
        if (!group) group = k->group ? k->group : "";
        if (!strcmp(group, k->group ? k->group : ""))
            wait += k->recoat_min * (double)(k->coats > 1 ? k->coats : 1);
    }
    bool wood = !wood_is_board(b->t, day_piece(b)->piece.wood);
    int board =
        color_task(b, arena_print(b->l->arena, "%s-board", day_piece(b)->id),
                   c->test_first ? "Test patch: a hidden place cleaned, scuffed, the whole system"
                   : wood        ? "Test board: the whole system on this wood"
                                 : "Test board: the whole system on a piece of the same board",
                   "test_board", true);
    if (board == TIMETABLE_NONE) return;
    if (c->test_first) day_gate(b, board, "scuff"); /* that is dust of the old film */
    if (start->last != TIMETABLE_NONE)
        day_lag_add(b, day_after(start->last, board, 0, TIMETABLE_NONE));
    color_waits(b, board, wait, -1, first_task, last);
    for (size_t i = first_task; i < last && c->test_first; i++) {
        const struct coat *k = b->out->meta[i].coat;
        if (k && day_is_film(k->role))
            day_lag_add(
                b, day_after(board, (int)i, figure(b->t, FIGURES_PATCH_DRY_MIN), TIMETABLE_NONE));
    }
}

/* ---- pot life ---- */

static double life_of(const struct day_build *b, const struct coat *k) {
    return pot_life_min(b->t, b->ask->shelf, day_piece(b), k);
}

/* Mixing anew costs what mixing costs. */
static int32_t pot_price_min(const struct day_tasks *d, int mix) {
    return d->tasks[mix].work_min > 0 ? d->tasks[mix].work_min : 1;
}

/* A coat must have been laid on before its mix is too old; else it is mixed anew. Only for the
 * first coat of it is it never too old: nobody mixes for another day. A mix that dies before the
 * coat is on is made in portions: the first of them goes on as soon as the tool is ready. */
static void pot_lag(struct day_build *b, int mix, int coat, bool first) {
    double life = life_of(b, b->out->meta[coat].coat);
    if (isnan(life)) return;
    struct timetable_lag lag = day_after(mix, coat, 0, TIMETABLE_NONE);
    const struct timetable_task *t = &b->out->tasks[coat];
    double ready = t->setup == TIMETABLE_NONE ? 0 : b->out->setups[t->setup].setup_min;
    lag.max_min = (int64_t)fmax(floor(life) - t->work_min, ready);
    lag.scuff_min = first ? -1 : pot_price_min(b->out, mix);
    int row = day_lag_add(b, lag);
    if (row != TIMETABLE_NONE) b->out->meta[coat].pot_lag = row;
}

bool day_pots_loosen(struct day_tasks *d, bool all) {
    bool some = false;
    for (size_t i = 0; i < d->n; i++) {
        struct timetable_lag *lag =
            d->meta[i].pot_lag == TIMETABLE_NONE ? NULL : &d->lags[d->meta[i].pot_lag];
        if (!lag || lag->scuff_min >= 0 || lag->max_min == TIMETABLE_UNSAID) continue;
        bool mixed = d->tasks[lag->from].state == TIMETABLE_FIXED;
        if (!all && !mixed) continue;
        lag->scuff_min = pot_price_min(d, lag->from);
        some = true;
    }
    return some;
}

/* Of several paints: a batch is made of it, with a card before. */
static bool is_batch(const struct day_build *b, const struct coat *k) {
    return k->role == ROLE_COLOR && !pot_product(day_piece(b), k);
}

static bool same(const char *a, const char *b) {
    return a == b || (a && b && !strcmp(a, b));
}

/* What comes out of a can but must be mixed with something: powder and water, paint and hardener.
 * One mixing task for each product, before the first of its coats. */
static void pots(struct day_build *b, size_t first_task, size_t last) {
    for (size_t i = first_task; i < last; i++) {
        const struct coat *k = b->out->meta[i].coat;
        if (!k || is_batch(b, k) || isnan(life_of(b, k)) ||
            b->out->meta[i].pot_lag != TIMETABLE_NONE)
            continue;
        const char *product = pot_product(day_piece(b), k), *what = product ? product : k->class;
        const struct paint *can = shelf_paint(b->ask->shelf, product);
        const char *name = can && can->name ? can->name : what;
        int mix = color_task(b, arena_print(b->l->arena, "%s-pot-%s", day_piece(b)->id, what),
                             arena_print(b->l->arena, "Mix %s", name), "mix_pot", false);
        if (mix == TIMETABLE_NONE) return;
        for (size_t j = i; j < last; j++) {
            const struct coat *other = b->out->meta[j].coat;
            if (other && !is_batch(b, other) && same(pot_product(day_piece(b), other), product) &&
                same(other->class, k->class))
                pot_lag(b, mix, (int)j, j == i);
        }
    }
}

void day_mixing(struct day_build *b, size_t first_task) {
    const struct piece_plan *p = day_piece(b);
    size_t last = b->out->n;
    for (size_t i = 0; i <= p->colors_n; i++) {
        const struct color_plan *c = i ? &p->colors[i - 1] : &p->color;
        if (!c->mixes || (!i && p->batch_of)) continue;
        const char *which = i ? arena_print(b->l->arena, "-%zu", i + 1) : "";
        const char *of =
            c->target.text && p->colors_n ? arena_print(b->l->arena, " of %s", c->target.text) : "";
        int card = color_task(b, arena_print(b->l->arena, "%s-card%s", p->id, which),
                              arena_print(b->l->arena, "Sample card%s", of), "sample_card", true);
        int batch = color_task(b, arena_print(b->l->arena, "%s-mix%s", p->id, which),
                               arena_print(b->l->arena, "Mix the batch%s", of), "mix_batch", false);
        if (card == TIMETABLE_NONE || batch == TIMETABLE_NONE) return;
        const struct operations_row *op = operation_row(b->t, "sample_card");
        b->out->meta[card].dry_lag =
            day_lag_add(b, day_after(card, batch, op ? op->wait_min : 0, TIMETABLE_NONE));
        color_waits(b, batch, 0, (int64_t)i, first_task, last);
        for (size_t k = first_task; k < last; k++)
            if (b->out->meta[k].coat && is_batch(b, b->out->meta[k].coat) &&
                b->out->meta[k].coat->color_row == (int64_t)i)
                pot_lag(b, batch, (int)k, false);
    }
    pots(b, first_task, last);
}

/* ---- one batch for several pieces ---- */

/* The task of the piece whose batch this one is painted from; TIMETABLE_NONE: there is none. */
static int task_named(const struct day_build *b, const char *piece, const char *tail) {
    size_t n = strlen(piece);
    for (size_t i = 0; i < b->out->n; i++) {
        const char *id = b->out->meta[i].id;
        if (id && !strncmp(id, piece, n) && !strcmp(id + n, tail) &&
            !strcmp(b->plan->pieces[b->out->meta[i].piece].id, piece))
            return (int)i;
    }
    return TIMETABLE_NONE;
}

void day_batch_shared(struct day_build *b) {
    const struct piece_plan *p = day_piece(b);
    if (!p->batch_of || !p->color.mixes) return;
    int batch = task_named(b, p->batch_of, "-mix");
    for (size_t i = 0; i < b->out->n && batch != TIMETABLE_NONE; i++) {
        const struct coat *k = b->out->meta[i].coat;
        if (b->out->meta[i].piece != b->piece || !k || k->role != ROLE_COLOR || k->color_row)
            continue;
        day_lag_add(b, day_after(batch, (int)i, 0, TIMETABLE_NONE));
        if (is_batch(b, k)) pot_lag(b, batch, (int)i, false);
    }
}
