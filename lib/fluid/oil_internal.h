/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * oil_internal - not installed: for the library and its tests alone.
 */
#ifndef MIDWEIGHT_FLUID_OIL_INTERNAL_H
#define MIDWEIGHT_FLUID_OIL_INTERNAL_H

#include "fluid/oil.h"

/* kJ/(mol K): the molar gas constant, exact since 2019 (SI brochure) */
#define MW_GAS_CONSTANT 8.31446261815324e-3

/**
 * How an activation energy moves a viscosity: exp(E/R (1/T2 - 1/T1)).
 *
 * Given:     energy  kJ/mol
 *            t_from, t_to  degC
 * Returned:  the factor
 */
double mw_energy_factor(double energy, double t_from, double t_to);

/**
 * The same oil with each of its points moved, and its activation energy.
 *
 * Given:     oil     made
 *            ln_points  as many as it has: by how much ln v moves there
 *            energy  kJ/mol, added to that of the oil
 * Returned:  moved   on MW_OK; its numbers are NaN otherwise
 * Failures:  those of mw_oil_make()
 */
enum mw_status mw_oil_moved(const struct mw_oil *oil, const double *ln_points,
                            double energy, struct mw_oil *moved);

/**
 * How v at 100 C follows v at 40 C and the viscosity index.
 *
 * Given:     v40, v100  mm2/s, that have an index
 * Returned:  along   d ln v100/d ln v40 at one index
 *            across  d ln v100/d index
 * Notes:     by differences towards thicker oils, as the index ends at 2 mm2/s
 *            at 100 C
 */
void mw_index_slopes(double v40, double v100, double *along, double *across);

/**
 * The same oil, thicker or thinner by one factor at each of its points.
 *
 * Given:     oil     made
 *            factor  above zero
 * Returned:  scaled  on MW_OK; its numbers are NaN otherwise
 * Failures:  those of mw_oil_make()
 * Notes:     under the silicone law that is one factor at every temperature. A
 *            line of its own is drawn anew: 32 at 40 and 5.4 at 100 C made 10 %
 *            thicker there is so at 60 C too, but 2.2 % thicker at -20 C.
 */
enum mw_status mw_oil_scaled(const struct mw_oil *oil, double factor,
                             struct mw_oil *scaled);

#endif
