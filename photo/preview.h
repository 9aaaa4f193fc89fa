/* A small upright picture for people to look at: sRGB, JPEG. */
#ifndef PHOTO_PREVIEW_H
#define PHOTO_PREVIEW_H

#include "photo/profile.h"
#include "photo/rect.h"

struct preview;

/* crop is upright, inside the picture; side: the longer side at most. NULL without memory. */
struct preview *preview_make(const struct raster_head *head, struct picture_rect crop, int side);
void preview_free(struct preview *v);

void preview_row(struct preview *v, int y, const void *rgb);
/* After the last row. *out is yours; free. Errors: E_MEMORY. */
enum status preview_end(struct preview *v, const struct profile *profile, uint8_t **out,
                        size_t *out_n, struct why *why);

#endif
