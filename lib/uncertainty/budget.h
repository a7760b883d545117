/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * budget - what is known of a viscosity, and what spoils it most.
 *
 * A budget lists what a result depends on. Every input x brings its standard
 * uncertainty u and how fast ln v follows it, c = d ln v/dx; the combined
 * standard uncertainty of ln v is the root of the sum of (c u)^2. In ln v an
 * uncertainty of 0.03 is about 3 per cent of v, and a band never goes below
 * zero. The inputs are taken as independent.
 *
 * Reference: JCGM 100:2008, Evaluation of measurement data - Guide to the
 * expression of uncertainty in measurement (GUM), 5.1 and 6.2 (from memory)
 */
#ifndef MIDWEIGHT_UNCERTAINTY_BUDGET_H
#define MIDWEIGHT_UNCERTAINTY_BUDGET_H

#include <stddef.h>

#include "base/status.h"

#ifdef __cplusplus
extern "C" {
#endif

#define MW_COVERAGE 2.0 /* k: a band of k u holds about 95 % (GUM 6.3) */

/* of ln v, combined: beyond a factor of 20 at k = 1 a budget of slopes says
 * nothing of v (our own limit) */
#define MW_UNCERTAINTY_MAX 3.0

enum {
    MW_BUDGET_MAX = 24 /* contributions in one budget; our own limit */
};

/** One line of a budget; it contributes sensitivity x uncertainty to ln v. */
struct mw_contribution {
    const char *name;   /* the caller's, and lives as long as the budget */
    double uncertainty; /* standard, in the unit of the input */
    double sensitivity; /* d ln v/d input */
};

/** A budget; starts as all zero and grows by mw_budget_add(). */
struct mw_budget {
    size_t count;
    struct mw_contribution parts[MW_BUDGET_MAX];
};

/** ln v as a function of one input; params is the caller's own. NaN where
 * there is no v. */
typedef double mw_ln_viscosity(double input, void *params);

/**
 * The standard uncertainty of a value known to lie within limits and nowhere
 * in particular between them: limit/sqrt(3).
 *
 * Given:     limit   the value is certain to +-limit, any unit; 0 or more
 * Returned:  u       in the same unit
 * Failures:  MW_ERR_UNCERTAINTY  limit is negative or no number
 * Reference: GUM 4.3.7
 */
MW_API enum mw_status mw_rectangular(double limit, double *u);

/**
 * Add an input whose sensitivity is known.
 *
 * Given:     budget  with room
 *            name    of the input
 *            u       its standard uncertainty, in its own unit; 0 or more
 *            sensitivity  d ln v/d input, per that unit
 * Returned:  budget  with the input
 * Failures:  MW_ERR_BUDGET  no room
 *            MW_ERR_UNCERTAINTY  u is negative, or a number is not finite
 * Notes:     the budget is unchanged on failure
 */
MW_API enum mw_status mw_budget_add(struct mw_budget *budget, const char *name,
                                    double u, double sensitivity);

/**
 * The combined uncertainty of a budget.
 *
 * Given:     budget  any number of inputs
 * Returned:  standard uncertainty of ln v; 0 for an empty budget
 */
MW_API double mw_budget_combined(const struct mw_budget *budget);

/**
 * The band in which a viscosity lies: v exp(-k u) to v exp(k u).
 *
 * Given:     budget  of v
 *            v       mm2/s
 * Returned:  low, high  mm2/s
 * Failures:  MW_ERR_VISCOSITY
 *            MW_ERR_UNCERTAINTY  the combined uncertainty is over
 *                                MW_UNCERTAINTY_MAX
 */
MW_API enum mw_status mw_budget_band(const struct mw_budget *budget, double v,
                                     double *low, double *high);

/**
 * How much of the variance one contribution makes.
 *
 * Given:     budget  of which something is uncertain
 *            index   of the contribution, from 0
 * Returned:  percent 0 to 100
 * Failures:  MW_ERR_BUDGET  no such contribution, or the combined uncertainty
 *                           is zero
 */
MW_API enum mw_status mw_budget_share(const struct mw_budget *budget,
                                      size_t index, double *percent);

/**
 * What the uncertainty comes from most.
 *
 * Given:     budget  any number of inputs
 * Returned:  the name of the largest contribution, the first of equals; NULL
 *            where nothing is uncertain
 */
MW_API const char *mw_budget_dominant(const struct mw_budget *budget);

#ifdef __cplusplus
}
#endif

#endif
