/* Coats as tasks: each group's in a chain of its own, the back of what is coated on both sides
 * before its show face, set-up and clean-up beside the work. */
#include "core/work/day_build.h"
#include "core/work/day_setups.h"
#include "core/work/method.h"
#include "core/work/pot.h"
#include "core/work/shape.h"

#include <math.h>
#include <string.h>

bool day_is_film(enum coat_role r) {
    return r == ROLE_SPOT_SEAL || r == ROLE_BARRIER || r == ROLE_PRIMER || r == ROLE_STAIN ||
           r == ROLE_COLOR || r == ROLE_EFFECT || r == ROLE_CLEAR || r == ROLE_WAX;
}

/* ---- both sides ---- */

/* Front and back, or top and bottom: which of them cannot be reached while the other is wet. */
static bool both_sides(const struct part *part) {
    const struct shape_kind *kind = shape_kind_of(part->shape);
    const char *f = part->faces ? part->faces : kind ? kind->faces : "";
    bool shelf = part->shape && !strcmp(part->shape, "shelf");
    return shelf ? strchr(f, 't') && strchr(f, 'b') : strchr(f, 'f') && strchr(f, 'k');
}

/* Share of a group that is the back of something coated on both sides; 0 where the group stands on
 * its feet while it dries. */
static double back_share(const struct piece_plan *p, const char *group) {
    const struct surfaces *s = &p->surfaces;
    for (size_t g = 0; group && g < s->groups_n; g++) {
        const struct surface_group *of = &s->groups[g];
        if (strcmp(of->id, group) || !of->lies_flat || !(of->coated_m2 > 0)) continue;
        double back = 0;
        for (size_t i = of->first; i < of->first + of->n; i++)
            if (both_sides(&s->rows[i].part)) back += s->rows[i].coated_m2 / 2;
        return back / of->coated_m2;
    }
    return 0;
}

/* What is wiped on and off again, or lies here and there, is done on both sides in one go. */
static bool turns_over(const struct coat *k) {
    return k->role == ROLE_BARRIER || k->role == ROLE_PRIMER || k->role == ROLE_COLOR ||
           k->role == ROLE_CLEAR;
}

/* ---- one coat ---- */

static const char *group_name(const struct piece_plan *p, const char *id) {
    for (size_t i = 0; id && i < p->surfaces.groups_n; i++)
        if (!strcmp(p->surfaces.groups[i].id, id)) return p->surfaces.groups[i].name;
    return NULL;
}

/* The work without getting ready and cleaning up, which stand beside it. */
static void set_up(struct day_build *b, const struct coat *k, double share, int task) {
    const struct piece_plan *p = day_piece(b);
    int row = day_setup_of(b->t, p, k, pot_hardens(b->ask->shelf, p, k), b->l, b->out);
    if (row == TIMETABLE_NONE) return;
    const struct timetable_setup *s = &b->out->setups[row];
    struct timetable_task *t = &b->out->tasks[task];
    double work = fmax(ceil((k->hands_min - k->ready_min) * share), 1);
    t->work_min = (int32_t)fmin(work, t->work_min);
    t->setup = row;
    if (t->work_min + s->setup_min + s->cleanup_min > b->ask->longest_min) t->pausable = true;
}

/* side: "back" or NULL; share of the coat's work that this task is. */
static int coat_task(struct day_build *b, const struct coat *k, int64_t n, const char *side,
                     double share) {
    struct arena *a = b->l->arena;
    const char *group = group_name(day_piece(b), k->group);
    const char *name =
        k->coats > 1 ? arena_print(a, "%s, coat %lld", k->text, (long long)n) : k->text;
    if (share < 1) name = arena_print(a, "%s, %s", name, side ? "back" : "show face");
    if (group && day_piece(b)->surfaces.groups_n > 1) name = arena_print(a, "%s: %s", group, name);
    const char *id = k->coats > 1 ? arena_print(a, "%s-coat%lld", k->id, (long long)n) : k->id;
    if (side) id = arena_print(a, "%s-%s", id, side);
    bool film = day_is_film(k->role);
    int task = day_task_add(
        b,
        (struct day_meta){.id = id,
                          .name = name,
                          .group = k->group,
                          .operation = k->operation,
                          .hands_min = k->hands_min * share,
                          .coat = k,
                          .drying = film,
                          .booth_min = film && method_sprays(b->t, k->tool) ? k->touch_min : 0},
        !film);
    if (task == TIMETABLE_NONE) return task;
    if (film && b->out->tasks[task].work_min > 0) set_up(b, k, share, task);
    day_gate(b, task, k->operation);
    return task;
}

static void chain_coat(struct day_build *b, struct day_chain *c, const struct coat *k, int task) {
    bool film = day_is_film(k->role);
    day_chain_follow(b, c, task, film ? k : NULL);
    c->wait_min = k->recoat_min;
    c->until_min = k->recoat_until_min;
    if (!film) return;
    c->film = k->class;
    c->coat = k;
    c->coat_task = task;
    if (c->first_coat_task == TIMETABLE_NONE) c->first_coat_task = task;
}

/* The back first; turned on points as soon as it is dry to touch; then the show face, which nothing
 * touches any more. Each side has its own film below and that film's window. */
static void chain_both_sides(struct day_build *b, struct day_chain *c, const struct coat *k,
                             double back_frac, int back, int face) {
    const struct day_chain was = *c;
    day_chain_follow(b, c, back, was.back == TIMETABLE_NONE ? k : NULL);
    int dry = day_climate_of(b, k->class, false);
    struct timetable_lag turn = day_after(back, face, k->touch_min, dry);
    b->out->meta[back].dry_lag = day_lag_add(b, turn);
    if (was.film && was.back != TIMETABLE_NONE) {
        int climate = day_climate_of(b, was.film, false);
        struct timetable_lag again = day_after(was.back, back, was.wait_min, climate);
        day_window(b, &again, was.until_min, k, back_frac);
        day_lag_add(b, again);
        struct timetable_lag face_again = day_after(was.last, face, was.wait_min, climate);
        day_window(b, &face_again, was.until_min, k, 1 - back_frac);
        int row = day_lag_add(b, face_again);
        if (row != TIMETABLE_NONE) b->out->meta[was.last].dry_lag = row;
    }
    if (c->first_coat_task == TIMETABLE_NONE) c->first_coat_task = back;
    c->last = TIMETABLE_NONE; /* the lag between the sides stands above */
    chain_coat(b, c, k, face);
    c->back = back;
}

static struct day_chain *chain_of(struct day_chain *chains, size_t n, const char *group) {
    for (size_t i = 0; i < n; i++)
        if (chains[i].group && group && !strcmp(chains[i].group, group)) return &chains[i];
    return NULL;
}

/* False without memory. */
static bool coat_add(struct day_build *b, struct day_chain *chains, size_t n, const struct coat *k,
                     int64_t nth) {
    struct day_chain *one = chain_of(chains, n, k->group);
    double back = one && turns_over(k) ? back_share(day_piece(b), k->group) : 0;
    enum { LITTLE_PERCENT = 10 }; /* less than that is done in passing */
    bool sides = back * 100 >= LITTLE_PERCENT;
    int first = sides ? coat_task(b, k, nth, "back", back) : TIMETABLE_NONE;
    int task = coat_task(b, k, nth, NULL, sides ? 1 - back : 1);
    if (task == TIMETABLE_NONE || (sides && first == TIMETABLE_NONE)) return false;
    if (sides)
        chain_both_sides(b, one, k, back, first, task);
    else if (one)
        chain_coat(b, one, k, task);
    else /* a coat of all groups at once: every chain leads into it and goes on from it */
        for (size_t i = 0; i < n; i++) chain_coat(b, &chains[i], k, task);
    return true;
}

/* Glue and filler hold on clean wood; what is stripped is glued when it is bare. */
static bool before_repairs(const struct coat *k) {
    return k->role == ROLE_CLEAN || k->role == ROLE_STRIP;
}

void day_coats(struct day_build *b, struct day_chain *chains, size_t n, bool cleaning) {
    const struct coats *c = &day_piece(b)->coats;
    for (size_t i = 0; i < c->n; i++) {
        const struct coat *k = &c->rows[i];
        if (before_repairs(k) != cleaning) continue;
        int64_t times = k->coats > 1 ? k->coats : 1;
        for (int64_t j = 1; j <= times; j++)
            if (!coat_add(b, chains, n, k, j)) return;
    }
}
