/* Where the dates come from: every task's hour, and the three dates that follow the last film. */
#include "core/work/day_explain.h"
#include "core/work/lookup.h"

#include <string.h>

/* What ends as this begins: the hands were there. */
static const struct day_task *just_before(const struct days *d, size_t row) {
    int64_t ready = d->rows[row].start_utc_min - (int64_t)d->rows[row].setup_min;
    for (size_t i = row; i-- > 0;) {
        const struct day_task *t = &d->rows[i];
        int64_t free = ready - t->end_utc_min - (int64_t)t->cleanup_min;
        if (free >= -1 && free <= 1) return t;
    }
    return NULL;
}

/* When a film takes the next coat, and until when without more work. */
static void film_explain(struct ledger *l, const struct day_task *t, size_t row) {
    struct basis *b = ledger_basis(
        l, arena_print(l->arena, "/days/rows/%zu/dry_until_utc_min", row),
        "the end of the work and the time to the next coat, by day and night, slower in the cold",
        "CP", CERTAINTY_COMMON);
    basis_word(l, b, "what dries", t->name);
    basis_number(l, b, "dries, by the clock", (double)(t->dry_until_utc_min - t->end_utc_min),
                 DIM_DURATION);
    if (t->window_end_utc_min == INT64_MIN) return;
    b = ledger_basis(l, arena_print(l->arena, "/days/rows/%zu/window_end_utc_min", row),
                     "until then the film takes the next coat as it is; after that it is too hard "
                     "and must be scuffed first",
                     "CP", CERTAINTY_COMMON);
    basis_word(l, b, "what dries", t->name);
    basis_number(l, b, "from its end", (double)(t->window_end_utc_min - t->end_utc_min),
                 DIM_DURATION);
}

static void task_explain(struct ledger *l, const struct days *d, size_t row) {
    const struct day_task *t = &d->rows[row], *before = t->held_by ? NULL : just_before(d, row);
    bool dries = t->dry_until_utc_min != INT64_MIN;
    struct basis *b = ledger_basis(
        l, arena_print(l->arena, "/days/rows/%zu/start_utc_min", row),
        dries ? "the first time in the shop's hours that is free after what must come before it; "
                "it dries by day and night, slower in the cold"
              : "the first time in the shop's hours that is free after what must come before it",
        "CP", CERTAINTY_COMMON);
    if (t->held_by) basis_word(l, b, "what holds it up", t->held_by);
    if (before) basis_word(l, b, "as soon as this is done", before->name);
    if (t->hands_min > 0) basis_number(l, b, "hands-on", t->hands_min, DIM_DURATION);
    if (t->setup_min > 0) basis_number(l, b, "getting ready", t->setup_min, DIM_DURATION);
    if (t->cleanup_min > 0)
        basis_number(l, b, "cleaning up after it", t->cleanup_min, DIM_DURATION);
    if (t->extra_min > 0)
        basis_number(l, b, "scuffing or mixing anew, in front of it", t->extra_min, DIM_DURATION);
    if (t->saved_min > 0)
        basis_number(l, b, "spared by a tool that is still wet", t->saved_min, DIM_DURATION);
    if (dries)
        basis_number(l, b, "dries, by the clock", (double)(t->dry_until_utc_min - t->end_utc_min),
                     DIM_DURATION);
    if (t->before_night)
        basis_word(l, b, "before the night, which is too cold for it", t->before_night);
    if (t->person) basis_word(l, b, "who", t->person);
    if (dries) film_explain(l, t, row);
}

/* The film that is done last: handling, delivery and cure are counted from it. */
static const struct day_task *last_film(const struct tables *t, const struct days *d,
                                        const char *piece) {
    static const char *const films[] = {"barrier", "primer", "stain", "color", "clear", "wax"};
    const struct day_task *last = NULL;
    for (size_t i = 0; i < d->n; i++) {
        const struct operations_row *op = operation_row(t, d->rows[i].operation);
        if (!op || !d->rows[i].piece || strcmp(d->rows[i].piece, piece) != 0) continue;
        bool film = false;
        for (size_t k = 0; k < sizeof films / sizeof *films; k++)
            film |= !strcmp(op->role, films[k]);
        if (film && (!last || d->rows[i].end_utc_min > last->end_utc_min)) last = &d->rows[i];
    }
    return last;
}

static struct basis *date_explain(struct ledger *l, size_t piece, const char *date,
                                  const char *rule, int64_t at, const struct day_task *film,
                                  enum certainty certainty) {
    struct basis *b = ledger_basis(l, arena_print(l->arena, "/pieces/%zu/%s_utc_min", piece, date),
                                   rule, "CP", certainty);
    if (!film) return b;
    basis_word(l, b, "last coat", film->name);
    if (at != INT64_MIN && at > film->end_utc_min)
        basis_number(l, b, "after it, by the clock", (double)(at - film->end_utc_min),
                     DIM_DURATION);
    return b;
}

/* The basis of a work step or coat from which a task was made, as it stands on its sheet; *out_min
 * is its hands-on time there. A task of a coat is named after it: "case-color-coat2",
 * "case-color-back". NULL: the task has no line of its own there. */
static const char *step_of(struct arena *a, const struct piece_plan *p, size_t piece,
                           const struct day_task *t, double *out_min) {
    static const char *const lists[] = {"takedown", "repairs", "finish"};
    const struct steps *const steps[] = {&p->takedown, &p->repairs, &p->finish};
    for (size_t k = 0; k < sizeof steps / sizeof *steps; k++)
        for (size_t i = 0; i < steps[k]->n; i++)
            if (!strcmp(steps[k]->rows[i].id, t->id)) {
                *out_min = steps[k]->rows[i].hands_min;
                return arena_print(a, "/pieces/%zu/%s/%zu/hands_min", piece, lists[k], i);
            }
    const char *found = NULL;
    size_t longest = 0;
    for (size_t i = 0; i < p->coats.n; i++) {
        const struct coat *c = &p->coats.rows[i];
        size_t n = strlen(c->id);
        if (n <= longest || strncmp(c->id, t->id, n) || (t->id[n] && t->id[n] != '-')) continue;
        found = arena_print(a, "/pieces/%zu/coats/rows/%zu/hands_min", piece, i);
        longest = n, *out_min = c->hands_min;
    }
    return found;
}

/* Hands-on time of a task: as the step or the coat on the sheet explains it. */
static void hands_explain(struct ledger *l, const struct plan *plan, size_t row) {
    const struct day_task *t = &plan->days.rows[row];
    const char *from = NULL;
    double step_min = t->hands_min;
    if (!(t->hands_min > 0)) return;
    for (size_t i = 0; t->piece && i < plan->pieces_n && !from; i++)
        if (!strcmp(plan->pieces[i].id, t->piece))
            from = step_of(l->arena, &plan->pieces[i], i, t, &step_min);
    struct basis was = {.rule = "the minutes that are usual for this work",
                        .source = "CP",
                        .certainty = CERTAINTY_COMMON};
    for (size_t i = 0; from && i < l->bases_n; i++)
        if (!strcmp(l->bases[i].pointer, from)) was = l->bases[i];
    struct basis *b = ledger_basis(l, arena_print(l->arena, "/days/rows/%zu/hands_min", row),
                                   was.rule, was.source, was.certainty);
    for (size_t i = 0; i < was.inputs_n; i++)
        if (was.inputs[i].text)
            basis_word(l, b, was.inputs[i].name, was.inputs[i].text);
        else
            basis_number(l, b, was.inputs[i].name, was.inputs[i].value, was.inputs[i].unit);
    if (!was.inputs_n || step_min - t->hands_min > .5 || t->hands_min - step_min > .5)
        basis_number(l, b, "hands-on here", t->hands_min, DIM_DURATION);
    else if (was.unit == DIM_DURATION)
        basis_range(b, DIM_DURATION, was.low, was.high);
}

void days_explain(const struct tables *t, struct ledger *l, const struct plan *plan) {
    if (!l->wanted) return;
    const struct days *d = &plan->days;
    for (size_t i = 0; i < d->n; i++) task_explain(l, d, i), hands_explain(l, plan, i);
    for (size_t i = 0; i < plan->pieces_n; i++) {
        const struct piece_plan *p = &plan->pieces[i];
        if (p->deliver_utc_min == INT64_MIN) continue;
        const struct day_task *film = last_film(t, d, p->id);
        struct basis *b = date_explain(
            l, i, "deliver",
            "all tasks in the shop's hours, every coat dry before the next, then the last film's "
            "time to light use and what is still to be done; drying goes on at night, slower in "
            "the cold",
            p->deliver_utc_min, film, p->blocked_by ? CERTAINTY_ASSUMED : CERTAINTY_COMMON);
        basis_number(l, b, "hands-on in all", p->price.hours * 60, DIM_DURATION);
        basis_number(l, b, "tasks in the timetable", (double)d->n, DIM_NONE);
        basis_word(l, b, "this order",
                   d->proven ? "proven: none delivers sooner" : "good, not proven best");
        date_explain(l, i, "handle",
                     "last coat plus the time until it may be handled, in this climate",
                     p->handle_utc_min, film, CERTAINTY_COMMON);
        date_explain(l, i, "cured",
                     p->piece.place == PLACE_OUTDOOR
                         ? "last coat plus the time of full cure, in this climate"
                         : "last coat plus the time of full cure: in the shop's air until it may "
                           "be delivered, then in a room that is lived in, 68 °F (20 °C)",
                     p->cured_utc_min, film, CERTAINTY_COMMON);
    }
}
