/* Colors measured in a photograph, by things of known color in the same picture.
 *
 * A camera's numbers mean little alone: light, white balance, tone curve and the camera's own eyes
 * stand between them and the color. References (white paper, gray card, dried chips of known color,
 * a printed chart) in the same picture take most of that away; what is left is said as an expected
 * error. This module sees means of blocks of pixels, never a picture: photo/ makes them.
 *
 * Lab here is CSS Lab: D50, 2 degrees. Places are in the upright picture, both coordinates divided
 * by its longer side, from the upper left corner.
 *
 * Source: FINLAYSON2015 (root polynomials); own model (penalties, expected error; simulated with
 * JIANG2013). docs/PHOTO.md says what is computed, how well, and what is not known. */
#ifndef CORE_PHOTO_PHOTO_H
#define CORE_PHOTO_PHOTO_H

#include "core/base/arena.h"
#include "core/base/status.h"
#include "core/color/difference.h"

#include <stdbool.h>
#include <stddef.h>

enum {
    PHOTO_BLOCKS_MAX = 256, /* of one patch: 16 x 16 */
    PHOTO_REFERENCES_MAX = 256,
    PHOTO_TARGETS_MAX = 64,
    PHOTO_SHOTS_MAX = 32
};

/* One block of a patch. A rectangle of w x h pixels is cut into min(16, w) x min(16, h) blocks of
 * as equal a size as whole pixels allow; every pixel lies in one block. */
struct photo_block {
    double rgb[3];       /* mean of LINEAR Display P3 over its pixels; in the gamut 0..1 */
    double sd[3];        /* standard deviation of the same over its pixels; 0 for one pixel */
    double clipped_frac; /* share of pixels with a channel of the file at its end (8 bit: >= 254) */
    double dark_frac;    /* share of pixels with every channel of the file near 0 (8 bit: <= 8) */
    double x, y;         /* its middle */
};

struct photo_patch {
    const char *name; /* for messages; may be NULL */
    const struct photo_block *blocks;
    size_t blocks_n; /* 1..PHOTO_BLOCKS_MAX */
};

enum photo_kind {
    PHOTO_WHITE, /* white paper; its color need not be said */
    PHOTO_GRAY,  /* a gray that is known or, not said, neutral of any lightness: then it shows the
                    color of the light but not its amount, and is taken as an 18 % card */
    PHOTO_CHIP,  /* a dried paint chip of known color */
    PHOTO_PATCH, /* a patch of a chart of known color */
    PHOTO_KINDS
};

struct photo_reference {
    struct photo_patch patch;
    enum photo_kind kind;
    struct lab lab; /* l NAN: not said (white and gray alone) */
    double lab_sd;  /* of its color, per axis in CIEDE2000, 0..20; 0: the usual of its kind */
};

/* Faults that a person can mend by taking the picture again. */
/*  name              bit  word         what to do */
#define PHOTO_WARNING_LIST(X)                                                                      \
    X(PHOTO_CLIPPED, 1, "clipped", "A part is too bright for the picture. Expose it darker.")      \
    X(PHOTO_DARK, 2, "dark",                                                                       \
      "A part is too dark to be read. Take more light or expose it longer.")                       \
    X(PHOTO_GLARE, 4, "glare", "A part shines. Turn it until no light or window is seen in it.")   \
    X(PHOTO_REFERENCE, 8, "reference",                                                             \
      "A reference does not agree with its stated color. Check which one it is and its color.")    \
    X(PHOTO_MIXED, 16, "mixed",                                                                    \
      "Light of different colors falls on the picture. Leave one: window or lamp.")                \
    X(PHOTO_SHADOW, 32, "shadow", "A shadow falls on a part. Move away from the light's path.")

enum photo_warning {
#define X(name, bit, word, text) name = bit,
    PHOTO_WARNING_LIST(X)
#undef X
};

/* The words of one bit, static; NULL for anything that is not exactly one bit of the list. */
const char *photo_warning_word(unsigned bit);
const char *photo_warning_text(unsigned bit);

/* One picture. Targets may be 0 (only the references are judged then). */
struct photo_shot {
    const struct photo_reference *references;
    size_t references_n; /* 1..PHOTO_REFERENCES_MAX */
    const struct photo_patch *targets;
    size_t targets_n;     /* 0..PHOTO_TARGETS_MAX */
    double width, height; /* of the picture, divided by its longer side: one of them is 1 */
};

struct photo_color {
    struct lab lab;
    double expected;   /* CIEDE2000 to the true color: half of all readings are nearer */
    double limit90;    /* 9 of 10 are nearer */
    double shot_sd;    /* the part, per axis, that further shots average away */
    double shared_sd;  /* the part, per axis, that every shot with this camera, light and these
                          references has in common */
    unsigned warnings; /* enum photo_warning, of this target */
};

/* How a reference is seen when its own statement is followed. */
struct photo_residual {
    struct lab stated; /* its color, or what was assumed */
    struct lab read;   /* its color by the fit */
    double difference; /* CIEDE2000 between them */
    double weight;     /* 0..1: how much it counted; a wrong one counts little */
    bool assumed;      /* stated was assumed by its kind */
    unsigned warnings; /* of this reference */
};

struct photo_difference {
    double lab[3];    /* second target minus first: dL, da, db */
    double ciede2000; /* between them */
    double expected;  /* error of lab in CIEDE2000's metric there: half are better */
    double limit90;
    double shot_sd, shared_sd; /* as above */
};

struct photo_reading {
    const struct photo_color *targets; /* [targets_n] */
    size_t targets_n;
    const struct photo_residual *references; /* [references_n]; NULL in an average */
    size_t references_n;
    bool has_difference; /* two targets and more: of the first two */
    struct photo_difference difference;
    unsigned warnings; /* of the whole picture: all of the above together */
    size_t shots;      /* 1, or how many were averaged */
};

/* Reads the targets of one picture.
 *
 *   a     the reading lives in it
 *   out   borrowed from a; untouched on failure
 *   why   field "/references/2/rect", "/references/0/lab", "/targets/1" and the like
 *
 * A patch whose blocks are all clipped, dark or glaring is still read, with its warning and a wide
 * expected error. Errors: E_MISSING (no reference; a patch without a block; a chip or patch without
 * its color), E_DOMAIN (a number outside its range), E_TOO_LARGE, E_REFUSED (the picture is black
 * where the references are), E_MEMORY. Deterministic. Cost: some ms. */
enum status photo_read(const struct photo_shot *shot, struct arena *a, struct photo_reading *out,
                       struct why *why);

/* Several shots of the same targets in the same order, taken as one reading. What differs from shot
 * to shot (places, unevenness of light, noise) averages away; what the camera sees wrongly stays.
 * Targets that swap their places between shots get a still better difference. Weighted by how sure
 * each shot is.
 *
 *   shots [n], 1..PHOTO_SHOTS_MAX, all with the same targets_n; single readings, not averages
 *
 * Errors: E_MISSING, E_TOO_LARGE, E_DOMAIN (other number of targets), E_MEMORY. */
enum status photo_average(const struct photo_reading *shots, size_t n, struct arena *a,
                          struct photo_reading *out, struct why *why);

#endif
