/* How long hands need: rows of data/operations.tsv scaled by condition, profile and tool.
 * The numbers are defaults of common practice, to be replaced by the shop's own records. */
#include "core/work/coats_build.h"
#include "core/work/learn.h"
#include "core/work/method.h"

#include <math.h>
#include <string.h>

/* Worn and damaged surfaces take longer to clean and scuff; a film that fails strips no slower, and
 * coats go on as fast as ever. */
static double condition_factor(const struct tables *t, enum condition condition, const char *role) {
    if (strcmp(role, "clean") != 0 && strcmp(role, "scuff") != 0) return 1;
    switch (condition) {
    case CONDITION_SOUND: return figure(t, FIGURES_SOUND_SLOW);
    case CONDITION_WORN: return figure(t, FIGURES_WORN_SLOW);
    case CONDITION_DAMAGED: return figure(t, FIGURES_DAMAGED_SLOW);
    case CONDITION_FLAKING: return figure(t, FIGURES_FLAKING_SLOW);
    case CONDITION_UNSAID: break;
    }
    return 1;
}

/* Much of the same goes faster. */
static double economy(const struct tables *t, double all_m2) {
    double usual_m2 = figure(t, FIGURES_ECONOMY_M2);
    return all_m2 > usual_m2 ? pow(all_m2 / usual_m2, -figure(t, FIGURES_ECONOMY_EXPONENT)) : 1;
}

double effort_ready_min(const struct build *b, const struct lot *lot,
                        const struct operations_row *op, double area_m2, double *out_session_min) {
    bool sprays = method_sprays(b->r->t, lot->group->tool) && !isnan(op->spray_per_m2_min);
    /* spots and effects lie here and there: getting ready for them goes by the whole lot */
    bool spots = !strcmp(op->role, "spot_seal") || !strcmp(op->role, "effect");
    double share = b->total_m2 > 0 ? (spots ? lot->area_m2 : area_m2) / b->total_m2 : 1;
    const struct learnt *pace = learnt_of(b->r->shop, b->r->piece->id, "hours", op->id, NULL);
    *out_session_min = (pace ? pace->factor : 1) * (sprays ? op->spray_fixed_min : op->fixed_min);
    return *out_session_min * fmin(share, 1);
}

/* Each further piece of a set is taken up, turned and set down at every step: the lot's share. */
static double handling_min(const struct build *b, double area_m2) {
    const struct operations_row *op = operation_row(b->r->t, "handle");
    int64_t count = b->r->piece->count, more = count > 1 ? count - 1 : 0;
    double share = b->total_m2 > 0 ? fmin(area_m2 / b->total_m2, 1) : 1;
    return op && more ? op->each_min * (double)more * share : 0;
}

double effort_alone_min(const struct build *b, const struct lot *lot,
                        const struct operations_row *op, double area_m2) {
    struct build one = *b;
    struct piece piece = *b->r->piece;
    struct room room = *b->r;
    double n = piece.count > 1 ? (double)piece.count : 1;
    struct lot part = *lot;
    piece.count = 1, room.piece = &piece, one.r = &room;
    one.total_m2 /= n, part.area_m2 /= n;
    return effort_min(&one, &part, op, area_m2 / n);
}

double effort_min(const struct build *b, const struct lot *lot, const struct operations_row *op,
                  double area_m2) {
    double per_m2 = op->per_m2_min, slow = lot->slow, session;
    if (method_sprays(b->r->t, lot->group->tool) && !isnan(op->spray_per_m2_min)) {
        per_m2 = op->spray_per_m2_min;
        slow = 1 + (slow - 1) / 2; /* a gun minds turnings less than a brush */
    }
    const struct learnt *pace = learnt_of(b->r->shop, b->r->piece->id, "hours", op->id, NULL);
    return effort_ready_min(b, lot, op, area_m2, &session) + handling_min(b, area_m2) +
           (pace ? pace->factor : 1) * per_m2 * area_m2 * slow * economy(b->r->t, b->total_m2) *
               condition_factor(b->r->t, b->r->piece->condition, op->role);
}

double joinery_h(const struct tables *t, const char *rate, double area_m2) {
    for (size_t i = 0; i < t->joinery_rates_n; i++)
        if (!strcmp(t->joinery_rates[i].id, rate)) return t->joinery_rates[i].h_per_m2 * area_m2;
    return NAN;
}
