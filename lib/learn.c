/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "learn.h"

#include <math.h>
#include <stdbool.h>

#include "doubt.h"

/* S: the sum of f_i f_j (ln v_i/v_j)^2, as ln of the excess for K = 1 */
static enum mw_status spread_of(const struct mw_lesson *lesson, double ln_plain,
                                enum mw_rule rule, double *spread)
{
    const struct mw_method lifted = {rule, 1};
    double v;
    *spread = NAN;
    enum mw_status status = mw_mixture(lesson->oils, lesson->shares, lesson->n,
                                       lesson->temperature, &lifted, &v, NULL);
    if (status == MW_OK) {
        *spread = log(v) - ln_plain;
    }
    return status;
}

enum mw_status mw_lesson_excess(const struct mw_lesson *lesson,
                                enum mw_rule rule, struct mw_excess *excess)
{
    const struct mw_method plain = {rule, 0};
    const struct mw_doubt doubt = {lesson->uncertainty, 0, 0, NULL};
    struct mw_budget budget;
    double v, spread;
    *excess = (struct mw_excess){NAN, NAN};
    enum mw_status status = mw_mixture(lesson->oils, lesson->shares, lesson->n,
                                       lesson->temperature, &plain, &v, NULL);
    if (status == MW_OK) {
        status = spread_of(lesson, log(v), rule, &spread);
    }
    if (status == MW_OK) {
        status = mw_doubt_mixture(lesson->oils, lesson->shares, lesson->n,
                                  lesson->temperature, &plain, &doubt, &budget);
    }
    if (status == MW_OK) {
        status =
            mw_budget_add(&budget, "reading", lesson->measured_uncertainty, 1);
    }
    if (status != MW_OK) {
        return status;
    }
    if (!mw_viscosity_in_range(lesson->measured)) {
        return MW_ERR_VISCOSITY;
    }
    double u = mw_budget_combined(&budget) / spread;
    if (!(u < MW_LESSON_WORTHLESS)) {
        return MW_ERR_LESSON;
    }
    *excess = (struct mw_excess){log(lesson->measured / v) / spread, u};
    return MW_OK;
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
