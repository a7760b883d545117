/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * sums - running sums over the parts of a blend, so that any number of oils
 * needs no memory. Internal to the library.
 */
#ifndef MW_SUMS_H
#define MW_SUMS_H

#include <stddef.h>

#include "base/status.h"
#include "fluid/walther.h"

/** What the parts of a blend add up to; starts as all zero. */
struct mw_sums {
    double w;                     /* sum f W (ASTM) */
    double a_over_b, over_b;      /* sum f A/B and sum f/B (Wright) */
    double share, mean, variance; /* of ln v, running (excess) */
};

/** MW_OK when n shares lie in 0..1 and add up to 1, else MW_ERR_SHARES. */
enum mw_status mw_sums_check(const double *shares, size_t n);

/** Add a part to W by ASTM; MW_ERR_VISCOSITY when v has no W. */
enum mw_status mw_sums_to_astm(struct mw_sums *sums, double v, double share);

/** Add a part to Wright's sums. */
void mw_sums_to_wright(struct mw_sums *sums, const struct mw_line *line,
                       double share);

/** Add a part to the variance of ln v. */
void mw_sums_to_excess(struct mw_sums *sums, double v, double share);

/** W by Wright at X = log10 T: X = sum f (A - W)/B solved for W. */
double mw_sums_wright_w(const struct mw_sums *sums, double x);

#endif
