/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * columns - the columns of a table of bottles as CSV.
 *
 * A row is a bottle unless its kind says otherwise: a "reading" of a bottle, a
 * "mix" that a bottle is, a "part" of a mix, a bottle that is "gone" but stands
 * in a recipe, a "cup" of one's own, a "run" of a known oil through one, oil
 * that was taken for "use", or a "refill" of a bottle that was its parent
 * before. A table by hand needs name and viscosity only.
 */
#ifndef EXCHANGE_COLUMNS_H
#define EXCHANGE_COLUMNS_H

#define STOCK_COLUMNS(X)                                                       \
    X(KIND, "kind")                                                            \
    X(NAME, "name")                                                            \
    X(VISCOSITY, "viscosity")     /* 350, 350@25C, 32@40C/5.4@100C */          \
    X(TEMPERATURE, "temperature") /* C, where viscosity names none */          \
    X(FAMILY, "family")                                                        \
    X(TOLERANCE, "tolerance_percent")                                          \
    X(DENSITY, "density") /* g/ml */                                           \
    X(LEFT, "left_ml")                                                         \
    X(DROP, "drop_ml")                                                         \
    X(NOTE, "note")                                                            \
    X(DATE, "date")                                                            \
    X(UNCERTAINTY, "uncertainty_percent") /* of reading or cup, standard */    \
    X(METHOD, "method")                                                        \
    X(PARENT, "parent") /* of a part */                                        \
    X(VOLUME, "volume_ml")                                                     \
    X(CUP_A, "cup_a")           /* mm2/s2 */                                   \
    X(CUP_B, "cup_b")           /* mm2 */                                      \
    X(INSTRUMENT, "instrument") /* of a reading, and what others share */      \
    X(RANDOM, "random_percent") /* of the uncertainty */                       \
    X(SYSTEMATIC, "systematic_percent")                                        \
    X(THERMOMETER, "thermometer_k") /* limits */                               \
    X(REFERENCE, "reference")       /* the bottle it was compared with */      \
    X(REFERENCE_VISCOSITY, "reference_viscosity")                              \
    X(DOSE, "dose_ml") /* of a mix: standard uncertainty of a part */          \
    X(TIME, "time_s")  /* of a run */                                          \
    X(TIME_UNCERTAINTY, "time_uncertainty_s") /* standard */

enum stock_column {
#define STOCK_COLUMN_ENUM(name, title) COLUMN_##name,
    STOCK_COLUMNS(STOCK_COLUMN_ENUM)
#undef STOCK_COLUMN_ENUM
        STOCK_COLUMN_COUNT
};

#endif
