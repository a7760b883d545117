/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * silicone - silicone oil (polydimethylsiloxane) against temperature.
 *
 * One law serves every grade from about 50 to 100 000 mm2/s at 25 C:
 *
 *     v(t) = v25 exp(5.892 (25 - t)/(273.15 + t))
 *
 * Reference: a silicone-fluid maker's law as used by Yano et al., J. Phys.
 * Conf. Ser. 327 (2011) 012029, and Romano et al., Phys. Fluids (2017) (read in
 * print). The spread between oils is about +-3 % over 0 to 50 C (from memory);
 * oils under 50 mm2/s and phenyl types have other slopes (from memory). Of two
 * measured batches of one 50 mm2/s oil (rheometer fits of the University of
 * Southampton, 2016 and 2021, read) one keeps to that, and the other departs
 * from the law by 3.3 % at 10 C and 8.8 % at 40 C: measure what matters.
 */
#ifndef MIDWEIGHT_FLUID_SILICONE_H
#define MIDWEIGHT_FLUID_SILICONE_H

#include "base/status.h"

#define MW_SILICONE_RATED 25.0  /* degC, common practice, no source */
#define MW_SILICONE_T_MIN -20.0 /* degC; outside the law is refused */
#define MW_SILICONE_T_MAX 100.0 /* degC */

/**
 * The law as a factor: v at t against v at 25 C.
 *
 * Given:     t       degC, -20 to 100
 * Returned:  factor  above zero, 1 at 25 C
 * Failures:  MW_ERR_LAW_RANGE
 */
enum mw_status mw_silicone_factor(double t, double *factor);

/**
 * From a viscosity at one temperature to that at another.
 *
 * Given:     v_from  mm2/s, 0.21 to 2e7
 *            t_from, t_to  degC, -20 to 100
 * Returned:  v_to    mm2/s
 * Failures:  MW_ERR_VISCOSITY  v_from or v_to is out of range
 *            MW_ERR_LAW_RANGE
 */
enum mw_status mw_silicone_at(double v_from, double t_from, double t_to,
                              double *v_to);

/**
 * How fast the viscosity changes with temperature: d ln v / dt.
 *
 * Given:     t       degC, -20 to 100
 * Returned:  slope   per degree, negative; times 100 it is per cent per degree
 * Failures:  MW_ERR_LAW_RANGE
 * Notes:     the derivative of the law, -5.892 x 298.15/T^2
 */
enum mw_status mw_silicone_slope(double t, double *slope);

/**
 * Usual density of a grade.
 *
 * Given:     v25     mm2/s at 25 C, 0.21 to 2e7
 *            t       degC, -20 to 100
 * Returned:  density g/ml
 *            warnings  MW_WARN_DENSITY is added outside the table (10 to
 *                    100 000 mm2/s), where its end value is held; may be NULL
 * Failures:  MW_ERR_VISCOSITY, MW_ERR_LAW_RANGE
 * Notes:     a table at 25 C, straight in ln v between its rows, then
 *            rho25/(1 + 9.5e-4 (t - 25)). Sources stand beside the rows.
 */
enum mw_status mw_silicone_density(double v25, double t, double *density,
                                   unsigned *warnings);

/**
 * Density at t of a silicone oil whose density at 25 C is known.
 *
 * Given:     density25  g/ml at 25 C, 0.1 to 10
 *            t       degC, -20 to 100
 * Returned:  density g/ml
 * Failures:  MW_ERR_DENSITY, MW_ERR_LAW_RANGE
 * Reference: expansion 9.5e-4 per degree (from memory; the tabulated 20 C
 *            10 mm2/s liquid of the CoolProp library gives 9.2 to 9.4e-4)
 */
enum mw_status mw_silicone_expand(double density25, double t, double *density);

#endif
