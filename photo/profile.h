/* From the numbers of a file to light: linear Display P3. */
#ifndef PHOTO_PROFILE_H
#define PHOTO_PROFILE_H

#include "photo/raster.h"

struct profile;

/* The way from this picture's numbers. Relative colorimetric, without black point compensation:
 * what is measured is light, not what looks right on a screen.
 * Errors: E_SYNTAX (the embedded profile is broken), E_DOMAIN (it is of another kind of picture),
 * E_MEMORY. *out_profile is yours; profile_free. */
enum status profile_make(const struct raster_head *head, struct profile **out_profile,
                         struct why *why);
void profile_free(struct profile *p);

/* n pixels of the raster's bits to linear Display P3, 1 = the file's white. */
void profile_linear(const struct profile *p, const void *rgb, size_t n, float *out_rgb);
/* n pixels of 8 bits to sRGB of 8 bits, for people to look at. */
void profile_show(const struct profile *p, const uint8_t *rgb, size_t n, uint8_t *out_rgb);

/* What the profile calls itself, or how the file was taken: "sRGB (not said)". */
const char *profile_name(const struct profile *p);

#endif
