#include "core/work/day_setups.h"

#include "core/work/drying.h"
#include "core/work/fact.h"
#include "core/work/method.h"

#include <math.h>
#include <string.h>

static bool same(const char *a, const char *b) {
    return a == b || (a && b && !strcmp(a, b));
}

static const struct wet_tools_row *wet_tool(const struct tables *t, const struct coat *k,
                                            bool hardens) {
    const struct product_classes_row *class = product_class_of(t, k->class);
    const char *cure = hardens ? "hardens" : class ? class->cure : NULL;
    for (size_t i = 0; cure && i < t->wet_tools_n; i++)
        if (!strcmp(t->wet_tools[i].cure, cure) &&
            (t->wet_tools[i].mist != 0) == method_sprays(t, k->tool))
            return &t->wet_tools[i];
    return NULL;
}

static bool is_it(const struct day_setup *s, const struct day_setup *key) {
    return same(s->operation, key->operation) && same(s->product, key->product) &&
           same(s->class, key->class) && same(s->piece, key->piece) && same(s->tool, key->tool) &&
           s->color_row == key->color_row;
}

int day_setup_of(const struct tables *t, const struct piece_plan *p, const struct coat *k,
                 bool hardens, struct ledger *l, struct day_tasks *d) {
    const struct wet_tools_row *wet = wet_tool(t, k, hardens);
    int32_t session = (int32_t)lround(fmin(k->session_min, 1440));
    if (!wet || session < 1) return TIMETABLE_NONE;
    bool mixed = k->role == ROLE_COLOR && !k->product;
    struct day_setup key = {.operation = k->operation,
                            .product = k->product,
                            .class = k->product ? NULL : k->class,
                            .piece = !mixed                         ? NULL
                                     : p->batch_of && !k->color_row ? p->batch_of
                                                                    : p->id,
                            .color_row = mixed ? k->color_row : 0,
                            .tool = k->tool,
                            .how = wet->how};
    for (size_t i = 0; i < d->setups_n; i++)
        if (is_it(&d->setup_keys[i], &key)) return (int)i;
    void *rows = ledger_grow(l, d->setups, d->setups_n, &d->setups_cap, sizeof *d->setups);
    void *keys =
        ledger_grow(l, d->setup_keys, d->setups_n, &d->setup_keys_cap, sizeof *d->setup_keys);
    if (!rows || !keys) return TIMETABLE_NONE;
    d->setups = rows;
    d->setup_keys = keys;
    const struct methods_row *method = method_of(t, k->tool);
    key.tool_name = method ? method_name(method, l->metric) : k->tool ? k->tool : "tool";
    int32_t before = (int32_t)lround(session * wet->setup_frac);
    d->setups[d->setups_n] = (struct timetable_setup){.name = key.tool_name,
                                                      .setup_min = before,
                                                      .cleanup_min = session - before,
                                                      .keep_wet_min = (int32_t)wet->keep_min};
    d->setup_keys[d->setups_n] = key;
    return (int)d->setups_n++;
}

/* The last coat of the row by that person before `i`, if nobody goes on with its tool and it is
 * still wet then. */
static int wet_before(const struct day_tasks *d, const struct timetable_answer *a, int i,
                      const bool *followed) {
    const struct timetable_place *at = &a->places[i];
    int last = TIMETABLE_NONE, row = d->tasks[i].setup;
    for (int k = 0; k < a->tasks_n; k++) {
        const struct timetable_place *p = &a->places[k];
        if (k == i || p->blocked || d->tasks[k].setup != row || p->person != at->person ||
            p->end > at->start)
            continue;
        if (last == TIMETABLE_NONE || p->end > a->places[last].end) last = k;
    }
    bool wet = last != TIMETABLE_NONE && !followed[last] && at->person >= 0 &&
               a->places[last].end + d->setups[row].keep_wet_min >= at->start;
    return wet ? last : TIMETABLE_NONE;
}

void day_setups_share(const struct day_tasks *d, struct timetable_answer *a) {
    bool followed[TIMETABLE_MAX_TASKS] = {false};
    for (int i = 0; i < a->tasks_n; i++)
        if (a->places[i].follows != TIMETABLE_NONE) followed[a->places[i].follows] = true;
    for (int i = 0; i < a->tasks_n; i++) {
        struct timetable_place *at = &a->places[i];
        if (at->blocked || d->tasks[i].setup == TIMETABLE_NONE || at->follows != TIMETABLE_NONE ||
            d->tasks[i].state != TIMETABLE_OPEN)
            continue;
        int f = wet_before(d, a, i, followed);
        if (f == TIMETABLE_NONE) continue;
        at->follows = f;
        at->setup_min = 0;
        at->block_from = at->start;
        followed[f] = true;
        a->places[f].cleanup_min = 0;
        a->places[f].block_to = a->places[f].end;
    }
}

const char *day_setup_words(const struct day_tasks *d, const struct timetable_answer *a,
                            const struct piece_plan *pieces, size_t i, struct arena *arena,
                            int32_t *out_saved_min) {
    int row = d->tasks[i].setup, from = a->places[i].follows;
    *out_saved_min = 0;
    if (row == TIMETABLE_NONE || from == TIMETABLE_NONE || a->places[i].blocked) return NULL;
    const struct timetable_setup *s = &d->setups[row];
    *out_saved_min = s->setup_min + s->cleanup_min;
    int64_t between = a->places[i].start - a->places[from].end;
    bool at_once = between <= 15; /* straight on: nothing dries meanwhile */
    const char *of = d->meta[from].name;
    if (d->meta[from].piece != d->meta[i].piece)
        of = arena_print(arena, "%s, %s", pieces[d->meta[from].piece].title, of);
    return arena_print(arena, "Goes on with the wet %s of \"%s\": %d min saved.%s%s", s->name, of,
                       (int)*out_saved_min,
                       at_once ? "" : " Until then: ", at_once ? "" : d->setup_keys[row].how);
}
