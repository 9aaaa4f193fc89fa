/* The two things that matter here of what a camera writes about a picture. */
#ifndef PHOTO_EXIF_H
#define PHOTO_EXIF_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Orientation 1..8 of a TIFF block as Exif holds it, with or without "Exif\0\0" before it; 1 where
 * it says nothing or nonsense. *out_wide: the file is of DCF's optional color space (R03), which
 * is Adobe's wide RGB; such files carry no profile.
 * Source: DC008, 4.6.4 and 4.6.7. */
int exif_orientation(const uint8_t *p, size_t n, bool *out_wide);

/* The stored pixel of an upright one, in a picture of stored size w x h. */
void exif_stored(int orientation, int w, int h, int x, int y, int *out_x, int *out_y);
/* The upright pixel of a stored one. */
void exif_upright(int orientation, int w, int h, int x, int y, int *out_x, int *out_y);
bool exif_swaps(int orientation); /* are width and height exchanged? */

#endif
