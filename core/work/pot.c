#include "core/work/pot.h"

#include "core/work/lookup.h"

#include <math.h>
#include <string.h>

static bool same(const char *a, const char *b) {
    return a == b || (a && b && !strcmp(a, b));
}

/* The recipe of a coat's color; NULL where the coat comes out of a can or has none. */
static const struct color_plan *recipe_of(const struct piece_plan *p, const struct coat *k) {
    if (k->role != ROLE_COLOR || k->product || k->color_row > (int64_t)p->colors_n) return NULL;
    const struct color_plan *c = k->color_row > 0 ? &p->colors[k->color_row - 1] : &p->color;
    return c->lines_n ? c : NULL;
}

const char *pot_product(const struct piece_plan *p, const struct coat *k) {
    const struct color_plan *c = recipe_of(p, k);
    return c && c->lines_n == 1 ? c->lines[0].paint : k->product;
}

static double life_min(const struct tables *t, const struct shelf *s, const char *product,
                       const char *class) {
    const struct paint *can = shelf_paint(s, product);
    if (can && !isnan(can->label_pot_life_min)) return can->label_pot_life_min;
    for (size_t i = 0; class && i < t->pot_lives_n; i++)
        if (!strcmp(t->pot_lives[i].id, class)) return t->pot_lives[i].pot_life_min;
    return NAN;
}

double pot_life_min(const struct tables *t, const struct shelf *s, const struct piece_plan *p,
                    const struct coat *k) {
    const struct color_plan *c = recipe_of(p, k);
    double life = life_min(t, s, k->product, k->class);
    for (size_t i = 0; c && i < c->lines_n; i++)
        life = fmin(life, life_min(t, s, c->lines[i].paint, k->class));
    return life;
}

bool pot_hardens(const struct shelf *s, const struct piece_plan *p, const struct coat *k) {
    const struct color_plan *c = recipe_of(p, k);
    bool two = paint_two_part(shelf_paint(s, k->product));
    for (size_t i = 0; c && i < c->lines_n; i++)
        two |= paint_two_part(shelf_paint(s, c->lines[i].paint));
    return two;
}

/* Are two coats out of one pot? */
static bool one_pot(const struct coat *a, const struct coat *b) {
    return same(a->class, b->class) && a->role == b->role && a->color_row == b->color_row &&
           same(a->product, b->product);
}

static double portions(const struct coat *k, double life_min) {
    return life_min > 0 ? fmax(ceil((k->hands_min - k->ready_min) / life_min), 1) : 1;
}

double pot_portions(const struct tables *t, const struct shelf *s, const struct piece_plan *p,
                    const struct coat *k) {
    return portions(k, pot_life_min(t, s, p, k));
}

/* Pots for the coats of that kind in the group of coat `of`, each mixed anew. */
static double in_group(const struct piece_plan *p, const struct coat *of, double life_min) {
    const struct coats *c = &p->coats;
    double n = 0;
    for (size_t i = 0; i < c->n; i++)
        if (one_pot(of, &c->rows[i]) && same(of->group, c->rows[i].group))
            n += (double)(c->rows[i].coats > 0 ? c->rows[i].coats : 1) *
                 portions(&c->rows[i], life_min);
    return n;
}

/* For the first coat of each pot of the piece; NAN: it is no pot, or it is counted already. */
static double mixings(const struct tables *t, const struct shelf *s, const struct piece_plan *p,
                      size_t at) {
    const struct coats *c = &p->coats;
    const struct coat *k = &c->rows[at];
    double life = pot_life_min(t, s, p, k), most = 0;
    for (size_t i = 0; i < at; i++)
        if (one_pot(k, &c->rows[i])) return NAN;
    if (isnan(life)) return NAN;
    if (!(life < k->recoat_min)) return 1;
    for (size_t i = at; i < c->n; i++)
        if (one_pot(k, &c->rows[i])) most = fmax(most, in_group(p, &c->rows[i], life));
    return most;
}

double pot_mixings(const struct tables *t, const struct shelf *s, const struct piece_plan *p) {
    double n = 0;
    for (size_t i = 0; i < p->coats.n; i++) {
        const struct coat *k = &p->coats.rows[i];
        double times = mixings(t, s, p, i);
        if (isnan(times)) continue;
        bool batch = k->role == ROLE_COLOR && !pot_product(p, k); /* its first is the batch's own */
        n += batch ? times - 1 : times;
    }
    return n;
}
