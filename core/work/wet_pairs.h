/* The shelf's samples that were read wet and again dry, as pairs of one mix. */
#ifndef CORE_WORK_WET_PAIRS_H
#define CORE_WORK_WET_PAIRS_H

#include "core/base/arena.h"
#include "core/color/wet.h"
#include "core/work/job.h"

/* Pairs of the mixes whose every paint is of one class of product; the same mix in other parts (2:2
 * for 1:1) is the same. The last dry reading of a mix goes with each wet one.
 *
 *   class   id of data/product_classes.tsv
 *   out     [*out_n] in the arena
 *
 * Errors: E_MEMORY. */
enum status wet_pairs_find(const struct shelf *shelf, const char *class, struct arena *a,
                           struct wet_pair **out, size_t *out_n);

/* Class of a sample's paints; NULL where they are of several or not on the shelf. */
const char *wet_class_of(const struct shelf *shelf, const struct sample *s);

/* Row of the dry sample of the same mix, or -1. */
int wet_partner(const struct shelf *shelf, const struct sample *wet);

#endif
