/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * dose - from shares to amounts and back.
 *
 * Volumes are taken to add up: oils of one family barely shrink on mixing, far
 * less than a syringe resolves (common practice, no source).
 */
#ifndef MIDWEIGHT_BLEND_DOSE_H
#define MIDWEIGHT_BLEND_DOSE_H

#include <stddef.h>

#include "base/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/**
 * Shares of amounts that are all in one unit of volume, or in parts.
 *
 * Given:     amounts n amounts, none negative
 *            n       1 or more
 * Returned:  shares  n volume fractions that add up to 1
 *            total   the sum of the amounts; may be NULL
 * Failures:  MW_ERR_AMOUNT  one is negative or not finite, or all are nothing
 */
MW_API enum mw_status mw_dose_shares(const double *amounts, size_t n,
                                     double *shares, double *total);

/**
 * The volume of a mass.
 *
 * Given:     mass    g, zero or more
 *            density g/ml
 * Returned:  volume  ml
 * Failures:  MW_ERR_AMOUNT, MW_ERR_DENSITY
 */
MW_API enum mw_status mw_dose_volume(double mass, double density,
                                     double *volume);

/**
 * The batch for a set of dampers.
 *
 * Given:     count   dampers, above zero
 *            each    ml that one takes, above zero
 *            waste   part lost on the way, 0 up to below 1 of what is needed
 * Returned:  batch   ml: count x each x (1 + waste)
 * Failures:  MW_ERR_AMOUNT
 */
MW_API enum mw_status mw_dose_batch(double count, double each, double waste,
                                    double *batch);

/**
 * How much of a recipe the bottles hold.
 *
 * Given:     volumes n volumes that are wanted, ml
 *            left    n volumes that the bottles hold, ml; NaN where that is not
 *                    known
 *            n       1 or more
 * Returned:  part    of the recipe that can be poured: 1 where there is enough
 *                    of everything, but for rounding
 *            shortest index of the bottle that limits it; n where none does
 * Failures:  MW_ERR_AMOUNT  a volume is negative or not finite, or what is left
 *            is negative
 * Notes:     a bottle that lacks up to 1e-9 of its volume counts as enough:
 *            that is what rounding makes of "all of it"
 */
MW_API enum mw_status mw_dose_largest(const double *volumes, const double *left,
                                      size_t n, double *part, size_t *shortest);

enum {
    MW_PARTS_MAX = 10000, /* of a whole-number ratio; our own limit */
    MW_PARTS_COUNTED = 12 /* parts up to this are counted out with a syringe
                             (common practice, no source) */
};

#ifdef __cplusplus
}
#endif

#endif
