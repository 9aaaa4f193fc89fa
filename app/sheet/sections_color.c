/* Color and amounts: what to mix, how near it comes, how much of everything. */
#include "app/sheet/pen.h"
#include "core/color/difference.h"

#include <math.h>
#include <string.h>

static void recipe_rows(struct pen *p, const struct color_plan *c, const char *at) {
    for (size_t i = 0; i < c->lines_n; i++) {
        const struct recipe_line *l = &c->lines[i];
        const char *figure = isnan(l->ml)
                                 ? pen_print(p, "%g part%s", l->parts, l->parts == 1 ? "" : "s")
                                 : pen_measure(p, l->ml, l->g_per_ml);
        struct sheet_row *r = pen_figure(
            p, pen_pointer(p, "%s/lines/%zu/volume_ml", at, i), figure,
            l->name ? l->name : l->paint,
            c->batch          ? pen_print(p, "%.1f %%", l->parts)
            : c->lines_n == 1 ? "As it is."
                              : pen_print(p, "%g part%s of %lld", l->parts,
                                          l->parts == 1 ? "" : "s", (long long)c->parts));
        r->task = l->paint;
    }
}

static void expected_rows(struct pen *p, const struct color_plan *c, const char *at) {
    pen_row(p, SHEET_HEAD, NULL, "What it will be", NULL, NULL);
    struct sheet_row *r = pen_figure(
        p, pen_pointer(p, "%s/expected_difference", at),
        pen_print(p, "%.1f", c->expected_difference), "Expected difference from the target",
        pen_print(p, "CIEDE2000; %s. 9 mixes of 10 come nearer than %.1f.",
                  difference_words(c->expected_difference), c->difference_90));
    r->swatch = pen_swatch(p, c->lab);
    pen_figure(p, pen_pointer(p, "%s/difference", at), pen_print(p, "%.2f", c->difference),
               c->proven ? "Best on this measuring grid, proven" : "Best found",
               c->proven
                   ? pen_print(p,
                               "No other recipe of these paints in %lld parts is predicted nearer.",
                               (long long)c->parts)
                   : pen_print(p, "None can be nearer than %.2f.", c->bound));
}

static void batch_row(struct pen *p, const struct color_plan *c) {
    const struct piece *of = &p->piece->piece;
    const struct mixed_batch *b = of->batch ? of->batch : of->sister_batch;
    if (isnan(c->difference)) return;
    struct sheet_row *r =
        pen_row(p, SHEET_ROW, pen_print(p, "%.1f", c->difference),
                b->dried ? "Difference from the target, as it dried"
                         : "Difference from the target, predicted",
                pen_print(p, "CIEDE2000; %s.", difference_words(c->difference)), NULL);
    r->swatch = pen_swatch(p, c->lab);
}

/* Without the card that was painted. */
static void open_notices(struct pen *p, const struct notices *all) {
    struct notices open = {.rows = arena_array(p->arena, all->n + 1, sizeof *open.rows)};
    p->failed |= !open.rows;
    for (size_t i = 0; open.rows && i < all->n; i++) {
        const char *about = all->rows[i].topic;
        if (!about || strcmp(about, "card") != 0 || !pen_done(p, "sample_card"))
            open.rows[open.n++] = all->rows[i];
    }
    pen_notices(p, &open);
}

static void color_rows(struct pen *p, const struct color_plan *c, const char *at,
                       const char *wanted) {
    if (c->target.text) {
        struct sheet_row *r = pen_row(p, SHEET_ROW, c->target.text, wanted, NULL, NULL);
        r->swatch = pen_swatch(p, c->target.lab);
    }
    if (c->product) {
        struct sheet_row *r = pen_row(p, SHEET_ROW, "From the can", c->product,
                                      "Used as it is; nothing to mix.", NULL);
        if (!isnan(c->lab[0])) r->swatch = pen_swatch(p, c->lab);
    }
    if (c->lines_n) {
        pen_row(p, SHEET_HEAD, NULL, c->batch ? "In the batch" : "Measure out", NULL, NULL);
        recipe_rows(p, c, at);
        if (c->batch)
            batch_row(p, c);
        else if (!isnan(c->difference_90))
            expected_rows(p, c, at);
    }
    if (!p->closed) open_notices(p, &c->notices);
}

/* "Drawers, top": the groups that get a further color. */
static const char *groups_in(struct pen *p, size_t row) {
    const struct coats *c = &p->piece->coats;
    const struct surfaces *s = &p->piece->surfaces;
    const char *names = "", *last = "";
    for (size_t i = 0; i < c->n; i++) {
        const struct coat *k = &c->rows[i];
        if (k->role != ROLE_COLOR || k->color_row != (int64_t)row || !k->group) continue;
        if (!strcmp(last, k->group)) continue;
        last = k->group;
        for (size_t g = 0; g < s->groups_n; g++)
            if (!strcmp(s->groups[g].id, k->group))
                names = pen_print(p, "%s%s%s", names, *names ? ", " : "", s->groups[g].name);
    }
    return names;
}

void sheet_color(struct pen *p) {
    const struct piece_plan *piece = p->piece;
    const struct color_plan *c = &piece->color;
    if (piece->colors_n && (c->product || c->lines_n || c->target.text))
        pen_row(p, SHEET_HEAD, NULL, groups_in(p, 0), NULL, NULL);
    color_rows(p, c, "/color", "Color wanted");
    for (size_t i = 0; i < piece->colors_n; i++) {
        pen_row(p, SHEET_HEAD, NULL, groups_in(p, i + 1), NULL, NULL);
        color_rows(p, &piece->colors[i], pen_print(p, "/colors/%zu", i), "Color wanted there");
    }
    if (!c->target.text && !c->product && !c->lines_n && !piece->colors_n)
        pen_row(p, SHEET_TEXT, NULL, NULL,
                piece->piece.wanted.tint
                    ? pen_print(p, "Bought with the stain: %s.", piece->piece.wanted.tint)
                    : "No color: the wood stays as it is.",
                NULL);
}

static const char *stock_words(struct pen *p, const struct amount *a, bool shared) {
    if (a->mixed_ml > 0 && a->mixed_ml >= a->mix_ml) return "It is mixed.";
    if (a->mixed_ml > 0)
        return pen_print(
            p, "%s of it mixed; mix %s more by the same recipe.%s",
            pen_quantity(p, DIM_VOLUME, a->mixed_ml),
            pen_quantity(p, DIM_VOLUME, a->mix_ml - a->mixed_ml),
            a->buy_ml > 0 ? pen_print(p, " Buy %s for it.", pen_quantity(p, DIM_VOLUME, a->buy_ml))
                          : "");
    const char *there = a->after_others ? "left by the pieces before" : "on the shelf";
    if (a->buy_ml > 0 && a->cans > 0) {
        const char *cans =
            a->cans_text ? a->cans_text
                         : pen_print(p, "%lld can%s", (long long)a->cans, a->cans == 1 ? "" : "s");
        if (!(a->stock_ml > 0)) return pen_print(p, "Buy %s: none is %s.", cans, there);
        return pen_print(p, "Buy %s: %s %s, %s short.", cans,
                         pen_quantity(p, DIM_VOLUME, a->stock_ml), there,
                         pen_quantity(p, DIM_VOLUME, a->buy_ml));
    }
    if (a->buy_ml > 0)
        return pen_print(p, "Buy %s: %s %s.", pen_quantity(p, DIM_VOLUME, a->buy_ml),
                         pen_quantity(p, DIM_VOLUME, a->stock_ml), there);
    if (a->role == ROLE_COLOR && !a->product) return "All that goes into it is on the shelf.";
    return pen_print(p, "%s %s.", pen_quantity(p, DIM_VOLUME, a->stock_ml),
                     shared ? "of it there, out of the same can" : there);
}

/* Another row before, or after, comes out of the same can. */
static bool same_can(const struct amount *a, const struct amount *b) {
    if (a->product || b->product)
        return a->product && b->product && !strcmp(a->product, b->product);
    return a->role != ROLE_COLOR && b->role != ROLE_COLOR && !strcmp(a->class, b->class);
}
static bool before_it(const struct amounts *a, size_t row) {
    for (size_t i = 0; i < row; i++)
        if (same_can(&a->rows[i], &a->rows[row])) return true;
    return false;
}
static bool after_it(const struct amounts *a, size_t row) {
    for (size_t i = row + 1; i < a->n; i++)
        if (same_can(&a->rows[i], &a->rows[row])) return true;
    return false;
}

/* ", one more on 5 ft2 of it" */
static const char *more_words(struct pen *p, const struct amount *a) {
    if (!(a->more_m2 > 0)) return "";
    const char *where = pen_quantity(p, DIM_AREA, a->more_m2);
    return a->more_coats == 1
               ? pen_print(p, ", one more on %s of it", where)
               : pen_print(p, ", %lld more on %s of it", (long long)a->more_coats, where);
}

/* What is bought by measure, in the shop's units; NULL: it is counted. */
static const char *supply_measure(struct pen *p, const struct supply_need *s) {
    if (!s->unit || p->units == UNITS_METRIC) return NULL;
    if (!strcmp(s->unit, "liters")) return pen_quantity(p, DIM_VOLUME, s->count * 1000);
    if (!strcmp(s->unit, "m2")) return pen_quantity(p, DIM_AREA, s->count);
    if (!strcmp(s->unit, "m")) return pen_print(p, "%g ft", ceil(s->count / 0.3048 - 1e-9));
    return NULL;
}

/* Where in the name the word stands, of one or of many ("strainers"); NULL: nowhere. */
static const char *word_in(const char *name, const char *word, size_t n) {
    for (const char *at = name; n > 2 && *at; at++) {
        const char *end = at + n + (!strncmp(at, word, n) && at[n] == 's');
        if (!strncmp(at, word, n) && (at == name || at[-1] == ' ') && strchr(" ,", *end)) return at;
    }
    return NULL;
}

/* So many of a supply, each word once and one of them as one: "2 pairs, gloves", "1, strainer". */
static void supply_row(struct pen *p, size_t i) {
    const struct supply_need *s = &p->piece->supplies[i];
    const char *unit = s->unit ? s->unit : "", *name = s->name, *count = supply_measure(p, s);
    size_t n = strlen(unit), stem = n > 2 && unit[n - 1] == 's' ? n - 1 : n;
    bool one = s->count == 1;
    const char *at = word_in(name, unit, stem);
    bool many = at && at[stem] == 's';
    if (!count && at && (one || many)) {
        count = pen_print(p, "%g", s->count);
        if (one && many) name = pen_print(p, "%.*s%s", (int)(at - name) + (int)stem, name, at + n);
    } else if (!count)
        count = pen_print(p, "%g%s%.*s", s->count, n ? " " : "", (int)(one ? stem : n), unit);
    pen_figure(p, pen_pointer(p, "/supplies/%zu/count", i), count, name, NULL)->known =
        pen_known(p, CERTAINTY_UNSAID, s->source);
}

void sheet_amounts(struct pen *p) {
    const struct amounts *a = &p->piece->amounts;
    for (size_t i = 0; i < a->n; i++) {
        const struct amount *m = &a->rows[i];
        const char *left =
            m->left_ml > 0 && !after_it(a, i) && !p->closed
                ? pen_print(p, " Likely left over: %s.", pen_quantity(p, DIM_VOLUME, m->left_ml))
                : "";
        const char *range =
            isnan(m->low_ml) ? "" : pen_print(p, "Takes %s. ", pen_range(p, m->low_ml, m->high_ml));
        pen_figure(p, pen_pointer(p, "/amounts/%zu/mix_ml", i),
                   pen_quantity(p, DIM_VOLUME, m->mix_ml),
                   pen_print(p, "%s, %lld coat%s on %s%s", m->name ? m->name : m->product,
                             (long long)m->coats, m->coats == 1 ? "" : "s",
                             pen_quantity(p, DIM_AREA, m->area_m2), more_words(p, m)),
                   pen_print(p, "%s%s%s", range,
                             p->closed ? "" : stock_words(p, m, before_it(a, i)), left));
    }
    if (p->piece->supplies_n) pen_row(p, SHEET_HEAD, NULL, "Supplies", NULL, NULL);
    for (size_t i = 0; i < p->piece->supplies_n; i++) supply_row(p, i);
    if (!p->closed) pen_notices(p, &a->notices);
}
