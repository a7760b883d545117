/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * family - what an oil is, from how it thins as it gets warmer.
 *
 * By the apparent activation energy between two points,
 *
 *     E = R ln(v1/v2)/(1/T1 - 1/T2)    in kJ/mol, R as GSL has it
 *
 * silicone has 14.61 by its law (silicone.h), 14 to 16.5 in print (from
 * memory); petroleum has 22 and more, but multigrade fork oils, which are rated
 * at 40 and 100 C, fall to 18 (from memory). The limits in between are our own
 * choice.
 */
#ifndef MIDWEIGHT_FLUID_FAMILY_H
#define MIDWEIGHT_FLUID_FAMILY_H

#include <stddef.h>

#include "fluid/oil.h"

#ifdef __cplusplus
extern "C" {
#endif

/**
 * The family of an oil, from its points.
 *
 * Given:     points  1 to MW_POINTS_MAX viscosities (mm2/s) and temperatures
 *                    (degC); of more than two the coldest and the warmest count
 *            count   how many
 * Returned:  family  on MW_OK only. One point is MW_SILICONE, as hobby bottles
 *                    are rated (common practice, no source). Several are
 *                    MW_SILICONE with E from 12 to 16.5 kJ/mol, unless the two
 *                    are at 40 and 100 C; MW_MINERAL with E of 22 or more, or
 *                    above 16.5 with the two at 40 and 100 C.
 * Failures:  MW_ERR_VISCOSITY, MW_ERR_TEMPERATURE
 *            MW_ERR_POINTS     no point, too many, or all at one temperature
 *            MW_ERR_NOT_DECREASING  the warmest point is not thinner than
 *                              the coldest
 *            MW_ERR_NO_FAMILY  another E, or points so close that labels good
 *                              to 5 % make its standard uncertainty more than
 *                              1.5 kJ/mol (about 25 degrees)
 */
MW_API enum mw_status mw_family_from_points(const struct mw_point *points,
                                            size_t count,
                                            enum mw_family *family);

#ifdef __cplusplus
}
#endif

#endif
