/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "table/excess.h"

#include <math.h>
#include <stdbool.h>

#include "blend/sums.h"
#include "table/mix_uncertainty.h"

/* S, as the weighted variance of ln v that it equals */
static double spread_of(const struct mw_lesson *lesson)
{
    struct mw_sums sums = {0};
    for (size_t i = 0; i < lesson->n; i++) {
        double v;
        mw_oil_viscosity(&lesson->oils[i], lesson->temperature, &v);
        mw_sums_to_excess(&sums, v, lesson->shares[i]);
    }
    return sums.variance;
}

/* The uncertainty of K about a value of it. K is what makes the mix the one
 * that was measured, so dK/dx = -(d ln v/dx)/S, at that K. */
static enum mw_status doubt_lesson(const struct mw_lesson *lesson,
                                   enum mw_rule rule, double k, double spread,
                                   double *u)
{
    const struct mw_method method = {rule, k};
    const struct mw_doubt doubt = {lesson->uncertainty, 0, 0, NULL};
    struct mw_budget budget;
    enum mw_status status =
        mw_doubt_mixture(lesson->oils, lesson->shares, lesson->n,
                         lesson->temperature, &method, &doubt, &budget);
    if (status == MW_OK) {
        status =
            mw_budget_add(&budget, "reading", lesson->measured_uncertainty, 1);
    }
    if (status != MW_OK) {
        return status;
    }
    *u = mw_budget_combined(&budget) / spread;
    if (*u == 0) {
        return MW_ERR_UNCERTAINTY;
    }
    return *u < MW_LESSON_WORTHLESS ? MW_OK : MW_ERR_LESSON;
}

enum mw_status mw_lesson_excess(const struct mw_lesson *lesson,
                                enum mw_rule rule, struct mw_excess *excess)
{
    const struct mw_method plain = {rule, 0};
    double v, u;
    *excess = (struct mw_excess){NAN, NAN};
    enum mw_status status = mw_mixture(lesson->oils, lesson->shares, lesson->n,
                                       lesson->temperature, &plain, &v, NULL);
    if (status != MW_OK) {
        return status;
    }
    if (!mw_viscosity_in_range(lesson->measured)) {
        return MW_ERR_VISCOSITY;
    }
    double spread = spread_of(lesson);
    double k = log(lesson->measured / v) / spread;
    /* oils so close that K is anything are told by the plain rule first */
    status = doubt_lesson(lesson, rule, 0, spread, &u);
    if (status == MW_OK) {
        status = doubt_lesson(lesson, rule, k, spread, &u);
    }
    if (status == MW_OK) {
        *excess = (struct mw_excess){k, u};
    }
    return status;
}

static bool add(const struct mw_excess *excess, double *sum, double *weights)
{
    double weight = 1 / (excess->uncertainty * excess->uncertainty);
    *sum += weight * excess->value;
    *weights += weight;
    return excess->uncertainty > 0 && isfinite(weight) && isfinite(*sum) &&
           weight > 0;
}

enum mw_status mw_learn(const struct mw_excess *prior,
                        const struct mw_excess *lessons, size_t n,
                        struct mw_excess *learned)
{
    double sum = 0, weights = 0;
    *learned = (struct mw_excess){NAN, NAN};
    bool good = add(prior, &sum, &weights);
    for (size_t i = 0; i < n && good; i++) {
        good = add(&lessons[i], &sum, &weights);
    }
    if (!good) {
        return MW_ERR_UNCERTAINTY;
    }
    *learned = (struct mw_excess){sum / weights, 1 / sqrt(weights)};
    return MW_OK;
}
