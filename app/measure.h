/* Colors read in pictures: rectangles of things of known color and of things that are wanted to be
 * known, and what is found. Pictures are read by photo/, the color is found by core/photo. */
#ifndef APP_MEASURE_H
#define APP_MEASURE_H

#include "app/op.h"
#include "core/work/job.h"
#include "photo/picture.h"

enum { MEASURE_REFERENCES_MAX = 256, MEASURE_TARGETS_MAX = 32, MEASURE_EDGE_MAX = 100000 };

struct measure_reference {
    const char *name;
    int kind;                /* enum photo_kind + 1; 0: not said */
    double rect[4];          /* x, y, w, h in pixels of the upright picture */
    double lab[3];           /* D50, 2 degree; NAN: not said */
    struct color_said color; /* the same as text; lab wins */
    const char *paint;       /* on the shelf: its color; NULL: lab says it */
    const char *sample;      /* in the book, the same */
};
struct measure_target {
    const char *name;
    double rect[4];
};
struct measure_rects {
    struct measure_reference *references;
    size_t references_n;
    struct measure_target *targets;
    size_t targets_n;
};
#define MEASURE_RECT(S)                                                                            \
    {                                                                                              \
        F_AT(S, rect), .type = FIELD_NUMBERS, .fixed = 4, .min = 0, .max = MEASURE_EDGE_MAX,       \
                       .flags = FLAG_REQUIRED,                                                     \
                       .help = "[x, y, width, height] in pixels of the upright picture"            \
    }
/* Of a thing of known color, and of one whose color is wanted, wherever they are said. */
#define MEASURE_REFERENCE_FIELDS                                                                   \
    F_TEXT(struct measure_reference, name, "name"),                                                \
        {F_AT(struct measure_reference, kind), .type = FIELD_WORD, .words = words_photo_kind,      \
         .flags = FLAG_REQUIRED,                                                                   \
         .help = "what it is: white paper, gray, chip of paint, patch of a chart"},                \
        MEASURE_RECT(struct measure_reference),                                                    \
        F_FIXED(struct measure_reference, lab, 3,                                                  \
                "[L, a, b], D50, 2 degree; white and gray may do without")
#define MEASURE_TARGET_FIELDS                                                                      \
    F_TEXT(struct measure_target, name, "name"), MEASURE_RECT(struct measure_target)
/* As other programs may write it: members that are not known are passed over. */
extern const struct desc desc_measure_file;
extern const char *const words_photo_kind[];

struct measured_picture {
    const char *name, *format, *profile;
    int64_t width, height;
    const char *note; /* what is odd about the file, in words; NULL: nothing */
};
struct measured_target {
    const char *name, *hex, *color; /* color: lab() text that any color argument takes */
    double lab[3], expected, limit90;
    const char **warnings;
    size_t warnings_n;
};
struct measured_reference {
    const char *name;
    int kind;
    double stated[3], read[3], difference, weight;
    bool assumed;
    const char **warnings;
    size_t warnings_n;
};
struct measured_difference {
    double lab[3], expected, limit90, ciede2000;
};
struct measure_answer {
    struct measured_target *targets;
    size_t targets_n;
    struct measured_difference difference;
    const char **warnings, **advice; /* advice: the same in sentences */
    size_t warnings_n, advice_n;
    struct measured_reference *references;
    size_t references_n;
    struct measured_picture picture; /* the first */
    int64_t shots;
};
extern const struct desc desc_measure_answer;

/* The whole pixels that a rectangle of any numbers means; at least one. */
struct picture_rect measure_whole(const double r[4]);

struct measure_shot {
    const void *bytes;
    size_t n;
    const char *name; /* of the file, for its suffix and for people */
    const struct measure_rects *rects;
};

/* Reads one picture, or several of the same targets as one reading.
 *
 *   member   in front of pointers where there are several shots: "/shots/%zu"
 *   out      all of it in call->arena
 *
 * Errors: those of picture_read and photo_read, at "/photo", "/references/N/..." and
 * "/targets/N/..." below the shot's member. */
enum status measure_read(struct op_call *call, const struct measure_shot *shots, size_t n,
                         const char *member, struct measure_answer *out, struct why *why);

/* What the worker said of a picture, in words; `name` of its file, or NULL. */
enum status measure_tell(const char *name, const struct picture_facts *facts, struct arena *arena,
                         struct measured_picture *out, struct why *why);

/* The bytes of a person's file, one more than is read at most. *out is yours; free. Errors:
 * E_NOT_FOUND, E_IO, at "/photo". */
enum status picture_load(const char *path, void **out, size_t *out_n, struct why *why);

/* For a terminal. */
void measure_print(const struct measure_answer *a, struct text *out);

#endif
