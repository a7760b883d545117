/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* what is asked of an adjustment that is solved */
#include <math.h>
#include <string.h>

#include "uncertainty/adjustment_internal.h"

/* -- Uncertainties -------------------------------------------------------- */

double mw_adjustment_product(const struct mw_gradient *gradient,
                             const double *z)
{
    double sum = 0;
    for (size_t i = 0; i < gradient->count; i++) {
        sum += gradient->slopes[i] * z[gradient->unknowns[i]];
    }
    return sum;
}

double mw_adjustment_variance(const struct mw_adjustment *adjustment,
                              const struct mw_gradient *gradient, double *z)
{
    memset(z, 0, adjustment->n * sizeof z[0]);
    for (size_t i = 0; i < gradient->count; i++) {
        size_t j = gradient->unknowns[i];
        z[j] = adjustment->unknowns[j].s == 0 ? 0 : gradient->slopes[i];
    }
    mw_normal_solve(&adjustment->normal, z);
    return fmax(mw_adjustment_product(gradient, z), 0);
}

double mw_adjustment_form(const struct mw_adjustment *adjustment,
                          const struct mw_gradient *gradient)
{
    return fmax(mw_normal_form(&adjustment->normal, gradient), 0);
}

double mw_adjustment_prior_part(const struct mw_adjustment *adjustment,
                                const double *z, size_t index)
{
    return fabs(z[index]) * sqrt(mw_adjustment_prior_weight(adjustment, index));
}

double mw_adjustment_row_part(const struct mw_adjustment *adjustment,
                              const double *z, size_t index)
{
    const struct mw_gradient h = mw_adjustment_row_gradient(adjustment, index);
    return fabs(mw_adjustment_product(&h, z)) *
           sqrt(mw_adjustment_row_weight(adjustment, index));
}

/* how much of what a prior or a row says is left to the rest: 0 to 1; 0 also
 * where it says nothing */
static double rest_of(double weight, double variance)
{
    double rest = 1 - weight * variance;
    return rest > 1e-9 && weight > 0 ? rest : 0;
}

/* a difference against its own uncertainty, sqrt(1/weight - variance) */
static double normalized(double difference, double weight, double variance)
{
    double rest = rest_of(weight, variance);
    return rest > 0 ? difference * sqrt(weight / rest) : 0;
}

double mw_adjustment_prior_residual(const struct mw_adjustment *adjustment,
                                    size_t index)
{
    const double one = 1;
    const struct mw_gradient itself = {1, &index, &one};
    double variance = mw_adjustment_form(adjustment, &itself);
    return normalized(adjustment->x[index] - adjustment->unknowns[index].mean,
                      mw_adjustment_prior_weight(adjustment, index), variance);
}

static double difference_of(const struct mw_adjustment *adjustment,
                            size_t index)
{
    const struct mw_row *row = &adjustment->rows[index];
    return row->observed - row->value(adjustment->x, row->params);
}

double mw_adjustment_row_residual(const struct mw_adjustment *adjustment,
                                  size_t index, double *distance)
{
    const struct mw_gradient h = mw_adjustment_row_gradient(adjustment, index);
    double variance = mw_adjustment_form(adjustment, &h);
    double weight = mw_adjustment_row_weight(adjustment, index);
    double difference = difference_of(adjustment, index);
    double rest = rest_of(weight, variance);
    if (distance) {
        *distance = rest > 0 ? difference / rest : 0;
    }
    return normalized(difference, weight, variance);
}

double mw_adjustment_chi_squared(const struct mw_adjustment *adjustment)
{
    double sum = 0;
    for (size_t i = 0; i < adjustment->n; i++) {
        double away = adjustment->x[i] - adjustment->unknowns[i].mean;
        sum += mw_adjustment_prior_weight(adjustment, i) * away * away;
    }
    for (size_t i = 0; i < adjustment->m; i++) {
        double away = difference_of(adjustment, i);
        sum += mw_adjustment_row_weight(adjustment, i) * away * away;
    }
    return sum;
}

double mw_adjustment_after(const struct mw_adjustment *adjustment,
                           double variance, const double *z,
                           const struct mw_gradient *reading, double s)
{
    double both = mw_adjustment_product(reading, z);
    double own = mw_adjustment_form(adjustment, reading);
    return fmax(variance - both * both / (own + s * s), 0);
}
