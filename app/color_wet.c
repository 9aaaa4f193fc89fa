#include "app/color_wet.h"

#include "codec/color_text.h"
#include "core/work/wet_pairs.h"

#include <math.h>
#include <string.h>

enum { CLASSES_MAX = 64 };

static enum status row_fill(const struct shelf *shelf, const char *class, struct arena *a,
                            struct wet_row *out, struct wet_shift *shift) {
    struct wet_pair *pairs;
    struct why why = {0};
    size_t n;
    if (wet_pairs_find(shelf, class, a, &pairs, &n)) return E_MEMORY;
    *out = (struct wet_row){.class = class,
                            .pairs = (int64_t)n,
                            .lightness = NAN,
                            .chroma = NAN,
                            .expected_difference = NAN};
    if (wet_learn(pairs, n, shift, &why)) {
        out->text = arena_text(a, why.text);
        return out->text ? OK : E_MEMORY;
    }
    out->ready = true;
    out->lightness = shift->lightness;
    out->chroma = shift->chroma;
    out->expected_difference = shift->expected;
    out->text = arena_print(a,
                            "Dries %.1f %s and to %.0f %% of its chroma, from %zu pairs; expect to "
                            "be off by %.1f.",
                            fabs(shift->lightness), shift->lightness < 0 ? "darker" : "lighter",
                            100 * shift->chroma, shift->pairs, shift->expected);
    return out->text ? OK : E_MEMORY;
}

static bool listed(const struct wet_answer *r, const char *class) {
    for (size_t i = 0; i < r->rows_n; i++)
        if (!strcmp(r->rows[i].class, class)) return true;
    return false;
}

/* The color asked for, by the row of its class. */
static enum status dried_fill(const struct wet_row *row, const struct wet_shift *shift,
                              const struct color_said *color, struct arena *a,
                              struct wet_answer *out) {
    const struct lab dry = wet_dried(shift, color_lab(color));
    char hex[8], text[96];
    color_print_hex(dry, hex);
    color_print(NOTATION_LAB, dry, text, sizeof text);
    out->lab[0] = dry.l, out->lab[1] = dry.a, out->lab[2] = dry.b;
    out->hex = arena_text(a, hex);
    out->notation = arena_text(a, text);
    out->expected_difference = row->expected_difference;
    out->text = arena_print(a, "Should dry to %s; expect to be off by %.1f. From %lld pairs.", hex,
                            row->expected_difference, (long long)row->pairs);
    return out->hex && out->notation && out->text ? OK : E_MEMORY;
}

enum status color_wet(const struct shelf *shelf, const char *class, const struct color_said *color,
                      struct arena *a, struct wet_answer *out, struct why *why) {
    struct wet_answer r = {.rows = arena_array(a, CLASSES_MAX, sizeof *r.rows),
                           .lab = {NAN, NAN, NAN},
                           .expected_difference = NAN};
    struct wet_shift shift[CLASSES_MAX];
    const struct wet_row *row = NULL;
    if (!r.rows) return why_no_memory(why);
    for (size_t i = 0; i <= shelf->samples_n && r.rows_n < CLASSES_MAX; i++) {
        const bool sample = i < shelf->samples_n; /* then the class that was asked for */
        if (sample && shelf->samples[i].wet != YN_YES) continue;
        const char *of = sample ? wet_class_of(shelf, &shelf->samples[i]) : class;
        if (!of || listed(&r, of)) continue;
        if (row_fill(shelf, of, a, &r.rows[r.rows_n], &shift[r.rows_n])) return why_no_memory(why);
        r.rows_n++;
    }
    for (size_t i = 0; i < r.rows_n; i++)
        if (class ? !strcmp(r.rows[i].class, class) : r.rows[i].ready) {
            if (row)
                return why_say(why, E_MISSING, "/class",
                               "Say which kind of product it is: each dries in its own way.");
            row = &r.rows[i];
        }
    if (color->text && !row) return wet_learn(NULL, 0, &shift[0], why);
    if (color->text && !row->ready) return why_say(why, E_MISSING, "", "%s", row->text);
    if (color->text && dried_fill(row, &shift[row - r.rows], color, a, &r))
        return why_no_memory(why);
    *out = r;
    return OK;
}

static const struct field row_fields[] = {
    F_TEXT(struct wet_row, class, "kind of product"),
    F_INT(struct wet_row, pairs, 0, 0, "mixes that were read wet and again dry"),
    F_BOOL(struct wet_row, ready, "they are enough"),
    F_NUM(struct wet_row, lightness, 0, 0, "dry is so much lighter, L*"),
    F_NUM(struct wet_row, chroma, 0, 0, "dry has so many times the chroma"),
    F_NUM(struct wet_row, expected_difference, 0, 0, "to expect, each pair told from the others"),
    F_TEXT(struct wet_row, text, "in a sentence; what is missing"),
};
static DESC(desc_row, struct wet_row, "wet_class", "How one kind of product dries.", row_fields);
static const struct field wet_fields[] = {
    F_LIST(struct wet_answer, rows, &desc_row, CLASSES_MAX, "kinds of product with wet readings"),
    F_FIXED(struct wet_answer, lab, 3, "what the color should dry to, CSS Lab D50"),
    F_TEXT(struct wet_answer, hex, "the same, #rrggbb"),
    F_TEXT(struct wet_answer, notation, "the same, CSS text"),
    F_NUM(struct wet_answer, expected_difference, 0, 0, "difference to expect"),
    F_TEXT(struct wet_answer, text, "in a sentence"),
};
DESC(desc_wet, struct wet_answer, "wet", "What wet paint dries to.", wet_fields);
