#include "app/sheet/pen.h"

#include "app/cited.h"
#include "app/zone.h"
#include "codec/color_said.h"
#include "codec/text_wrap.h"
#include "codec/time_text.h"
#include "codec/units_text.h"
#include "core/base/units.h"
#include "core/work/basis.h"
#include "core/work/method.h"

#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

/* ---- words ---- */

static const char *vprint(struct pen *p, const char *fmt, va_list ap) {
    const char *text = arena_vprint(p->arena, fmt, ap);
    p->failed |= !text;
    return text ? text : "";
}

const char *pen_print(struct pen *p, const char *fmt, ...) {
    va_list ap;
    va_start(ap, fmt);
    const char *text = vprint(p, fmt, ap);
    va_end(ap);
    return text;
}

const char *pen_pointer(struct pen *p, const char *fmt, ...) {
    va_list ap;
    va_start(ap, fmt);
    const char *tail = vprint(p, fmt, ap);
    va_end(ap);
    return pen_print(p, "%s%s", p->at ? p->at : "", tail);
}

const char *pen_span(struct pen *p, double minutes) {
    if (isnan(minutes)) return "not known";
    long m = lround(minutes < 0 ? 0 : minutes);
    if (m < 60) return pen_print(p, "%ld min", m);
    if (m < 36 * 60) {
        m = (m + 2) / 5 * 5;
        return m % 60 ? pen_print(p, "%ld h %ld min", m / 60, m % 60)
                      : pen_print(p, "%ld h", m / 60);
    }
    long h = (m + 30) / 60, d = h / 24;
    if (h % 24 == 0 || d >= 5) return pen_print(p, "%ld days", (h + 12) / 24);
    return pen_print(p, "%ld day%s %ld h", d, d == 1 ? "" : "s", h % 24);
}

const char *pen_hands(struct pen *p, double hours) {
    char text[32];
    return pen_print(p, "%s", basis_hands(hours, text));
}

int64_t pen_local_day(const struct pen *p, int64_t utc_min) {
    return zone_local_day(p->zone, p->zone_n, utc_min);
}

const char *pen_clock(struct pen *p, int64_t utc_min) {
    int64_t local = zone_local(p->zone, p->zone_n, utc_min);
    char text[32];
    clock_print(p->units, local - pen_local_day(p, utc_min) * 1440, text, sizeof text);
    return pen_print(p, "%s", text);
}

const char *pen_when(struct pen *p, int64_t utc_min) {
    char text[64];
    moment_print(p->units, zone_local(p->zone, p->zone_n, utc_min), text, sizeof text);
    return pen_print(p, "%s", text);
}

const char *pen_day(struct pen *p, int64_t utc_min) {
    char text[32];
    weekday_print(pen_local_day(p, utc_min), text, sizeof text);
    return pen_print(p, "%s", text);
}

const char *pen_date(struct pen *p, int64_t day) {
    char text[32];
    date_print(day, text, sizeof text);
    return pen_print(p, "%s", text);
}

const char *pen_quantity(struct pen *p, enum dimension d, double value) {
    if (isnan(value)) return "not known";
    if (d == DIM_DURATION) return pen_span(p, value);
    char text[64];
    units_print(d, p->units, value, text, sizeof text);
    return pen_print(p, "%s", text);
}

/* Both ends in one unit, which is said once. */
const char *pen_range(struct pen *p, double low_ml, double high_ml) {
    char low[64], high[64];
    units_print(DIM_VOLUME, p->units, low_ml, low, sizeof low);
    units_print(DIM_VOLUME, p->units, high_ml, high, sizeof high);
    size_t unit = strcspn(high, "abcdefghijklmnopqrstuvwxyzL"),
           its = strcspn(low, "abcdefghijklmnopqrstuvwxyzL");
    if (strcmp(high + unit, low + its) != 0) {
        enum measure m = p->units == UNITS_METRIC ? MEASURE_ML : MEASURE_FL_OZ;
        double step = m == MEASURE_ML ? 10 : ML_PER_US_FL_OZ;
        units_print_measure(m, round(low_ml / step) * step, NAN, low, sizeof low);
        units_print_measure(m, round(high_ml / step) * step, NAN, high, sizeof high);
        unit = strcspn(high, "abcdefghijklmnopqrstuvwxyzL");
        its = strcspn(low, "abcdefghijklmnopqrstuvwxyzL");
        if (strcmp(high + unit, low + its) != 0) return pen_print(p, "%s to %s", low, high);
    }
    return pen_print(p, "%.*sto %s", (int)its, low, high);
}

double pen_said_cent(const struct pen *p) {
    const struct agreement *a = &p->piece->piece.agreement;
    return a->purpose == PURPOSE_SALE ? a->asking_cent : a->quoted_cent;
}

const char *pen_price(const struct pen *p) {
    if (isnan(pen_said_cent(p))) return "at this price";
    return p->piece->piece.agreement.purpose == PURPOSE_SALE ? "at the asking price"
                                                             : "at the quoted price";
}

const char *pen_measure(struct pen *p, double ml, double g_per_ml) {
    char text[64];
    enum measure m = p->plan->shop.measure;
    if (p->units == UNITS_METRIC && m != MEASURE_GRAM) m = MEASURE_ML;
    units_print_measure(m, ml, g_per_ml, text, sizeof text);
    return pen_print(p, "%s", text);
}

static const char *certainty_text(enum certainty c) {
    switch (c) {
    case CERTAINTY_EXACT: return "Arithmetic";
    case CERTAINTY_MEASURED: return "Your own record";
    case CERTAINTY_LABEL: return "The label";
    case CERTAINTY_PUBLISHED: return "Published";
    case CERTAINTY_SECONDARY: return "One trade source";
    case CERTAINTY_COMMON: return "Common practice";
    case CERTAINTY_MEMORY: return "From memory";
    case CERTAINTY_ASSUMED: return "Assumed";
    case CERTAINTY_SAID: return "As you said";
    case CERTAINTY_UNSAID: break;
    }
    return NULL;
}

const char *pen_tool(struct pen *p, const char *tool) {
    for (size_t i = 0; tool && i < p->t->methods_n; i++)
        if (!strcmp(p->t->methods[i].id, tool))
            return method_name(&p->t->methods[i], p->units == UNITS_METRIC);
    return tool;
}

const char *pen_known(struct pen *p, enum certainty c, const char *source) {
    const char *sure = certainty_text(c), *from = cited_text(p->t, source, p->arena);
    p->failed |= !from;
    if (!from || !*from) return sure;
    if (!sure || c == CERTAINTY_EXACT || c == CERTAINTY_COMMON || !strcmp(from, sure))
        return c == CERTAINTY_EXACT ? sure : from;
    if (!strcmp(from, "Common practice") || !strcmp(from, "From memory")) return from;
    return pen_print(p, "%s: %s", sure, from);
}

const char *pen_swatch(struct pen *p, const double lab[3]) {
    if (isnan(lab[0])) return NULL;
    struct color_said c = {.text = "", .lab = {lab[0], lab[1], lab[2]}};
    char text[8];
    return color_said_hex(&c, text) ? pen_print(p, "%s", text) : NULL;
}

/* ---- looking up ---- */

bool pen_assumed(const struct pen *p, const char *pointer) {
    for (size_t i = 0; i < p->plan->assumed_n; i++)
        if (!strcmp(p->plan->assumed[i].pointer, pointer)) return true;
    return false;
}

/* Of several with one pointer the first comes first. */
static int by_pointer(const void *a, const void *b) {
    const struct basis *x = *(const struct basis *const *)a, *y = *(const struct basis *const *)b;
    int order = strcmp(x->pointer, y->pointer);
    return order ? order : (x > y) - (x < y);
}

bool pen_open(struct pen *p) {
    size_t n = p->plan->bases_n;
    p->bases = arena_array(p->arena, n + 1, sizeof *p->bases);
    if (!p->bases) return false;
    for (size_t i = 0; i < n; i++) p->bases[i] = &p->plan->bases[i];
    qsort(p->bases, n, sizeof *p->bases, by_pointer);
    return true;
}

const struct basis *pen_basis(const struct pen *p, const char *pointer) {
    size_t low = 0, high = pointer ? p->plan->bases_n : 0, n = high;
    while (low < high) {
        size_t middle = (low + high) / 2;
        if (strcmp(p->bases[middle]->pointer, pointer) < 0)
            low = middle + 1;
        else
            high = middle;
    }
    return low < n && !strcmp(p->bases[low]->pointer, pointer) ? p->bases[low] : NULL;
}

/* ---- rows ---- */

static const char *kept(const char *s) {
    return s && *s ? s : NULL;
}

struct sheet_row *pen_row(struct pen *p, enum sheet_kind kind, const char *figure, const char *what,
                          const char *detail, const char *known) {
    if (p->rows_n == p->rows_cap) {
        size_t cap = p->rows_cap ? p->rows_cap * 2 : 16;
        struct sheet_row *rows = arena_array(p->arena, cap, sizeof *rows);
        if (!rows) {
            p->failed = true; /* the sheet will not be shown */
            return &p->scratch;
        }
        if (p->rows_n) memcpy(rows, p->rows, p->rows_n * sizeof *rows);
        p->rows = rows;
        p->rows_cap = cap;
    }
    struct sheet_row *r = &p->rows[p->rows_n++];
    *r = (struct sheet_row){.kind = kind,
                            .figure = kept(figure),
                            .what = kept(what),
                            .detail = kept(detail),
                            .known = kept(known),
                            .number = INT64_MIN};
    return r;
}

struct sheet_row *pen_figure(struct pen *p, const char *pointer, const char *figure,
                             const char *what, const char *detail) {
    struct sheet_row *r = pen_row(p, SHEET_ROW, figure, what, detail, NULL);
    const struct basis *b = pen_basis(p, pointer);
    if (!b) return r;
    r->pointer = pointer;
    r->assumed = b->certainty == CERTAINTY_ASSUMED;
    r->known = pen_known(p, b->certainty, b->source);
    return r;
}

struct sheet_row *pen_step(struct pen *p, const char *figure, const char *what, const char *detail,
                           const char *known) {
    struct sheet_row *r = pen_row(p, SHEET_STEP, figure, what, detail, known);
    r->number = ++p->number;
    return r;
}

static enum sheet_kind kind_of(const struct notice *n) {
    return n->rank == RANK_STOP ? SHEET_STOP : n->rank == RANK_MIND ? SHEET_MIND : SHEET_NOTE;
}

/* The first sentence says what to do and is set bold, the rest says why. */
static const char *what_of(struct pen *p, const struct notice *n, const char **out_rest) {
    const size_t all = text_sentence(n->text);
    *out_rest = n->text[all] ? n->text + all + 1 : NULL;
    return pen_sentence(p, n->text);
}

static void pen_notice(struct pen *p, const struct notice *n) {
    const char *rest, *what = what_of(p, n, &rest);
    if (n->remedy)
        rest = pen_print(p, "%s%sInstead: %s", rest ? rest : "", rest ? " " : "", n->remedy);
    pen_row(p, kind_of(n), NULL, what, rest, pen_known(p, n->certainty, n->source));
}

void pen_notice_short(struct pen *p, const struct notice *n, const char *where) {
    const char *rest;
    pen_row(p, kind_of(n), NULL, what_of(p, n, &rest), where, NULL);
}

void pen_notices(struct pen *p, const struct notices *n) {
    for (enum rank rank = RANK_STOP; rank > RANK_UNSAID; rank--)
        for (size_t i = 0; i < n->n; i++)
            if (n->rows[i].rank == rank) pen_notice(p, &n->rows[i]);
}

void pen_begin(struct pen *p) {
    p->rows = NULL;
    p->rows_n = p->rows_cap = 0;
    p->number = 0;
}

void pen_end(struct pen *p, struct sheet_section *out, const char *id, const char *title,
             const char *intro) {
    *out = (struct sheet_section){id, title, intro, p->rows, p->rows_n};
}

const char *pen_sentence(struct pen *p, const char *s) {
    size_t n = s ? text_sentence(s) : 0;
    return n && s[n] ? pen_print(p, "%.*s", (int)n, s) : s;
}

const char *pen_capital(struct pen *p, const char *s) {
    if (!s || !(*s >= 'a' && *s <= 'z')) return s;
    return pen_print(p, "%c%s", *s - 'a' + 'A', s + 1);
}
