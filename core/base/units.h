/* Factors between what people write and what the core computes with: lengths mm, areas m2, volumes
 * ml, masses g, durations min, temperatures degC, money cents. All exact by definition, but
 * those that say common practice.
 * Source: NIST SP 811 (2008), appendix B; US customary liquid measures. */
#ifndef CORE_BASE_UNITS_H
#define CORE_BASE_UNITS_H

#define MM_PER_IN 25.4
#define M_PER_MILE 1609.344
#define UM_PER_MIL 25.4
#define M2_PER_FT2 0.09290304
#define ML_PER_US_GAL 3785.411784
#define ML_PER_US_QT (ML_PER_US_GAL / 4)
#define ML_PER_US_FL_OZ (ML_PER_US_GAL / 128)
#define ML_PER_US_TSP (ML_PER_US_GAL / 768)
#define ML_PER_DROP 0.05         /* twenty of a dropper to the milliliter (common practice) */
#define PAINT_USUAL_G_PER_ML 1.2 /* where nobody says which paint (common practice) */
#define G_PER_LB 453.59237
#define G_PER_OZ (G_PER_LB / 16)
#define N_PER_LBF 4.4482216152605
#define STANDARD_GRAVITY 9.80665 /* m/s2: newtons that a kilogram weighs */
#define M2_PER_L_PER_FT2_PER_GAL (M2_PER_FT2 / (ML_PER_US_GAL / 1000))

static inline double degc_of_degf(double f) {
    return (f - 32) / 1.8;
}
static inline double degf_of_degc(double c) {
    return c * 1.8 + 32;
}

#endif
