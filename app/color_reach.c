#include "app/color_reach.h"

#include "codec/color_text.h"
#include "core/color/color.h"
#include "core/color/munsell.h"
#include "core/recipe/extend.h"
#include "core/recipe/reach.h"
#include "core/recipe/recipe.h"
#include "core/work/palette.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

#define EDGE 1.5       /* chroma: the drawn edge is not sharper */
#define LEAST_GAIN 1.0 /* CIEDE2000: for less nobody buys a can */

enum { PAINTS = 3, PARTS = 16 }; /* of the recipes that are tried */

/* Name of the family of a color, after the ten Munsell hues: "yellow-red", "blue-green"; "gray"
 * where it has next to no hue. Static. */
static const char *color_family(const struct munsell_book *book, struct lab d50) {
    static const char *const names[10] = {"red",    "yellow-red", "yellow", "green-yellow",
                                          "green",  "blue-green", "blue",   "purple-blue",
                                          "purple", "red-purple"};
    struct munsell m = munsell_of_color(book, d50, NULL);
    if (m.chroma < 0.5) return "gray";
    return names[(int)floor(fmod(m.hue + 100, 100) / 10) % 10];
}

static enum status rows_fill(const struct reach *r, struct arena *a, struct reach_answer *out) {
    out->rows = arena_array(a, REACH_ROWS, sizeof *out->rows);
    if (!out->rows) return E_MEMORY;
    for (int i = 0; i < REACH_ROWS; i++)
        if (r->low[i] <= r->high[i])
            out->rows[out->rows_n++] =
                (struct reach_row){1 + REACH_STEP * i, r->low[i], r->high[i]};
    return OK;
}

/* Why the target is outside, by the drawing. */
static const char *outside(const struct reach *r, const struct reach_answer *out, struct arena *a) {
    double low, high, lightest = out->rows_n ? out->rows[out->rows_n - 1].l : 0;
    bool here = reach_chroma(r, out->lightness, &low, &high);
    if (here && out->chroma > high)
        return arena_print(a,
                           "at just this hue and lightness it goes up to strength %.0f, wanted is "
                           "%.0f.",
                           high, out->chroma);
    if (here) return "every mix of this hue is stronger than it.";
    if (!out->rows_n) return "it has no mix of this hue.";
    return out->lightness > lightest ? "it is lighter than any mix of this hue."
                                     : "it is darker than any mix of this hue.";
}

/* Far out a difference says little of how a mix looks: CIEDE2000 was fitted to differences of up to
 * 5 (CIE 142, from memory), and beyond its measure a gray can lie nearer to a bright purple
 * than a purple does. Who wants the hue asks for the strongest of it. */
#define DIFFERENCE_MEANS 5

static const char *same_hue(const struct reach *r, const struct reach_answer *out,
                            struct arena *a) {
    double low, high;
    bool too_strong = reach_chroma(r, out->lightness, &low, &high) && out->chroma > high;
    if (!too_strong || !(high >= 2) || !(out->before > DIFFERENCE_MEANS)) return NULL;
    return arena_print(a, "lch(%.0f %.0f %.0f)", out->lightness, floor(high), out->hue);
}

/* "a clean deep blue-green": what the paint would be called in a shop. */
static const char *paint_words(const struct munsell_book *book, const struct extend_paint *p,
                               struct arena *a) {
    if (p->chip.chroma < MUNSELL_NEUTRAL)
        return p->chip.value > 8   ? "a purer white"
               : p->chip.value < 3 ? "a black"
                                   : "a middle gray";
    return arena_print(a, "a clean %s%s",
                       p->chip.value < 4   ? "deep "
                       : p->chip.value > 6 ? "light "
                                           : "",
                       color_family(book, p->color));
}

/* The next kind of paint, as pigments: those of one binder of which some is left, by their first on
 * the shelf. A recipe is of one kind, so what each reaches is looked at apart. 0: there is no more.
 */
static size_t kind_next(const struct palette *p, size_t *at, struct pigment *out) {
    size_t n = 0;
    for (; *at < p->n && !n; ++*at) {
        const int binder = p->paints[*at].binder;
        size_t first = 0;
        while (p->paints[first].binder != binder) first++;
        for (size_t i = first; i < p->n && first == *at; i++)
            if (p->paints[i].binder == binder && p->paints[i].paint->stock_ml != 0)
                out[n++] = p->paints[i].pigment;
    }
    return n;
}

/* What one paint more would do, added to the kind that it helps most: tried, not told from the hue.
 */
static enum status extend_fill(const struct munsell_book *book, const struct palette *p,
                               struct lab target, struct pigment *kind, struct limit limit,
                               struct arena *a, struct reach_answer *out, struct why *why) {
    struct extend found = {.before = INFINITY, .best.after = INFINITY};
    char hex[8];
    if (p->n >= RECIPE_SHELF_MAX) return OK;
    for (size_t at = 0, n; (n = kind_next(p, &at, kind));) {
        const struct extend_ask ask = {kind, n, target, &p->d50, &p->d65, book, PAINTS, PARTS};
        struct extend next;
        enum status s = extend_find(&ask, &limit, a, &next, why);
        if (s) return s;
        found.before = fmin(found.before, next.before);
        if (next.best.after < found.best.after) found.best = next.best;
    }
    out->before = found.before;
    if (!(found.before - found.best.after >= LEAST_GAIN)) return OK;
    color_print_hex(found.best.color, hex);
    out->after = found.best.after;
    out->extend_hex = arena_text(a, hex);
    out->extend = paint_words(book, &found.best, a);
    return out->extend && out->extend_hex ? OK : E_MEMORY;
}

static const char *sentence(const struct reach *r, const struct reach_answer *out,
                            struct arena *a) {
    if (out->inside && lround(out->chroma) > lround(out->most))
        return arena_print(a,
                           "At the edge of the reach: at this hue and lightness the shelf goes up "
                           "to strength %.0f, wanted is %.0f, which is hardly more.",
                           out->most, out->chroma);
    if (out->inside)
        return arena_print(a,
                           "Within reach: at this hue and lightness the shelf goes up to strength "
                           "%.0f, wanted is %.0f.",
                           out->most, out->chroma);
    const char *why = outside(r, out, a);
    if (!why) return NULL;
    if (!isfinite(out->before)) return arena_print(a, "Outside the shelf's reach: %s", why);
    if (!out->extend)
        return arena_print(a,
                           "Outside the shelf's reach: %s The nearest mix is %.1f off, and no one "
                           "paint would bring it much nearer.",
                           why, out->before);
    return arena_print(
        a, "Outside the shelf's reach: %s %c%s would bring it from %.1f off to %.1f.", why,
        toupper((unsigned char)out->extend[0]), out->extend + 1, out->before, out->after);
}

/* The edge of all kinds together. False: no memory. */
static bool kinds_reach(const struct palette *p, double hue, struct pigment *kind, struct arena *a,
                        struct reach *out) {
    struct reach next;
    for (int i = 0; i < REACH_ROWS; i++) out->low[i] = INFINITY, out->high[i] = -INFINITY;
    for (size_t at = 0, n; (n = kind_next(p, &at, kind));) {
        if (!reach_at_hue(kind, n, &p->d50, hue, a, &next)) return false;
        for (int i = 0; i < REACH_ROWS; i++) {
            out->low[i] = fmin(out->low[i], next.low[i]);
            out->high[i] = fmax(out->high[i], next.high[i]);
        }
    }
    return true;
}

enum status color_reach(const struct tables *t, const struct shelf *shelf, const char *class,
                        const struct color_said *target, struct limit limit, struct arena *arena,
                        struct reach_answer *out, struct why *why) {
    struct palette p;
    if (!target->text)
        return why_say(why, E_MISSING, "/target", "Say which color is wanted: #1c6a70.");
    enum status s = palette_make(t, shelf, class, arena, &p, why);
    if (s) return s;
    if (!p.n)
        return why_say(why, E_MISSING, "/shelf/paints",
                       "The shelf holds no paint whose color is known.");
    struct lch wanted = lch_of_lab(color_lab(target));
    struct pigment *kind = arena_array(arena, p.n, sizeof *kind);
    struct reach *reach = arena_take(arena, sizeof *reach);
    struct munsell_book *book = arena_take(arena, sizeof *book);
    struct reach_answer r = {
        .hue = wanted.h, .lightness = wanted.l, .chroma = wanted.c, .before = NAN, .after = NAN};
    double low;
    if (!kind || !reach || !book) return why_no_memory(why);
    munsell_book_make(t, book);
    r.family = color_family(book, color_lab(target));
    if (!kinds_reach(&p, wanted.h, kind, arena, reach) || rows_fill(reach, arena, &r))
        return why_no_memory(why);
    r.inside = reach_chroma(reach, r.lightness, &low, &r.most) && r.chroma <= r.most + EDGE &&
               r.chroma >= low - EDGE;
    if (!r.inside) s = extend_fill(book, &p, color_lab(target), kind, limit, arena, &r, why);
    if (s) return s == E_MEMORY ? why_no_memory(why) : s;
    if (!(r.text = sentence(reach, &r, arena))) return why_no_memory(why);
    r.same_hue = same_hue(reach, &r, arena);
    if (r.same_hue)
        r.text =
            arena_print(arena, "%s So far off the nearest may be a gray: for this hue ask for %s.",
                        r.text, r.same_hue);
    if (!r.text) return why_no_memory(why);
    *out = r;
    return OK;
}

static const struct field row_fields[] = {
    F_NUM(struct reach_row, l, 0, 0, "lightness, Lab D50"),
    F_NUM(struct reach_row, low, 0, 0, "weakest chroma"),
    F_NUM(struct reach_row, high, 0, 0, "strongest chroma"),
};
static DESC(desc_row, struct reach_row, "reach_row", "What is reached at one lightness.",
            row_fields);
static const struct field reach_fields[] = {
    F_NUM(struct reach_answer, hue, 0, 0, "degrees, CSS LCh"),
    F_NUM(struct reach_answer, lightness, 0, 0, "of the target"),
    F_NUM(struct reach_answer, chroma, 0, 0, "of the target"),
    F_BOOL(struct reach_answer, inside, "the target is within reach, as near as the drawing tells"),
    F_TEXT(struct reach_answer, family, "family of colors at the target's hue"),
    F_NUM(struct reach_answer, before, 0, 0,
          "outside: the best that the shelf makes of it with 3 paints, CIEDE2000"),
    F_TEXT(struct reach_answer, extend,
           "outside: the paint that would bring it nearest, \"a clean deep blue\"; left out where "
           "none gains 1"),
    F_TEXT(struct reach_answer, extend_hex, "that paint, #rrggbb"),
    F_NUM(struct reach_answer, after, 0, 0, "the best with it"),
    F_TEXT(struct reach_answer, same_hue,
           "too strong by far: the strongest color of its hue and lightness, to ask for instead"),
    F_TEXT(struct reach_answer, text, "in a sentence, and what would extend the reach"),
    F_LIST(struct reach_answer, rows, &desc_row, REACH_ROWS, "by rising lightness"),
};
DESC(desc_reach, struct reach_answer, "reach", "What the shelf reaches at a hue.", reach_fields);
