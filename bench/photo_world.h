/* What simulated pictures are made of: cameras, lights, reflectances with their true colors.
 *
 * Cameras: measured sensitivities (../shared/data/photo). Lights: CIE. Reflectances: mixes of two
 * measured families of acrylic paints, white paper, flat grays, and chart patches (the smoothest
 * reflectance of a color). True colors are Lab D50 computed from the spectra under D50. */
#ifndef BENCH_PHOTO_WORLD_H
#define BENCH_PHOTO_WORLD_H

#include "core/base/random.h"
#include "core/color/color.h"
#include "core/color/spectrum.h"

#include <stdbool.h>
#include <stddef.h>

enum {
    WORLD_CAMERAS_MAX = 40,
    WORLD_LIGHTS = 6,
    WORLD_SHELVES = 2,
    WORLD_POOL = 1500, /* mixes of one shelf */
    WORLD_CHART = 24
};

struct surface {
    struct spectrum reflectance;
    struct lab lab; /* D50, 2 degrees */
    int shelf;      /* of paints, or -1 */
    int paint[3];   /* a mix of these, -1: none */
};

struct photo_world;

/* NULL when the data are not there. */
struct photo_world *photo_world_make(void);
void photo_world_free(struct photo_world *w);

size_t photo_world_cameras(const struct photo_world *w);
const char *photo_world_camera(const struct photo_world *w, size_t camera);
const char *photo_world_light(size_t light);
const struct surface *photo_world_pool(const struct photo_world *w, int shelf); /* [WORLD_POOL] */
const struct surface *photo_world_chart(const struct photo_world *w);           /* [WORLD_CHART] */

struct surface photo_world_flat(const struct photo_world *w, double reflectance);
struct surface photo_world_paper(const struct photo_world *w);
/* A mix of shelf paints: n of 2..3 colored ones and white, in random amounts. */
struct surface photo_world_mix(const struct photo_world *w, int shelf, struct random *r);
/* A measured mix of two watercolors. */
struct surface photo_world_watercolor(const struct photo_world *w, struct random *r);
/* The same paints in other amounts, not more than `near` away (CIEDE2000) and at least 1. */
struct surface photo_world_neighbor(const struct photo_world *w, const struct surface *s,
                                    double near, struct random *r);

/* Linear output of the camera for a surface under a light: its sensor, white balance off by the
 * factors, then the maker's matrix to the space, as a camera computes it. With factors 1 the
 * perfect white gives 1, 1, 1. lamp   0: computed as for daylight, 1: as for a lamp */
void photo_world_see(const struct photo_world *w, size_t camera, size_t light, double lamp,
                     const struct spectrum *s, enum rgb_space space, const double balance[3],
                     double out[3]);
/* The share that a careful camera would choose for a light, by its color temperature. */
double photo_world_lamp(size_t light);
/* How the sensor sees one light's white when it is balanced for another: r, g, b, g = 1. */
void photo_world_tint(const struct photo_world *w, size_t camera, size_t light, size_t balanced_for,
                      double out[3]);

#endif
