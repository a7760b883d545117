/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * damper_internal - not installed: for the library and its tests alone.
 */
#ifndef MIDWEIGHT_DAMPER_DAMPER_INTERNAL_H
#define MIDWEIGHT_DAMPER_DAMPER_INTERNAL_H

#include "damper/damper.h"

/**
 * The area of a piston that moves oil: bore less shaft.
 *
 * Given:     damper  shaft thinner than the bore; the piston plays no part
 * Returned:  area    m2
 * Failures:  MW_ERR_LENGTH
 */
enum mw_status mw_damper_area(const struct mw_damper *damper, double *area);

/**
 * The effective length of the holes of a piston, Le.
 *
 * Given:     piston  1 hole or more, sizes of 0.01 mm to 10 m
 * Returned:  length  m
 * Failures:  MW_ERR_LENGTH  also without a hole
 */
enum mw_status mw_piston_length(const struct mw_piston *piston, double *length);

/**
 * The pressure that drives a flow through a round pipe.
 *
 * Given:     dynamic mPa.s, above zero
 *            diameter, length  m, of the pipe, 0.01 mm to 10 m
 *            flow    m3/s, above zero
 * Returned:  drop    Pa
 * Failures:  MW_ERR_VISCOSITY, MW_ERR_LENGTH
 *            MW_ERR_QUANTITY  the flow
 * Notes:     laminar flow; the ends of the pipe are left out
 * Reference: Hagen-Poiseuille, 128 mu L Q/(pi d^4)
 */
enum mw_status mw_pressure_drop(double dynamic, double diameter, double length,
                                double flow, double *drop);

#endif
