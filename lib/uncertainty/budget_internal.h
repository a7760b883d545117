/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * budget_internal - not installed: for the library and its tests alone.
 */
#ifndef MIDWEIGHT_UNCERTAINTY_BUDGET_INTERNAL_H
#define MIDWEIGHT_UNCERTAINTY_BUDGET_INTERNAL_H

#include "uncertainty/budget.h"

/**
 * Add an input whose sensitivity is found by trying:
 * c = (f(x + step) - f(x - step))/(2 step).
 *
 * Given:     budget, name, u  as for mw_budget_add()
 *            input   x, in its own unit
 *            f       ln v as a function of x
 *            params  handed to f
 * Returned:  budget  with the input
 * Failures:  MW_ERR_BUDGET, MW_ERR_UNCERTAINTY; the latter also where f is
 *            not finite at x + step or x - step: so uncertain an input may be
 *            one that gives no viscosity at all
 * Notes:     the step is u itself, so that a bend of f over the uncertainty is
 *            felt; it is 1e-6 |x| where u is zero
 * Reference: GUM 5.1.3, warning 2 (from memory)
 */
enum mw_status mw_budget_add_numeric(struct mw_budget *budget, const char *name,
                                     double input, double u, mw_ln_viscosity *f,
                                     void *params);

#endif
