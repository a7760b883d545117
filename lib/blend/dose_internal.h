/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * dose_internal - not installed: for the library and its tests alone.
 */
#ifndef MIDWEIGHT_BLEND_DOSE_INTERNAL_H
#define MIDWEIGHT_BLEND_DOSE_INTERNAL_H

#include "blend/dose.h"

/**
 * The small whole-number ratio nearest to a share.
 *
 * Given:     share   of the second oil, 0 to 1
 *            most    the largest number wanted in the ratio, 1 to
 *                    MW_PARTS_MAX
 * Returned:  first, second  parts of the first and the second oil, in lowest
 *                    terms; the simpler ratio where two are as near
 * Failures:  MW_ERR_SHARES, MW_ERR_AMOUNT (most is out of range); parts are 0
 *            then
 */
enum mw_status mw_dose_ratio(double share, int most, int *first, int *second);

#endif
