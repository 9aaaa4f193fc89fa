/* What a number measures. The core always computes in the canonical unit named here; codec alone
 * turns other units into it and back. The suffix ends the names of members, keys and columns. */
#ifndef CORE_BASE_DIMENSION_H
#define CORE_BASE_DIMENSION_H

/*  name                 suffix        canonical unit */
#define DIMENSION_LIST(X)                                                                          \
    X(DIM_NONE, "", "plain number")                                                                \
    X(DIM_LENGTH, "_mm", "millimeters")                                                            \
    X(DIM_FILM, "_um", "micrometers")                                                              \
    X(DIM_AREA, "_m2", "square meters")                                                            \
    X(DIM_VOLUME, "_ml", "milliliters")                                                            \
    X(DIM_MASS, "_g", "grams")                                                                     \
    X(DIM_DENSITY, "_g_per_ml", "grams per milliliter")                                            \
    X(DIM_SPREAD, "_m2_per_l", "square meters per liter")                                          \
    X(DIM_DURATION, "_min", "minutes")                                                             \
    X(DIM_TEMPERATURE, "_degc", "degrees Celsius")                                                 \
    X(DIM_FRACTION, "_frac", "fraction, 1 = 100 %")                                                \
    X(DIM_MONEY, "_cent", "cents")                                                                 \
    X(DIM_RATE, "_cent_per_h", "cents per hour")                                                   \
    X(DIM_FORCE, "_n", "newtons")                                                                  \
    X(DIM_POUR, "_ml", "milliliters, or grams of paint at 1.2 g/ml")

enum dimension {
#define X(name, suffix, unit) name,
    DIMENSION_LIST(X)
#undef X
        DIMENSION_COUNT
};

/* Static texts; "" and "plain number" for DIM_NONE. */
const char *dimension_suffix(enum dimension d);
const char *dimension_unit(enum dimension d);

#endif
