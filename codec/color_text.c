#include "codec/color_text.h"

#include "core/color/rgb_wide.h"
#include "tables.h"

#include <ctype.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

/* One value as written: a number and what stood behind it. */
enum suffix { SUFFIX_NONE, SUFFIX_PERCENT, SUFFIX_DEGREE };

struct value {
    double number; /* hues already in degrees, `none` is 0 */
    enum suffix suffix;
};

struct scan {
    char text[COLOR_TEXT_MAX + 1];  /* lower case, trimmed */
    char typed[COLOR_TEXT_MAX + 1]; /* as it was written, trimmed: what messages say */
    const char *at;
    struct why *why;
};

static const char HINT[] = "Write #1f4e5a, rgb(31 78 90), lab(30.6 -13 -11), lch(), oklab(), "
                           "oklch(), color(display-p3 .1 .3 .35), a CSS name or Munsell 7.5BG 3/4.";

static enum status fail(const struct scan *s, enum status status) {
    return why_say(s->why, status, "", "\"%.60s\" is not a color I can read. %s", s->typed, HINT);
}

/* ---- numbers ---- */

static void skip_space(struct scan *s) {
    while (*s->at == ' ' || *s->at == '\t') s->at++;
}

/* [+-] digits [. digits] [e [+-] digits], and nothing that strtod takes besides (hex, inf, nan) */
static size_t number_length(const char *t) {
    size_t i = t[0] == '+' || t[0] == '-', digits = 0;
    while (isdigit((unsigned char)t[i])) i++, digits++;
    if (t[i] == '.' && isdigit((unsigned char)t[i + 1])) i++;
    while (isdigit((unsigned char)t[i])) i++, digits++;
    if (!digits) return 0;
    if (t[i] == 'e') {
        size_t j = i + 1;
        if (t[j] == '+' || t[j] == '-') j++;
        if (isdigit((unsigned char)t[j])) {
            while (isdigit((unsigned char)t[j])) j++;
            i = j;
        }
    }
    return i;
}

static bool scan_number(struct scan *s, double *out) {
    size_t n = number_length(s->at);
    char digits[COLOR_TEXT_MAX + 1];
    if (!n) return false;
    memcpy(digits, s->at, n);
    digits[n] = 0;
    *out = strtod(digits, NULL);
    s->at += n;
    return isfinite(*out);
}

static bool scan_word(struct scan *s, const char *word) {
    size_t n = strlen(word);
    if (strncmp(s->at, word, n) != 0) return false;
    s->at += n;
    return true;
}

static bool scan_value(struct scan *s, struct value *out) {
    static const struct {
        const char *name;
        double degrees;
    } angles[] = {{"deg", 1}, {"grad", 0.9}, {"rad", 57.29577951308232}, {"turn", 360}};
    *out = (struct value){0, SUFFIX_NONE};
    if (scan_word(s, "none")) return true;
    if (!scan_number(s, &out->number)) return false;
    if (scan_word(s, "%")) {
        out->suffix = SUFFIX_PERCENT;
        return true;
    }
    for (size_t i = 0; i < sizeof angles / sizeof *angles; i++)
        if (scan_word(s, angles[i].name)) {
            out->number *= angles[i].degrees;
            out->suffix = SUFFIX_DEGREE;
        }
    return isfinite(out->number);
}

/* "( a b c )" or "( a, b, c )", alpha after "/" or as fourth; alpha must be 1. */
static enum status scan_three(struct scan *s, struct value v[3]) {
    bool commas = false;
    for (int i = 0; i < 3; i++) {
        skip_space(s);
        if (i && *s->at == ',') {
            commas = true;
            s->at++;
            skip_space(s);
        } else if (i && commas)
            return fail(s, E_SYNTAX);
        if (!scan_value(s, &v[i])) return fail(s, E_SYNTAX);
    }
    skip_space(s);
    if (*s->at == '/' || (commas && *s->at == ',')) {
        struct value alpha;
        s->at++;
        skip_space(s);
        if (!scan_value(s, &alpha) || alpha.suffix == SUFFIX_DEGREE) return fail(s, E_SYNTAX);
        if (alpha.number != (alpha.suffix == SUFFIX_PERCENT ? 100 : 1))
            return why_say(s->why, E_DOMAIN, "",
                           "\"%.60s\" is transparent, and paint is not. Leave the alpha out.",
                           s->typed);
        skip_space(s);
    }
    if (*s->at != ')' || s->at[1]) return fail(s, E_SYNTAX);
    return OK;
}

/* ---- notations with brackets ---- */

enum component { PLAIN, HUE };

/* How one of the three values is written and what it may be: 100 % is `full`; the number, in the
 * notation's own unit, must lie in low..high. */
struct slot {
    enum component kind;
    double full, low, high;
};

static struct lab from_xyz_d65(struct xyz c) {
    return lab_of_xyz(xyz_d50_of_d65(c), XYZ_D50);
}

static struct lab from_rgb(enum rgb_space space, struct rgb encoded) {
    return from_xyz_d65(xyz_d65_of_rgb(space, rgb_decode(encoded)));
}

static struct lab of_rgb(const double v[3]) {
    return lab_of_srgb((struct rgb){v[0] / 255, v[1] / 255, v[2] / 255});
}
static struct lab of_lab(const double v[3]) {
    return (struct lab){v[0], v[1], v[2]};
}
static struct lab of_lch(const double v[3]) {
    return lab_of_lch((struct lch){v[0], v[1], v[2]});
}
static struct lab of_lab_d65(const double v[3]) {
    return lab_d50_of_d65((struct lab){v[0], v[1], v[2]});
}
static struct lab of_lch_d65(const double v[3]) {
    return lab_d50_of_d65(lab_of_lch((struct lch){v[0], v[1], v[2]}));
}
/* As most instruments for paint show it. Adapting white to white leaves the observers' small
 * difference in. */
static struct lab d50_of_d65_10(struct lab c) {
    static const struct xyz white = {0.9481, 1, 1.0732}; /* CIE15, table of white points */
    return lab_of_xyz(xyz_adapt(xyz_of_lab(c, white), white, XYZ_D50), XYZ_D50);
}
static struct lab of_lab_d65_10(const double v[3]) {
    return d50_of_d65_10((struct lab){v[0], v[1], v[2]});
}
static struct lab of_lch_d65_10(const double v[3]) {
    return d50_of_d65_10(lab_of_lch((struct lch){v[0], v[1], v[2]}));
}
static struct lab of_oklab(const double v[3]) {
    return from_xyz_d65(xyz_d65_of_oklab((struct oklab){v[0], v[1], v[2]}));
}
static struct lab of_oklch(const double v[3]) {
    return from_xyz_d65(xyz_d65_of_oklab(oklab_of_oklch((struct lch){v[0], v[1], v[2]})));
}
static struct lab of_srgb(const double v[3]) {
    return from_rgb(RGB_SRGB, (struct rgb){v[0], v[1], v[2]});
}
static struct lab of_p3(const double v[3]) {
    return from_rgb(RGB_DISPLAY_P3, (struct rgb){v[0], v[1], v[2]});
}
static struct lab of_a98(const double v[3]) {
    return from_xyz_d65(xyz_d65_of_a98((struct rgb){v[0], v[1], v[2]}));
}
static struct lab of_rec2020(const double v[3]) {
    return from_xyz_d65(xyz_d65_of_rec2020((struct rgb){v[0], v[1], v[2]}));
}
static struct lab of_prophoto(const double v[3]) {
    return lab_of_xyz(xyz_d50_of_prophoto((struct rgb){v[0], v[1], v[2]}), XYZ_D50);
}
static struct lab of_linear(const double v[3]) {
    return from_xyz_d65(xyz_d65_of_rgb(RGB_SRGB, (struct rgb){v[0], v[1], v[2]}));
}
static struct lab of_xyz_d50(const double v[3]) {
    return lab_of_xyz((struct xyz){v[0], v[1], v[2]}, XYZ_D50);
}
static struct lab of_xyz_d65(const double v[3]) {
    return from_xyz_d65((struct xyz){v[0], v[1], v[2]});
}

/* CSS4 section 7.1: one channel of a hue (degrees), saturation and lightness (0..1) */
static double hsl_channel(double n, double h, double s, double l) {
    double k = fmod(n + h / 30, 12), a = s * fmin(l, 1 - l);
    return l - a * fmax(-1, fmin(fmin(k - 3, 9 - k), 1));
}

static struct lab of_hsl(const double v[3]) {
    double h = v[0], s = v[1] / 100, l = v[2] / 100;
    return lab_of_srgb(
        (struct rgb){hsl_channel(0, h, s, l), hsl_channel(8, h, s, l), hsl_channel(4, h, s, l)});
}

static struct lab of_hwb(const double v[3]) {
    double w = v[1] / 100, k = v[2] / 100, sum = w + k;
    if (sum >= 1) return lab_of_srgb((struct rgb){w / sum, w / sum, w / sum});
    double rgb[3];
    for (int i = 0; i < 3; i++)
        rgb[i] = hsl_channel((const double[]){0, 8, 4}[i], v[0], 1, 0.5) * (1 - sum) + w;
    return lab_of_srgb((struct rgb){rgb[0], rgb[1], rgb[2]});
}

#define HUE_SLOT                                                                                   \
    { HUE, 0, -1e6, 1e6 }
#define RGB_SLOT                                                                                   \
    { PLAIN, 255, 0, 255 }
#define LAB_SLOTS                                                                                  \
    {PLAIN, 100, 0, 100}, {PLAIN, 125, -250, 250}, {                                               \
        PLAIN, 125, -250, 250                                                                      \
    }
#define LCH_SLOTS {PLAIN, 100, 0, 100}, {PLAIN, 150, 0, 250}, HUE_SLOT
#define UNIT_SLOT                                                                                  \
    { PLAIN, 1, -1, 2 } /* wide spaces may hold a little more than 0..1 */

/* Longer names before the ones that are their beginnings. */
static const struct notation {
    const char *name;
    struct slot slot[3];
    struct lab (*color)(const double v[3]);
} notations[] = {
    {"rgba(", {RGB_SLOT, RGB_SLOT, RGB_SLOT}, of_rgb},
    {"rgb(", {RGB_SLOT, RGB_SLOT, RGB_SLOT}, of_rgb},
    {"hsla(", {HUE_SLOT, {PLAIN, 100, 0, 100}, {PLAIN, 100, 0, 100}}, of_hsl},
    {"hsl(", {HUE_SLOT, {PLAIN, 100, 0, 100}, {PLAIN, 100, 0, 100}}, of_hsl},
    {"hwb(", {HUE_SLOT, {PLAIN, 100, 0, 100}, {PLAIN, 100, 0, 100}}, of_hwb},
    {"lab(", {LAB_SLOTS}, of_lab},
    {"lch(", {LCH_SLOTS}, of_lch},
    {"lab-d65(", {LAB_SLOTS}, of_lab_d65},
    {"lab-d65-10(", {LAB_SLOTS}, of_lab_d65_10},
    {"lch-d65(", {LCH_SLOTS}, of_lch_d65},
    {"lch-d65-10(", {LCH_SLOTS}, of_lch_d65_10},
    {"oklab(", {{PLAIN, 1, 0, 1}, {PLAIN, 0.4, -0.6, 0.6}, {PLAIN, 0.4, -0.6, 0.6}}, of_oklab},
    {"oklch(", {{PLAIN, 1, 0, 1}, {PLAIN, 0.4, 0, 0.6}, HUE_SLOT}, of_oklch},
    {"color(display-p3 ", {UNIT_SLOT, UNIT_SLOT, UNIT_SLOT}, of_p3},
    {"color(a98-rgb ", {UNIT_SLOT, UNIT_SLOT, UNIT_SLOT}, of_a98},
    {"color(prophoto-rgb ", {UNIT_SLOT, UNIT_SLOT, UNIT_SLOT}, of_prophoto},
    {"color(rec2020 ", {UNIT_SLOT, UNIT_SLOT, UNIT_SLOT}, of_rec2020},
    {"color(srgb-linear ", {UNIT_SLOT, UNIT_SLOT, UNIT_SLOT}, of_linear},
    {"color(srgb ", {UNIT_SLOT, UNIT_SLOT, UNIT_SLOT}, of_srgb},
    {"color(xyz-d50 ", {UNIT_SLOT, UNIT_SLOT, UNIT_SLOT}, of_xyz_d50},
    {"color(xyz-d65 ", {UNIT_SLOT, UNIT_SLOT, UNIT_SLOT}, of_xyz_d65},
    {"color(xyz ", {UNIT_SLOT, UNIT_SLOT, UNIT_SLOT}, of_xyz_d65},
};

static enum status read_slots(struct scan *s, const struct notation *n, double v[3]) {
    static const char *const which[3] = {"first", "second", "third"};
    struct value said[3];
    enum status status = scan_three(s, said);
    if (status != OK) return status;
    for (int i = 0; i < 3; i++) {
        const struct slot *slot = &n->slot[i];
        bool percent = said[i].suffix == SUFFIX_PERCENT, degree = said[i].suffix == SUFFIX_DEGREE;
        if (slot->kind == HUE ? percent : degree)
            return why_say(s->why, E_UNIT, "", "\"%.60s\": the %s value is %s.", s->typed, which[i],
                           slot->kind == HUE ? "a hue and takes degrees, not percent"
                                             : "no angle and takes no degrees");
        v[i] = percent ? said[i].number * slot->full / 100 : said[i].number;
        if (!(v[i] >= slot->low && v[i] <= slot->high))
            return why_say(s->why, E_DOMAIN, "",
                           "\"%.60s\": the %s value must lie between %g and %g.", s->typed,
                           which[i], slot->low, slot->high);
        if (slot->kind == HUE) {
            v[i] = fmod(v[i], 360);
            if (v[i] < 0) v[i] += 360;
        }
    }
    return OK;
}

/* ---- the others ---- */

static int hex_digit(char c) {
    return isdigit((unsigned char)c) ? c - '0' : c >= 'a' && c <= 'f' ? c - 'a' + 10 : -1;
}

static enum status read_hex(struct scan *s, struct lab *out) {
    int digit[8], n = 0;
    for (const char *p = s->text + 1; *p; p++, n++)
        if (n == 8 || (digit[n] = hex_digit(*p)) < 0) return fail(s, E_SYNTAX);
    if (n != 3 && n != 4 && n != 6 && n != 8) return fail(s, E_SYNTAX);
    int wide = n >= 6 ? 2 : 1;
    double v[4] = {0, 0, 0, 255};
    for (int i = 0; i * wide < n; i++)
        v[i] = wide == 2 ? digit[2 * i] * 16 + digit[2 * i + 1] : digit[i] * 17;
    if (v[3] != 255)
        return why_say(s->why, E_DOMAIN, "",
                       "\"%.60s\" is transparent, and paint is not. Leave the alpha out.",
                       s->typed);
    *out = of_rgb(v);
    return OK;
}

static const char *const families[10] = {"r", "yr", "y", "gy", "g", "bg", "b", "pb", "p", "rp"};

/* 7.5BG 3/4, N 5/, n5.5: hue 0..10 and family, value 0..10, chroma 0..50 */
static bool scan_munsell(struct scan *s, struct munsell *out) {
    double hue = 0;
    int family = -1;
    s->at = s->text;
    bool colored = scan_number(s, &hue);
    if (!colored) s->at = s->text; /* not a number, or one beyond all bounds */
    skip_space(s);
    for (int i = 0; i < 10 && colored; i++) {
        size_t n = strlen(families[i]);
        if (!strncmp(s->at, families[i], n) && !isalpha((unsigned char)s->at[n])) {
            family = i;
            s->at += n;
            break;
        }
    }
    if (colored ? family < 0 || hue < 0 || hue > 10 : !scan_word(s, "n")) return false;
    *out = (struct munsell){colored ? family * 10 + hue : 0, 0, 0};
    skip_space(s);
    if (!scan_number(s, &out->value)) return false;
    skip_space(s);
    bool slash = scan_word(s, "/");
    skip_space(s);
    if (colored && !(slash && scan_number(s, &out->chroma))) return false;
    return !*s->at;
}

static enum status color_of_munsell(struct scan *s, struct munsell m, struct lab *out) {
    if (!(m.value >= 0 && m.value <= 10 && m.chroma >= 0 && m.chroma <= 50))
        return why_say(s->why, E_DOMAIN, "",
                       "\"%.60s\": a Munsell value is 0 to 10, a chroma 0 to 50.", s->typed);
    struct munsell_book *book = malloc(sizeof *book);
    if (!book) return why_no_memory(s->why);
    munsell_book_make(&tables_builtin, book);
    *out = munsell_color(book, m);
    free(book);
    return OK;
}

static bool scan_name(const struct scan *s, struct lab *out) {
    const struct tables *t = &tables_builtin;
    for (size_t i = 0; i < t->css_colors_n; i++)
        if (!strcmp(s->text, t->css_colors[i].id)) {
            *out = of_rgb(
                (const double[]){t->css_colors[i].r, t->css_colors[i].g, t->css_colors[i].b});
            return true;
        }
    return false;
}

/* ---- all ---- */

/* Lower case without blanks at the ends; control bytes and anything beyond ASCII are refused. */
static bool take_text(struct scan *s, const char *text) {
    while (*text == ' ' || *text == '\t') text++;
    size_t n = 0;
    for (; text[n]; n++) {
        unsigned char c = (unsigned char)text[n];
        if (n == COLOR_TEXT_MAX || c >= 127 || (c < 32 && c != '\t')) return false;
        s->text[n] = (char)tolower(c);
        s->typed[n] = text[n];
    }
    while (n && (s->text[n - 1] == ' ' || s->text[n - 1] == '\t')) n--;
    s->text[n] = s->typed[n] = 0;
    s->at = s->text;
    return n > 0;
}

static enum status checked(const struct scan *s, struct lab c, struct lab *out) {
    if (!(c.l >= -1e-6 && c.l <= 100.0001 && fabs(c.a) <= 250 && fabs(c.b) <= 250))
        return why_say(s->why, E_DOMAIN, "",
                       "\"%.60s\" is darker than black, lighter than white or beyond any color.",
                       s->typed);
    *out = (struct lab){fmin(fmax(c.l, 0), 100), c.a, c.b};
    return OK;
}

enum status color_read(const char *text, struct lab *out, struct why *why) {
    struct scan s = {.why = why};
    struct munsell m;
    struct lab c = {NAN, NAN, NAN};
    enum status status;
    if (!take_text(&s, text)) {
        s.text[0] = 0;
        return why_say(why, E_SYNTAX, "", "That is not a color I can read. %s", HINT);
    }
    if (s.text[0] == '#') {
        status = read_hex(&s, &c);
        return status == OK ? checked(&s, c, out) : status;
    }
    for (size_t i = 0; i < sizeof notations / sizeof *notations; i++)
        if (scan_word(&s, notations[i].name)) {
            double v[3];
            status = read_slots(&s, &notations[i], v);
            return status == OK ? checked(&s, notations[i].color(v), out) : status;
        }
    if (scan_name(&s, &c)) return checked(&s, c, out);
    if (!scan_munsell(&s, &m)) return fail(&s, E_SYNTAX);
    status = color_of_munsell(&s, m, &c);
    return status == OK ? checked(&s, c, out) : status;
}
