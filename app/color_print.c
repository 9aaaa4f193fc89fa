#include "app/color_print.h"

#include "codec/text_wrap.h"
#include "core/color/difference.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* 4390165 -> 4,390,165 */
static void thousands(double n, char out[40]) {
    char digits[40];
    int len = snprintf(digits, sizeof digits, "%.0f", n), k = 0;
    if (len > 26) {
        snprintf(out, 40, "%.2e", n);
        return;
    }
    for (int i = 0; i < len; i++) {
        if (i && (len - i) % 3 == 0) out[k++] = ',';
        out[k++] = digits[i];
    }
    out[k] = 0;
}

static void proof_print(const struct recipe_answer *a, struct text *out) {
    char n[40];
    thousands(a->proof.grid_points, n);
    if (!strcmp(a->proof.kind, "optimal"))
        text_wrap_print(out, 0, 0,
                        "Of %s recipes on this grid none is better than the first: proven.", n);
    else if (a->proof.bound < 0.005)
        text_wrap_print(out, 0, 0, "Not proven best: the search through %s recipes was stopped.",
                        n);
    else
        text_wrap_print(out, 0, 0,
                        "Not proven best: stopped at its limit. None of the %s recipes on this "
                        "grid can be better than %.2f.",
                        n, a->proof.bound);
}

static void row_print(const struct recipe_found *r, size_t number, struct text *out) {
    enum { AT = 4 }; /* column of the words */
    text_print(out, "\n%2zu  ", number);
    text_wrap_print(out, AT, AT, "difference %.2f, expect %.1f (%s), 9 of 10 under %.1f",
                    r->difference, r->expected_difference, difference_words(r->expected_difference),
                    r->difference_90);
    for (size_t i = 0; i < r->items_n; i++) {
        const struct recipe_answer_item *item = &r->items[i];
        if (item->text)
            text_print(out, "    %14s  %s  (%s)\n", item->text, item->name, item->paint);
        else
            text_print(out, "      %4lld  %s  (%s)\n", (long long)item->parts, item->name,
                       item->paint);
    }
    struct text words = {0};
    text_print(&words, "dries to %s", r->hex);
    if (!isnan(r->metamerism)) text_print(&words, "; under lamp or LED off by %.1f", r->metamerism);
    if (r->leftover_parts > 0)
        text_print(&words, "; uses %lld part%s of leftovers", (long long)r->leftover_parts,
                   r->leftover_parts == 1 ? "" : "s");
    text_print(out, "%*s", AT, "");
    text_wrap(out, AT, AT, words.at);
    text_free(&words);
}

void recipe_answer_print(const struct recipe_answer *a, struct text *out) {
    text_print(out, "Target %s", a->target.text);
    if (a->recipes_n && !(a->part_ml > 0))
        text_print(out, " in %lld parts by volume", (long long)a->recipes[0].parts);
    text_print(out, "\n");
    if (a->advice) text_wrap(out, 0, 0, a->advice);
    if (a->coarse) text_wrap(out, 0, 0, a->coarse);
    if (a->left_out) text_wrap(out, 0, 0, a->left_out);
    for (size_t i = 0; i < a->recipes_n; i++) row_print(&a->recipes[i], i + 1, out);
    text_print(out, "\n");
    proof_print(a, out);
    text_wrap(out, 0, 0, "Paint a sample card of it and let it dry before mixing a batch.");
}

void mix_answer_print(const struct mix_answer *a, struct text *out) {
    text_print(out, "Dries to %s, %s\n", a->hex, a->notation);
    text_wrap_print(out, 0, 0, "Expect to be off by %.1f (%s); 9 of 10 such mixes are within %.1f.",
                    a->expected_difference, difference_words(a->expected_difference),
                    a->difference_90);
    text_wrap_print(out, 0, 0, "Under an evening lamp it looks like %s, under LED like %s.",
                    a->lights[1].hex, a->lights[2].hex);
    if (a->samples > 0)
        text_wrap_print(out, 0, 0, "Learned from %lld sample%s on this shelf.",
                        (long long)a->samples, a->samples == 1 ? "" : "s");
    else
        text_wrap(out, 0, 0, "Nothing learned yet: no sample of these paints is on the shelf.");
}

void next_answer_print(const struct next_answer *a, struct text *out) {
    struct text recipe = {0};
    for (size_t i = 0; i < a->recipe_n; i++)
        text_print(&recipe, "%s %lld %s", i ? "," : "For", (long long)a->recipe[i].parts,
                   a->recipe[i].name);
    text_print(&recipe, ":");
    text_wrap(out, 0, 0, recipe.at);
    text_free(&recipe);
    for (size_t i = 0; i < a->rows_n; i++)
        text_print(out, "%2zu  ", i + 1), text_wrap(out, 4, 4, i ? a->rows[i].text : a->text);
    if (!a->rows_n) text_print(out, "    "), text_wrap(out, 4, 4, a->text);
}

void correct_answer_print(const struct correct_answer *a, struct text *out) {
    text_print(out, "It dried %.1f off (%s).\n", a->difference_now,
               difference_words(a->difference_now));
    text_wrap(out, 0, 0, a->text);
    if (a->add_n)
        text_wrap_print(out, 0, 0,
                        "Added to, it should dry to %s, %.1f from the target; expect %.1f (%s), 9 "
                        "of 10 within %.1f.",
                        a->hex, a->difference, a->expected_difference,
                        difference_words(a->expected_difference), a->difference_90);
}

void known_print(const struct known_answer *a, struct text *out) {
    if (!a->paints_n) text_print(out, "No paint whose color is known is on the shelf.\n");
    for (size_t i = 0; i < a->paints_n; i++) {
        const struct known_paint *k = &a->paints[i];
        enum { WORDS_FROM = 42 };
        char words[400];
        text_print(out, "%-32.32s %s  ", k->name, k->hex);
        if (isnan(k->expected_difference))
            snprintf(words, sizeof words, "%s", k->text);
        else
            snprintf(words, sizeof words, "%s; %s%.64s: expect %.1f", k->text,
                     strcmp(k->with, k->name) ? "half with " : "by itself",
                     strcmp(k->with, k->name) ? k->with : "", k->expected_difference);
        text_wrap(out, WORDS_FROM, WORDS_FROM, words);
        if (!k->lots) continue;
        text_print(out, "%*s", WORDS_FROM, "");
        text_wrap(out, WORDS_FROM, WORDS_FROM, k->lots);
    }
    for (size_t i = 0; i < a->samples_n; i++)
        if (a->samples[i].contradicts)
            text_print(out, "\n"), text_wrap(out, 0, 0, a->samples[i].text);
    for (size_t i = 0; i < a->wet_n; i++)
        if (!a->wet[i].paired) text_print(out, "\n%s: %s\n", a->wet[i].mix, a->wet[i].text);
}

void reach_print(const struct reach_answer *a, struct text *out) {
    text_wrap(out, 0, 0, a->text);
    text_print(out, "\nAt hue %.0f the shelf reaches, by lightness:\n", a->hue);
    for (size_t i = a->rows_n; i-- > 0;)
        if (i % 4 == 0)
            text_print(out, "%4.0f  strength %3.0f to %3.0f\n", a->rows[i].l, a->rows[i].low,
                       a->rows[i].high);
}

void hiding_print(const struct hiding_answer *a, struct text *out) {
    text_wrap(out, 0, 0, a->text);
    for (size_t i = 0; i < a->rows_n; i++)
        text_print(out, "%2lld %s  %s, %.1f from the opaque layer (%s)\n",
                   (long long)a->rows[i].coats, a->rows[i].coats == 1 ? "coat " : "coats",
                   a->rows[i].hex, a->rows[i].difference, difference_words(a->rows[i].difference));
    text_print(out, "\n");
    text_wrap(out, 0, 0, a->how);
}
