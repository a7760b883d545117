/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * grade - the class an oil falls into, where an open standard has one.
 *
 * "Weight" numbers on hobby and fork bottles follow no common scale; none is
 * here on purpose.
 */
#ifndef MIDWEIGHT_FLUID_GRADE_H
#define MIDWEIGHT_FLUID_GRADE_H

#include "base/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/**
 * The ISO viscosity grade of an industrial oil.
 *
 * Given:     v40     mm2/s at 40 C
 * Returned:  vg      the number of the grade, such as 46; 0 on failure
 * Failures:  MW_ERR_GRADE  v40 is outside every grade's midpoint +-10 %
 * Reference: ISO 3448 (read in print)
 */
MW_API enum mw_status mw_iso_vg(double v40, int *vg);

/**
 * The SAE grade of an engine oil, by its viscosity at 100 C alone.
 *
 * Given:     v100    mm2/s at 100 C
 * Returned:  grade   20, 30, 40, 50 or 60; 0 on failure
 * Failures:  MW_ERR_GRADE  v100 is below 6.9, or 26.1 and more
 * Notes:     the winter grades (W) are set by cold tests and the grades under
 *            20 overlap this one: both are left out, and so is the standard's
 *            second limit, at high shear
 * Reference: SAE J300 (kinematic limits at 100 C read in print)
 */
MW_API enum mw_status mw_sae_j300(double v100, int *grade);

#ifdef __cplusplus
}
#endif

#endif
