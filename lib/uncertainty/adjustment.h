/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * adjustment - many quantities from all that is known of them at once.
 *
 * A least-squares adjustment with prior knowledge: every unknown x_j has a
 * normal prior N(mean, s^2), every row is one observation y = f(x) + error with
 * a standard uncertainty of its own. Solved by Gauss-Newton on the normal
 * equations L = P^-1 + sum h h'/s^2 (h = df/dx), by L D L' factors; V = L^-1 is
 * the covariance of the estimates. What several observations share is an
 * unknown, so that the rows themselves are independent.
 *
 * A function of the unknowns with gradient c has the variance c' V c, which is
 * the sum of what each prior and each row brings to it: with z = V c that is
 * (z_j/s_j)^2 of a prior and (h'z/s)^2 of a row.
 *
 * Unknowns of a block (a number above 0) meet in rows only each other and the
 * unknowns of block 0, which all may share. Blocks are eliminated first, so
 * that only block 0 is a dense matrix.
 *
 * Reference: JCGM 102:2011 (GUM supplement 2) for the covariances; P. J. Mohr,
 * D. B. Newell, B. N. Taylor, Rev. Mod. Phys. 88 (2016) 035009, appendix F: the
 * adjustment of the fundamental constants (both from memory)
 */
#ifndef MIDWEIGHT_UNCERTAINTY_ADJUSTMENT_H
#define MIDWEIGHT_UNCERTAINTY_ADJUSTMENT_H

#include <stddef.h>

#include "base/status.h"

/* our own limits, which keep it quick: the work grows with their third power */
enum {
    MW_BLOCK_MAX = 66,  /* unknowns of one block */
    MW_SHARED_MAX = 600 /* of block 0 */
};

/** What is known of an unknown beforehand. */
struct mw_unknown {
    double mean;
    double s;     /* standard uncertainty; 0: it is what it is */
    size_t block; /* 0: any row; unknowns of one block stand side by side, and
                     blocks in the order of their numbers */
};

/** f(x), of all unknowns; NaN where it has no value. */
typedef double mw_row_value(const double *x, const void *params);

/** One observation. */
struct mw_row {
    mw_row_value *value;
    const void *params; /* handed to it */
    double observed;
    double s;     /* standard uncertainty of the observation, above 0 */
    size_t count; /* of unknowns that it depends on */
    const size_t *unknowns;
};

/** A linear function of the unknowns: its gradient. */
struct mw_gradient {
    size_t count;
    const size_t *unknowns; /* each once */
    const double *slopes;
};

struct mw_adjustment;

/**
 * Set up an adjustment.
 *
 * Given:     unknowns, n  and rows, m  which must outlive it
 * Returned:  adjustment  allocated; mw_adjustment_free() it. NULL on failure
 * Failures:  MW_ERR_MEMORY
 *            MW_ERR_UNCERTAINTY  an s that is negative, not finite, or 0 in a
 *                    row; a number that is not finite
 *            MW_ERR_BUDGET  a block that is out of order, or larger than above,
 *                    or a row that joins two
 */
enum mw_status mw_adjustment_make(const struct mw_unknown *unknowns, size_t n,
                                  const struct mw_row *rows, size_t m,
                                  struct mw_adjustment **adjustment);

void mw_adjustment_free(struct mw_adjustment *adjustment);

/**
 * Multiply the uncertainty of a prior or a row: 1 as it is, more where it is in
 * conflict, INFINITY to set it aside. To count at the next solution.
 */
void mw_adjustment_widen_prior(struct mw_adjustment *adjustment, size_t index,
                               double factor);
void mw_adjustment_widen_row(struct mw_adjustment *adjustment, size_t index,
                             double factor);

/**
 * Solve it, from the means of the priors on; once it has been solved, from
 * there.
 *
 * Failures:  MW_ERR_VISCOSITY  a row has no value, at the means or on the way
 *            MW_ERR_UNCERTAINTY  the equations do not determine every unknown
 */
enum mw_status mw_adjustment_solve(struct mw_adjustment *adjustment);

/** The estimates of all unknowns, once solved. */
const double *mw_adjustment_estimates(const struct mw_adjustment *adjustment);

/**
 * The value of a function at the estimates, and its gradient.
 *
 * Given:     value, params, count, unknowns  as of a row
 * Returned:  slopes  count; of fixed unknowns 0, NaN where the function has no
 *                    value
 *            the value
 */
double mw_adjustment_gradient(const struct mw_adjustment *adjustment,
                              mw_row_value *value, const void *params,
                              size_t count, const size_t *unknowns,
                              double *slopes);

/**
 * V c.
 *
 * Given:     gradient  c
 * Returned:  z       n numbers: V c
 *            the variance c' V c
 */
double mw_adjustment_variance(const struct mw_adjustment *adjustment,
                              const struct mw_gradient *gradient, double *z);

/** c' V c alone, which is less work. */
double mw_adjustment_form(const struct mw_adjustment *adjustment,
                          const struct mw_gradient *gradient);

/** d' V c, of z = V c: the covariance of two functions. */
double mw_adjustment_product(const struct mw_gradient *gradient,
                             const double *z);

/** What a prior, or a row, brings to the uncertainty of z = V c: a standard
 * uncertainty; the sum of their squares is the variance. */
double mw_adjustment_prior_part(const struct mw_adjustment *adjustment,
                                const double *z, size_t index);
double mw_adjustment_row_part(const struct mw_adjustment *adjustment,
                              const double *z, size_t index);

/**
 * How far a prior, or a row, is from what all the rest says, in standard
 * uncertainties of that difference.
 *
 * Returned:  distance  the same of a row in its unit; may be NULL
 *            the normalized residual, with sign; 0 of what the rest does not
 *            determine, or of what was set aside
 * Reference: W. Baarda, A testing procedure for use in geodetic networks
 *            (1968), from memory
 */
double mw_adjustment_prior_residual(const struct mw_adjustment *adjustment,
                                    size_t index);
double mw_adjustment_row_residual(const struct mw_adjustment *adjustment,
                                  size_t index, double *distance);

/** chi-squared of all priors and rows that are not set aside, about as large
 * as the number of rows where all agrees. */
double mw_adjustment_chi_squared(const struct mw_adjustment *adjustment);

/**
 * The variance of a function after one more observation.
 *
 * Given:     variance, z  of the function
 *            reading  gradient of what would be observed
 *            s        standard uncertainty of that
 * Returned:  the variance afterwards, never more than before
 */
double mw_adjustment_after(const struct mw_adjustment *adjustment,
                           double variance, const double *z,
                           const struct mw_gradient *reading, double s);

#endif
