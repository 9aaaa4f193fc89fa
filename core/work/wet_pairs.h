/* The shelf's samples that were read wet and again dry, as pairs of one mix. */
#ifndef CORE_WORK_WET_PAIRS_H
#define CORE_WORK_WET_PAIRS_H

#include "core/base/arena.h"
#include "core/color/wet.h"
#include "core/work/job.h"

#include <stdbool.h>

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

/* How each class dries, by the shelf's own pairs. */
enum { WET_CLASSES_MAX = 64 };
struct wet_class {
    const char *class;
    size_t pairs;
    bool ready; /* pairs are enough (WET_PAIRS_LEAST): shift holds */
    struct wet_shift shift;
};
struct wet_classes {
    struct wet_class rows[WET_CLASSES_MAX];
    size_t n;
};

/* Of every class that a wet sample with a color is of. Errors: E_MEMORY. */
enum status wet_classes_learn(const struct shelf *shelf, struct arena *a, struct wet_classes *out);

/* What a wet sample is good for. */
enum wet_use {
    WET_MIXED, /* its paints are of several classes: nothing is known of how they dry */
    WET_FEW,   /* too few pairs of its class */
    WET_PAIR,  /* it has a dry reading of its own, from which is learnt */
    WET_DRIED  /* taken as what it should dry to */
};

/*  out_class  its class's row; NULL with WET_MIXED
 *  out_dry    with WET_DRIED: the color that it should dry to
 * How far that may be off, per axis, is wet_dried_sd of the row's shift. */
enum wet_use wet_use_of(const struct wet_classes *c, const struct shelf *shelf,
                        const struct sample *wet, const struct wet_class **out_class,
                        struct lab *out_dry);

/* Root mean square per axis of a difference in three that is expected to be s->expected. */
double wet_dried_sd(const struct wet_shift *s);

#endif
