/* A fresh batch beside the one that is corrected (app/color_correct.h). */
#include "app/color_correct_inside.h"
#include "core/color/color.h"

enum status correcting_fresh(struct correcting *c, struct limit limit, struct arena *a,
                             struct why *why) {
    const struct palette *p = &c->palette;
    struct correction *k = &c->found;
    double want_ml = c->need_ml;
    int64_t parts;
    double part_ml;
    const int items = correcting_items(c);
    const struct measuring *m = &c->ask->measuring;
    struct recipe_result r;
    k->fresh.items_n = 0;
    if (!(want_ml > 0)) return OK;
    measuring_grid(m, want_ml, measuring_parts_max(m, p->n, items, true), &parts, &part_ml);
    struct recipe_paint *paints = arena_array(a, p->n, sizeof *paints);
    if (!paints) return why_no_memory(why);
    for (size_t i = 0; i < p->n; i++) {
        paints[i] = correcting_offer(c, i, part_ml);
        if (paints[i].binder != c->binder)
            paints[i].use = RECIPE_NEVER; /* the piece wants its kind */
    }
    struct recipe_problem q = {.paints = paints,
                               .paints_n = p->n,
                               .target = lab_d65_of_d50(color_lab(&c->ask->target)),
                               .target_reflectance = &c->target.spectrum,
                               .items_max = items,
                               .parts = (int)parts,
                               .objective = RECIPE_BY_EXPECTED,
                               .variance = palette_variance,
                               .variance_ctx = &c->palette,
                               .pour_sd_parts = PALETTE_POUR_SD_PARTS,
                               .best_max = 1,
                               .d65 = &p->d65,
                               .a = &p->a,
                               .led = &p->led};
    enum status s = recipe_search(&q, &limit, a, &r, why);
    if (s) return s == E_IMPOSSIBLE ? OK : s;
    k->fresh = r.best[0];
    k->fresh_ml = (double)parts * part_ml;
    k->fresh_cent = r.best[0].cost_cent;
    c->fresh_part_ml = part_ml;
    return OK;
}
