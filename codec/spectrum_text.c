#include "codec/spectrum_text.h"

#include "codec/spectrum_table.h"
#include "core/color/color.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

/* ---- words ---- */

enum status spectrum_line_say(struct why *why, enum status s, size_t line, const char *fmt, ...) {
    char text[240], field[40];
    va_list ap;
    va_start(ap, fmt);
    vsnprintf(text, sizeof text, fmt, ap);
    va_end(ap);
    snprintf(field, sizeof field, "/lines/%zu", line);
    return why_say(why, s, field, "Line %zu: %s", line, text);
}

/* Digits, point and exponent by hand: strtod would follow the locale and read "inf". */
static const char *number_end(const char *p, double *out) {
    const char *from = p;
    double v = 0, scale = 1;
    bool minus = *p == '-', digits = false;
    if (*p == '-' || *p == '+') p++;
    for (; *p >= '0' && *p <= '9'; p++, digits = true) v = v * 10 + (*p - '0');
    if (*p == '.')
        for (p++; *p >= '0' && *p <= '9'; p++, digits = true) v += (*p - '0') * (scale /= 10);
    if (!digits) return from;
    if (*p == 'e' || *p == 'E') {
        const char *e = p + 1;
        bool down = *e == '-';
        int power = 0;
        if (*e == '-' || *e == '+') e++;
        if (*e >= '0' && *e <= '9') {
            for (; *e >= '0' && *e <= '9'; e++) power = power < 400 ? power * 10 + (*e - '0') : 400;
            v *= pow(10, down ? -power : power);
            p = e;
        }
    }
    *out = minus ? -v : v;
    return p;
}

bool spectrum_number(const char *word, double *out) {
    double v = 0;
    const char *end = number_end(word, &v);
    if (end == word || !isfinite(v)) return false;
    while (*end == ' ') end++;
    if (*end == '%') end++;
    if (*end) return false;
    *out = v;
    return true;
}

double spectrum_field_nm(const char *name) {
    static const char *const stems[] = {"SPECTRAL_NM_", "SPECTRAL_NM", "SPECTRAL_", "SPEC_",
                                        "NM_",          "NM",          "R_",        "R"};
    double nm = 0;
    const char *p = name;
    for (size_t i = 0; i < sizeof stems / sizeof *stems; i++)
        if (!strncasecmp(name, stems[i], strlen(stems[i]))) {
            p = name + strlen(stems[i]);
            break;
        }
    const char *end = number_end(p, &nm);
    if (end == p) return 0;
    while (*end == ' ') end++;
    if (!strncasecmp(end, "nm", 2)) end += 2;
    return !*end && nm >= 200 && nm <= 1200 ? nm : 0;
}

/* ---- fields ---- */

struct band {
    size_t column; /* of the value */
    double nm;     /* fixed, or NAN: the row says it in the column before */
};

/* What each column of a table is for. */
struct columns {
    struct band band[SPECTRUM_VALUES_MAX];
    size_t bands_n;
    size_t name, id, place, color[3]; /* SIZE_MAX: there is none */
    bool xyz;                         /* the color is XYZ, not Lab */
};

static bool is_one_of(const char *field, const char *const *names) {
    while (*names && strcasecmp(field, *names)) names++;
    return *names != NULL;
}

static size_t column_of(const struct spectrum_table *t, const char *name) {
    size_t i = 0;
    while (i < t->fields_n && strcasecmp(t->field[i], name)) i++;
    return i < t->fields_n ? i : SIZE_MAX;
}

static bool color_find(const struct spectrum_table *t, struct columns *c) {
    static const char *const names[2][3] = {{"LAB_L", "LAB_A", "LAB_B"},
                                            {"XYZ_X", "XYZ_Y", "XYZ_Z"}};
    for (int kind = 0; kind < 2; kind++) {
        bool all = true;
        for (int k = 0; k < 3; k++) all &= (c->color[k] = column_of(t, names[kind][k])) != SIZE_MAX;
        c->xyz = kind == 1;
        if (all) return true;
    }
    return false;
}

static void names_find(const struct spectrum_table *t, struct columns *c) {
    static const char *const names[] = {"SAMPLE_NAME", "name", "STRING", NULL},
                             *const ids[] = {"SAMPLE_ID", "SAMPLEID", "id", "SAMPLE", NULL},
                             *const places[] = {"SAMPLE_LOC", NULL};
    c->name = c->id = c->place = SIZE_MAX;
    for (size_t i = 0; i < t->fields_n; i++) {
        if (is_one_of(t->field[i], names)) c->name = i;
        if (is_one_of(t->field[i], ids)) c->id = i;
        if (is_one_of(t->field[i], places)) c->place = i;
    }
    if (c->name == SIZE_MAX) c->name = c->id != SIZE_MAX ? c->id : c->place;
}

static enum status columns_find(const struct spectrum_table *t, struct columns *c,
                                struct why *why) {
    static const char *const values[] = {"SPECTRAL_DEC", "SPECTRAL_PCT", NULL};
    c->bands_n = 0;
    names_find(t, c);
    for (size_t i = 0; i < t->fields_n; i++) {
        const bool value = is_one_of(t->field[i], values);
        const double nm = spectrum_field_nm(t->field[i]);
        if (!(nm > 0) && !value) continue;
        if (value && (i == 0 || strcasecmp(t->field[i - 1], "SPECTRAL_NM")))
            return why_say(why, E_SYNTAX, "",
                           "%s stands without a SPECTRAL_NM before it: no wavelength is known.",
                           t->field[i]);
        if (c->bands_n == SPECTRUM_VALUES_MAX)
            return why_say(why, E_TOO_LARGE, "", "More than %d wavelengths.", SPECTRUM_VALUES_MAX);
        c->band[c->bands_n++] = (struct band){i, value ? NAN : nm};
    }
    if (!c->bands_n && !color_find(t, c))
        return why_say(why, E_MISSING, "",
                       "No field holds a color. Expected are fields like SPECTRAL_NM400, SPEC_400 "
                       "or nm400, one a wavelength; or LAB_L LAB_A LAB_B, or XYZ_X XYZ_Y XYZ_Z.");
    /* the first column of a CSV table is a name whatever its header says */
    if (c->name == SIZE_MAX && c->bands_n && c->band[0].column > 0 && !isnan(c->band[0].nm))
        c->name = 0;
    return OK;
}

static enum status number_at(const struct spectrum_table *t, const struct table_row *r, size_t i,
                             double *out, struct why *why) {
    if (spectrum_number(r->cell[i], out)) return OK;
    return spectrum_line_say(why, E_SYNTAX, r->line,
                             "field %s: \"%.40s\" is no number. Write it with a decimal point.",
                             t->field[i], r->cell[i]);
}

/* ---- samples ---- */

struct point {
    double nm, value;
};

static int by_nm(const void *a, const void *b) {
    const struct point *p = a, *q = b;
    return (p->nm > q->nm) - (p->nm < q->nm);
}

/* Even steps, rising. */
static enum status points_order(struct point *p, size_t n, size_t line, double *step,
                                struct why *why) {
    qsort(p, n, sizeof *p, by_nm);
    *step = n > 1 ? (p[n - 1].nm - p[0].nm) / (double)(n - 1) : 0;
    for (size_t i = 1; i < n; i++)
        if (p[i].nm == p[i - 1].nm)
            return spectrum_line_say(why, E_DUPLICATE, line, "%g nm is there twice.", p[i].nm);
    for (size_t i = 1; i < n; i++)
        if (fabs(p[i].nm - p[i - 1].nm - *step) > 0.01 * *step)
            return spectrum_line_say(why, E_DOMAIN, line,
                                     "the wavelengths are not evenly spaced: %g after %g nm, "
                                     "usually %g apart.",
                                     p[i].nm, p[i - 1].nm, *step);
    return OK;
}

/* Names become UTF-8 without control characters: what is not is a question mark. */
static const char *name_fit(struct arena *a, const char *name, size_t number) {
    if (!name || !*name) return arena_print(a, "%zu", number);
    char *copy = arena_text(a, name);
    for (unsigned char *p = (unsigned char *)copy; copy && *p;) {
        size_t n = *p < 0x80 ? 1 : *p >= 0xc2 && *p < 0xe0 ? 2 : *p >= 0xe1 && *p < 0xed ? 3 : 0;
        for (size_t k = 1; k < n; k++)
            if ((p[k] & 0xc0) != 0x80) n = 0;
        if (n == 2 && p[0] == 0xc2 && p[1] < 0xa0) n = 0;
        if (!n || *p < 0x20 || *p == 0x7f) *p = '?', n = 1;
        p += n;
    }
    if (copy && strlen(copy) > 120) { /* not in the middle of a character */
        size_t n = 120;
        while (n && ((unsigned char)copy[n] & 0xc0) == 0x80) n--;
        copy[n] = 0;
    }
    return copy;
}

static enum status color_read_alone(const struct spectrum_table *t, const struct columns *c,
                                    const struct table_row *r, struct spectrum_read *out,
                                    struct why *why) {
    double v[3];
    for (int k = 0; k < 3; k++) {
        enum status s = number_at(t, r, c->color[k], &v[k], why);
        if (s) return s;
    }
    struct lab lab = {v[0], v[1], v[2]};
    if (c->xyz) lab = lab_of_xyz((struct xyz){v[0] / 100, v[1] / 100, v[2] / 100}, XYZ_D50);
    if (!(lab.l >= 0 && lab.l <= 100.5 && fabs(lab.a) <= 250 && fabs(lab.b) <= 250))
        return spectrum_line_say(why, E_DOMAIN, r->line,
                                 "no surface has this color. LAB_L is 0 to 100, LAB_A and LAB_B "
                                 "-250 to 250; XYZ_Y is 0 to 100.");
    out->lab = t->d65 && !c->xyz ? lab_d50_of_d65(lab) : lab;
    return OK;
}

static enum status points_read(const struct spectrum_table *t, const struct columns *c,
                               const struct table_row *r, struct point *out, struct why *why) {
    for (size_t i = 0; i < c->bands_n; i++) {
        const struct band *b = &c->band[i];
        enum status s = number_at(t, r, b->column, &out[i].value, why);
        out[i].nm = b->nm;
        if (!s && isnan(b->nm)) s = number_at(t, r, b->column - 1, &out[i].nm, why);
        if (s) return s;
        if (!(out[i].nm >= 200 && out[i].nm <= 1200))
            return spectrum_line_say(why, E_DOMAIN, r->line, "%g is no wavelength in nm.",
                                     out[i].nm);
    }
    return OK;
}

static enum status sample_read(const struct spectrum_table *t, const struct columns *c,
                               const struct table_row *r, size_t number, struct arena *arena,
                               struct spectrum_read *out, struct why *why) {
    struct point point[SPECTRUM_VALUES_MAX];
    const char *name = c->name != SIZE_MAX ? r->cell[c->name] : NULL;
    *out = (struct spectrum_read){
        .name = name_fit(arena, name, number), .line = (int64_t)r->line, .lab = {NAN, NAN, NAN}};
    if (!out->name) return why_no_memory(why);
    if (!c->bands_n) return color_read_alone(t, c, r, out, why);
    enum status s = points_read(t, c, r, point, why);
    if (!s) s = points_order(point, c->bands_n, r->line, &out->values.step_nm, why);
    if (s) return s;
    out->values.first_nm = point[0].nm;
    out->values.values_n = c->bands_n;
    out->values.values = arena_array(arena, c->bands_n, sizeof *out->values.values);
    if (!out->values.values) return why_no_memory(why);
    for (size_t i = 0; i < c->bands_n; i++) out->values.values[i] = point[i].value;
    return OK;
}

/* Percent or fractions: a paint reflects at most all of the light, so a value above 2 is percent.
 */
static enum spectrum_scale scale_of(const struct spectrum_text *t) {
    for (size_t i = 0; i < t->n; i++)
        for (size_t k = 0; k < t->samples[i].values.values_n; k++)
            if (t->samples[i].values.values[k] > 2) return SCALE_PERCENT;
    return SCALE_FRACTION;
}

static enum status sample_finish(struct spectrum_read *r, double factor, struct why *why) {
    struct spectrum_said *v = &r->values;
    struct why inner = {0};
    if (!v->values_n) return OK;
    for (size_t k = 0; k < v->values_n; k++) v->values[k] *= factor;
    enum status s =
        spectrum_resample(v->first_nm, v->step_nm, v->values, v->values_n, &r->grid, &inner);
    size_t at;
    if (!s) return OK;
    if (sscanf(inner.field, "/values/%zu", &at) == 1)
        return spectrum_line_say(why, s, (size_t)r->line, "%s, %g nm: %s", r->name,
                                 v->first_nm + v->step_nm * (double)at, inner.text);
    return spectrum_line_say(why, s, (size_t)r->line, "%s: %s", r->name, inner.text);
}

static bool looks_like_cgats(const char *text, const char *end) {
    static const char mark[] = "BEGIN_DATA";
    return memmem(text, (size_t)(end - text), mark, sizeof mark - 1) != NULL;
}

enum status spectrum_text_read(const char *text, size_t n, enum spectrum_scale scale,
                               struct arena *arena, struct spectrum_text *out, struct why *why) {
    const char *end = text + n;
    struct spectrum_tables *tables = arena_take(arena, sizeof *tables);
    struct columns *columns = arena_take(arena, sizeof *columns);
    struct spectrum_text t = {0};
    enum status s;
    if (!tables || !columns) return why_no_memory(why);
    if (n >= 3 && !memcmp(text, "\xef\xbb\xbf", 3)) text += 3;
    const bool cgats = looks_like_cgats(text, end);
    tables->in_row = INT64_MIN;
    s = cgats ? spectrum_cgats_read(text, end, arena, tables, why)
              : spectrum_csv_read(text, end, arena, tables, why);
    if (s) return s;
    t.format = cgats ? "CGATS" : "CSV";
    t.in_row = tables->in_row;
    size_t rows = 0;
    for (size_t i = 0; i < tables->n; i++) rows += tables->table[i].rows_n;
    if (!rows) return why_say(why, E_MISSING, "", "The file holds no sample.");
    if (rows > SPECTRUM_SAMPLES_MAX)
        return why_say(why, E_TOO_LARGE, "", "The file holds %zu samples. At most %d are read.",
                       rows, SPECTRUM_SAMPLES_MAX);
    t.samples = arena_array(arena, rows, sizeof *t.samples);
    if (!t.samples) return why_no_memory(why);
    for (size_t i = 0; i < tables->n; i++) {
        const struct spectrum_table *table = &tables->table[i];
        if ((s = columns_find(table, columns, why))) return s;
        for (size_t k = 0; k < table->rows_n; k++, t.n++)
            if ((s = sample_read(table, columns, &table->row[k], t.n + 1, arena, &t.samples[t.n],
                                 why)))
                return s;
    }
    t.scale = scale ? scale : scale_of(&t);
    for (size_t i = 0; i < t.n; i++)
        if ((s = sample_finish(&t.samples[i], t.scale == SCALE_PERCENT ? 0.01 : 1, why))) return s;
    *out = t;
    return OK;
}

struct lab spectrum_read_color(const struct spectrum_read *r, const struct weights *d50) {
    return r->values.values_n ? lab_of_xyz(xyz_of_spectrum(d50, &r->grid), d50->white) : r->lab;
}
