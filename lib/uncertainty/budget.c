/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "uncertainty/budget.h"

#include <gsl/gsl_math.h>
#include <gsl/gsl_pow_int.h>
#include <math.h>
#include <stdbool.h>

#include "base/range.h"
#include "uncertainty/budget_internal.h"

/* of an input without an uncertainty: far above rounding, where the error of
 * a central difference is about 1e-10 of ln v */
#define STEP_OF_EXACT 1e-6

static bool is_uncertainty(double u)
{
    return u >= 0 && isfinite(u);
}

enum mw_status mw_rectangular(double limit, double *u)
{
    bool good = is_uncertainty(limit);
    *u = good ? limit / M_SQRT3 : NAN;
    return good ? MW_OK : MW_ERR_UNCERTAINTY;
}

enum mw_status mw_budget_add(struct mw_budget *budget, const char *name,
                             double u, double sensitivity)
{
    if (budget->count >= MW_BUDGET_MAX) {
        return MW_ERR_BUDGET;
    }
    if (!is_uncertainty(u) || !isfinite(sensitivity) ||
        !isfinite(sensitivity * u)) {
        return MW_ERR_UNCERTAINTY;
    }
    budget->parts[budget->count++] = (struct mw_contribution){
        .name = name, .uncertainty = u, .sensitivity = sensitivity};
    return MW_OK;
}

enum mw_status mw_budget_add_numeric(struct mw_budget *budget, const char *name,
                                     double input, double u, mw_ln_viscosity *f,
                                     void *params)
{
    if (!is_uncertainty(u)) {
        return MW_ERR_UNCERTAINTY;
    }
    double step = u > 0 ? u : STEP_OF_EXACT * fabs(input);
    double rise = f(input + step, params) - f(input - step, params);
    return mw_budget_add(budget, name, u, rise / (2 * step));
}

static double part_of_ln_v(const struct mw_contribution *part)
{
    return fabs(part->sensitivity * part->uncertainty);
}

double mw_budget_combined(const struct mw_budget *budget)
{
    double sum = 0;
    for (size_t i = 0; i < budget->count; i++) {
        sum += gsl_pow_2(part_of_ln_v(&budget->parts[i]));
    }
    return sqrt(sum);
}

enum mw_status mw_budget_band(const struct mw_budget *budget, double v,
                              double *low, double *high)
{
    *low = *high = NAN;
    if (!mw_viscosity_in_range(v)) {
        return MW_ERR_VISCOSITY;
    }
    double combined = mw_budget_combined(budget);
    if (!(combined <= MW_UNCERTAINTY_MAX)) {
        return MW_ERR_UNCERTAINTY;
    }
    double expanded = MW_COVERAGE * combined;
    *low = v * exp(-expanded);
    *high = v * exp(expanded);
    return MW_OK;
}

enum mw_status mw_budget_share(const struct mw_budget *budget, size_t index,
                               double *percent)
{
    double combined = mw_budget_combined(budget);
    *percent = NAN;
    if (index >= budget->count || !(combined > 0)) {
        return MW_ERR_BUDGET;
    }
    *percent = 100 * gsl_pow_2(part_of_ln_v(&budget->parts[index]) / combined);
    return MW_OK;
}

const char *mw_budget_dominant(const struct mw_budget *budget)
{
    const char *name = NULL;
    double largest = 0;
    for (size_t i = 0; i < budget->count; i++) {
        if (part_of_ln_v(&budget->parts[i]) > largest) {
            largest = part_of_ln_v(&budget->parts[i]);
            name = budget->parts[i].name;
        }
    }
    return name;
}
