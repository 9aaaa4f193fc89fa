/* Means of blocks of pixels inside rectangles, in linear light: what core/photo takes. */
#ifndef PHOTO_BLOCKS_H
#define PHOTO_BLOCKS_H

#include "core/photo/photo.h"
#include "photo/profile.h"
#include "photo/rect.h"

struct blocks;

/* rects [n], upright, each inside the picture. NULL without memory. */
struct blocks *blocks_make(const struct raster_head *head, const struct picture_rect *rects,
                           size_t n);
void blocks_free(struct blocks *b);

void blocks_row(struct blocks *b, const struct profile *profile, int y, const void *rgb);

/* After the last row: blocks_in of the first rectangle, then those of the second ... *out is yours;
 * free. Errors: E_MEMORY; E_SYNTAX (numbers that no light gives: the profile is broken). */
enum status blocks_end(const struct blocks *b, struct photo_block **out, size_t *out_n,
                       struct why *why);

/* How many blocks a rectangle is cut into: core/photo/photo.h. */
size_t blocks_in(struct picture_rect r);

/* Are all numbers of a block possible ones, as core/photo takes them? */
bool block_sound(const struct photo_block *b);

#endif
