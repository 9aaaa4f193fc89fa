/* Inside of core/photo: every number that was chosen and not derived, with how. */
#ifndef CORE_PHOTO_TUNING_H
#define CORE_PHOTO_TUNING_H

#ifdef PHOTO_TUNE
extern double photo_tune[64];
#define T(i, v) (photo_tune[i] != 0 ? photo_tune[i] : (v))
#else
#define T(i, v) (v)
#endif
#define PHOTO_GAIN_SD 30.0
#define PHOTO_MATRIX_SD T(0, 0.08)
#define PHOTO_ROOT_SD T(1, 0.15)
#define PHOTO_TONE_SD T(2, 0.1)
#define PHOTO_CURVE_SD T(13, 0.2)
#define PHOTO_CURVE_MEAN T(14, 0.1)
#define PHOTO_RADIUS_MEAN T(15, 0.1)
#define PHOTO_PLANE_SD T(3, 0.12)
#define PHOTO_RADIUS_SD T(4, 0.1)
#define PHOTO_CHROMA_SD T(5, 0.3)
#define PHOTO_SLOPE_SD T(6, 0.1)
#define PHOTO_SLOPE_COLOR_SD T(7, 0.06)
#define PHOTO_ROBUST_NU T(8, 8.0)
#define PHOTO_NEUTRAL_SD T(9, 1.0)
#define PHOTO_STATED_SD 0.5
#define PHOTO_UNSAID_SD 1.5
#define PHOTO_LOST_SD 8.0
#define PHOTO_CLAIM_NEUTRAL T(11, 0.3)
#define PHOTO_CLAIM_CHROMA T(12, 0.025)
#define PHOTO_CLAIM_SCALE T(16, 0.45)
#define PHOTO_PAIR_RANGE T(17, 10.0)
#define PHOTO_PAIR_SD T(18, 0.35)
#define PHOTO_MEDIAN_FACTOR T(19, 1.0)
#define PHOTO_LIMIT_FACTOR T(20, 1.0)
#define PHOTO_SCALE_PRIOR T(21, 6.0)
#define PHOTO_ODD_SLOPE T(30, 1.2)
#define PHOTO_OUTLIER_FRAC T(31, 0.06)
#define PHOTO_OUTLIER_RANGE 0.25
#define PHOTO_ABOVE_WHITE T(37, 1.1)
#define PHOTO_COLORED T(38, 0.17)
#define PHOTO_WHITER T(39, 0.6)
#define PHOTO_SPOT T(40, 0.22)
#define PHOTO_WRONG_LEAST T(32, 6.0)
#define PHOTO_WRONG_RATIO T(33, 4.2)
#define PHOTO_DARK_WHITE T(34, 0.15)
#define PHOTO_MIXED_WALD T(35, 25.0)
#define PHOTO_MIXED_LEAST T(36, 0.08)

#endif
