/* The further RGB spaces of CSS: colors that cameras and papers hold and screens do not.
 *
 * Encoded channels, 0..1 inside the gamut; curves are odd around 0. Pure, total on finite input.
 * Source: CSS4, section 10 and the sample code of section 17 (matrices and curves; rec2020 with the
 * camera curve of ITU-R BT.2020). */
#ifndef CORE_COLOR_RGB_WIDE_H
#define CORE_COLOR_RGB_WIDE_H

#include "core/color/color.h"

struct xyz xyz_d65_of_a98(struct rgb encoded);
struct xyz xyz_d65_of_rec2020(struct rgb encoded);
struct xyz xyz_d50_of_prophoto(struct rgb encoded);

#endif
