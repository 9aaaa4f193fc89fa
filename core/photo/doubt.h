/* Inside of core/photo: how far a color that was read may be from the truth. */
#ifndef CORE_PHOTO_DOUBT_H
#define CORE_PHOTO_DOUBT_H

#include "core/photo/fit.h"

/* Covariances in CIEDE2000's metric at the color, [3][3]. */
struct doubt {
    double all[3][3];
    double shared[3][3]; /* the part that another shot of the same things would have again */
};

/* Of one view's color, or of the second's minus the first's; what was warned of makes it wide. */
struct doubt doubt_of(const struct fit *f, const struct patch_view *v, unsigned warnings);
struct doubt doubt_of_difference(const struct fit *f, const struct patch_view *first,
                                 const struct patch_view *second, unsigned warnings);

/* Median and 90 % limit of the difference that goes with a covariance, and one number per axis. */
void doubt_length(double c[3][3], double *out_median, double *out_limit90);
double doubt_axis(double c[3][3]);

/* Reference i as the others see it: whitened residual without it and what is expected of its square
 * length (both over its three axes, CIEDE2000). */
void doubt_leave_out(const struct fit *f, size_t i, double *out_off, double *out_expected_sd);

/* How much larger the references' residuals are than they should be, 1 where there are none to
 * learn from: pictures of a difficult camera or light say so themselves. */
double doubt_scale(const struct fit *f);

#endif
