/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "table/excess.h"

#include <math.h>
#include <stdbool.h>

#include "base/range.h"
#include "blend/sums.h"
#include "table/mix_uncertainty.h"

/* S, as the weighted variance of ln v that it equals */
static double spread_of(const struct mw_trial_mix *trial_mix)
{
    struct mw_sums sums = {0};
    for (size_t i = 0; i < trial_mix->n; i++) {
        double v;
        mw_oil_viscosity(&trial_mix->oils[i], trial_mix->temperature, &v);
        mw_sums_to_excess(&sums, v, trial_mix->shares[i]);
    }
    return sums.variance;
}

/* The uncertainty of K about a value of it. K is what makes the mix the one
 * that was measured, so dK/dx = -(d ln v/dx)/S, at that K. */
static enum mw_status weight_trial_mix(const struct mw_trial_mix *trial_mix,
                                       enum mw_rule rule, double k,
                                       double spread, double *u)
{
    const struct mw_method method = {rule, k};
    const struct mw_mix_inputs inputs = {trial_mix->uncertainty, 0, 0, NULL,
                                         NULL};
    struct mw_budget budget;
    enum mw_status status = mw_mixture_uncertainty(
        trial_mix->oils, trial_mix->shares, trial_mix->n,
        trial_mix->temperature, &method, &inputs, &budget);
    if (status == MW_OK) {
        status = mw_budget_add(&budget, "reading",
                               trial_mix->measured_uncertainty, 1);
    }
    if (status != MW_OK) {
        return status;
    }
    *u = mw_budget_combined(&budget) / spread;
    if (*u == 0) {
        return MW_ERR_UNCERTAINTY;
    }
    return *u < MW_TRIAL_MIX_WORTHLESS ? MW_OK : MW_ERR_TRIAL_MIX;
}

enum mw_status mw_trial_mix_excess(const struct mw_trial_mix *trial_mix,
                                   enum mw_rule rule, struct mw_excess *excess)
{
    const struct mw_method plain = {rule, 0};
    double v, u;
    *excess = (struct mw_excess){NAN, NAN};
    enum mw_status status =
        mw_mixture(trial_mix->oils, trial_mix->shares, trial_mix->n,
                   trial_mix->temperature, &plain, &v, NULL);
    if (status != MW_OK) {
        return status;
    }
    if (!mw_viscosity_in_range(trial_mix->measured)) {
        return MW_ERR_VISCOSITY;
    }
    double spread = spread_of(trial_mix);
    double k = log(trial_mix->measured / v) / spread;
    /* oils so close that K is undetermined are found by the plain rule first */
    status = weight_trial_mix(trial_mix, rule, 0, spread, &u);
    if (status == MW_OK) {
        status = weight_trial_mix(trial_mix, rule, k, spread, &u);
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

enum mw_status mw_fit_excess(const struct mw_excess *prior,
                             const struct mw_excess *trial_mixes, size_t n,
                             struct mw_excess *fitted)
{
    double sum = 0, weights = 0;
    *fitted = (struct mw_excess){NAN, NAN};
    bool good = add(prior, &sum, &weights);
    for (size_t i = 0; i < n && good; i++) {
        good = add(&trial_mixes[i], &sum, &weights);
    }
    if (!good) {
        return MW_ERR_UNCERTAINTY;
    }
    *fitted = (struct mw_excess){sum / weights, 1 / sqrt(weights)};
    return MW_OK;
}
