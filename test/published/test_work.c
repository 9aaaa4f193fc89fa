/* Published values of geometry, film, wood, fasteners and money: rows of work.tsv. */
#include "core/base/units.h"
#include "core/work/amount.h"
#include "core/work/cane.h"
#include "core/work/climate.h"
#include "core/work/drying.h"
#include "core/work/fastener.h"
#include "core/work/film.h"
#include "core/work/price.h"
#include "core/work/shape.h"
#include "core/work/surface.h"
#include "core/work/wood.h"
#include "test/check.h"

#include <stdlib.h>

enum { ARGS = 6 };

struct formula {
    const char *name;
    double (*of)(const double *a);
};

static double dew(const double *a) {
    return climate_dew_degc(a[0], a[1]);
}
/* surface temperature against air and humidity: 0 go, 2 stop */
static double gate(const double *a) {
    return climate_judge(NULL, NAN, a[0], a[2], a[1]).gate;
}
static double cure(const double *a) {
    return drying_factor(DRYING_REACTS, (struct air){a[0], .5}, (struct air){a[1], .5}, true);
}
static double water(const double *a) {
    return drying_factor(DRYING_COALESCES, (struct air){25, .5}, (struct air){a[0], a[1]}, false);
}

/* ---- wood: degF and % in, % out ---- */
static double emc_f(const double *a) {
    return 100 * wood_emc_frac(degc_of_degf(a[0]), a[1] / 100);
}
static double emc_c(const double *a) {
    return 100 * wood_emc_frac(a[0], a[1] / 100);
}
/* inches, coefficient, humidity from and to in %, at 70 degF; inches out */
static double move_in(const double *a) {
    double c = degc_of_degf(70);
    return wood_move_mm(a[0], a[1], wood_emc_frac(c, a[2] / 100), wood_emc_frac(c, a[3] / 100),
                        NULL);
}
/* inches, coefficient, moisture from and to in % */
static double move_mc_in(const double *a) {
    return wood_move_mm(a[0], a[1], a[2] / 100, a[3] / 100, NULL);
}
/* moisture from and to in %: 1 where the equation does not hold */
static double move_outside(const double *a) {
    bool outside = false;
    wood_move_mm(100, .002, a[0] / 100, a[1] / 100, &outside);
    return outside;
}
/* diameter in, G, length in; pounds out */
static double nail_allowed_lb(const double *a) {
    return wood_nail_allowed_n(a[1], a[0] * MM_PER_IN, a[2] * MM_PER_IN) / N_PER_LBF;
}
/* a fourth above 0: in end grain */
static double screw_n(const double *a) {
    return wood_screw_n(a[1], a[0] * MM_PER_IN, a[2] * MM_PER_IN, a[3] > 0);
}
static double screw_lb(const double *a) {
    return screw_n(a) / N_PER_LBF;
}
static double screw_allowed_lb(const double *a) {
    return wood_screw_allowed_n(screw_n(a)) / N_PER_LBF;
}
static double pilot_in(const double *a) {
    return wood_pilot_mm(a[0] * MM_PER_IN, a[1] > 0) / MM_PER_IN;
}

/* ---- how far paint goes: solids by volume, dry film, share lost ---- */
static double spread_si(const double *a) {
    struct amount_terms t = {.area_m2 = 1,
                             .coats = 1,
                             .spread_m2_per_l = film_spread_m2_per_l(a[0], a[1]),
                             .loss_frac = a[2]};
    return 1000 / amount_of(&t).taken_ml;
}
static double spread_us(const double *a) {
    return spread_si((const double[]){a[0], a[1] * UM_PER_MIL, a[2]}) / M2_PER_L_PER_FT2_PER_GAL;
}

/* ---- profile factors: width and height in feet of one side, square feet out ---- */
static double profile(const char *id, const double *a, bool sides) {
    double mm[PART_SIZES] = {a[0] * 12 * MM_PER_IN, a[1] * 12 * MM_PER_IN}, m2 = NAN;
    shape_area(shape_kind_of("panel"), mm, "f", &m2, NULL);
    return m2 / M2_PER_FT2 * profile_of(&tables_builtin, id)->factor * (sides ? 2 : 1);
}
static double panelled(const double *a) {
    return profile("panelled", a, a[2] > 1);
}
static double flush(const double *a) {
    return profile("flush", a, a[2] > 1);
}
static double louvered(const double *a) {
    return profile("louvered", a, a[2] > 1);
}
static double trellis(const double *a) {
    return profile("lattice", a, false);
}

/* ---- money ---- */
static double price(const double *a) {
    return price_of_cost(a[0], a[1], a[2]);
}
static double markup(const double *a) {
    return 100 * price_markup_of_margin(a[0]);
}
/* price, fee, bought, material, hours, pay */
static double hour(const double *a) {
    return price_hour_cent(&(struct price_sale){a[0], a[1], a[2], a[3], 0, a[4]});
}
static double offer(const double *a) {
    return price_best_offer_cent(&(struct price_sale){a[0], a[1], 0, a[3], 0, a[4]}, a[5]);
}

/* ---- fittings ---- */
static double pull(const double *a) { /* old, new, hole, screw: 0 fits, 1 limit, 3 drill */
    return fastener_pull(a[0], a[1], a[2], a[3], a[4]).fit;
}
static double pull_usual(const double *a) { /* old, new: the usual screw in the usual hole */
    return fastener_pull_of(&tables_builtin,
                            &(struct fitting_pulls){.old_spacing_mm = a[0], .new_spacing_mm = a[1]})
        .fit;
}
static double pull_metric(const double *a) {
    return fastener_metric_spacing(a[0]);
}
static double nail_most_in(const double *a) {
    return fastener_most_mm(a[0] * MM_PER_IN, a[1] * MM_PER_IN) / MM_PER_IN;
}
static double sheet_most_in(const double *a) {
    return fastener_sheet_most_mm(a[0] * MM_PER_IN) / MM_PER_IN;
}
static double cane_sheet_in(const double *a) {
    return cane_sheet_mm(a[0] * MM_PER_IN) / MM_PER_IN;
}
static double cane_groove_mm(const double *a) {
    return cane_spline_width_mm(a[0]);
}
static double pull_screw_in(const double *a) {
    return fastener_pull_screw(&tables_builtin, false, a[0] * MM_PER_IN)->length_mm / MM_PER_IN;
}
static double staple_in(const double *a) {
    double most = fastener_sheet_most_mm(a[0] * MM_PER_IN);
    return fastener_stock(&tables_builtin, "staple", most, 0)->length_mm / MM_PER_IN;
}
static double brad_in(const double *a) {
    double most = fastener_most_mm(a[0] * MM_PER_IN, a[1] * MM_PER_IN);
    return fastener_stock(&tables_builtin, "brad", most, 0)->length_mm / MM_PER_IN;
}
static double cane_spline_in(const double *a) {
    return cane_spline_mm(a[0] * MM_PER_IN, a[1] * MM_PER_IN) / MM_PER_IN;
}
static double cane_soak(const double *a) {
    return cane_soak_min(a[0] > 0 ? CANE_STAPLE : CANE_SPLINE);
}
static double glass_kg(const double *a) {
    return fastener_glass_g(a[0], a[1], a[2]) / 1000;
}

static const struct product_classes_row *class_row(const char *id) {
    const struct product_classes_row *c = tables_builtin.product_classes;
    while (strcmp(c->id, id)) c++;
    return c;
}
static double chalk_recoat_h(const double *a) {
    (void)a;
    return class_row("chalk")->recoat_min / 60;
}

static const struct formula formulas[] = {
    {"emc_f", emc_f},
    {"emc_c", emc_c},
    {"move_in", move_in},
    {"move_mc_in", move_mc_in},
    {"move_outside", move_outside},
    {"pull_usual", pull_usual},
    {"pull_metric", pull_metric},
    {"nail_most_in", nail_most_in},
    {"sheet_most_in", sheet_most_in},
    {"cane_sheet_in", cane_sheet_in},
    {"cane_groove_mm", cane_groove_mm},
    {"nail_allowed_lb", nail_allowed_lb},
    {"screw_n", screw_n},
    {"screw_lb", screw_lb},
    {"screw_allowed_lb", screw_allowed_lb},
    {"pilot_in", pilot_in},
    {"spread_si", spread_si},
    {"spread_us", spread_us},
    {"panelled", panelled},
    {"flush", flush},
    {"louvered", louvered},
    {"trellis", trellis},
    {"price", price},
    {"markup", markup},
    {"hour", hour},
    {"offer", offer},
    {"pull", pull},
    {"pull_screw_in", pull_screw_in},
    {"staple_in", staple_in},
    {"brad_in", brad_in},
    {"cane_spline_in", cane_spline_in},
    {"cane_soak", cane_soak},
    {"glass_kg", glass_kg},
    {"chalk_recoat_h", chalk_recoat_h},
    {"dew", dew},
    {"gate", gate},
    {"cure", cure},
    {"water", water},
};

static double computed(const char *name, const double *a) {
    for (size_t i = 0; i < sizeof formulas / sizeof *formulas; i++)
        if (!strcmp(formulas[i].name, name)) return formulas[i].of(a);
    printf("%s: no such formula\n", name);
    return NAN;
}

int main(int argc, char **argv) {
    FILE *f = argc > 1 ? fopen(argv[1], "r") : NULL;
    char line[512];
    if (!f) return puts("usage: test_work TSV"), 1;
    while (fgets(line, sizeof line, f)) {
        if (*line == '#') continue;
        char name[64], input[128], source[256];
        double want, tol, a[ARGS] = {0};
        int n = sscanf(line, "%63[^\t]\t%127[^\t]\t%lf\t%lf\t%255[^\n]", name, input, &want, &tol,
                       source);
        CASE(n == 5 ? name : "every row has five columns, the last its source") {
            CHECK(n == 5);
            char *at = input;
            for (int i = 0; i < ARGS && *at; i++) a[i] = strtod(at, &at);
            CHECK_NEAR(computed(name, a), want, tol);
        }
        check_close();
    }
    fclose(f);
    return check_done();
}
