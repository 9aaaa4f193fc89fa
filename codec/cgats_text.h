/* Colors of a chart as its maker gives them: CGATS.17 text (ISO28178).
 *
 * Read are LAB_L LAB_A LAB_B (D50, 2 degree), else XYZ_X XYZ_Y XYZ_Z (D50, Y of white 100); the
 * name is SAMPLE_NAME, else SAMPLE_ID, SAMPLE_LOC or the number of the row. All other columns and
 * keywords are passed over. */
#ifndef CODEC_CGATS_TEXT_H
#define CODEC_CGATS_TEXT_H

#include "core/base/arena.h"
#include "core/base/status.h"
#include "core/color/color.h"

#include <stdint.h>

enum { CGATS_PATCHES_MAX = 256 };

struct cgats_patch {
    const char *name;
    double lab[3];
};

/* Errors: E_SYNTAX (no CGATS text, a column or a value missing; the text says which line),
 * E_MISSING (it holds no Lab or XYZ), E_TOO_LARGE, E_MEMORY. out_in_row: patches in one row of the
 * chart (LGOROWLENGTH), INT64_MIN: not said. */
enum status cgats_read(const char *text, struct arena *arena, struct cgats_patch **out,
                       size_t *out_n, int64_t *out_in_row, struct why *why);

#endif
