/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * sums - running sums over the parts of a blend, so that any number of oils
 * needs no memory. Internal to the library.
 */
#ifndef MIDWEIGHT_BLEND_SUMS_H
#define MIDWEIGHT_BLEND_SUMS_H

#include <stddef.h>

#include "base/status.h"

/* the most that shares may miss 1 by, from adding up decimal fractions */
#define MW_SHARES_SLACK 1e-9

/** What the parts of a blend add up to; starts as all zero. */
struct mw_sums {
    double p, q;                  /* sum f p and sum f q, as a rule weighs */
    double share, mean, variance; /* of ln v, running (excess) */
};

/** MW_OK when n shares lie in 0..1 and add up to 1, else MW_ERR_SHARES. */
enum mw_status mw_sums_check(const double *shares, size_t n);

/** Add what a part weighs by a rule. */
void mw_sums_to_rule(struct mw_sums *sums, double p, double q, double share);

/** Add a part to the variance of ln v. */
void mw_sums_to_excess(struct mw_sums *sums, double v, double share);

#endif
