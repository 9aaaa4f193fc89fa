/* Measured reflectance from a file, as instruments and their programs write it.
 *
 * CGATS: a first line with the name of the format, keyword lines, BEGIN_DATA_FORMAT .. names of
 * fields .. END_DATA_FORMAT, BEGIN_DATA .. values .. END_DATA; several tables may follow each
 * other. Words stand between blanks, tabs or line ends, texts in quotation marks (doubled inside),
 * `#` begins a comment. Reflectance is a field a wavelength (SPECTRAL_NM400, SPECTRAL_NM_400,
 * SPECTRAL_400, SPEC_400, NM400, nm400, R_400), or pairs SPECTRAL_NM with SPECTRAL_DEC or
 * SPECTRAL_PCT. A file without reflectance but with LAB_L, LAB_A, LAB_B, else XYZ_X, XYZ_Y, XYZ_Z
 * (D50, Y of white 100) has colors alone: the patches of a chart.
 *
 * CSV: one row a sample with the wavelengths in the header (name,400,410 ...; 400nm and the names
 * above will do), or one row a wavelength with a column a sample (wavelength,value ...). Fields are
 * divided by commas, semicolons or tabs; numbers have a decimal point.
 *
 * Lines end with LF or CR LF, in CGATS with CR alone too. Reflectance is taken as percent where the
 * file holds a value above 2, else as fractions of 1, unless the caller knows.
 *
 * Source: CGATS17, ISO28178 (layout, names of fields); SPECTRAL_NMnnn and the like: common
 * practice. */
#ifndef CODEC_SPECTRUM_TEXT_H
#define CODEC_SPECTRUM_TEXT_H

#include "core/base/arena.h"
#include "core/color/difference.h"
#include "core/color/spectrum.h"
#include "core/work/job.h"

#include <stdbool.h>

enum {
    SPECTRUM_SAMPLES_MAX = 5000,
    SPECTRUM_FIELDS_MAX = 1000, /* of a line */
    SPECTRUM_VALUES_MAX = 800   /* of a sample */
};

enum spectrum_scale { SCALE_UNSAID, SCALE_FRACTION, SCALE_PERCENT };

struct spectrum_read {
    const char *name;            /* of the sample; its number when it has none */
    int64_t line;                /* of the file, from 1 */
    struct spectrum_said values; /* fractions of 1 as they were measured; n = 0: a color alone */
    struct spectrum grid;        /* the same on the core's grid */
    struct lab lab;              /* of a color alone, D50 2 degree; else NAN */
};

struct spectrum_text {
    const char *format; /* "CGATS" or "CSV"; static */
    enum spectrum_scale scale;
    struct spectrum_read *samples;
    size_t n;
    int64_t in_row; /* of a chart: patches in one row (LGOROWLENGTH); INT64_MIN: not said */
};

/* Reads a whole file.
 *
 *   text, n   bytes; need not end in NUL, need not be UTF-8 (names are made so)
 *   scale     what the values are; SCALE_UNSAID: told from their size
 *   out       in the arena; untouched on failure
 *   why       field "/lines/12" (from 1) or ""; the text names line and field
 *
 * Errors: E_SYNTAX (no such layout, a number that is none, a mark that is not closed), E_MISSING
 * (no reflectance, too few values), E_DOMAIN (a reflectance or wavelength that cannot be),
 * E_DUPLICATE (a wavelength twice), E_TOO_LARGE, E_MEMORY. */
enum status spectrum_text_read(const char *text, size_t n, enum spectrum_scale scale,
                               struct arena *arena, struct spectrum_text *out, struct why *why);

/* Its color, Lab D50 2 degree; d50: the weights of that light and observer. */
struct lab spectrum_read_color(const struct spectrum_read *r, const struct weights *d50);

#endif
