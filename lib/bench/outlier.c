/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench/outlier.h"
#include "base/range.h"
#include "fluid/walther.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_fit.h>
#include <gsl/gsl_pow_int.h>
#include <math.h>
#include <stdbool.h>

/* points on the chart, each weighing so that its error is one of ln v */
struct chart {
    size_t count;
    double x[MW_POINTS_MAX], w[MW_POINTS_MAX], weights[MW_POINTS_MAX];
};

/* all points but one; false where the rest is at one temperature */
static bool leave_out(const struct mw_point *points, size_t n, size_t one,
                      struct chart *chart)
{
    size_t first = one == 0 ? 1 : 0;
    bool distinct = false;
    chart->count = 0;
    for (size_t i = 0; i < n; i++) {
        double slope;
        if (i == one) {
            continue;
        }
        mw_chart_x(points[i].temperature, &chart->x[chart->count]);
        mw_walther_w(points[i].viscosity, &chart->w[chart->count]);
        mw_walther_slope(points[i].viscosity, &slope);
        chart->weights[chart->count++] = gsl_pow_2(slope);
        distinct = distinct || !mw_same_temperature(points[i].temperature,
                                                    points[first].temperature);
    }
    return distinct;
}

/* Student's t as the normal deviation of the same p-value */
static double as_normal(double t, double freedom)
{
    return copysign(gsl_cdf_ugaussian_Qinv(gsl_cdf_tdist_Q(fabs(t), freedom)),
                    t);
}

/* standard residuals of one point off the line of the others */
static double standard_of(const struct mw_point *points, size_t n, size_t one)
{
    struct chart chart;
    double a, b, cov00, cov01, cov11, chi_squared;
    double x, w, error, v, slope;
    if (n < MW_OUTLIER_POINTS_MIN || !leave_out(points, n, one, &chart)) {
        return NAN;
    }
    gsl_fit_wlinear(chart.x, 1, chart.weights, 1, chart.w, 1, chart.count, &a,
                    &b, &cov00, &cov01, &cov11, &chi_squared);
    mw_chart_x(points[one].temperature, &x);
    gsl_fit_linear_est(x, a, b, cov00, cov01, cov11, &w, &error);
    if (mw_walther_v(w, &v) != MW_OK) {
        return NAN;
    }
    mw_walther_slope(v, &slope);
    double freedom = (double)(chart.count - 2);
    double type_a = fmax(sqrt(chi_squared / freedom), MW_OUTLIER_TYPE_A);
    double expected = type_a * hypot(1, slope * error);
    return as_normal(log(points[one].viscosity / v) / expected, freedom);
}

enum mw_status mw_line_residuals(const struct mw_point *points, size_t n,
                                 struct mw_residual *residuals, int *outlier)
{
    struct mw_line line;
    double largest = MW_OUTLIER_LIMIT, residual;
    *outlier = MW_NO_OUTLIER;
    enum mw_status status = mw_line_fit(points, n, &line, &residual);
    for (size_t i = 0; i < n; i++) {
        double v;
        residuals[i] = (struct mw_residual){NAN, NAN};
        if (status != MW_OK) {
            continue;
        }
        mw_line_at(&line, points[i].temperature, &v);
        residuals[i].residual = log(points[i].viscosity / v);
        residuals[i].standard = standard_of(points, n, i);
        if (fabs(residuals[i].standard) > largest) {
            largest = fabs(residuals[i].standard);
            *outlier = (int)i;
        }
    }
    return status;
}

enum mw_status mw_oil_residual(const struct mw_oil *oil,
                               const struct mw_point *point, double *residual)
{
    double v;
    *residual = NAN;
    if (!mw_viscosity_in_range(point->viscosity)) {
        return MW_ERR_VISCOSITY;
    }
    enum mw_status status = mw_oil_viscosity(oil, point->temperature, &v);
    if (status == MW_OK) {
        *residual = log(point->viscosity / v);
    }
    return status;
}
