/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * bubble_internal - not installed: for the library and its tests alone.
 */
#ifndef MIDWEIGHT_DAMPER_BUBBLE_INTERNAL_H
#define MIDWEIGHT_DAMPER_BUBBLE_INTERNAL_H

#include "damper/bubble.h"

enum mw_bubble_skin { MW_BUBBLE_RIGID, MW_BUBBLE_CLEAN };

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
enum mw_status mw_bubble_speed(double v, double diameter,
                               enum mw_bubble_skin skin, double *speed);

/**
 * The Reynolds number of a rising bubble, speed x diameter/v.
 *
 * Given:     v, diameter, skin  as for mw_bubble_speed()
 * Returned:  reynolds  above MW_BUBBLE_REYNOLDS_MAX the speed is overrated
 * Failures:  those of mw_bubble_speed()
 */
enum mw_status mw_bubble_reynolds(double v, double diameter,
                                  enum mw_bubble_skin skin, double *reynolds);

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
enum mw_status mw_bubble_growth(double pressure, double *growth);

#endif
