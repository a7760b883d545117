/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * mixture_internal - not installed: for the library and its tests alone.
 */
#ifndef MIDWEIGHT_BLEND_MIXTURE_INTERNAL_H
#define MIDWEIGHT_BLEND_MIXTURE_INTERNAL_H

#include "blend/mixture.h"

/**
 * Whether two oils are near enough to be mixed.
 *
 * Given:     thinner, thicker  mm2/s, both at one temperature
 * Returned:  whether they are no more than MW_RATIO_MAX to 1 apart; false for
 *            NaN
 */
bool mw_ratio_allowed(double thinner, double thicker);

#endif
