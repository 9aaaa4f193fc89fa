/* The printing half of units_text.h. */
#include "codec/say.h"
#include "codec/units_text.h"
#include "core/base/units.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

size_t number_print(double value, char *out, size_t cap) {
    char text[40];
    if (value == 0) value = 0; /* no minus zero */
    for (int digits = 15; digits <= 17; digits++) {
        snprintf(text, sizeof text, "%.*g", digits, value);
        if (strtod(text, NULL) == value) break;
    }
    return say(out, cap, "%s", text);
}

/* Rounded to `places` decimals, without trailing zeros. */
static size_t rounded(double v, int places, char *out, size_t cap) {
    char text[64];
    double unit = pow(10, -places);
    v = nearbyint(v / unit) * unit;
    if (v == 0) v = 0;
    snprintf(text, sizeof text, "%.*f", places, v);
    if (strchr(text, '.')) {
        size_t n = strlen(text);
        while (text[n - 1] == '0') text[--n] = 0;
        if (text[n - 1] == '.') text[--n] = 0;
    }
    return say(out, cap, "%s", text);
}

/* About three figures: 0.36, 4.2, 38, 410. */
static size_t figures(double v, char *out, size_t cap) {
    double size = fabs(v);
    return rounded(v, size >= 20 ? 0 : size >= 2 ? 1 : 2, out, cap);
}

static size_t figures_unit(double v, const char *unit, char *out, size_t cap) {
    char n[64];
    figures(v, n, sizeof n);
    return say(out, cap, "%s %s", n, unit);
}

/* Whole and fraction with the given denominator, reduced: "32 3/4", "5/8", "7". */
static size_t mixed(double v, int parts, char *out, size_t cap) {
    const char *sign = v < 0 ? "-" : "";
    long long all = llround(fabs(v) * parts);
    long long whole = all / parts, top = all % parts, bottom = parts;
    if (!all) sign = "";
    while (top && top % 2 == 0) {
        top /= 2;
        bottom /= 2;
    }
    if (!top) return say(out, cap, "%s%lld", sign, whole);
    if (!whole) return say(out, cap, "%s%lld/%lld", sign, top, bottom);
    return say(out, cap, "%s%lld %lld/%lld", sign, whole, top, bottom);
}

static size_t mixed_unit(double v, int parts, const char *unit, char *out, size_t cap) {
    char n[64];
    mixed(v, parts, n, sizeof n);
    return say(out, cap, "%s %s", n, unit);
}

static size_t print_length(bool us, double mm, char *out, size_t cap) {
    char n[64];
    if (us) return mixed_unit(mm / MM_PER_IN, 32, "in", out, cap);
    rounded(mm, fabs(mm) < 10 ? 1 : 0, n, sizeof n);
    return say(out, cap, "%s mm", n);
}

/* A pour that was read at a quarter's mark keeps it; what was reckoned is said to the half. */
static bool is_quarters(double oz) {
    double quarters = fabs(oz) * 4;
    return nearbyint(quarters) > 0 && fabs(quarters - nearbyint(quarters)) < 0.02;
}

/* So many ounces are a quarter of a quart or gallon, but for what nobody could pour apart. */
static bool is_quarter_of(double oz, double of_oz) {
    double quarters = fabs(oz) * 4 / of_oz;
    return fabs(quarters - nearbyint(quarters)) * of_oz / 4 <= fmin(.25, .005 * fabs(oz));
}

static size_t print_drops(double ml, char *out, size_t cap) {
    char n[64];
    rounded(ml / ML_PER_DROP, 0, n, sizeof n);
    return say(out, cap, "%s %s", n, strcmp(n, "1") ? "drops" : "drop");
}

static size_t print_volume(bool us, double ml, char *out, size_t cap) {
    char n[64];
    double oz = ml / ML_PER_US_FL_OZ, size = fabs(oz);
    if (us && size >= 128 && is_quarter_of(oz, 128))
        return mixed_unit(oz / 128, 4, "gal", out, cap);
    if (us && size >= 48 && (size >= 128 || is_quarter_of(oz, 32)))
        return mixed_unit(oz / 32, size >= 128 ? 8 : 4, "qt", out, cap);
    if (us && size >= 48) return mixed_unit(oz, 1, "fl oz", out, cap);
    if (us && size >= 8) return mixed_unit(oz, is_quarters(oz) ? 4 : 2, "fl oz", out, cap);
    if (us && (size >= 0.75 || ml == 0 || is_quarters(oz)))
        return mixed_unit(oz, 4, "fl oz", out, cap);
    if (us && fabs(ml) >= ML_PER_US_TSP / 8)
        return mixed_unit(ml / ML_PER_US_TSP, 4, "tsp", out, cap);
    if (us) return print_drops(ml, out, cap);
    if (fabs(ml) >= 1000) {
        rounded(ml / 1000, 2, n, sizeof n);
        return say(out, cap, "%s L", n);
    }
    rounded(ml, fabs(ml) < 10 ? 1 : 0, n, sizeof n);
    return say(out, cap, "%s ml", n);
}

static size_t print_duration(double min, char *out, size_t cap) {
    const char *sign = min < 0 ? "-" : "";
    long long all = llround(fabs(min));
    if (!all) sign = "";
    long long d = all / 1440, h = all / 60, m = all % 60;
    if (all >= 4 * 1440) { /* nobody counts the minutes of a week */
        long long hours = llround((double)(all % 1440) / 60);
        if (hours == 24) d++, hours = 0;
        if (!hours || d >= 7)
            return say(out, cap, "%s%lld d", sign, d >= 7 ? llround((double)all / 1440) : d);
        return say(out, cap, "%s%lld d %lld h", sign, d, hours);
    }
    if (!h) return say(out, cap, "%s%lld min", sign, m);
    if (!m) return say(out, cap, "%s%lld h", sign, h);
    return say(out, cap, "%s%lld h %lld min", sign, h, m);
}

static size_t print_money(double cent, const char *per, char *out, size_t cap) {
    long long all = llround(fabs(cent));
    const char *sign = cent < 0 && all ? "-" : "";
    char whole[40], grouped[56];
    int n = snprintf(whole, sizeof whole, "%lld", all / 100), k = 0;
    for (int i = 0; i < n; i++) {
        if (i && (n - i) % 3 == 0) grouped[k++] = ',';
        grouped[k++] = whole[i];
    }
    grouped[k] = 0;
    if (all % 100) return say(out, cap, "%s$%s.%02lld%s", sign, grouped, all % 100, per);
    return say(out, cap, "%s$%s%s", sign, grouped, per);
}

static size_t print_mass(bool us, double g, char *out, size_t cap) {
    if (us && fabs(g) >= G_PER_LB) return figures_unit(g / G_PER_LB, "lb", out, cap);
    if (us) return figures_unit(g / G_PER_OZ, "oz", out, cap);
    if (fabs(g) >= 1000) return figures_unit(g / 1000, "kg", out, cap);
    return figures_unit(g, "g", out, cap);
}

static size_t print_fraction(double v, char *out, size_t cap) {
    char n[64];
    double percent = v * 100;
    rounded(percent, fabs(percent) < 10 ? 1 : 0, n, sizeof n);
    return say(out, cap, "%s %%", n);
}

static size_t print_value(enum dimension d, bool us, double value, char *out, size_t cap) {
    switch (d) {
    case DIM_LENGTH: return print_length(us, value, out, cap);
    case DIM_FILM:
        return us ? figures_unit(value / UM_PER_MIL, "mil", out, cap)
                  : figures_unit(value, "\u00b5m", out, cap);
    case DIM_AREA:
        return us ? figures_unit(value / M2_PER_FT2, "ft2", out, cap)
                  : figures_unit(value, "m2", out, cap);
    case DIM_POUR:
    case DIM_VOLUME: return print_volume(us, value, out, cap);
    case DIM_MASS: return print_mass(us, value, out, cap);
    case DIM_DENSITY:
        return us ? figures_unit(value / (G_PER_LB / ML_PER_US_GAL), "lb/gal", out, cap)
                  : figures_unit(value, "g/ml", out, cap);
    case DIM_SPREAD:
        return us ? figures_unit(value / M2_PER_L_PER_FT2_PER_GAL, "ft2/gal", out, cap)
                  : figures_unit(value, "m2/L", out, cap);
    case DIM_DURATION: return print_duration(value, out, cap);
    case DIM_TEMPERATURE: {
        char n[64];
        rounded(us ? degf_of_degc(value) : value, 0, n, sizeof n);
        return say(out, cap, "%s %s", n, us ? "\u00b0F" : "\u00b0C");
    }
    case DIM_FRACTION: return print_fraction(value, out, cap);
    case DIM_MONEY: return print_money(value, "", out, cap);
    case DIM_RATE: return print_money(value, "/h", out, cap);
    case DIM_FORCE:
        return us ? figures_unit(value / N_PER_LBF, "lbf", out, cap)
                  : figures_unit(value, "N", out, cap);
    case DIM_NONE:
    case DIMENSION_COUNT: break;
    }
    return figures(value, out, cap);
}

size_t units_print(enum dimension d, enum unit_system units, double value, char *out, size_t cap) {
    char text[96];
    if (!isfinite(value) || fabs(value) > 1e15) return say(out, cap, "-");
    print_value(d, units != UNITS_METRIC, value, text, sizeof text);
    return *text == '-' ? say(out, cap, "\u2212%s", text + 1) : say(out, cap, "%s", text);
}

char *distance_text(struct arena *a, enum unit_system units, double m) {
    bool us = units != UNITS_METRIC;
    char n[64];
    rounded(us ? m / M_PER_MILE : m / 1000, 1, n, sizeof n);
    return arena_print(a, "%s %s", n, us ? "mi" : "km");
}

char *units_text(struct arena *a, enum dimension d, enum unit_system units, double value) {
    char text[96];
    units_print(d, units, value, text, sizeof text);
    return arena_text(a, text);
}

static bool reads_back(enum dimension d, const char *text, double value) {
    double back;
    return units_read(d, text, &back, NULL) == OK && back == value;
}

size_t units_print_exact(enum dimension d, double value, char *out, size_t cap) {
    static const char *const canonical[DIMENSION_COUNT] = {
        [DIM_NONE] = "",         [DIM_LENGTH] = " mm",      [DIM_FILM] = " um",
        [DIM_AREA] = " m2",      [DIM_VOLUME] = " ml",      [DIM_POUR] = " ml",
        [DIM_MASS] = " g",       [DIM_DENSITY] = " g/ml",   [DIM_SPREAD] = " m2/L",
        [DIM_DURATION] = " min", [DIM_TEMPERATURE] = " °C", [DIM_FORCE] = " N"};
    static const enum unit_system systems[] = {UNITS_US, UNITS_METRIC};
    char text[96], n[40];
    for (size_t i = 0; d != DIM_NONE && i < 2; i++) {
        units_print(d, systems[i], value, text, sizeof text);
        if (reads_back(d, text, value)) return say(out, cap, "%s", text);
    }
    for (int digits = 1; d == DIM_LENGTH && digits <= 6; digits++) { /* 26.1 in */
        snprintf(text, sizeof text, "%.*g in", digits, value / MM_PER_IN);
        if (reads_back(d, text, value)) return say(out, cap, "%s", text);
    }
    /* scaled ones: a few digits around value * 100 or value / 100 until it reads back */
    bool percent = d == DIM_FRACTION, money = d == DIM_MONEY || d == DIM_RATE;
    if (!percent && !money) {
        number_print(value, n, sizeof n);
        return say(out, cap, "%s%s", n, canonical[d]);
    }
    double scaled = percent ? value * 100 : fabs(value) / 100;
    for (int digits = 1; digits <= 17; digits++) {
        snprintf(n, sizeof n, "%.*g", digits, scaled);
        if (percent)
            snprintf(text, sizeof text, "%s %%", n);
        else
            snprintf(text, sizeof text, "%s$%s%s", value < 0 ? "-" : "", n,
                     d == DIM_RATE ? "/h" : "");
        if (reads_back(d, text, value)) break;
    }
    return say(out, cap, "%s", text);
}

/* Quarter cups, then whole tablespoons, then teaspoons, so that nothing is rounded away that a
 * spoon shows: 7 tsp are 2 tbsp + 1 tsp. */
static size_t print_spoons(double ml, char *out, size_t cap) {
    const char *sign = ml < 0 ? "-" : "";
    long long eighths = llround(fabs(ml) / ML_PER_US_TSP * 8);
    long long quarter_cups = eighths / 96, tbsp = eighths % 96 / 24, rest = eighths % 24;
    char cup[80] = "", spoon[40] = "", tea[80] = "", n[64];
    if (quarter_cups) {
        mixed((double)quarter_cups / 4, 4, n, sizeof n);
        snprintf(cup, sizeof cup, "%s %s", n, quarter_cups > 4 ? "cups" : "cup");
    }
    if (tbsp) snprintf(spoon, sizeof spoon, "%s%lld tbsp", *cup ? " + " : "", tbsp);
    if (rest || !eighths) mixed((double)rest / 8, 8, n, sizeof n);
    if (rest || !eighths) snprintf(tea, sizeof tea, "%s%s tsp", *cup || *spoon ? " + " : "", n);
    return say(out, cap, "%s%s%s%s", eighths ? sign : "", cup, spoon, tea);
}

size_t units_print_measure(enum measure m, double ml, double g_per_ml, char *out, size_t cap) {
    char n[64];
    if (!isfinite(ml) || fabs(ml) > 1e12) return say(out, cap, "-");
    switch (m) {
    case MEASURE_ML:
        rounded(ml, fabs(ml) < 10 ? 1 : 0, n, sizeof n);
        return say(out, cap, "%s ml", n);
    case MEASURE_GRAM: {
        double g = ml * g_per_ml;
        if (!isfinite(g)) break;
        rounded(g, fabs(g) < 100 ? 1 : 0, n, sizeof n);
        return say(out, cap, "%s g", n);
    }
    case MEASURE_DROP: return print_drops(ml, out, cap);
    case MEASURE_TSP: return print_spoons(ml, out, cap);
    default: break;
    }
    double oz = ml / ML_PER_US_FL_OZ;
    if (fabs(oz) < 0.4999 && ml != 0) return mixed_unit(ml / ML_PER_US_TSP, 8, "tsp", out, cap);
    return mixed_unit(oz, 8, "fl oz", out, cap);
}
