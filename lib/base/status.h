/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * status - what a function says of its result: failures and warnings.
 *
 * A status is a failure (or MW_OK). A warning travels with a good result and
 * says that it was reached outside the range in which the law is tested.
 */
#ifndef MIDWEIGHT_BASE_STATUS_H
#define MIDWEIGHT_BASE_STATUS_H

#ifdef __cplusplus
extern "C" {
#endif

#if defined(__GNUC__)
#define MW_API __attribute__((visibility("default")))
#else
#define MW_API
#endif

/* name, text: the one list from which the enum, the names and texts grow */
#define MW_STATUS_LIST(X)                                                      \
    X(MW_OK, "done")                                                           \
    X(MW_ERR_VISCOSITY, "a viscosity outside 0.21 to 20 000 000 mm2/s")        \
    X(MW_ERR_TEMPERATURE,                                                      \
      "a temperature at or below absolute zero, or above 340 C")               \
    X(MW_ERR_LAW_RANGE,                                                        \
      "a temperature outside -20 to 100 C, the range of the silicone law")     \
    X(MW_ERR_DENSITY, "a density outside 0.1 to 10 g/ml")                      \
    X(MW_ERR_POINTS, "too few or too many points, or all at one temperature")  \
    X(MW_ERR_NOT_DECREASING,                                                   \
      "a viscosity that does not fall as it gets warmer")                      \
    X(MW_ERR_ONE_POINT,                                                        \
      "an oil known at one temperature only, asked at another")                \
    X(MW_ERR_INDEX, "no viscosity index, or no oil with that index")           \
    X(MW_ERR_SHARES, "shares outside 0 to 1, or that do not add up to 1")      \
    X(MW_ERR_AMOUNT, "an amount that is negative, or nothing at all")          \
    X(MW_ERR_FAMILY, "oils of different families")                             \
    X(MW_ERR_NO_FAMILY, "points that do not tell silicone from mineral oil")   \
    X(MW_ERR_RATIO, "oils more than 1000 to 1 apart")                          \
    X(MW_ERR_TARGET, "a target that is not between the oils")                  \
    X(MW_ERR_EQUAL_VISCOSITY,                                                  \
      "oils of the same viscosity: every mix is the same")                     \
    X(MW_ERR_NO_LINE, "Wright's rule needs each oil at two temperatures")      \
    X(MW_ERR_EXCESS, "an excess so large that the mix no longer thickens "     \
                     "steadily with the share")                                \
    X(MW_ERR_LENGTH, "a length outside 0.01 mm to 10 m, or parts that do "     \
                     "not fit together")                                       \
    X(MW_ERR_QUANTITY,                                                         \
      "a time, spring, mass, speed or flow that is not above zero")            \
    X(MW_ERR_NO_LAW, "no law that tells how another oil of the family takes "  \
                     "temperature")                                            \
    X(MW_ERR_PRESSURE, "an absolute pressure that is not above zero")          \
    X(MW_ERR_TOOL, "a tool too coarse for the batch, or too fine")             \
    X(MW_ERR_GRADE, "no grade of the standard")                                \
    X(MW_ERR_UNIT, "outside the range of the unit")                            \
    X(MW_ERR_NAME, "an unknown name")                                          \
    X(MW_ERR_ROOT, "no root between the given ends")                           \
    X(MW_ERR_UNCERTAINTY, "an uncertainty that is negative, no number, or "    \
                          "too large for its input")                           \
    X(MW_ERR_BUDGET, "an uncertainty budget that is full, or says nothing")    \
    X(MW_ERR_INSUFFICIENT_STOCK, "too little is left")                         \
    X(MW_ERR_READINGS, "too few or too many readings, or one that is none")    \
    X(MW_ERR_CUP_TIME, "a time outside the window of the cup's standard")      \
    X(MW_ERR_CALIBRATION, "cup constants that no cup has, or known oils "      \
                          "that do not give them")                             \
    X(MW_ERR_TUBE, "a ball wider than 0.8 of the tube")                        \
    X(MW_ERR_BALL, "a ball not denser than the oil, or over 23 g/ml")          \
    X(MW_ERR_CHOICE, "no ball that falls at a pace to be timed")               \
    X(MW_ERR_GRAVITY, "gravity outside 9.76 to 9.84 m/s2")                     \
    X(MW_ERR_REYNOLDS, "a ball so fast that its Reynolds number is over 800")  \
    X(MW_ERR_UNKNOWNS,                                                         \
      "a mix with more than one amount to solve for, or none")                 \
    X(MW_ERR_DROP, "a drop whose volume is not known")                         \
    X(MW_ERR_MEMORY, "out of memory")

enum mw_status {
#define MW_STATUS_ENUM(name, text) name,
    MW_STATUS_LIST(MW_STATUS_ENUM)
#undef MW_STATUS_ENUM
};

/* name, value (one bit each), stable code, text */
#define MW_WARN_LIST(X)                                                        \
    X(MW_WARN_EXTRAPOLATED, 1u, "extrapolated",                                \
      "beyond the oil's own points: extrapolated")                             \
    X(MW_WARN_THIN_SILICONE, 2u, "thin_silicone",                              \
      "silicone below 50 mm2/s: thin types have other slopes")                 \
    X(MW_WARN_TEMPERATURE, 4u, "temperature_untested",                         \
      "outside 0 to 60 C, where the silicone law is little tested")            \
    X(MW_WARN_DENSITY, 8u, "density_assumed",                                  \
      "density assumed, not known for this oil")                               \
    X(MW_WARN_WIDE, 16u, "wide_pair",                                          \
      "oils more than 3 to 1 apart: make a trial mix and measure it")          \
    X(MW_WARN_WRIGHT_SILICONE, 32u, "wright_on_silicone",                      \
      "Wright's rule extrapolates far on silicone and reads high")             \
    X(MW_WARN_KINETIC, 1024u, "kinetic_force",                                 \
      "over a tenth of the force is not viscous, but grows with the square "   \
      "of the speed")                                                          \
    X(MW_WARN_TURBULENT, 2048u, "turbulent_flow",                              \
      "a Reynolds number over 2000: the flow may not be laminar")              \
    X(MW_WARN_ENDS, 4096u, "hole_ends_left_out",                               \
      "length of the holes not known: their ends are left out")                \
    X(MW_WARN_FAST_BUBBLE, 8192u, "fast_bubble",                               \
      "bubbles so fast that they rise slower than calculated")                 \
    X(MW_WARN_LOW_PRESSURE, 64u, "low_pressure",                               \
      "under 5 kPa, where the weight of the oil holds the bubbles small")      \
    X(MW_WARN_FEW_STEPS, 16384u, "few_graduations",                            \
      "a dose of under ten graduations: hard to measure, make a larger batch " \
      "or use a finer tool")                                                   \
    X(MW_WARN_COARSE, 32768u, "coarse_recipe",                                 \
      "the tool is too coarse for this batch: make more, or use a finer one")  \
    X(MW_WARN_NO_JET, 65536u, "no_jet_term",                                   \
      "the known oils show no loss to the jet: calibrated as v = a t")         \
    X(MW_WARN_REYNOLDS, 131072u, "reynolds_untested",                          \
      "Reynolds number over 2.5, where the law of the ball was not checked")   \
    X(MW_WARN_MARKS, 262144u, "marks_near_ends",                               \
      "marks within one tube radius of the surface or the bottom")             \
    X(MW_WARN_SHORT_TIME, 524288u, "short_time",                               \
      "under 10 s: the stopwatch is uncertain by 2 % of it or more")           \
    X(MW_WARN_APART, 1048576u, "times_apart",                                  \
      "times far apart: compare with a known oil nearer to this one")          \
    X(MW_WARN_SHEAR, 2097152u, "shear_thinning",                               \
      "the oil thins at this shear rate (by an estimate good to a factor of "  \
      "3): what is calculated is an upper bound")

enum mw_warning {
#define MW_WARN_ENUM(name, bit, code, text) name = bit,
    MW_WARN_LIST(MW_WARN_ENUM)
#undef MW_WARN_ENUM
};

/**
 * Explain a status in words.
 *
 * Given:     status  any status
 * Returned:  a lower-case phrase without a full stop; never NULL
 */
MW_API const char *mw_status_text(enum mw_status status);

/**
 * The name of a status as it is written in C, such as "MW_ERR_TARGET".
 *
 * Given:     status  any status
 * Returned:  its name; "MW_ERR_?" for a number that is no status
 */
MW_API const char *mw_status_name(enum mw_status status);

/**
 * Explain a warning in words.
 *
 * Given:     warning    one bit of a set of warnings
 * Returned:  a lower-case phrase without a full stop; never NULL
 */
MW_API const char *mw_warning_text(enum mw_warning warning);

/**
 * The code of a warning, which stays the same from version to version.
 *
 * Given:     warning    one bit of a set of warnings
 * Returned:  such as "density_assumed"; "?" for an invalid value
 */
MW_API const char *mw_warning_name(enum mw_warning warning);

#ifdef __cplusplus
}
#endif

#endif
