/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * timing_internal - not installed: for the library and its tests alone.
 */
#ifndef MIDWEIGHT_BENCH_TIMING_INTERNAL_H
#define MIDWEIGHT_BENCH_TIMING_INTERNAL_H

#include "bench/timing.h"

/**
 * The weighted mean of several estimates, taken in ln v, each weighing
 * 1/uncertainty^2.
 *
 * Given:     estimates  independent of each other
 *            n       1 or more
 * Returned:  pooled  all of it; NaN on failure
 * Failures:  MW_ERR_READINGS  no estimate
 *            MW_ERR_VISCOSITY
 *            MW_ERR_UNCERTAINTY  one outside its limits
 * Notes:     a single estimate is returned as it is, with a p-value of 1
 * Reference: weighted least squares of one constant; the widening is the ratio
 *            of R. T. Birge, Phys. Rev. 40 (1932) 207 (from memory)
 */
enum mw_status mw_pool(const struct mw_estimate *estimates, size_t n,
                       struct mw_pooled *pooled);

/**
 * The mean of repeated times and its uncertainty.
 *
 * Given:     times   s, each above zero
 *            n       2 or more
 * Returned:  type_a  all of it; NaN on failure
 * Failures:  MW_ERR_READINGS  fewer than 2, or one that is not above zero
 * Notes:     s/sqrt(n) rests on a few times only, so it is widened by t/2, t
 *            being Student's for n - 1 at the 95.45 % that k = 2 stands for:
 *            6.98 for two times, 2.26 for three, 1.16 for ten. Equal times
 *            give zero; what the watch itself may miss is for the caller to
 *            add.
 * Reference: GUM 4.2 and G.3 (from memory); GSL, gsl_cdf_tdist_Pinv()
 */
enum mw_status mw_type_a_of(const double *times, size_t n,
                            struct mw_type_a *type_a);

#endif
