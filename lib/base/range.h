/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * range - the viscosities and temperatures that the library computes with.
 *
 * Reference: ASTM D341, where a line does not say otherwise
 */
#ifndef MIDWEIGHT_BASE_RANGE_H
#define MIDWEIGHT_BASE_RANGE_H

#include <stdbool.h>

#include "base/status.h"

#ifdef __cplusplus
extern "C" {
#endif

#define MW_VISCOSITY_MIN   0.21      /* mm2/s, ASTM D341, read in print */
#define MW_VISCOSITY_MAX   2e7       /* mm2/s, ASTM D341, from memory */
#define MW_ABSOLUTE_ZERO   (-273.15) /* degC, by the definition of the kelvin */
#define MW_TEMPERATURE_MAX 340.0     /* degC, reliable "roughly to" (D341) */

/**
 * Whether D341 reaches a viscosity.
 *
 * Given:     v       mm2/s
 * Returned:  whether it is MW_VISCOSITY_MIN to MW_VISCOSITY_MAX; false for NaN
 */
MW_API bool mw_viscosity_in_range(double v);

/**
 * Whether D341 reaches a temperature.
 *
 * Given:     t       degC
 * Returned:  whether it is above absolute zero and up to MW_TEMPERATURE_MAX;
 *            false for NaN
 */
MW_API bool mw_temperature_in_range(double t);

/**
 * Whether two temperatures are one and the same.
 *
 * Given:     t, u    degC
 * Returned:  whether they are nearer than 1e-6 K, which only absorbs the
 *            rounding of a conversion from F or K; false for NaN
 */
MW_API bool mw_same_temperature(double t, double u);

#ifdef __cplusplus
}
#endif

#endif
