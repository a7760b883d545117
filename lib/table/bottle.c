/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "table/bottle.h"

#include <math.h>

#include "bench/timing_internal.h"
#include "fluid/oil_internal.h"
#include "fluid/walther.h"
#include "uncertainty/budget.h"

/* label and readings in one list: the label's points first */
struct items {
    size_t labels, count;
    struct mw_point points[MW_POINTS_MAX + MW_READINGS_MAX];
    double u[MW_POINTS_MAX + MW_READINGS_MAX]; /* of ln v */
};

double mw_tolerance_of(double u)
{
    return fmin(fmax(u * sqrt(3), 0.001), 0.999);
}

static enum mw_status collect(const struct mw_oil *label, double tolerance,
                              const struct mw_reading *readings, size_t n,
                              struct items *items)
{
    double u;
    enum mw_status status = mw_rectangular(tolerance, &u);
    if (status != MW_OK || !(tolerance > 0 && tolerance < 1)) {
        return MW_ERR_UNCERTAINTY;
    }
    if (n > MW_READINGS_MAX) {
        return MW_ERR_READINGS;
    }
    items->labels = label->count;
    items->count = label->count + n;
    for (size_t i = 0; i < label->count; i++) {
        items->points[i] = label->points[i];
        items->u[i] = u;
    }
    for (size_t i = 0; i < n; i++) {
        items->points[label->count + i] =
            (struct mw_point){readings[i].viscosity, readings[i].temperature};
        items->u[label->count + i] = readings[i].uncertainty;
    }
    return MW_OK;
}

/* how far apart the temperatures are that may give a slope: the readings', and
 * the label's where it has no slope of its own */
static double span(const struct items *items, bool label_has_line)
{
    double low = INFINITY, high = -INFINITY;
    for (size_t i = label_has_line ? items->labels : 0; i < items->count; i++) {
        low = fmin(low, items->points[i].temperature);
        high = fmax(high, items->points[i].temperature);
    }
    return high - low;
}

/* an oil on the line of all items, rated where the label is */
static enum mw_status fit_oil(const struct mw_oil *label,
                              const struct items *items, struct mw_oil *oil)
{
    struct mw_line line;
    double rated = items->points[0].temperature, far = rated;
    struct mw_point ends[2];
    enum mw_status status = mw_line_fit_weighted(items->points, items->u,
                                                 items->count, &line, NULL);
    if (status != MW_OK) {
        return status;
    }
    for (size_t i = 1; i < items->count; i++) {
        double t = items->points[i].temperature;
        far = fabs(t - rated) > fabs(far - rated) ? t : far;
    }
    ends[0].temperature = rated;
    ends[1].temperature = far;
    for (size_t i = 0; i < 2; i++) {
        status = mw_line_at(&line, ends[i].temperature, &ends[i].viscosity);
        if (status != MW_OK) {
            return status;
        }
    }
    return mw_oil_make(label->family, ends, 2, label->density, oil);
}

/* each item as an estimate of the viscosity at the rating temperature */
static enum mw_status bring_to_rating(const struct mw_oil *oil,
                                      const struct items *items,
                                      struct mw_estimate estimates[],
                                      double *rated)
{
    enum mw_status status =
        mw_oil_viscosity(oil, oil->points[0].temperature, rated);
    for (size_t i = 0; i < items->count && status == MW_OK; i++) {
        double here;
        status = mw_oil_viscosity(oil, items->points[i].temperature, &here);
        estimates[i] = (struct mw_estimate){
            items->points[i].viscosity * *rated / here, items->u[i]};
    }
    return status;
}

/* What disagrees with the weighted mean by more than MW_COVERAGE standard
 * uncertainties of the difference, and most; u^2 - u_mean^2 is the variance of
 * a part against the mean that it is part of. */
static int find_outlier(const struct mw_estimate estimates[], size_t count,
                        const struct mw_pooled *pooled)
{
    int outlier = MW_NO_OUTLIER;
    double most = MW_COVERAGE;
    for (size_t i = 0; i < count; i++) {
        double variance = estimates[i].uncertainty * estimates[i].uncertainty -
                          pooled->uncertainty * pooled->uncertainty;
        double away = fabs(log(estimates[i].viscosity / pooled->viscosity));
        if (variance > 0 && away > most * sqrt(variance)) {
            most = away / sqrt(variance);
            outlier = i == 0 ? MW_LABEL_OUTLIER : (int)i - 1;
        }
    }
    return outlier;
}

static void clear(struct mw_bottle *bottle)
{
    *bottle = (struct mw_bottle){.uncertainty = NAN,
                                 .chi_squared = NAN,
                                 .p_value = NAN,
                                 .outlier = MW_NO_OUTLIER};
}

/* label and readings, brought to the rating by an oil's law, as one */
static enum mw_status pool(const struct mw_oil *oil, const struct items *items,
                           bool own_slope, struct mw_bottle *bottle)
{
    struct mw_estimate estimates[MW_POINTS_MAX + MW_READINGS_MAX];
    struct mw_pooled pooled;
    double rated;
    enum mw_status status = bring_to_rating(oil, items, estimates, &rated);
    if (status != MW_OK) {
        return status;
    }
    /* one label is one piece of knowledge, however many points it has */
    struct mw_estimate *known = estimates + items->labels - 1;
    size_t count = items->count - items->labels + 1;
    known[0] = estimates[0];
    status = mw_pool(known, count, &pooled);
    if (status == MW_OK) {
        /* a label alone is what it says, to the last digit */
        double factor = count > 1 ? pooled.viscosity / rated : 1;
        status = mw_oil_scaled(oil, factor, &bottle->oil);
    }
    if (status == MW_OK) {
        bottle->uncertainty = pooled.uncertainty;
        bottle->chi_squared = pooled.chi_squared;
        bottle->p_value = pooled.p_value;
        bottle->own_slope = own_slope;
        bottle->outlier = find_outlier(known, count, &pooled);
    }
    return status;
}

enum mw_status mw_bottle_make(const struct mw_oil *label, double tolerance,
                              const struct mw_reading *readings, size_t n,
                              struct mw_bottle *bottle)
{
    struct items items;
    struct mw_oil oil = *label;
    clear(bottle);
    enum mw_status status = collect(label, tolerance, readings, n, &items);
    if (status != MW_OK) {
        return status;
    }
    bool own_slope = n > 0 && span(&items, label->has_line) >= MW_SLOPE_SPAN;
    if (own_slope) {
        status = fit_oil(label, &items, &oil);
    }
    return status == MW_OK ? pool(&oil, &items, own_slope, bottle) : status;
}

enum mw_status mw_bottle_measured(const struct mw_oil *oil,
                                  const struct mw_reading *readings, size_t n,
                                  double t, struct mw_estimate *measured)
{
    struct mw_estimate estimates[MW_READINGS_MAX];
    struct mw_pooled pooled;
    double there, here;
    *measured = (struct mw_estimate){NAN, NAN};
    if (n < 1 || n > MW_READINGS_MAX) {
        return MW_ERR_READINGS;
    }
    enum mw_status status = mw_oil_viscosity(oil, t, &there);
    for (size_t i = 0; i < n && status == MW_OK; i++) {
        status = mw_oil_viscosity(oil, readings[i].temperature, &here);
        estimates[i].viscosity = readings[i].viscosity * there / here;
        estimates[i].uncertainty = readings[i].uncertainty;
    }
    if (status == MW_OK) {
        status = mw_pool(estimates, n, &pooled);
    }
    if (status == MW_OK) {
        *measured = (struct mw_estimate){pooled.viscosity, pooled.uncertainty};
    }
    return status;
}
