#include "core/work/drill.h"

#include "core/work/lookup.h"
#include "core/work/repair.h"

#include <math.h>
#include <string.h>

static bool drilled(const struct surface *s) {
    return s->part.shape && !strcmp(s->part.shape, "drawer_front") && s->part.count > 0;
}

/* As said when it comes out even, else by the width. */
static int pulls_on(const struct tables *t, const struct piece *p, int64_t fronts,
                    double width_mm) {
    int64_t said = p->fittings.pulls.count;
    if (said > 0 && said == fronts) return 1;
    if (said > 0 && said == 2 * fronts) return 2;
    return pulls_usual(t, width_mm);
}

static struct drill_front front_of(const struct tables *t, const struct piece *p,
                                   const struct surface *s, int64_t all) {
    struct drill_front f = {.name = s->part.name ? s->part.name : s->part.id,
                            .count = s->part.count,
                            .width_mm = s->part.size_mm[0],
                            .height_mm = s->part.size_mm[1],
                            .level_mm = s->part.size_mm[1] / 2};
    f.pulls = pulls_on(t, p, all, f.width_mm);
    double in = fmin(figure(t, FIGURES_PULL_END_MM), f.width_mm / 4);
    f.pull_mm[0] = f.pulls == 1 ? f.width_mm / 2 : in;
    f.pull_mm[1] = f.pulls == 1 ? NAN : f.width_mm - in;
    return f;
}

enum status drill_make(const struct tables *t, const struct piece_plan *p, const char *at,
                       struct arena *arena, struct drill *out, struct why *why) {
    const struct fitting_pulls *said = &p->piece.fittings.pulls;
    bool knob = said->holes == 1;
    struct drill d = {.spacing_mm = knob ? 0 : said->new_spacing_mm,
                      .old_spacing_mm = said->old_spacing_mm > 0 ? said->old_spacing_mm : NAN,
                      .bit_mm = said->hole_mm > 0 ? said->hole_mm : figure(t, FIGURES_PULL_HOLE_MM),
                      .fit = PULL_DRILL,
                      .doors = p->piece.doors > 0};
    if (!knob && !(d.spacing_mm > 0))
        return why_say(why, E_MISSING, arena_print(arena, "%s/fittings/pulls/new_spacing", at),
                       "How far apart are the holes of the new pulls? Write \"new_spacing\": "
                       "\"96 mm\", or \"holes\": 1 for a knob.");
    if (!knob && !isnan(d.old_spacing_mm)) d.fit = fastener_pull_of(t, said).fit;
    size_t n = 0;
    int64_t all = 0;
    for (size_t i = 0; i < p->surfaces.rows_n; i++)
        if (drilled(&p->surfaces.rows[i])) n++, all += p->surfaces.rows[i].part.count;
    if (!n)
        return why_say(why, E_MISSING, arena_print(arena, "%s/drawers", at),
                       "There is no drawer front to drill on this piece.");
    d.fronts = arena_array(arena, n, sizeof *d.fronts);
    if (!d.fronts) return why_no_memory(why);
    for (size_t i = 0; i < p->surfaces.rows_n; i++)
        if (drilled(&p->surfaces.rows[i]))
            d.fronts[d.fronts_n++] = front_of(t, &p->piece, &p->surfaces.rows[i], all);
    *out = d;
    return OK;
}
