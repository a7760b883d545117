/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * bubble - how long until the air is out of an oil.
 *
 * A small bubble rises at g d^2/(18 v) when its skin is rigid, as dirt makes it
 * (Stokes): the slow, safe bound. With a clean skin that slips it rises at
 * g d^2/(12 v), half as fast again. The density of air is left out.
 *
 * Reference: Stokes' law; Hadamard and Rybczynski (1911) for the clean bubble
 * (read in print).
 */
#ifndef MIDWEIGHT_DAMPER_BUBBLE_H
#define MIDWEIGHT_DAMPER_BUBBLE_H

#include "base/status.h"
#include "fluid/units.h"

#ifdef __cplusplus
extern "C" {
#endif

#define MW_STANDARD_ATMOSPHERE_KPA                                             \
    101.325 /* kPa, standard atmosphere by definition */

/* up to here Oseen's term 3/16 Re changes Stokes' law by less than 10 % (from
 * memory); our own limit */
#define MW_BUBBLE_REYNOLDS_MAX 0.5

/* kPa: below, the oil above a bubble weighs on it by a tenth of the pressure
 * or more in 50 mm; our own limit */
#define MW_PRESSURE_LOW 5.0

/* m: a bubble that stirring leaves and that is just seen, the usual one;
 * our assumption. It gives minutes of standing and tens of seconds under a
 * small pump, as is common practice (no source). */
#define MW_USUAL_BUBBLE 0.3e-3

/** How a bubble gets out of an oil. */
struct mw_settle {
    double seconds;       /* s, rigid skin, under the pressure given: the bound
                             to wait for */
    double clean_seconds; /* s, clean skin, likewise */
    double still_seconds; /* s, rigid skin, under the standard atmosphere */
    double growth;        /* of the diameter by the pressure given */
    double reynolds;      /* of the grown bubble with a clean skin */
    unsigned warnings;    /* MW_WARN_FAST_BUBBLE, MW_WARN_LOW_PRESSURE */
};

/**
 * The absolute pressure that a gauge means.
 *
 * Given:     gauge   kPa against the air outside, negative for a vacuum
 * Returned:  pressure  kPa, absolute, above zero
 * Failures:  MW_ERR_PRESSURE  no air is left, or gauge is not a number
 * Notes:     the air outside is taken as the standard atmosphere; weather
 *            changes it by about 3 kPa, and it loses about 11.5 kPa in the
 *            first 1000 m of height (from memory)
 */
MW_API enum mw_status mw_pressure_of_gauge(double gauge, double *pressure);

/**
 * How long a bubble takes to the surface, from the bottom.
 *
 * Given:     v       mm2/s, at the temperature of the oil
 *            diameter  m, under the standard atmosphere, 0.01 mm to 10 m
 *            depth   m of oil, 0.01 mm to 10 m
 *            pressure  kPa, absolute; MW_STANDARD_ATMOSPHERE_KPA for
 *                    standing still
 * Returned:  settle  all of it; NaN and no warnings on failure
 * Failures:  MW_ERR_VISCOSITY, MW_ERR_LENGTH, MW_ERR_PRESSURE
 */
MW_API enum mw_status mw_settle(double v, double diameter, double depth,
                                double pressure, struct mw_settle *settle);

/**
 * How deep a batch stands in a cup that is as wide as the oil is deep.
 *
 * Given:     batch   ml, above zero
 * Returned:  depth   m
 * Failures:  MW_ERR_AMOUNT
 * Notes:     the shape of the cup is our assumption; a narrow bottle stands
 *            deeper and takes longer in proportion
 */
MW_API enum mw_status mw_batch_depth(double batch, double *depth);

#ifdef __cplusplus
}
#endif

#endif
