/* Inside of core/photo: every number that was chosen and not derived.
 *
 * Standard deviations of what varies between pictures were scanned on simulated pictures of three
 * of the six measured cameras (phone_a, slr_a, compact_a; all six lights) and looked at on the
 * other three; the sizes of the claimed doubts were set on all six, so that expected over real
 * error is 1.0 to 1.2 for every set of references. docs/PHOTO.md has the figures by camera. */
#ifndef CORE_PHOTO_TUNING_H
#define CORE_PHOTO_TUNING_H

/* ---- the fit: how far pictures stray from what they should be ---- */
#define PHOTO_GAIN_SD 30.0   /* ln; as good as free */
#define PHOTO_MATRIX_SD 0.08 /* cameras and lights differ by .04 to .11 */
#define PHOTO_ROOT_SD 0.15   /* .05 to .27; wider, few chips give wild colors */
#define PHOTO_TONE_SD 0.1    /* a gamma that is off */
#define PHOTO_CURVE_MEAN 0.1 /* makers steepen the middle: most pictures have a curve */
#define PHOTO_CURVE_SD 0.2
#define PHOTO_PLANE_SD 0.12    /* ln light over the longer side */
#define PHOTO_RADIUS_MEAN -0.1 /* lenses only darken their corners */
#define PHOTO_RADIUS_SD 0.1
#define PHOTO_CHROMA_SD                                                                            \
    0.3 /* ln red or blue against green over the longer side, in mixed light                       \
         */

/* Slope inside one patch: real things are not flat; a paper curls. */
#define PHOTO_SLOPE_SD 0.1
#define PHOTO_SLOPE_COLOR_SD 0.06

/* Per axis, CIEDE2000. */
#define PHOTO_NEUTRAL_SD 1.0 /* what the fit may miss a good reference by */
#define PHOTO_STATED_SD 0.5  /* doubt of a stated color when nothing is said of it */
#define PHOTO_UNSAID_SD 1.5  /* white paper by itself: makes differ in brightener and shade */
#define PHOTO_LOST_SD 8.0    /* a clipped or black reference */
#define PHOTO_ROBUST_NU 8.0  /* weight 1 / (1 + squared residual / nu) */

/* ---- what is claimed of the error ---- */
#define PHOTO_CLAIM_SCALE                                                                          \
    0.45                         /* of the fit's covariance: its priors are wider than cameras are \
                                  */
#define PHOTO_CLAIM_NEUTRAL 0.25 /* what the camera sees otherwise than the eye, per axis */
#define PHOTO_CLAIM_CHROMA 0.02  /* the same, per unit of chroma */
#define PHOTO_EDGE_SD 4.0        /* a channel is 0: the color may lie beyond the file's gamut */
#define PHOTO_EDGE_RANGE 0.01    /* of the brightest channel */
#define PHOTO_FAULT_SD 4.0      /* a clipped target or one in shadow; half of it in glare or dark */
#define PHOTO_PAIR_SD 0.25      /* of a difference, per axis, between neighbors */
#define PHOTO_PAIR_RANGE 10.0   /* CIEDE2000 apart: then two colors are wrong independently */
#define PHOTO_LIMIT_FACTOR 1.25 /* tails are heavier than normal */
#define PHOTO_SCALE_PRIOR 6.0   /* references' worth of trust in these numbers */

/* ---- what is warned of ---- */
#define PHOTO_ODD_SLOPE 1.2     /* ln light per longer side inside a patch, beyond the picture's */
#define PHOTO_OUTLIER_FRAC 0.06 /* share of inner blocks that stand out */
#define PHOTO_OUTLIER_PART 0.1  /* how far, of the value */
#define PHOTO_OUTLIER_RANGE 0.2 /* from darkest to brightest, of the brightest */
#define PHOTO_ABOVE_WHITE 1.1   /* times the perfect white: no surface */
#define PHOTO_COLORED 0.06      /* radians from gray from which reflection and shadow differ */
#define PHOTO_SPOT 0.22         /* share of a patch that a bright spot covers at most */
#define PHOTO_WRONG_LEAST 7.0   /* CIEDE2000 */
#define PHOTO_WRONG_RATIO 6.2   /* of what is expected */
#define PHOTO_DARK_WHITE 0.15   /* linear value of the perfect white: nearly three stops under */
#define PHOTO_MIXED_WALD 25.0   /* of four terms; 1 in 20,000 by chance */
#define PHOTO_MIXED_LEAST 0.08  /* ln over the longer side */

#endif
