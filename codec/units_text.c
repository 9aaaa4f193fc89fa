#include "codec/units_text.h"

#include "core/base/units.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Factors are ratios of whole numbers, so that 32.75 in is 32.75 * 254 / 10 = 831.85 mm with one
 * rounding, not two. */
struct unit {
    const char *name;
    enum dimension dimension;
    double num, den, add; /* canonical = value * num / den + add */
};

#define GAL 3785411784.0 /* millionths of a milliliter */
#define FT2 9290304.0    /* 1e-8 m2 */

/* Longer spellings of one unit stand before the ones that are their beginnings. */
static const struct unit units[] = {
    {"inches", DIM_LENGTH, 254, 10, 0},
    {"inch", DIM_LENGTH, 254, 10, 0},
    {"in", DIM_LENGTH, 254, 10, 0},
    {"\"", DIM_LENGTH, 254, 10, 0},
    {"''", DIM_LENGTH, 254, 10, 0},
    {"\u2033", DIM_LENGTH, 254, 10, 0},
    {"\u201d", DIM_LENGTH, 254, 10, 0},
    {"\u201c", DIM_LENGTH, 254, 10, 0},
    {"feet", DIM_LENGTH, 3048, 10, 0},
    {"foot", DIM_LENGTH, 3048, 10, 0},
    {"ft", DIM_LENGTH, 3048, 10, 0},
    {"'", DIM_LENGTH, 3048, 10, 0},
    {"\u2032", DIM_LENGTH, 3048, 10, 0},
    {"\u2019", DIM_LENGTH, 3048, 10, 0},
    {"yards", DIM_LENGTH, 9144, 10, 0},
    {"yard", DIM_LENGTH, 9144, 10, 0},
    {"yd", DIM_LENGTH, 9144, 10, 0},
    {"millimeters", DIM_LENGTH, 1, 1, 0},
    {"millimeter", DIM_LENGTH, 1, 1, 0},
    {"millimetres", DIM_LENGTH, 1, 1, 0},
    {"millimetre", DIM_LENGTH, 1, 1, 0},
    {"centimeters", DIM_LENGTH, 10, 1, 0},
    {"centimeter", DIM_LENGTH, 10, 1, 0},
    {"centimetres", DIM_LENGTH, 10, 1, 0},
    {"centimetre", DIM_LENGTH, 10, 1, 0},
    {"metres", DIM_LENGTH, 1000, 1, 0},
    {"metre", DIM_LENGTH, 1000, 1, 0},
    {"mm", DIM_LENGTH, 1, 1, 0},
    {"cm", DIM_LENGTH, 10, 1, 0},
    {"miles", DIM_LENGTH, 1609344, 1, 0},
    {"mile", DIM_LENGTH, 1609344, 1, 0},
    {"mi", DIM_LENGTH, 1609344, 1, 0},
    {"km", DIM_LENGTH, 1000000, 1, 0},
    {"meters", DIM_LENGTH, 1000, 1, 0},
    {"meter", DIM_LENGTH, 1000, 1, 0},
    {"m", DIM_LENGTH, 1000, 1, 0},

    {"mils", DIM_FILM, 254, 10, 0},
    {"mil", DIM_FILM, 254, 10, 0},
    {"microns", DIM_FILM, 1, 1, 0},
    {"micron", DIM_FILM, 1, 1, 0},
    {"um", DIM_FILM, 1, 1, 0},
    {"\u00b5m", DIM_FILM, 1, 1, 0},
    {"\u03bcm", DIM_FILM, 1, 1, 0},

    {"ft2", DIM_AREA, FT2, 1e8, 0},
    {"ft\u00b2", DIM_AREA, FT2, 1e8, 0},
    {"sq ft", DIM_AREA, FT2, 1e8, 0},
    {"sq. ft.", DIM_AREA, FT2, 1e8, 0},
    {"sqft", DIM_AREA, FT2, 1e8, 0},
    {"ft^2", DIM_AREA, FT2, 1e8, 0},
    {"square feet", DIM_AREA, FT2, 1e8, 0},
    {"in2", DIM_AREA, 64516, 1e8, 0},
    {"in\u00b2", DIM_AREA, 64516, 1e8, 0},
    {"sq in", DIM_AREA, 64516, 1e8, 0},
    {"m2", DIM_AREA, 1, 1, 0},
    {"m\u00b2", DIM_AREA, 1, 1, 0},
    {"sq m", DIM_AREA, 1, 1, 0},
    {"m^2", DIM_AREA, 1, 1, 0},
    {"square meters", DIM_AREA, 1, 1, 0},
    {"square metres", DIM_AREA, 1, 1, 0},
    {"cm2", DIM_AREA, 1, 1e4, 0},
    {"cm\u00b2", DIM_AREA, 1, 1e4, 0},

    {"fluid ounces", DIM_VOLUME, GAL, 128e6, 0},
    {"fluid ounce", DIM_VOLUME, GAL, 128e6, 0},
    {"fl oz", DIM_VOLUME, GAL, 128e6, 0},
    {"fl. oz.", DIM_VOLUME, GAL, 128e6, 0},
    {"floz", DIM_VOLUME, GAL, 128e6, 0},
    {"gallons", DIM_VOLUME, GAL, 1e6, 0},
    {"gallon", DIM_VOLUME, GAL, 1e6, 0},
    {"gal", DIM_VOLUME, GAL, 1e6, 0},
    {"quarts", DIM_VOLUME, GAL, 4e6, 0},
    {"quart", DIM_VOLUME, GAL, 4e6, 0},
    {"qt", DIM_VOLUME, GAL, 4e6, 0},
    {"pints", DIM_VOLUME, GAL, 8e6, 0},
    {"pint", DIM_VOLUME, GAL, 8e6, 0},
    {"pt", DIM_VOLUME, GAL, 8e6, 0},
    {"cups", DIM_VOLUME, GAL, 16e6, 0},
    {"cup", DIM_VOLUME, GAL, 16e6, 0},
    {"tablespoons", DIM_VOLUME, GAL, 256e6, 0},
    {"tablespoon", DIM_VOLUME, GAL, 256e6, 0},
    {"teaspoons", DIM_VOLUME, GAL, 768e6, 0},
    {"teaspoon", DIM_VOLUME, GAL, 768e6, 0},
    {"litres", DIM_VOLUME, 1000, 1, 0},
    {"litre", DIM_VOLUME, 1000, 1, 0},
    {"millilitres", DIM_VOLUME, 1, 1, 0},
    {"tbsp", DIM_VOLUME, GAL, 256e6, 0},
    {"tsp", DIM_VOLUME, GAL, 768e6, 0},
    {"drops", DIM_VOLUME, 5, 100, 0},
    {"drop", DIM_VOLUME, 5, 100, 0},
    {"milliliters", DIM_VOLUME, 1, 1, 0},
    {"ml", DIM_VOLUME, 1, 1, 0},
    {"liters", DIM_VOLUME, 1000, 1, 0},
    {"liter", DIM_VOLUME, 1000, 1, 0},
    {"l", DIM_VOLUME, 1000, 1, 0},
    {"cl", DIM_VOLUME, 10, 1, 0},

    {"ounces", DIM_MASS, 45359237, 16e5, 0},
    {"ounce", DIM_MASS, 45359237, 16e5, 0},
    {"oz", DIM_MASS, 45359237, 16e5, 0},
    {"pounds", DIM_MASS, 45359237, 1e5, 0},
    {"pound", DIM_MASS, 45359237, 1e5, 0},
    {"lbs", DIM_MASS, 45359237, 1e5, 0},
    {"lb", DIM_MASS, 45359237, 1e5, 0},
    {"grams", DIM_MASS, 1, 1, 0},
    {"gram", DIM_MASS, 1, 1, 0},
    {"g", DIM_MASS, 1, 1, 0},
    {"kg", DIM_MASS, 1000, 1, 0},

    {"lb/gal", DIM_DENSITY, 45359237, GAL / 10, 0},
    {"g/ml", DIM_DENSITY, 1, 1, 0},
    {"g/cm3", DIM_DENSITY, 1, 1, 0},
    {"g/cm\u00b3", DIM_DENSITY, 1, 1, 0},
    {"kg/l", DIM_DENSITY, 1, 1, 0},

    {"ft2/gal", DIM_SPREAD, FT2 * 10, GAL, 0},
    {"ft\u00b2/gal", DIM_SPREAD, FT2 * 10, GAL, 0},
    {"sq ft/gal", DIM_SPREAD, FT2 * 10, GAL, 0},
    {"sq ft per gal", DIM_SPREAD, FT2 * 10, GAL, 0},
    {"sq ft per gallon", DIM_SPREAD, FT2 * 10, GAL, 0},
    {"sq. ft. per gallon", DIM_SPREAD, FT2 * 10, GAL, 0},
    {"sq. ft./gal", DIM_SPREAD, FT2 * 10, GAL, 0},
    {"square feet per gallon", DIM_SPREAD, FT2 * 10, GAL, 0},
    {"ft2/qt", DIM_SPREAD, FT2 * 40, GAL, 0},
    {"sq ft/qt", DIM_SPREAD, FT2 * 40, GAL, 0},
    {"m2/l", DIM_SPREAD, 1, 1, 0},
    {"m\u00b2/l", DIM_SPREAD, 1, 1, 0},
    {"m2 per liter", DIM_SPREAD, 1, 1, 0},
    {"square meters per liter", DIM_SPREAD, 1, 1, 0},

    {"minutes", DIM_DURATION, 1, 1, 0},
    {"minute", DIM_DURATION, 1, 1, 0},
    {"min", DIM_DURATION, 1, 1, 0},
    {"hours", DIM_DURATION, 60, 1, 0},
    {"hour", DIM_DURATION, 60, 1, 0},
    {"hrs", DIM_DURATION, 60, 1, 0},
    {"hr", DIM_DURATION, 60, 1, 0},
    {"h", DIM_DURATION, 60, 1, 0},
    {"days", DIM_DURATION, 1440, 1, 0},
    {"day", DIM_DURATION, 1440, 1, 0},
    {"d", DIM_DURATION, 1440, 1, 0},
    {"weeks", DIM_DURATION, 10080, 1, 0},
    {"week", DIM_DURATION, 10080, 1, 0},
    {"wk", DIM_DURATION, 10080, 1, 0},

    {"\u00b0f", DIM_TEMPERATURE, 10, 18, -32},
    {"\u2109", DIM_TEMPERATURE, 10, 18, -32},
    {"\u00ba f", DIM_TEMPERATURE, 10, 18, -32}, /* the key beside the degree sign */
    {"degrees f", DIM_TEMPERATURE, 10, 18, -32},
    {"degrees fahrenheit", DIM_TEMPERATURE, 10, 18, -32},
    {"deg f", DIM_TEMPERATURE, 10, 18, -32},
    {"degf", DIM_TEMPERATURE, 10, 18, -32},
    {"f", DIM_TEMPERATURE, 10, 18, -32},
    {"\u00b0c", DIM_TEMPERATURE, 1, 1, 0},
    {"\u2103", DIM_TEMPERATURE, 1, 1, 0},
    {"\u00ba c", DIM_TEMPERATURE, 1, 1, 0},
    {"degrees c", DIM_TEMPERATURE, 1, 1, 0},
    {"degrees celsius", DIM_TEMPERATURE, 1, 1, 0},
    {"deg c", DIM_TEMPERATURE, 1, 1, 0},
    {"degc", DIM_TEMPERATURE, 1, 1, 0},
    {"c", DIM_TEMPERATURE, 1, 1, 0},

    {"%", DIM_FRACTION, 1, 100, 0},
    {"percent", DIM_FRACTION, 1, 100, 0},

    /* money has its sign in front; what is behind it is left here */
    {"/ hour", DIM_RATE, 100, 1, 0},
    {"/ hr", DIM_RATE, 100, 1, 0},
    {"/ h", DIM_RATE, 100, 1, 0},
    {"an hour", DIM_RATE, 100, 1, 0},
    {"per hour", DIM_RATE, 100, 1, 0},

    {"newtons", DIM_FORCE, 1, 1, 0},
    {"n", DIM_FORCE, 1, 1, 0},
    {"lbf", DIM_FORCE, 44482216152605, 1e13, 0},
};

/* [0] what to write, after "Write "; [1] what follows the number when its unit is missing */
static const char *const hints[DIMENSION_COUNT][2] = {
    [DIM_NONE] = {"a plain number: 12 or 0.5", ""},
    [DIM_LENGTH] = {"inches, feet or millimeters: 32 3/4 in, 2' 6-1/2\", 830 mm",
                    " in, 2' 6-1/2\" or 830 mm"},
    [DIM_FILM] = {"mils or micrometers: 1.5 mil, 38 um", " um or 1.5 mil"},
    [DIM_AREA] = {"square feet or square meters: 12 ft2, 1.1 m2", " ft2 or 1.1 m2"},
    [DIM_VOLUME] = {"fluid ounces, quarts or liters: 13 fl oz, 1/2 cup, 1 qt, 3 tsp, 400 ml, 1.2 L",
                    " fl oz, 1 qt or 1.2 L"},
    [DIM_POUR] = {"what the measure shows: 1/4 fl oz, 1/4 tsp, 1 drop, 5 ml, or on a scale 0.1 g",
                  " fl oz, 5 ml or 0.1 g"},
    [DIM_MASS] = {"grams, ounces or pounds: 12 g, 3 oz, 1 lb", " g, 3 oz or 1 lb"},
    [DIM_DENSITY] = {"grams per milliliter or pounds per gallon: 1.3 g/ml, 11 lb/gal",
                     " g/ml or 11 lb/gal"},
    [DIM_SPREAD] = {"square feet per gallon or square meters per liter: 400 ft2/gal, 10 m2/L",
                    " ft2/gal or 10 m2/L"},
    [DIM_DURATION] = {"minutes, hours or days: 40 min, 3 h 20 min, 2 d", " min, 3 h 20 min or 2 d"},
    [DIM_TEMPERATURE] = {"degrees: 68 °F or 20 °C", " °F or 20 °C"},
    [DIM_FRACTION] = {"percent: 35 %", " %"},
    [DIM_MONEY] = {"dollars: $24.50", NULL},
    [DIM_RATE] = {"dollars an hour: $45/h", NULL},
    [DIM_FORCE] = {"newtons or pounds: 250 N, 56 lbf", " N or 56 lbf"},
};

const char *units_hint(enum dimension d) {
    return hints[d][0];
}

/* ---- reading ---- */

static char lower(char c) {
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}
static bool digit(char c) {
    return c >= '0' && c <= '9';
}
static bool letter(char c) {
    return lower(c) >= 'a' && lower(c) <= 'z';
}

/* Blanks, the non-breaking ones included. */
static const char *skip(const char *s) {
    for (;;) {
        if (*s == ' ' || *s == '\t')
            s++;
        else if (!strncmp(s, "\u00a0", 2))
            s += 2;
        else if (!strncmp(s, "\u202f", 3) || !strncmp(s, "\u2009", 3))
            s += 3;
        else
            return s;
    }
}

/* If s begins with `word` (any case, one blank for any number of blanks), what is behind it. */
static const char *begins(const char *s, const char *word) {
    for (; *word; word++) {
        if (*word == ' ') {
            s = skip(s);
        } else {
            if (lower(*s) != *word) return NULL;
            s++;
        }
    }
    return s;
}

/* One of the Unicode fractions: its value, and what is behind it. */
static const char *vulgar(const char *s, double *out_value) {
    static const struct {
        const char *text;
        double value;
    } rows[] = {{"\u00bd", 1. / 2}, {"\u00bc", 1. / 4}, {"\u00be", 3. / 4},
                {"\u215b", 1. / 8}, {"\u215c", 3. / 8}, {"\u215d", 5. / 8},
                {"\u215e", 7. / 8}, {"\u2153", 1. / 3}, {"\u2154", 2. / 3}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const char *end = begins(s, rows[i].text);
        if (end) {
            *out_value = rows[i].value;
            return end;
        }
    }
    return NULL;
}

static const char *whole(const char *s, double *out_value) {
    double v = 0;
    if (!digit(*s)) return NULL;
    for (int n = 0; digit(*s); s++, n++) {
        if (n >= 15) return NULL;
        v = v * 10 + (*s - '0');
    }
    *out_value = v;
    return s;
}

/* a/b with b >= 1 */
static const char *fraction(const char *s, double *out_value) {
    double a, b;
    const char *end = vulgar(s, out_value);
    if (end) return end;
    if (!(end = whole(s, &a)) || !(*end == '/' || !strncmp(end, "\u2044", 3))) return NULL;
    end += *end == '/' ? 1 : 3;
    if (!(end = whole(end, &b)) || b < 1) return NULL;
    *out_value = a / b;
    return end;
}

/* "50,5" and "1.234,5": a comma where others write a point. One or two digits behind it, or a point
 * between thousands in front, leave no doubt; "1,234" may be either and is not read. */
static const char *comma_decimal(const char *s, double *out_value) {
    char copy[UNITS_TEXT_MAX + 1];
    size_t n = 0, group = 0, after = 0;
    bool points = false;
    for (; digit(*s) || (*s == '.' && group && digit(s[1])); s++) {
        if (*s == '.' ? group > 3 || (points && group != 3) : n >= UNITS_TEXT_MAX - 4) return NULL;
        if (*s == '.') points = true;
        group = *s == '.' ? 0 : group + 1;
        if (*s != '.') copy[n++] = *s;
    }
    if (*s++ != ',' || !n || (points && group != 3)) return NULL;
    for (copy[n++] = '.'; digit(s[after]); after++)
        if (n < UNITS_TEXT_MAX) copy[n++] = s[after];
    if (!after || after > 3 || (after == 3 && !points)) return NULL;
    copy[n] = 0;
    *out_value = strtod(copy, NULL);
    return s + after;
}

/* Digits with at most one point and perhaps an exponent, copied so that strtod sees no more than
 * that; the process never leaves the C locale. Commas between thousands only where asked. */
static const char *decimal(const char *s, bool commas, double *out_value) {
    char copy[UNITS_TEXT_MAX + 1];
    size_t n = 0;
    bool point = false, any = false;
    for (; n < UNITS_TEXT_MAX; s++) {
        if (digit(*s))
            any = true;
        else if (*s == '.' && !point)
            point = true;
        else if (commas && *s == ',' && any && !point && digit(s[1]) && digit(s[2]) &&
                 digit(s[3]) && !digit(s[4]))
            continue;
        else
            break;
        copy[n++] = *s;
    }
    if (!any) return NULL;
    const char *e = s + 1;
    if (lower(*s) == 'e' && (digit(*e) || ((*e == '-' || *e == '+') && digit(e[1])))) {
        copy[n++] = 'e';
        if (!digit(*e)) copy[n++] = *e++;
        for (; digit(*e) && n < UNITS_TEXT_MAX; e++) copy[n++] = *e;
        s = e;
    }
    copy[n] = 0;
    *out_value = strtod(copy, NULL);
    return s;
}

/* 32   32.75   3/4   32 3/4   32-3/4   32¾ */
static const char *number(const char *s, bool commas, double *out_value) {
    double v, part;
    const char *end = fraction(s, out_value);
    if (end) return end;
    if ((end = comma_decimal(s, out_value))) return end;
    if (!(end = decimal(s, commas, &v))) return NULL;
    const char *next = *end == '-' ? end + 1 : !strncmp(end, "\u2013", 3) ? end + 3 : skip(end);
    if (v == floor(v) && (next = fraction(next, &part))) {
        v += part;
        end = next;
    }
    *out_value = v;
    return end;
}

/* Paint is poured by volume or by weight. */
static bool pours(const struct unit *u) {
    return u->dimension == DIM_VOLUME || u->dimension == DIM_MASS;
}

/* The unit of this dimension that s begins with; the longest wins. */
static const struct unit *unit_at(const char *s, enum dimension d, const char **out_end) {
    const struct unit *best = NULL;
    *out_end = s;
    for (size_t i = 0; i < sizeof units / sizeof *units; i++) {
        const struct unit *u = &units[i];
        if (d != DIMENSION_COUNT && u->dimension != d && !(d == DIM_POUR && pours(u))) continue;
        const char *end = begins(s, u->name);
        if (!end) continue;
        char last = u->name[strlen(u->name) - 1];
        if (letter(last) && (letter(*end) || digit(*end) || *end == '/')) continue;
        if (digit(last) && digit(*end)) continue;
        if (letter(last) && *end == '.' && (!end[1] || end[1] == ' ')) end++; /* "20 in." */
        if (!best || end > *out_end) {
            best = u;
            *out_end = end;
        }
    }
    return best;
}

/* Cuts what is quoted in an error to something that fits a line, at a character's edge. */
static const char *quoted(const char *text, char out[UNITS_TEXT_MAX]) {
    size_t n = strnlen(text, 40);
    if (text[n]) {
        while (n && ((unsigned char)text[n] & 0xc0) == 0x80) n--;
    }
    snprintf(out, UNITS_TEXT_MAX, "%.*s%s", (int)n, text, text[n] ? "..." : "");
    return out;
}

static enum status bad_unit(enum dimension d, const char *text, const char *at, struct why *why) {
    char q[UNITS_TEXT_MAX];
    const char *end;
    quoted(text, q);
    if (d == DIM_MONEY || d == DIM_RATE)
        return why_say(why, E_UNIT, "", "\"%s\" is not an amount of money as I know it. Write %s.",
                       q, hints[d][0]);
    if (!*at) {
        if (d == DIM_NONE || !hints[d][1])
            return why_say(why, E_UNIT, "", "\"%s\" is not complete. Write %s.", q, hints[d][0]);
        return why_say(why, E_UNIT, "", "%s is missing its unit. Write %s%s.", q, q, hints[d][1]);
    }
    if (*at == ',')
        return why_say(why, E_SYNTAX, "",
                       "\"%s\" has a comma in it that may part thousands or decimals. Write a "
                       "point for decimals, nothing between thousands, and %s.",
                       q, hints[d][0]);
    if (d == DIM_VOLUME && (end = begins(at, "oz")) && !*skip(end))
        return why_say(why, E_UNIT, "",
                       "\"%s\" is a weight. For a volume write fl oz: 13 fl oz, 1 qt or 1.2 L.", q);
    const struct unit *other = unit_at(at, DIMENSION_COUNT, &end);
    if (other && d != DIM_NONE && other->dimension != d)
        return why_say(why, E_UNIT, "", "\"%s\" does not measure in %s. Write %s.", q,
                       dimension_unit(d), hints[d][0]);
    if (d == DIM_NONE)
        return why_say(why, E_UNIT, "", "\"%s\" must be a number without a unit. Write %s.", q,
                       hints[d][0]);
    return why_say(why, E_UNIT, "", "\"%s\" has no unit I know. Write %s.", q, hints[d][0]);
}

static enum status bad_number(enum dimension d, const char *text, struct why *why) {
    char q[UNITS_TEXT_MAX];
    if (!*skip(text)) return why_say(why, E_SYNTAX, "", "It is empty. Write %s.", hints[d][0]);
    return why_say(why, E_SYNTAX, "", "\"%s\" does not begin with a number. Write %s.",
                   quoted(text, q), hints[d][0]);
}

/* $24.50, $1,250 and, for a rate, /h behind it */
static enum status read_money(enum dimension d, const char *text, double *out_value,
                              struct why *why) {
    double v;
    const char *s = skip(text), *end;
    bool minus = *s == '-' || !strncmp(s, "\u2212", 3);
    if (minus) s = skip(s + (*s == '-' ? 1 : 3));
    if (*s != '$') return bad_unit(d, text, s, why);
    s = skip(s + 1);
    end = comma_decimal(s, &v);
    if (!(s = end ? end : decimal(s, true, &v))) return bad_unit(d, text, "", why);
    s = skip(s);
    if (d == DIM_RATE && *s) { /* $45 of a rate is an hour's */
        if (!unit_at(s, d, &end)) return bad_unit(d, text, s, why);
        s = skip(end);
    }
    if (*s) return bad_unit(d, text, s, why);
    v = (minus ? -v : v) * 100;
    /* cents that came as decimals of a dollar: 24.55 * 100 is 2455.0000000000005 */
    if (fabs(v) < 1e12 && fabs(v - nearbyint(v)) < 1e-6) v = nearbyint(v);
    if (!isfinite(v)) return why_say(why, E_DOMAIN, "", "The number is too large.");
    *out_value = v;
    return OK;
}

enum status units_read(enum dimension d, const char *text, double *out_value, struct why *why) {
    if (strnlen(text, UNITS_TEXT_MAX + 1) > UNITS_TEXT_MAX) {
        char q[UNITS_TEXT_MAX];
        return why_say(why, E_SYNTAX, "", "\"%s\" is too long for a quantity. Write %s.",
                       quoted(text, q), hints[d][0]);
    }
    if (d == DIM_MONEY || d == DIM_RATE) return read_money(d, text, out_value, why);
    const char *s = skip(text);
    bool minus = *s == '-' || !strncmp(s, "\u2212", 3);
    if (minus) s = skip(s + (*s == '-' ? 1 : 3));
    double sum = 0, v, last = INFINITY;
    int terms = 0;
    bool foot = false; /* what follows feet without a unit is inches */
    do {
        const char *end = number(s, false, &v);
        if (!end) return terms ? bad_unit(d, text, s, why) : bad_number(d, text, why);
        s = skip(end);
        if (d == DIM_NONE) {
            if (*s) return bad_unit(d, text, s, why);
            sum = v;
            break;
        }
        const struct unit *u = unit_at(s, d, &end);
        if (!*s && foot) u = unit_at("in", d, &end), end = s; /* 3' 2 */
        if (!u) return bad_unit(d, text, s, why);
        if (!(u->num / u->den < last)) { /* 18 in 2 in, 50 % 5 %: two quantities, or a slip */
            char q[UNITS_TEXT_MAX];
            return why_say(why, E_UNIT, "",
                           "\"%s\" is two quantities: what follows must be of a smaller unit. "
                           "Write %s.",
                           quoted(text, q), hints[d][0]);
        }
        last = u->num / u->den;
        foot = d == DIM_LENGTH && u->num == 3048;
        if (d == DIM_TEMPERATURE)
            sum = ((minus ? -v : v) + u->add) * u->num / u->den;
        else
            sum += v * u->num / u->den /
                   (d == DIM_POUR && u->dimension == DIM_MASS ? PAINT_USUAL_G_PER_ML : 1);
        s = skip(end);
        if (*s == ',') s = skip(s + 1); /* 2 ft, 6 in */
        terms++;
    } while (*s && d != DIM_TEMPERATURE && terms < 4);
    if (*s) return bad_unit(d, text, s, why);
    if (minus && d != DIM_TEMPERATURE) sum = -sum;
    if (!isfinite(sum)) return why_say(why, E_DOMAIN, "", "The number is too large.");
    *out_value = sum;
    return OK;
}
