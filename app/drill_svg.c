#include "app/drill_svg.h"

#include "codec/text_wrap.h"
#include "codec/units_text.h"
#include "core/base/units.h"

#include <math.h>
#include <string.h>

/* Both letter and A4 hold this much, whatever margin the printer keeps. */
#define PAGE_W_MM 180.0
#define PAGE_H_MM 245.0
#define ARM_MM 12.0
/* The middle line of a pull of which half is drawn, and how far from it a hole may be. */
#define HALF_X_MM 14.0
#define HALF_MOST_MM (PAGE_W_MM - HALF_X_MM - ARM_MM / 2)
#define FLAT_DOOR_IN_MM (2.5 * MM_PER_IN) /* from its edge; common practice */

struct page {
    struct text *out;
    struct arena *arena;
    enum unit_system units;
    double top_mm; /* of this page in the drawing */
};

static const char *length(const struct page *p, double mm) {
    const char *t = units_text(p->arena, DIM_LENGTH, p->units, mm);
    return t ? t : "";
}

static void line(const struct page *p, double x1, double y1, double x2, double y2,
                 const char *kind) {
    text_print(p->out, "<path class=\"%s\" d=\"M%.3f %.3fL%.3f %.3f\"/>", kind, x1, p->top_mm + y1,
               x2, p->top_mm + y2);
}

/* text NULL: there was no memory for it. */
static void words(const struct page *p, double x, double y, const char *kind, const char *text) {
    p->out->failed |= !text;
    text_print(p->out, "<text class=\"%s\" x=\"%.3f\" y=\"%.3f\">", kind, x, p->top_mm + y);
    for (const char *c = text; c && *c; c++)
        *c == '<'   ? text_print(p->out, "&lt;")
        : *c == '&' ? text_print(p->out, "&amp;")
                    : text_print(p->out, "%c", *c);
    text_print(p->out, "</text>");
}

static void hole(const struct page *p, double x, double y, double bit_mm, const char *kind) {
    text_print(p->out, "<circle class=\"%s\" cx=\"%.3f\" cy=\"%.3f\" r=\"%.3f\"/>", kind, x,
               p->top_mm + y, bit_mm / 2);
    line(p, x - ARM_MM / 2, y, x + ARM_MM / 2, y, kind);
    line(p, x, y - ARM_MM / 2, x, y + ARM_MM / 2, kind);
}

/* A line that must measure what is written at it. */
static void scale(const struct page *p, double y) {
    bool us = p->units != UNITS_METRIC;
    double long_mm = us ? 4 * MM_PER_IN : 100, x = (PAGE_W_MM - long_mm) / 2;
    int parts = us ? 4 : 10;
    line(p, x, y, x + long_mm, y, "edge");
    for (int i = 0; i <= parts; i++) {
        double at = x + long_mm * i / parts;
        line(p, at, y - (i % parts ? 2 : 4), at, y + (i % parts ? 2 : 4), "edge");
    }
    words(p, PAGE_W_MM / 2, y + 9, "mid",
          us ? "Lay a rule on this line: it must be 4 in long. If it is not, print again at 100 %."
             : "Lay a rule on this line: it must be 100 mm long. If it is not, print again at 100 "
               "%.");
}

/* As much of a title as stands on one line of the sheet. */
static const char *short_title(struct arena *a, const char *title) {
    enum { COLUMNS = 52 };
    size_t n = strlen(title), cut = 0;
    if (text_columns(title, n) <= COLUMNS) return title;
    for (size_t i = 0; text_columns(title, i) < COLUMNS; i++)
        if (title[i] == ' ') cut = i;
    if (!cut) /* one long word: between two characters */
        while (text_columns(title, cut + 1) < COLUMNS || ((unsigned char)title[cut] & 0xc0) == 0x80)
            cut++;
    const char *text = arena_print(a, "%.*s\u2026", (int)cut, title);
    return text ? text : "";
}

static void head(const struct page *p, const struct drill *d, const struct drill_front *f,
                 const char *title) {
    words(p, 4, 9, "title", short_title(p->arena, title));
    words(p, 4, 16, "say",
          arena_print(p->arena, "%lld %s, %s x %s, %d pull%s each", (long long)f->count, f->name,
                      length(p, f->width_mm), length(p, f->height_mm), f->pulls,
                      f->pulls == 1 ? "" : "s"));
    bool other =
        p->units != UNITS_METRIC && d->spacing_mm > 0 && fastener_metric_spacing(d->spacing_mm);
    const char *what =
        other               ? arena_print(p->arena, "New holes %g mm (%s) center to center, bit %s",
                                          d->spacing_mm, length(p, d->spacing_mm), length(p, d->bit_mm))
        : d->spacing_mm > 0 ? arena_print(p->arena, "New holes %s center to center, bit %s",
                                          length(p, d->spacing_mm), length(p, d->bit_mm))
                            : arena_print(p->arena, "One hole, bit %s", length(p, d->bit_mm));
    words(p, 4, 22, "say", what);
    static const char *const fits[] = {
        "The new pulls sit in the old holes: nothing is drilled.",
        "At the limit: try one pull in the old holes before anything is drilled.",
        "Old holes (dashed) stay behind the backplate; check that it covers them.",
        "Plug the old holes (dashed) flush before the primer; then drill."};
    if (!isnan(d->old_spacing_mm)) words(p, 4, 28, "say", fits[d->fit]);
    double y = isnan(d->old_spacing_mm) ? 28 : 34;
    words(p, 4, y, "say", "Measure the pull itself first. Drill from the face, a block behind it.");
    if (d->doors)
        words(p, 4, y + 6, "say",
              arena_print(p->arena,
                          "Doors: the same holes upright, in the middle of the stile; on a flat "
                          "door %s from its edge.",
                          length(p, FLAT_DOOR_IN_MM)));
}

/* The holes of one pull around its center; half: only to the right of it, as far as the sheet goes.
 */
static void holes(const struct page *p, const struct drill *d, double x, double y, bool half) {
    double new_half = d->spacing_mm / 2, old_half = d->old_spacing_mm / 2,
           most = half ? HALF_MOST_MM : PAGE_W_MM;
    if (!isnan(old_half) && d->spacing_mm > 0) {
        if (!half) hole(p, x - old_half, y, d->bit_mm, "old");
        if (old_half <= most) hole(p, x + old_half, y, d->bit_mm, "old");
    }
    if (!half && new_half > 0) hole(p, x - new_half, y, d->bit_mm, "new");
    if (new_half <= most) hole(p, x + new_half, y, d->bit_mm, "new");
}

/* Upper edge of the front, its left end where that is on the page, and how far in the pull sits. */
static void edges(const struct page *p, const struct drill_front *f, double x, double y,
                  bool half) {
    double top = y - f->level_mm, left = x - f->pull_mm[0];
    if (f->level_mm <= 60) {
        line(p, 4, top, PAGE_W_MM - 4, top, "edge");
        words(p, 6, top - 2, "say", "Upper edge of the front: fold here and hang it over");
    } else {
        words(p, 6, y - 64, "say",
              arena_print(p->arena, "Level line: %s below the upper edge", length(p, f->level_mm)));
    }
    if (left >= 4) line(p, left, y - 40, left, y + 40, "edge");
    words(p, half ? x + 4 : x, y + 44, half ? "say" : "mid",
          arena_print(p->arena, "Middle of the pull: %s from %s", length(p, f->pull_mm[0]),
                      f->pulls == 1 ? "either end" : "each end of the front"));
}

static void half_words(const struct page *p, const struct drill *d, double x, double y) {
    double new_half = d->spacing_mm / 2;
    words(p, x, y, "say",
          new_half <= HALF_MOST_MM
              ? "Half a pull: drill, then turn the sheet over on the middle line and drill again."
              : arena_print(p->arena,
                            "Longer than this sheet: each new hole is %s from the middle line.",
                            length(p, new_half)));
}

static void front_page(const struct page *p, const struct drill *d, const struct drill_front *f,
                       const char *title) {
    double most = fmax(d->spacing_mm, isnan(d->old_spacing_mm) ? 0 : d->old_spacing_mm);
    bool half = most > PAGE_W_MM - 2 * ARM_MM;
    double x = half ? HALF_X_MM : PAGE_W_MM / 2, y = 115;
    head(p, d, f, title);
    edges(p, f, x, y, half);
    line(p, 4, y, PAGE_W_MM - 4, y, "axis");
    line(p, x, y - 60, x, y + 38, "axis");
    holes(p, d, x, y, half);
    if (half) half_words(p, d, x + 4, y + 52);
    scale(p, PAGE_H_MM - 40);
    words(p, PAGE_W_MM / 2, PAGE_H_MM - 18, "mid",
          "Check the first front with a pull in hand before the rest are drilled.");
}

enum status drill_svg(const struct drill *d, const char *title, enum unit_system units,
                      struct arena *arena, struct text *out, struct why *why) {
    double high = PAGE_H_MM * (double)d->fronts_n;
    text_print(out,
               "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%gmm\" height=\"%gmm\" "
               "viewBox=\"0 0 %g %g\"><title>Drilling template</title><style>"
               "@page{margin:12mm}path{fill:none}"
               "text{font:3.6px sans-serif;fill:#000}.title{font-size:5px;font-weight:700}"
               ".mid{text-anchor:middle}"
               ".new{stroke:#000;stroke-width:.25;fill:none}"
               ".old{stroke:#000;stroke-width:.25;stroke-dasharray:1 1;fill:none}"
               ".edge{stroke:#000;stroke-width:.5}"
               ".axis{stroke:#000;stroke-width:.15;stroke-dasharray:6 1.5 1 1.5}</style>"
               "<path style=\"fill:#fff\" d=\"M0 0H%gV%gH0z\"/>",
               PAGE_W_MM, high, PAGE_W_MM, high, PAGE_W_MM, high);
    for (size_t i = 0; i < d->fronts_n; i++) {
        struct page p = {out, arena, units, PAGE_H_MM * (double)i};
        front_page(&p, d, &d->fronts[i], title);
    }
    text_print(out, "</svg>\n");
    return out->failed ? why_no_memory(why) : OK;
}
