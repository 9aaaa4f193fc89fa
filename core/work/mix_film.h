/* A mix of the palette's paints as a film: how much of the ground it hides, and what tells so.
 *
 * K and S of the mix are the sums of its paints' by volume (core/color/pigment.h). How much of both
 * lies in a micrometer is another question, which opaque samples do not answer. A jar that was
 * tried over black and white tells it of itself (hiding_learn); of the others nothing is known but
 * that they may be weak. The mix takes after its jars, each by its share of the mix's K + S. One
 * jar is a mix of itself.
 *
 * Source: KM1931; ISO6504. See docs/decisions/0019-hiding-of-a-jar.md. */
#ifndef CORE_WORK_MIX_FILM_H
#define CORE_WORK_MIX_FILM_H

#include "core/color/hiding.h"
#include "core/work/palette.h"

/* A paint's color does not tell how much of it is scattering pigment: many bright yellows, oranges
 * and reds hide half as well as the model takes from their lightness. Common practice. */
#define MIX_FILM_WEAK 0.5
#define MIX_FILM_USUAL_UM 38 /* dry film of a brushed coat, where the class does not say */

enum { MIX_FILM_JARS = 8 }; /* that are told apart; more are only counted */

struct mix_film_jar {
    const struct paint *paint;
    double share; /* of the mix's K + S, 0..1 */
    double scale; /* of its K and S in a film against what is expected of its color */
    int64_t hides_in;
};

struct mix_film {
    struct pigment paint;
    double white_scatter_per_um, coat_um; /* as expected of colors and samples; of the main paint */
    double scale, low; /* times that: likeliest, and where its jars hide as badly as may be */
    size_t jars, tried;
    struct mix_film_jar jar[MIX_FILM_JARS];
    int64_t seen_in; /* coats that the worst of its jars took; INT64_MIN: not all were tried */
};

/* volume [n] over the palette, >= 0, their sum > 0. Cost: a few microseconds a jar. */
void mix_film_make(const struct palette *p, const double *volume, struct mix_film *out);

/* The film to look at: likeliest, or with all its jars as bad as may be. Borrows *m. */
struct hiding_film mix_film_of(const struct mix_film *m, bool weak);

/* Coats until the ground is hidden, as hiding_coats; never more than the worst of its jars took
 * over black and white, where all were tried. For over any other ground a film lies between those
 * two, and a mix attenuates no less than its jars do by volume: sqrt(K (K + 2 S)) of a sum is at
 * least the sum of theirs (it is the length of (K + S, S), S counted negative). */
int mix_film_coats(const struct mix_film *m, bool weak, const struct spectrum *ground, int most,
                   const struct weights *w);

/* Was any paint of that class tried? Cost: O(paints). */
bool mix_film_known(const struct tables *t, const struct shelf *shelf, const char *class);

#endif
