/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * units_internal - not installed: for the library and its tests alone.
 */
#ifndef MIDWEIGHT_FLUID_UNITS_INTERNAL_H
#define MIDWEIGHT_FLUID_UNITS_INTERNAL_H

#include "fluid/units.h"

/**
 * Saybolt universal seconds of a kinematic viscosity.
 *
 * Given:     v       mm2/s, 1.81 to 2e7
 *            t       degC at which v holds, -17.8 to 176.7 (0 to 350 F)
 * Returned:  sus     s
 * Failures:  MW_ERR_UNIT  v or t is out of range
 * Reference: ASTM D2161. The equation and its ranges are from memory; the
 *            factors 4.632 at 100 F and 4.664 at 210 F were read in print; the
 *            equation gives the first, and 4.6635 for the second.
 */
enum mw_status mw_sus(double v, double t, double *sus);

#endif
