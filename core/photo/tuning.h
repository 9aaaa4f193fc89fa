/* Inside of core/photo: every number that was chosen and not derived, with how. */
#ifndef CORE_PHOTO_TUNING_H
#define CORE_PHOTO_TUNING_H

#ifdef PHOTO_TUNE
extern double photo_tune[64];
#define T(i, v) (photo_tune[i] != 0 ? photo_tune[i] : (v))
#else
#define T(i, v) (v)
#endif
#define PHOTO_GAIN_SD 1.5
#define PHOTO_MATRIX_SD T(0, 0.1)
#define PHOTO_ROOT_SD T(1, 0.3)
#define PHOTO_TONE_SD T(2, 0.4)
#define PHOTO_PLANE_SD T(3, 0.12)
#define PHOTO_RADIUS_SD T(4, 0.15)
#define PHOTO_CHROMA_SD T(5, 0.3)
#define PHOTO_SLOPE_SD T(6, 0.1)
#define PHOTO_SLOPE_COLOR_SD T(7, 0.06)
#define PHOTO_ROBUST_NU T(8, 8.0)
#define PHOTO_NEUTRAL_SD T(9, 1.0)
#define PHOTO_CHROMA_TERM T(10, 0.0001)
#define PHOTO_CLAIM_NEUTRAL T(11, 1.2)
#define PHOTO_CLAIM_CHROMA T(12, 0.02)

#endif
