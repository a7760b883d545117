/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * walther - the equations and lines of the ASTM D341 chart (chart.h), both
 * ways. Internal to the library.
 *
 * Departures from the standard: the inverse is solved instead of evaluated by
 * the printed approximation (mw_walther_v_printed() is that one), and the line
 * is used for silicone known at two temperatures, which is outside its scope.
 */
#ifndef MIDWEIGHT_FLUID_WALTHER_H
#define MIDWEIGHT_FLUID_WALTHER_H

#include <stddef.h>

#include "base/status.h"
#include "fluid/chart.h"

/**
 * The viscosity of a W: the inverse of mw_walther_w(), solved, so that
 * v -> W -> v closes to 1e-12 of v.
 *
 * Given:     w       as mw_walther_w() gives it
 * Returned:  v       mm2/s
 * Failures:  MW_ERR_VISCOSITY  v would be outside 0.21 to 2e7
 * Notes:     starts from the printed inverse and takes three Newton steps;
 *            each squares an error that is below 1e-3 at the start
 */
enum mw_status mw_walther_v(double w, double *v);

/**
 * The viscosity of a W by the approximation the standard prints:
 *
 *     z = 10^(10^W) - 0.7
 *     v = z - exp(-0.7487 - 3.295 z + 0.6119 z^2 - 0.3193 z^3)
 *
 * Given:     w       as mw_walther_w() gives it
 * Returned:  v       mm2/s, up to 2.0e-4 mm2/s off near 1.8 (computed), nothing
 *                    above 5
 * Failures:  MW_ERR_VISCOSITY
 * Notes:     for comparison; the library itself uses mw_walther_v()
 */
enum mw_status mw_walther_v_printed(double w, double *v);

/**
 * How steeply ln v rises with W: d ln v / dW.
 *
 * Given:     v       mm2/s, 0.21 to 2e7
 * Returned:  slope   always positive, and rising with v
 * Failures:  MW_ERR_VISCOSITY
 * Notes:     the derivative of the equations above
 */
enum mw_status mw_walther_slope(double v, double *slope);

/**
 * The line through two points.
 *
 * Given:     p, q    at two temperatures above absolute zero, up to 340 C
 * Returned:  line    a and b
 * Failures:  MW_ERR_VISCOSITY, MW_ERR_TEMPERATURE
 *            MW_ERR_POINTS  the temperatures are equal
 *            MW_ERR_NOT_DECREASING  the warmer point is not the thinner one
 */
enum mw_status mw_line_through(const struct mw_point *p,
                               const struct mw_point *q, struct mw_line *line);

/**
 * The least-squares line through any number of points, in W over log10 T.
 *
 * Given:     points  2 to MW_POINTS_MAX points
 *            n       how many
 * Returned:  line    a and b
 *            residual  if not NULL: the standard residual of ln v,
 *                    sqrt(sum of squares/(n - 2)); times 100 it is a per cent
 *                    of v. Zero for two points, which a line always meets.
 * Failures:  those of mw_line_through(); MW_ERR_POINTS also for fewer than 2 or
 *            more than MW_POINTS_MAX points
 * Reference: GSL, gsl_fit_wlinear() with equal weights
 */
enum mw_status mw_line_fit(const struct mw_point *points, size_t n,
                           struct mw_line *line, double *residual);

/**
 * The same line with each point weighing by how well it is known.
 *
 * Given:     points, n  as for mw_line_fit()
 *            uncertainty  n standard uncertainties of ln v, above zero
 * Returned:  line    a and b
 *            residual  if not NULL: as for mw_line_fit(), unweighted
 * Failures:  those of mw_line_fit(); MW_ERR_UNCERTAINTY
 * Notes:     a point weighs 1/u^2, u being carried from ln v to W by the slope
 *            d ln v/dW at the point
 * Reference: GSL, gsl_fit_wlinear()
 */
enum mw_status mw_line_fit_weighted(const struct mw_point *points,
                                    const double *uncertainty, size_t n,
                                    struct mw_line *line, double *residual);

/**
 * The viscosity on a line at a temperature.
 *
 * Given:     line    a and b, b above zero
 *            t       degC, above absolute zero and up to 340
 * Returned:  v       mm2/s
 * Failures:  MW_ERR_TEMPERATURE, MW_ERR_VISCOSITY
 */
enum mw_status mw_line_at(const struct mw_line *line, double t, double *v);

/**
 * How fast the viscosity on a line changes with temperature: d ln v / dt.
 *
 * Given:     line, t as for mw_line_at()
 * Returned:  slope   per degree, negative; times 100 it is per cent per degree
 * Failures:  those of mw_line_at()
 */
enum mw_status mw_line_slope(const struct mw_line *line, double t,
                             double *slope);

#endif
