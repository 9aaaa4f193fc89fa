#include "core/work/batch_share.h"

#include "core/base/units.h"
#include "core/color/color.h"
#include "core/work/color_plan.h"
#include "core/work/day_build.h"

#include <math.h>
#include <string.h>

/* The piece's own color, as far as it is no can; NULL: it has none. */
static const struct amount *amount_of_color(const struct piece_plan *p) {
    for (size_t i = 0; i < p->amounts.n; i++) {
        const struct amount *a = &p->amounts.rows[i];
        if (a->role == ROLE_COLOR && !a->color_row && !a->product) return a;
    }
    return NULL;
}

static bool alike(const char *a, const char *b) {
    return a == b || (a && b && !strcmp(a, b));
}

static bool one_color(const struct color_said *a, const struct color_said *b) {
    if (!a->text || !b->text) return false;
    struct lab x = {a->lab[0], a->lab[1], a->lab[2]}, y = {b->lab[0], b->lab[1], b->lab[2]};
    return !strcmp(a->text, b->text) || ciede2000(x, y) < COLOR_UNSEEN;
}

/* Of one owner, in one color of one kind of paint: they are to look alike. */
static bool sisters(const struct piece_plan *a, const struct piece_plan *b) {
    const struct amount *x = amount_of_color(a), *y = amount_of_color(b);
    return x && y && alike(x->class, y->class) &&
           one_color(&a->piece.wanted.color, &b->piece.wanted.color) &&
           alike(a->piece.agreement.client, b->piece.agreement.client);
}

/* ---- what is left in the cup ---- */

/* Those without a sister's cup, then those that have a batch of their own besides, the older
 * first, for the younger filled up what was short; then those that only take. */
static int rank_of(const struct piece *p) {
    return !p->sister_batch ? 0 : p->batch ? 1 : 2;
}

static bool before(const struct piece *a, const struct piece *b) {
    if (rank_of(a) != rank_of(b)) return rank_of(a) < rank_of(b);
    return rank_of(a) == 1 && a->batch->made_utc_min < b->batch->made_utc_min;
}

size_t *batch_order(const struct job *job, const struct plan_options *o, struct arena *arena) {
    size_t *order = arena_array(arena, job->pieces_n, sizeof *order);
    bool cups = false;
    for (size_t i = 0; i < job->pieces_n; i++) cups |= job->pieces[i].sister_batch != NULL;
    for (size_t n = 0; order && n < job->pieces_n; n++) {
        /* the days' turn, that does not hang on which piece is asked for */
        size_t i = cups ? day_piece_in_turn(o, job->pieces_n, n) : n, k = n;
        for (; k && before(&job->pieces[i], &job->pieces[order[k - 1]]); k--)
            order[k] = order[k - 1];
        order[k] = i;
    }
    return order;
}

void batch_cup(const struct plan *plan, const struct piece_plan *p, struct room *r) {
    const struct mixed_batch *cup = r->piece->sister_batch;
    const struct amount *mine = amount_of_color(p);
    r->cup = NULL;
    r->cup_ml = r->cup_need_ml = 0;
    if (!cup || !mine || !alike(cup->class, mine->class)) return;
    double left = cup->ml - cup->taken_ml;
    for (size_t i = 0; i < plan->pieces_n; i++) {
        const struct piece_plan *q = &plan->pieces[i];
        const struct amount *theirs = amount_of_color(q);
        if (q == p) continue;
        if (!q->id) { /* planned later: an owner's batch, if any, is for what is short there */
            if (r->piece->batch && q->piece.batch) left = 0;
        } else if (sisters(p, q) && (q->piece.batch ? !cup->left : q->color.batch != NULL))
            left -= q->piece.batch ? theirs->need_ml : theirs->mixed_ml;
    }
    if (cup->left && left < mine->need_ml) return; /* a jar like others, to be mixed from */
    r->cup = cup;
    r->cup_ml = left >= r->shop->smallest_ml ? left : 0;
    r->cup_need_ml = mine->need_ml;
}

/* ---- who makes it ---- */

/* What keeps a piece from a batch of its own. */
enum share {
    SHARE_NONE,   /* one paint, or a batch of its own of which more is to be mixed */
    SHARE_TO_MIX, /* its batch is to be mixed */
    SHARE_MIXED   /* there is enough of one */
};

static enum share share_of(const struct piece_plan *p) {
    const struct amount *a = p->color.mixes ? amount_of_color(p) : NULL;
    if (!a) return SHARE_NONE;
    if (p->color.batch && a->mixed_ml >= a->need_ml) return SHARE_MIXED;
    return p->piece.batch ? SHARE_NONE : SHARE_TO_MIX;
}

/* The piece that it was mixed for. */
static const char *mixed_for(const struct piece_plan *p) {
    return p->piece.batch ? p->id : p->piece.sister_batch->piece_id;
}

static bool shares(const struct piece_plan *a, const struct piece_plan *b) {
    enum share s = share_of(a);
    if (s == SHARE_NONE || s != share_of(b) || !sisters(a, b)) return false;
    return s == SHARE_TO_MIX || alike(mixed_for(a), mixed_for(b));
}

/* How much one likely takes: that hangs on no recipe, so that each sheet says the same shares. */
static double need_ml(const struct piece_plan *p) {
    return amount_of_color(p)->need_ml;
}

static double to_mix_ml(const struct piece_plan *p) {
    const struct amount *a = amount_of_color(p);
    return a->mix_ml - a->mixed_ml;
}

static bool has_begun(const struct plan_options *o, const struct piece_plan *p) {
    size_t n = strlen(p->id);
    for (size_t i = 0; i < o->kept_n; i++) {
        const struct task_kept *k = &o->kept[i];
        if (k->begun_utc_min == INT64_MIN || strcmp(k->piece, p->id) || strncmp(k->id, p->id, n))
            continue;
        if (!strcmp(k->id + n, "-card") || !strcmp(k->id + n, "-mix")) return true;
    }
    return false;
}

/* Whose tasks card and batch are: of the one where either has begun, else for whom it was mixed,
 * else of the first in the days' turn. */
static const char *maker_of(const struct plan *plan, const struct plan_options *o,
                            const struct piece_plan *p) {
    const struct piece_plan *owner = NULL, *first = NULL;
    for (size_t turn = 0; turn < plan->pieces_n; turn++) {
        const struct piece_plan *q = &plan->pieces[day_piece_in_turn(o, plan->pieces_n, turn)];
        if (!shares(p, q)) continue;
        if (has_begun(o, q)) return q->id;
        if (!first) first = q;
        if (q->piece.batch) owner = q;
    }
    return owner ? owner->id : share_of(p) == SHARE_MIXED ? mixed_for(p) : first->id;
}

static void say_to_mix(struct piece_plan *p, const char *with, double all_ml, struct ledger *l) {
    const char *amount = l->metric ? arena_print(l->arena, "%.0f ml", all_ml)
                                   : arena_print(l->arena, "%.4g fl oz", all_ml / ML_PER_US_FL_OZ);
    notice_add(l, &p->amounts.notices, RANK_MIND, "batch",
               arena_print(l->arena,
                           "Mix one batch for this and %s, by one recipe: %s in all. Two batches "
                           "never match.",
                           with, amount),
               "CP", CERTAINTY_COMMON);
}

void batches_join(struct plan *plan, const struct plan_options *o, struct ledger *l) {
    for (size_t i = 0; i < plan->pieces_n; i++) {
        struct piece_plan *p = &plan->pieces[i];
        const enum share share = share_of(p);
        const char *with = NULL;
        bool owner_here = false;
        double all_ml = 0, all_to_mix_ml = 0;
        if (share == SHARE_NONE) continue;
        for (size_t k = 0; k < plan->pieces_n; k++) {
            const struct piece_plan *q = &plan->pieces[k];
            if (!shares(p, q)) continue;
            all_ml += need_ml(q);
            all_to_mix_ml += to_mix_ml(q);
            owner_here |= q->piece.batch != NULL;
            const char *title = q->title ? q->title : q->id;
            if (k != i) with = with ? arena_print(l->arena, "%s, %s", with, title) : title;
        }
        if (share == SHARE_MIXED && !owner_here) all_ml += p->piece.sister_batch->taken_ml;
        if (!with && (share == SHARE_TO_MIX || p->piece.batch)) continue;
        const char *maker = maker_of(plan, o, p);
        if (strcmp(maker, p->id) != 0) p->batch_of = maker;
        if (all_ml > 0) p->batch_others_frac = 1 - need_ml(p) / all_ml;
        if (share == SHARE_TO_MIX) say_to_mix(p, with, all_to_mix_ml, l);
    }
}
