#include "core/work/cans.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const struct paint *paint_at(const struct shelf *shelf, const char *id) {
    for (size_t i = 0; id && i < shelf->paints_n; i++)
        if (!strcmp(shelf->paints[i].id, id)) return &shelf->paints[i];
    for (size_t i = 0; id && i < shelf->gone_n; i++)
        if (!strcmp(shelf->gone[i].id, id)) return &shelf->gone[i];
    return NULL;
}

const struct paint *cans_first(const struct shelf *shelf, const struct paint *p) {
    const struct paint *at = p, *next;
    /* a circle, which cans_check refuses, ends here too */
    for (size_t i = 0; i < shelf->paints_n + shelf->gone_n; i++) {
        if (!(next = paint_at(shelf, at->can_of))) return at;
        at = next;
    }
    return p;
}

static void take_text(const char **own, const char *of) {
    if (!*own) *own = of;
}

static void take_number(double *own, double of) {
    if (isnan(*own)) *own = of;
}

static void take(struct paint *p, const struct paint *of) {
    take_text(&p->class, of->class);
    if (!p->color.text && !p->spectrum.values_n) {
        p->color = of->color;
        p->spectrum = of->spectrum;
    }
    if (!p->sheen) p->sheen = of->sheen;
    take_number(&p->size_ml, of->size_ml);
    take_number(&p->cost_cent, of->cost_cent);
    take_number(&p->density_g_per_ml, of->density_g_per_ml);
    take_number(&p->smallest_ml, of->smallest_ml);
    take_number(&p->label_spread_m2_per_l, of->label_spread_m2_per_l);
    take_number(&p->label_solids_frac, of->label_solids_frac);
    take_number(&p->label_touch_min, of->label_touch_min);
    take_number(&p->label_recoat_min, of->label_recoat_min);
    take_number(&p->label_recoat_until_min, of->label_recoat_until_min);
    take_number(&p->label_handle_min, of->label_handle_min);
    take_number(&p->label_cure_min, of->label_cure_min);
    take_number(&p->label_lowest_degc, of->label_lowest_degc);
    take_number(&p->label_pot_life_min, of->label_pot_life_min);
    if (p->hides_in == INT64_MIN) p->hides_in = of->hides_in;
}

void cans_fill(struct shelf *shelf) {
    for (size_t i = 0; i < shelf->paints_n; i++) {
        struct paint *p = &shelf->paints[i];
        const struct paint *of = p;
        for (size_t k = shelf->paints_n + shelf->gone_n; k && (of = paint_at(shelf, of->can_of));
             k--)
            take(p, of);
    }
}

enum status cans_check(const struct shelf *shelf, const struct paint *p, const char *at,
                       struct why *why) {
    char field[128];
    if (!p->can_of) return OK;
    snprintf(field, sizeof field, "%.100s/can_of", at);
    const struct paint *of = paint_at(shelf, p->can_of);
    if (!of)
        return why_say(why, E_REFERENCE, field,
                       "There is no paint \"%.64s\" on the shelf. Write the id of the paint that "
                       "this is another can of.",
                       p->can_of);
    for (size_t i = 0; of && i <= shelf->paints_n + shelf->gone_n; i++) {
        if (!strcmp(of->id, p->id))
            return why_say(why, E_DOMAIN, field,
                           "\"%.64s\" would be another can of itself. Name the paint that was "
                           "known first.",
                           p->id);
        of = paint_at(shelf, of->can_of);
    }
    of = paint_at(shelf, p->can_of);
    if (p->leftover_of_n || of->leftover_of_n)
        return why_say(why, E_DOMAIN, field,
                       "\"%.64s\" is a leftover, mixed here: no can of it can be bought.",
                       p->leftover_of_n ? p->id : of->id);
    if (p->class && of->class && strcmp(p->class, of->class))
        return why_say(why, E_DOMAIN, field,
                       "\"%.64s\" is of another kind (%.64s, not %.64s): what was learned of one "
                       "does not hold for the other.",
                       p->can_of, of->class, p->class);
    return OK;
}
