/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * outlier - how far each point of an oil lies off its line, and which point
 * does not belong there.
 *
 * A point far off drags a least-squares line towards itself, and so hides among
 * the others. Each point is therefore judged by the line through all others:
 * its distance from that line over the standard error of such a distance is the
 * studentized residual with the point left out. It follows Student's t of n - 3
 * degrees of freedom, which for few points is often large by accident; it is
 * given as the normal deviation of the same p-value, so that 3 means the same
 * (once in 370 points, by accident) for 5 points as for 30.
 *
 * How far off a point must be to be found in 9 of 10 cases, where the others
 * scatter by 1 % (by simulation): 50 % among 5 points, 20 % among 6, 10 % among
 * 8. Among 4, whose other three leave one degree of freedom, no such point is
 * found: only a gross slip, and only where these three agree to 0.1 %.
 */
#ifndef MIDWEIGHT_BENCH_OUTLIER_H
#define MIDWEIGHT_BENCH_OUTLIER_H

#include <stddef.h>

#include "base/status.h"
#include "fluid/chart.h"
#include "fluid/oil.h"

#ifdef __cplusplus
extern "C" {
#endif

#define MW_OUTLIER_LIMIT 3.0 /* standard residuals; the usual limit */

/* of ln v: what the others' scatter is taken to be at least. Viscosities are
 * written to three or four figures, whose rounding is about 0.1 %; our own
 * limit. */
#define MW_OUTLIER_TYPE_A 0.001

enum {
    MW_OUTLIER_POINTS_MIN = 4, /* fewer others than 3 meet any line */
    MW_NO_OUTLIER = -1         /* no point is an outlier */
};

/** How a point lies to the line of its oil. */
struct mw_residual {
    double residual; /* of ln v, from the line through all points; times 100 it
                        is a per cent of v */
    double standard; /* standard residuals off the line of all others, with the
                        same sign; NaN where these make no judgement */
};

/**
 * The residuals of the least-squares D341 line through points, and the point
 * that does not belong.
 *
 * Given:     points  n points
 *            n       2 to MW_POINTS_MAX
 * Returned:  residuals  n of them
 *            outlier  the point (from 0) with the largest standard residual,
 *                    where that is over MW_OUTLIER_LIMIT; else MW_NO_OUTLIER
 * Failures:  those of mw_line_fit(); residuals are NaN then, and there is no
 *            outlier
 * Notes:     standard is NaN for fewer than MW_OUTLIER_POINTS_MIN points, and
 *            for a point without which all are at one temperature. The line of
 *            the others weighs errors of v alike, by the slope d ln v/dW.
 * Reference: R. D. Cook and S. Weisberg, Residuals and Influence in Regression,
 *            1982, 2.2 (from memory); GSL, gsl_fit_wlinear(),
 *            gsl_cdf_tdist_Q(), gsl_cdf_ugaussian_Qinv()
 */
MW_API enum mw_status mw_line_residuals(const struct mw_point *points, size_t n,
                                        struct mw_residual *residuals,
                                        int *outlier);

/**
 * How far a point lies off an oil.
 *
 * Given:     oil     made
 *            point   measured
 * Returned:  residual  of ln v: ln of the point over the oil there
 * Failures:  MW_ERR_VISCOSITY  of the point; those of mw_oil_viscosity()
 */
MW_API enum mw_status mw_oil_residual(const struct mw_oil *oil,
                                      const struct mw_point *point,
                                      double *residual);

#ifdef __cplusplus
}
#endif

#endif
