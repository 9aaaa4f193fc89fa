/* Base times at 20-25 degC and 50 % humidity until the climate is reckoned in. */
#include "core/work/coats_dry.h"

#include <math.h>
#include <string.h>

enum { H = 60, D = 1440 };
static const struct {
    const char *class;
    struct coat_dry dry;
} base[] = {
    {"shellac_clear", {15, H, NAN, D, 7 * D, 13, "CP"}},
    {"shellac_pigmented", {20, H, NAN, D, 3 * D, 25, "CP"}},
    {"wb_primer", {60, 4 * H, 7 * D, D, 7 * D, 38, "CP"}},
    {"alkyd_primer", {4 * H, 24 * H, 7 * D, 2 * D, 7 * D, 51, "CP"}},
    {"chalk", {60, 2 * H, NAN, D, 30 * D, 38, "CP"}},
    {"milk", {30, 2 * H, NAN, D, 30 * D, 25, "CP"}},
    {"wb_enamel", {2 * H, 6 * H, 7 * D, 3 * D, 30 * D, 38, "CP"}},
    {"alkyd_enamel", {8 * H, 24 * H, 3 * D, 3 * D, 14 * D, 38, "CP"}},
    {"wb_clear", {30, 4 * H, D, 3 * D, 30 * D, 25, "CP"}},
    {"oil_clear", {6 * H, 12 * H, 12 * H, 3 * D, 30 * D, 33, "CP"}},
    {"lacquer", {15, H, NAN, D, 14 * D, 18, "CP"}},
    {"wax", {20, D, NAN, D, 30 * D, 3, "CP"}},
    {"oil", {8 * H, D, NAN, 3 * D, 28 * D, 5, "CP"}},
};

static void label_wins(double *value, double label) {
    if (!isnan(label) && label > 0) *value = label;
}

struct coat_dry coat_dry(const struct room *r, const char *class, const struct paint *can) {
    (void)r;
    struct coat_dry d = {2 * H, 6 * H, NAN, 3 * D, 30 * D, 38, "CP"};
    for (size_t i = 0; class && i < sizeof base / sizeof *base; i++)
        if (!strcmp(base[i].class, class)) d = base[i].dry;
    if (!can) return d;
    label_wins(&d.touch_min, can->label_touch_min);
    label_wins(&d.recoat_min, can->label_recoat_min);
    label_wins(&d.recoat_until_min, can->label_recoat_until_min);
    label_wins(&d.handle_min, can->label_handle_min);
    label_wins(&d.cure_min, can->label_cure_min);
    return d;
}
