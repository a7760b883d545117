/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * units - temperatures and viscosities between their scales.
 */
#ifndef MIDWEIGHT_FLUID_UNITS_H
#define MIDWEIGHT_FLUID_UNITS_H

#include <stdbool.h>

#include "base/status.h"

#ifdef __cplusplus
extern "C" {
#endif

#define MW_DENSITY_MIN 0.1     /* g/ml: under any liquid, a slip of the unit */
#define MW_DENSITY_MAX 10.0    /* g/ml: 970 kg/m3 written as g/ml is caught */
#define MW_LENGTH_MIN  1e-5    /* m: below, a slip of the unit */
#define MW_LENGTH_MAX  10.0    /* m: 12 mm written as m is caught */
#define MW_GRAVITY     9.80665 /* m/s2, standard (ISO 80000-3) */

enum mw_temperature_scale { MW_CELSIUS, MW_FAHRENHEIT, MW_KELVIN };

/* enumerator, canonical symbol */
#define MW_VISCOSITY_UNIT_LIST(X)                                              \
    X(MW_MM2_S, "mm2/s") /* kinematic; 1 cSt by definition */                  \
    X(MW_STOKES, "St")   /* kinematic; 1e-4 m2/s by definition */              \
    X(MW_M2_S, "m2/s")   /* kinematic, SI */                                   \
    X(MW_MPA_S, "mPa.s") /* dynamic; 1 cP by definition */                     \
    X(MW_PA_S, "Pa.s")   /* dynamic, SI */                                     \
    X(MW_POISE, "P")     /* dynamic; 0.1 Pa.s by definition */                 \
    X(MW_SUS, "SUS")     /* Saybolt universal seconds, ASTM D2161 */

enum mw_viscosity_unit {
#define MW_UNIT_ENUM(name, symbol) name,
    MW_VISCOSITY_UNIT_LIST(MW_UNIT_ENUM)
#undef MW_UNIT_ENUM
};

/**
 * Bring a temperature to degrees Celsius.
 *
 * Given:     value   in the scale given
 *            scale   MW_CELSIUS, MW_FAHRENHEIT or MW_KELVIN
 * Returned:  celsius degC
 * Failures:  MW_ERR_TEMPERATURE  not above absolute zero, or not finite
 *            MW_ERR_UNIT  no such scale
 * Reference: definitions of the scales (SI brochure; F = 9/5 C + 32)
 */
MW_API enum mw_status mw_celsius(double value, enum mw_temperature_scale scale,
                                 double *celsius);

/**
 * Bring degrees Celsius to another scale: the inverse of mw_celsius().
 *
 * Given:     celsius degC, above absolute zero
 *            scale   as above
 * Returned:  value   in that scale
 * Failures:  MW_ERR_TEMPERATURE, MW_ERR_UNIT
 */
MW_API enum mw_status
mw_from_celsius(double celsius, enum mw_temperature_scale scale, double *value);

/**
 * The symbol of a unit.
 *
 * Given:     unit    any unit
 * Returned:  such as "mPa.s"; "?" for an invalid value
 */
MW_API const char *mw_viscosity_unit_symbol(enum mw_viscosity_unit unit);

/**
 * The unit with a symbol, whatever the case of its letters.
 *
 * Given:     symbol  a canonical symbol, or cSt, cP, mPas, Pas, or one with a
 *                    raised 2 or a middle dot in UTF-8
 * Returned:  unit    written on MW_OK only
 * Failures:  MW_ERR_NAME
 */
MW_API enum mw_status
mw_viscosity_unit_from_symbol(const char *symbol, enum mw_viscosity_unit *unit);

/**
 * Whether a unit needs a density.
 *
 * Given:     unit    any unit
 * Returned:  whether it is of dynamic viscosity
 */
MW_API bool mw_viscosity_unit_is_dynamic(enum mw_viscosity_unit unit);

/**
 * Whether a density is one that a liquid can have.
 *
 * Given:     density g/ml
 * Returned:  whether it is 0.1 to 10 g/ml; false for NaN
 */
MW_API bool mw_density_in_range(double density);

/**
 * Whether a length is one of a bench.
 *
 * Given:     length  m
 * Returned:  whether it is 0.01 mm to 10 m; false for NaN
 */
MW_API bool mw_length_in_range(double length);

/**
 * Bring a viscosity in any unit to mm2/s.
 *
 * Given:     value   in the unit given, above zero
 *            unit    any
 *            density g/ml; used by the dynamic units only
 *            t       degC; used by SUS only
 * Returned:  v       mm2/s
 * Failures:  MW_ERR_UNIT  value or v not above zero and finite, no such unit,
 *                         or outside the range of SUS
 *            MW_ERR_DENSITY
 * Reference: mu = rho v; SUS as for mw_sus()
 */
MW_API enum mw_status mw_viscosity_to_mm2_s(double value,
                                            enum mw_viscosity_unit unit,
                                            double density, double t,
                                            double *v);

/**
 * Bring mm2/s to any unit: the inverse of mw_viscosity_to_mm2_s().
 *
 * Given:     v       mm2/s, above zero
 *            unit, density, t as above
 * Returned:  value   in the unit
 * Failures:  as above
 */
MW_API enum mw_status mw_viscosity_from_mm2_s(double v,
                                              enum mw_viscosity_unit unit,
                                              double density, double t,
                                              double *value);

#ifdef __cplusplus
}
#endif

#endif
