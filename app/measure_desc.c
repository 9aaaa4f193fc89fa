/* How readings of pictures are written, and printed for a terminal. */
#include "app/measure.h"
#include "core/photo/photo.h"

#include <math.h>
#include <string.h>

const char *const words_photo_kind[] = {"", "white", "gray", "chip", "patch", NULL};
_Static_assert(PHOTO_WHITE == 0 && PHOTO_PATCH == 3, "the words stand in core's order");

static const struct field file_reference_fields[] = {
    MEASURE_REFERENCE_FIELDS,
};
static DESC_OPEN(desc_file_reference, struct measure_reference, "measure_reference",
                 "Something of known color in a picture.", file_reference_fields);
static const struct field file_target_fields[] = {
    MEASURE_TARGET_FIELDS,
};
static DESC_OPEN(desc_file_target, struct measure_target, "measure_target",
                 "Something whose color is wanted.", file_target_fields);
static const struct field file_fields[] = {
    {F_AT(struct measure_rects, references),
     .count_offset = offsetof(struct measure_rects, references_n), .type = FIELD_LIST,
     .of = &desc_file_reference, .items_max = MEASURE_REFERENCES_MAX, .flags = FLAG_REQUIRED,
     .help = "things of known color"},
    {F_AT(struct measure_rects, targets), .count_offset = offsetof(struct measure_rects, targets_n),
     .type = FIELD_LIST, .of = &desc_file_target, .items_max = MEASURE_TARGETS_MAX,
     .flags = FLAG_REQUIRED, .help = "things whose color is wanted"},
};
DESC_OPEN(desc_measure_file, struct measure_rects, "measure_file",
          "Where things of known and of unknown color are in a picture.", file_fields);

/* ---- the answer ---- */

#define WARNINGS(S)                                                                                \
    F_TEXTS(S, warnings, 8, "clipped, dark, glare, reference, mixed, shadow; none: nothing odd")
static const struct field target_fields[] = {
    F_TEXT(struct measured_target, name, "name"),
    F_FIXED(struct measured_target, lab, 3, "CSS Lab (D50, 2 degree)"),
    F_TEXT(struct measured_target, hex, "nearest on a screen"),
    F_TEXT(struct measured_target, color, "the color as every color argument takes it"),
    F_NUM(struct measured_target, expected, 0, 0, "CIEDE2000 off: half of all readings are nearer"),
    F_NUM(struct measured_target, limit90, 0, 0, "9 of 10 readings are nearer"),
    WARNINGS(struct measured_target),
};
static DESC(desc_target, struct measured_target, "measured_target", "A color that was read.",
            target_fields);
static const struct field reference_fields[] = {
    F_TEXT(struct measured_reference, name, "name"),
    F_WORD(struct measured_reference, kind, words_photo_kind, "what it is"),
    F_FIXED(struct measured_reference, stated, 3, "its color as stated or assumed"),
    F_FIXED(struct measured_reference, read, 3, "its color as read"),
    F_NUM(struct measured_reference, difference, 0, 0, "CIEDE2000 between them"),
    F_NUM(struct measured_reference, weight, 0, 1, "how much it counted"),
    F_BOOL(struct measured_reference, assumed, "its color was not said"),
    WARNINGS(struct measured_reference),
};
static DESC(desc_reference, struct measured_reference, "measured_reference",
            "How a thing of known color was seen.", reference_fields);
static const struct field difference_fields[] = {
    F_FIXED(struct measured_difference, lab, 3, "second target minus first: dL, da, db"),
    F_NUM(struct measured_difference, expected, 0, 0, "CIEDE2000 off: half are better"),
    F_NUM(struct measured_difference, limit90, 0, 0, "9 of 10 are better"),
    F_NUM(struct measured_difference, ciede2000, 0, 0, "between the two"),
};
static DESC(desc_difference, struct measured_difference, "measured_difference",
            "How two targets of one picture differ.", difference_fields);
static const struct field picture_fields[] = {
    F_TEXT(struct measured_picture, name, "of the file"),
    F_TEXT(struct measured_picture, format, "JPEG, PNG, WebP or HEIC, by its first bytes"),
    F_INT(struct measured_picture, width, 0, 0, "pixels, upright"),
    F_INT(struct measured_picture, height, 0, 0, "pixels, upright"),
    F_TEXT(struct measured_picture, profile, "color profile, or how its numbers were taken"),
    F_TEXT(struct measured_picture, note, "what is odd about it"),
};
static DESC(desc_picture, struct measured_picture, "measured_picture", "What was read.",
            picture_fields);
static const struct field answer_fields[] = {
    F_LIST(struct measure_answer, targets, &desc_target, MEASURE_TARGETS_MAX, "in their order"),
    {F_AT(struct measure_answer, difference), .type = FIELD_RECORD, .of = &desc_difference,
     .flags = FLAG_NULL, .help = "second target minus first; null with fewer than two"},
    WARNINGS(struct measure_answer),
    F_TEXTS(struct measure_answer, advice, 8, "what to do about them"),
    F_LIST(struct measure_answer, references, &desc_reference, MEASURE_REFERENCES_MAX,
           "in their order; of the first picture"),
    F_RECORD(struct measure_answer, picture, &desc_picture, "the first picture"),
    F_INT(struct measure_answer, shots, 1, 32, "how many pictures were averaged"),
};
DESC(desc_measure_answer, struct measure_answer, "measure_answer", "Colors read in a picture.",
     answer_fields);

/* ---- for a terminal ---- */

static void print_warnings(struct text *out, const char *const *words, size_t n) {
    for (size_t i = 0; i < n; i++) text_print(out, "%s%s", i ? ", " : "  ! ", words[i]);
    text_print(out, "\n");
}

static int widest(const struct measure_answer *a) {
    size_t w = 9;
    for (size_t i = 0; i < a->targets_n; i++)
        if (strlen(a->targets[i].name) > w) w = strlen(a->targets[i].name);
    for (size_t i = 0; i < a->references_n; i++)
        if (strlen(a->references[i].name) > w) w = strlen(a->references[i].name);
    return (int)(w < 30 ? w : 30);
}

static void print_targets(const struct measure_answer *a, int w, struct text *out) {
    for (size_t i = 0; i < a->targets_n; i++) {
        const struct measured_target *t = &a->targets[i];
        text_print(out, "%-*.*s  %s  %-26s  expect %.1f off, 9 of 10 within %.1f", w, w, t->name,
                   t->hex, t->color, t->expected, t->limit90);
        print_warnings(out, t->warnings, t->warnings_n);
    }
    if (isfinite(a->difference.expected))
        text_print(out,
                   "\n%s is %.1f from %s: L %+.1f, a %+.1f, b %+.1f; that difference is known to "
                   "%.1f.\n",
                   a->targets[1].name, a->difference.ciede2000, a->targets[0].name,
                   a->difference.lab[0], a->difference.lab[1], a->difference.lab[2],
                   a->difference.expected);
}

static void print_references(const struct measure_answer *a, int w, struct text *out) {
    text_print(out, "\nReferences, as the result sees them:\n");
    for (size_t i = 0; i < a->references_n; i++) {
        const struct measured_reference *r = &a->references[i];
        text_print(out, "%-*.*s  %-5s  %.1f off its %s color%s", w, w, r->name,
                   words_photo_kind[r->kind], r->difference, r->assumed ? "usual" : "stated",
                   r->weight < 0.3 ? ", hardly counted" : "");
        print_warnings(out, r->warnings, r->warnings_n);
    }
}

void measure_print(const struct measure_answer *a, struct text *out) {
    int w = widest(a);
    text_print(out, "%s%s%s, %lld x %lld pixels, %s.%s%s\n\n",
               a->picture.name ? a->picture.name : "", a->picture.name ? ": " : "",
               a->picture.format, (long long)a->picture.width, (long long)a->picture.height,
               a->picture.profile, a->picture.note ? " " : "",
               a->picture.note ? a->picture.note : "");
    print_targets(a, w, out);
    print_references(a, w, out);
    for (size_t i = 0; i < a->advice_n; i++)
        text_print(out, "%s! %s\n", i ? "" : "\n", a->advice[i]);
}
