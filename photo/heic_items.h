/* How the items of a HEIC are made of each other (ISO/IEC 14496-12, ItemReferenceBox; ISO/IEC
 * 23008-12, derived images). */
#ifndef PHOTO_HEIC_ITEMS_H
#define PHOTO_HEIC_ITEMS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Is every image made of others that are, in the end, made of none? A library that follows an image
 * made of itself comes to no end. What is cut off or no box is left for the library to refuse. */
bool heic_items_end(const uint8_t *p, size_t n);

#endif
