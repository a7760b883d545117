/* SPDX-License-Identifier: GPL-3.0-or-later */
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

enum mw_bubble_skin { MW_BUBBLE_RIGID, MW_BUBBLE_CLEAN };

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
 * The speed at which a bubble rises.
 *
 * Given:     v       mm2/s of the oil, 0.21 to 2e7
 *            diameter  m, 0.01 mm to 10 m
 *            skin    MW_BUBBLE_RIGID or MW_BUBBLE_CLEAN
 * Returned:  speed   m/s
 * Failures:  MW_ERR_VISCOSITY, MW_ERR_LENGTH
 *            MW_ERR_UNIT  no such skin
 * Notes:     for a small Reynolds number, see mw_bubble_reynolds(); a faster
 *            bubble is slower than calculated
 */
MW_API enum mw_status mw_bubble_speed(double v, double diameter,
                                      enum mw_bubble_skin skin, double *speed);

/**
 * The Reynolds number of a rising bubble, speed x diameter/v.
 *
 * Given:     v, diameter, skin  as for mw_bubble_speed()
 * Returned:  reynolds  above MW_BUBBLE_REYNOLDS_MAX the speed is overrated
 * Failures:  those of mw_bubble_speed()
 */
MW_API enum mw_status mw_bubble_reynolds(double v, double diameter,
                                         enum mw_bubble_skin skin,
                                         double *reynolds);

/**
 * How a bubble grows when the pressure on it falls, (p0/p)^(1/3).
 *
 * Given:     pressure  kPa, absolute (0 is a perfect vacuum), above zero
 * Returned:  growth  of the diameter, 1 at the standard atmosphere; its square
 *                    is that of the speed, its cube that of the volume
 * Failures:  MW_ERR_PRESSURE
 * Notes:     the oil above weighs on the bubble too, 0.5 kPa for 50 mm
 *            (0.97 g/ml): add it for a pressure below some 5 kPa
 * Reference: Boyle's law
 */
MW_API enum mw_status mw_bubble_growth(double pressure, double *growth);

/**
 * The absolute pressure that a gauge means.
 *
 * Given:     gauge   kPa against the air outside, negative for a vacuum
 * Returned:  pressure  kPa, absolute, above zero
 * Failures:  MW_ERR_PRESSURE  no air is left, or gauge is no number
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
