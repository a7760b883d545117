/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * mixture_internal - not installed: for the library and its tests alone.
 */
#ifndef MIDWEIGHT_BLEND_MIXTURE_INTERNAL_H
#define MIDWEIGHT_BLEND_MIXTURE_INTERNAL_H

#include "blend/mixture.h"
#include "blend/sums.h"

/**
 * The method for oils of a family.
 *
 * Given:     family  of all of them
 *            lines   whether each is known at two temperatures
 *            excess  K of silicone oils
 * Returned:  as mw_method_default()
 */
struct mw_method mw_method_of(enum mw_family family, bool lines, double excess);

/**
 * Whether two oils are near enough to be mixed.
 *
 * Given:     thinner, thicker  mm2/s, both at one temperature
 * Returned:  whether they are no more than MW_RATIO_MAX to 1 apart; false for
 *            NaN
 */
bool mw_ratio_allowed(double thinner, double thicker);

/**
 * What the oils of a mix add up to.
 *
 * Given:     oils, shares, n, t, method  as for mw_mixture()
 * Returned:  sums    of a mix that mw_mixture() would calculate
 * Failures:  those of mw_mixture(), but that of the excess of the mix itself
 */
enum mw_status mw_mixture_sums(const struct mw_oil *oils, const double *shares,
                               size_t n, double t,
                               const struct mw_method *method,
                               struct mw_sums *sums);

#endif
