/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * slope - what a measurement at the bench assumes where nothing is said
 * better: the limits of its tools, and how the oil takes temperature.
 *
 * Every limit here is common practice, no source: a value is taken to lie
 * anywhere within it (mw_rectangular()).
 */
#ifndef MIDWEIGHT_BENCH_SLOPE_H
#define MIDWEIGHT_BENCH_SLOPE_H

#include "base/status.h"
#include "bench/ball.h"
#include "fluid/oil.h"

#ifdef __cplusplus
extern "C" {
#endif

#define MW_BENCH_DRIFT        0.5  /* K, between two runs soon after another */
#define MW_BENCH_BALL         2e-5 /* m: by calliper */
#define MW_BENCH_TUBE         5e-4 /* m: inside, by ruler or calliper */
#define MW_BENCH_TRAVEL       1e-3 /* m: two marks by a ruler */
#define MW_BENCH_BALL_DENSITY 0.01 /* a fraction of it */
#define MW_BENCH_OIL_DENSITY  0.01 /* g/ml */
#define MW_BENCH_GRAVITY      0.03 /* m/s2, about MW_GRAVITY: poles, equator */

/**
 * How fast the viscosity of an oil of a family changes with temperature where
 * nothing else is known of it: d ln v/dt.
 *
 * Given:     family  MW_SILICONE or MW_MINERAL
 *            t       degC
 * Returned:  slope   per degree, negative
 * Failures:  MW_ERR_LAW_RANGE    silicone, outside -20 to 100 C
 *            MW_ERR_TEMPERATURE, MW_ERR_VISCOSITY  mineral
 *            MW_ERR_FAMILY
 * Notes:     silicone by its law. A mineral oil is taken for one of 46 mm2/s at
 *            40 C with a viscosity index of 95 (common practice, no source):
 *            good for an uncertainty, not for a viscosity.
 */
MW_API enum mw_status mw_bench_slope(enum mw_family family, double t,
                                     double *slope);

/**
 * The usual density of the oil in which a ball fell, which depends on the
 * viscosity that is measured.
 *
 * Given:     run     all of it but the density of the oil
 *            family  of the oil
 *            t       degC
 * Returned:  density g/ml at t
 * Failures:  those of mw_ball_viscosity() and mw_oil_density()
 */
MW_API enum mw_status mw_bench_density(const struct mw_ball_run *run,
                                       enum mw_family family, double t,
                                       double *density);

/**
 * The standard uncertainties of a fall that was measured with the usual tools.
 *
 * Given:     run     a fall
 *            time_u  s, of its time
 * Returned:  all of them, with MW_BALL_LAW
 */
MW_API struct mw_ball_uncertainty mw_bench_fall(const struct mw_ball_run *run,
                                                double time_u);

#ifdef __cplusplus
}
#endif

#endif
