#include "app/color_reach.h"

#include "core/color/color.h"
#include "core/color/munsell.h"
#include "core/recipe/reach.h"
#include "core/work/palette.h"

#include <math.h>
#include <string.h>

#define EDGE 1.5 /* chroma: the drawn edge is not sharper */

const char *color_family(const struct tables *t, struct lab d50, struct arena *a) {
    static const char *const names[10] = {"red",    "yellow-red", "yellow", "green-yellow",
                                          "green",  "blue-green", "blue",   "purple-blue",
                                          "purple", "red-purple"};
    struct munsell_book *book = arena_take(a, sizeof *book);
    if (!book) return "gray";
    munsell_book_make(t, book);
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

/* In words; and in which direction the shelf would have to grow. */
static const char *judge(const struct reach *r, struct reach_answer *out, struct arena *a) {
    double low, high, lightest = out->rows_n ? out->rows[out->rows_n - 1].l : 0;
    bool here = reach_chroma(r, out->lightness, &low, &high);
    if (here && out->chroma <= high + EDGE && out->chroma >= low - EDGE) {
        out->inside = true;
        return arena_print(a,
                           "Within reach: at this hue and lightness the shelf goes up to strength "
                           "%.0f, wanted is %.0f.",
                           high, out->chroma);
    }
    if (here && out->chroma > high)
        return arena_print(a,
                           "Outside the shelf's reach: at this hue and lightness it goes up to "
                           "strength %.0f, wanted is %.0f. A stronger, purer %s would extend it.",
                           high, out->chroma, out->family);
    if (here)
        return arena_print(a,
                           "Outside the shelf's reach: every mix of this hue is stronger than it. "
                           "A gray, or a duller %s, would extend it.",
                           out->family);
    if (!out->rows_n)
        return arena_print(a,
                           "Outside the shelf's reach: it has no mix of this hue. A %s would "
                           "extend it.",
                           out->family);
    return out->lightness > lightest
               ? arena_print(a,
                             "Outside the shelf's reach: it is lighter than any mix of this hue. "
                             "A whiter white, or a pale %s, would extend it.",
                             out->family)
               : arena_print(a,
                             "Outside the shelf's reach: it is darker than any mix of this hue. "
                             "A black, or a dark %s, would extend it.",
                             out->family);
}

enum status color_reach(const struct tables *t, const struct shelf *shelf,
                        const struct color_said *target, struct arena *arena,
                        struct reach_answer *out, struct why *why) {
    struct palette p;
    if (!target->text)
        return why_say(why, E_MISSING, "/target", "Say which color is wanted: #1c6a70.");
    enum status s = palette_make(t, shelf, NULL, arena, &p, why);
    if (s) return s;
    if (!p.n)
        return why_say(why, E_MISSING, "/shelf/paints",
                       "The shelf holds no paint whose color is known.");
    struct lch wanted = lch_of_lab(color_lab(target));
    struct pigment *all = arena_array(arena, p.n, sizeof *all);
    struct reach *reach = arena_take(arena, sizeof *reach);
    struct reach_answer r = {.hue = wanted.h, .lightness = wanted.l, .chroma = wanted.c};
    if (!all || !reach) return why_say(why, E_MEMORY, "", "%s", status_text(E_MEMORY));
    for (size_t i = 0; i < p.n; i++) all[i] = p.paints[i].pigment;
    r.family = color_family(t, color_lab(target), arena);
    if (!reach_at_hue(all, p.n, &p.d50, wanted.h, arena, reach) || rows_fill(reach, arena, &r) ||
        !(r.text = judge(reach, &r, arena)))
        return why_say(why, E_MEMORY, "", "%s", status_text(E_MEMORY));
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
    F_TEXT(struct reach_answer, family, "family of colors at this hue"),
    F_TEXT(struct reach_answer, text, "in a sentence, and what would extend the reach"),
    F_LIST(struct reach_answer, rows, &desc_row, REACH_ROWS, "by rising lightness"),
};
DESC(desc_reach, struct reach_answer, "reach", "What the shelf reaches at a hue.", reach_fields);
