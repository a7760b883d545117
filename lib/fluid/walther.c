/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "fluid/walther.h"

#include <gsl/gsl_fit.h>
#include <gsl/gsl_pow_int.h>
#include <math.h>
#include <stdbool.h>

#include "base/positive.h"
#include "base/range.h"

/* ln 10: from log10 to natural logarithms */
#define LN10 2.302585092994045684

/* From here on the terms for thin oils are far below the last digit of v
 * (1e-223 of it), and an exponential that underflows is slow. */
#define THICK 30.0

/* the term that matters below about 2 mm2/s (ASTM D341) */
static double thin_term(double v)
{
    return v < THICK ? exp(-1.47 - 1.84 * v - 0.51 * v * v) : 0;
}

static double z_of(double v)
{
    return v + 0.7 + thin_term(v);
}

static double dz_dv(double v)
{
    return 1 - (1.84 + 1.02 * v) * thin_term(v);
}

/* the printed inverse of z = v + 0.7 + ..., by z without the 0.7 */
static double printed_inverse(double z)
{
    return z < THICK ? z - exp(-0.7487 - 3.295 * z + 0.6119 * z * z -
                               0.3193 * z * z * z)
                     : z;
}

enum mw_status mw_chart_x(double t, double *x)
{
    *x = NAN;
    if (!mw_temperature_in_range(t)) {
        return MW_ERR_TEMPERATURE;
    }
    *x = log10(t - MW_ABSOLUTE_ZERO);
    return MW_OK;
}

enum mw_status mw_walther_w(double v, double *w)
{
    *w = NAN;
    if (!mw_viscosity_in_range(v)) {
        return MW_ERR_VISCOSITY;
    }
    *w = log10(log10(z_of(v)));
    return MW_OK;
}

/* rounding may carry an end of the range, there and back, just outside it */
static enum mw_status accept(double candidate, double *v)
{
    const double slack = 1e-12;
    if (!(candidate >= MW_VISCOSITY_MIN * (1 - slack) &&
          candidate <= MW_VISCOSITY_MAX * (1 + slack))) {
        return MW_ERR_VISCOSITY;
    }
    *v = fmin(fmax(candidate, MW_VISCOSITY_MIN), MW_VISCOSITY_MAX);
    return MW_OK;
}

enum mw_status mw_walther_v(double w, double *v)
{
    *v = NAN;
    double z = pow(10, pow(10, w));
    double x = printed_inverse(z - 0.7);
    for (int step = 0; step < 3; step++) {
        x -= (z_of(x) - z) / dz_dv(x);
    }
    return accept(x, v);
}

enum mw_status mw_walther_v_printed(double w, double *v)
{
    *v = NAN;
    double x = printed_inverse(pow(10, pow(10, w)) - 0.7);
    if (!mw_viscosity_in_range(x)) {
        return MW_ERR_VISCOSITY;
    }
    *v = x;
    return MW_OK;
}

enum mw_status mw_walther_slope(double v, double *slope)
{
    *slope = NAN;
    if (!mw_viscosity_in_range(v)) {
        return MW_ERR_VISCOSITY;
    }
    double z = z_of(v);
    *slope = LN10 * z * log(z) / (v * dz_dv(v));
    return MW_OK;
}

static enum mw_status on_chart(const struct mw_point *p, double *x, double *w)
{
    enum mw_status status = mw_chart_x(p->temperature, x);
    return status == MW_OK ? mw_walther_w(p->viscosity, w) : status;
}

enum mw_status mw_line_through(const struct mw_point *p,
                               const struct mw_point *q, struct mw_line *line)
{
    const struct mw_point both[2] = {*p, *q};
    return mw_line_fit(both, 2, line, NULL);
}

/* every point on the chart; MW_ERR_POINTS unless two temperatures differ */
static enum mw_status chart_points(const struct mw_point *points, size_t n,
                                   double x[], double w[])
{
    bool distinct = false;
    for (size_t i = 0; i < n; i++) {
        enum mw_status status = on_chart(&points[i], &x[i], &w[i]);
        if (status != MW_OK) {
            return status;
        }
        distinct = distinct || !mw_same_temperature(points[i].temperature,
                                                    points[0].temperature);
    }
    return distinct ? MW_OK : MW_ERR_POINTS;
}

static enum mw_status standard_residual(const struct mw_point *points, size_t n,
                                        const struct mw_line *line,
                                        double *residual)
{
    double sum = 0;
    for (size_t i = 0; i < n; i++) {
        double v;
        enum mw_status status = mw_line_at(line, points[i].temperature, &v);
        if (status != MW_OK) {
            return status;
        }
        sum += gsl_pow_2(log(points[i].viscosity / v));
    }
    *residual = n > 2 ? sqrt(sum / (double)(n - 2)) : 0;
    return MW_OK;
}

/* weights of points in W from uncertainties in ln v; all 1 without any */
static enum mw_status weigh(const struct mw_point *points,
                            const double *uncertainty, size_t n,
                            double weights[])
{
    for (size_t i = 0; i < n; i++) {
        double slope = 1;
        if (uncertainty) {
            mw_walther_slope(points[i].viscosity, &slope);
        }
        double u = uncertainty ? uncertainty[i] : 1;
        weights[i] = gsl_pow_2(slope / u);
        if (!(u > 0 && mw_is_positive(weights[i]))) {
            return MW_ERR_UNCERTAINTY;
        }
    }
    return MW_OK;
}

static enum mw_status fit(const double x[], const double w[],
                          const double weights[], size_t n,
                          struct mw_line *line)
{
    double intercept, gradient;
    double ignored[4]; /* the covariances of the fit and its sum of squares */
    gsl_fit_wlinear(x, 1, weights, 1, w, 1, n, &intercept, &gradient,
                    &ignored[0], &ignored[1], &ignored[2], &ignored[3]);
    if (!(gradient < 0)) {
        return MW_ERR_NOT_DECREASING;
    }
    *line = (struct mw_line){.a = intercept, .b = -gradient};
    return MW_OK;
}

enum mw_status mw_line_fit(const struct mw_point *points, size_t n,
                           struct mw_line *line, double *residual)
{
    return mw_line_fit_weighted(points, NULL, n, line, residual);
}

enum mw_status mw_line_fit_weighted(const struct mw_point *points,
                                    const double *uncertainty, size_t n,
                                    struct mw_line *line, double *residual)
{
    double x[MW_POINTS_MAX], w[MW_POINTS_MAX], weights[MW_POINTS_MAX];
    double spread = NAN;
    *line = (struct mw_line){NAN, NAN};
    enum mw_status status = MW_ERR_POINTS;
    if (n >= 2 && n <= MW_POINTS_MAX) {
        status = chart_points(points, n, x, w);
    }
    if (status == MW_OK) {
        status = weigh(points, uncertainty, n, weights);
    }
    if (status == MW_OK) {
        status = fit(x, w, weights, n, line);
    }
    if (status == MW_OK && residual) {
        status = standard_residual(points, n, line, &spread);
    }
    if (status != MW_OK) {
        *line = (struct mw_line){NAN, NAN};
    }
    if (residual) {
        *residual = spread;
    }
    return status;
}

enum mw_status mw_line_at(const struct mw_line *line, double t, double *v)
{
    double x;
    *v = NAN;
    enum mw_status status = mw_chart_x(t, &x);
    return status == MW_OK ? mw_walther_v(line->a - line->b * x, v) : status;
}

enum mw_status mw_line_slope(const struct mw_line *line, double t,
                             double *slope)
{
    double v, rise;
    *slope = NAN;
    enum mw_status status = mw_line_at(line, t, &v);
    if (status == MW_OK) {
        status = mw_walther_slope(v, &rise);
        /* d(log10 T)/dT = 1/(T ln 10) */
        *slope = -line->b * rise / (LN10 * (t - MW_ABSOLUTE_ZERO));
    }
    return status;
}
