/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "fluid/units.h"

#include <math.h>
#include <stddef.h>
#include <strings.h>

#include "base/positive.h"
#include "base/range.h"
#include "base/root.h"
#include "fluid/units_internal.h"

/* scale = celsius x per_kelvin + at_zero (definitions of the scales) */
static const struct {
    double per_kelvin;
    double at_zero;
} scales[] = {
    [MW_CELSIUS] = {1, 0},
    [MW_FAHRENHEIT] = {1.8, 32},
    [MW_KELVIN] = {1, -MW_ABSOLUTE_ZERO},
};

enum { SCALES = sizeof scales / sizeof scales[0] };

static const char *const symbols[] = {
#define UNIT_SYMBOL(name, symbol) [name] = (symbol),
    MW_VISCOSITY_UNIT_LIST(UNIT_SYMBOL)
#undef UNIT_SYMBOL
};

enum { UNITS = sizeof symbols / sizeof symbols[0] };

static const struct {
    const char *symbol;
    enum mw_viscosity_unit unit;
} aliases[] = {
    {"cSt", MW_MM2_S},        {"cP", MW_MPA_S},         {"mPas", MW_MPA_S},
    {"Pas", MW_PA_S},         {"mm\u00b2/s", MW_MM2_S}, {"m\u00b2/s", MW_M2_S},
    {"mPa\u00b7s", MW_MPA_S}, {"Pa\u00b7s", MW_PA_S},
};

/* one of the unit in mm2/s (kinematic) or mPa.s (dynamic), by definition */
static const double sizes[] = {
    [MW_MM2_S] = 1, [MW_STOKES] = 100, [MW_M2_S] = 1e6,
    [MW_MPA_S] = 1, [MW_PA_S] = 1000,  [MW_POISE] = 100,
};

/* D2161's limits, from memory: its tables begin at 1.81 mm2/s = 32.0 SUS */
#define SUS_V_MIN 1.81
#define SUS_F_MIN 0.0
#define SUS_F_MAX 350.0

static bool above_absolute_zero(double celsius)
{
    return celsius > MW_ABSOLUTE_ZERO && isfinite(celsius);
}

enum mw_status mw_celsius(double value, enum mw_temperature_scale scale,
                          double *celsius)
{
    *celsius = NAN;
    if ((unsigned)scale >= SCALES) {
        return MW_ERR_UNIT;
    }
    double t = (value - scales[scale].at_zero) / scales[scale].per_kelvin;
    if (!above_absolute_zero(t)) {
        return MW_ERR_TEMPERATURE;
    }
    *celsius = t;
    return MW_OK;
}

enum mw_status mw_from_celsius(double celsius, enum mw_temperature_scale scale,
                               double *value)
{
    *value = NAN;
    if ((unsigned)scale >= SCALES) {
        return MW_ERR_UNIT;
    }
    if (!above_absolute_zero(celsius)) {
        return MW_ERR_TEMPERATURE;
    }
    double converted =
        celsius * scales[scale].per_kelvin + scales[scale].at_zero;
    if (!isfinite(converted)) {
        return MW_ERR_TEMPERATURE;
    }
    *value = converted;
    return MW_OK;
}

const char *mw_viscosity_unit_symbol(enum mw_viscosity_unit unit)
{
    return (unsigned)unit < UNITS ? symbols[unit] : "?";
}

enum mw_status mw_viscosity_unit_from_symbol(const char *symbol,
                                             enum mw_viscosity_unit *unit)
{
    for (size_t i = 0; i < UNITS; i++) {
        if (strcasecmp(symbol, symbols[i]) == 0) {
            *unit = (enum mw_viscosity_unit)i;
            return MW_OK;
        }
    }
    for (size_t i = 0; i < sizeof aliases / sizeof aliases[0]; i++) {
        if (strcasecmp(symbol, aliases[i].symbol) == 0) {
            *unit = aliases[i].unit;
            return MW_OK;
        }
    }
    return MW_ERR_NAME;
}

bool mw_viscosity_unit_is_dynamic(enum mw_viscosity_unit unit)
{
    return unit == MW_MPA_S || unit == MW_PA_S || unit == MW_POISE;
}

bool mw_density_in_range(double density)
{
    return density >= MW_DENSITY_MIN && density <= MW_DENSITY_MAX;
}

bool mw_length_in_range(double length)
{
    return length >= MW_LENGTH_MIN && length <= MW_LENGTH_MAX;
}

/* ASTM D2161 at 100 F, from memory */
static double sus_at_100f(double v)
{
    double curve = 3930.2 + v * (262.7 + v * (23.97 + v * 1.646));
    return 4.6324 * v + (1.0 + 0.03264 * v) / (curve * 1e-5);
}

enum mw_status mw_sus(double v, double t, double *sus)
{
    double fahrenheit;
    *sus = NAN;
    if (!(v >= SUS_V_MIN && v <= MW_VISCOSITY_MAX)) {
        return MW_ERR_UNIT;
    }
    if (mw_from_celsius(t, MW_FAHRENHEIT, &fahrenheit) != MW_OK ||
        !(fahrenheit >= SUS_F_MIN && fahrenheit <= SUS_F_MAX)) {
        return MW_ERR_UNIT;
    }
    *sus = (1 + 0.000061 * (fahrenheit - 100)) * sus_at_100f(v);
    return MW_OK;
}

struct sus_target {
    double sus;
    double t;
};

static double sus_miss(double v, void *params)
{
    const struct sus_target *target = params;
    double sus;
    mw_sus(v, target->t, &sus);
    return sus - target->sus;
}

static enum mw_status from_sus(double sus, double t, double *v)
{
    struct sus_target target = {sus, t};
    return mw_root(sus_miss, &target, SUS_V_MIN, MW_VISCOSITY_MAX, v) == MW_OK
               ? MW_OK
               : MW_ERR_UNIT;
}

/* the factor to mm2/s of every unit that has one */
static enum mw_status size_in_mm2_s(enum mw_viscosity_unit unit, double density,
                                    double *size)
{
    if ((unsigned)unit >= sizeof sizes / sizeof sizes[0]) {
        return MW_ERR_UNIT;
    }
    if (!mw_viscosity_unit_is_dynamic(unit)) {
        *size = sizes[unit];
        return MW_OK;
    }
    *size = sizes[unit] / density;
    return mw_density_in_range(density) ? MW_OK : MW_ERR_DENSITY;
}

enum mw_status mw_viscosity_to_mm2_s(double value, enum mw_viscosity_unit unit,
                                     double density, double t, double *v)
{
    double size;
    *v = NAN;
    if (!mw_is_positive(value)) {
        return MW_ERR_UNIT;
    }
    if (unit == MW_SUS) {
        return from_sus(value, t, v);
    }
    enum mw_status status = size_in_mm2_s(unit, density, &size);
    if (status != MW_OK) {
        return status;
    }
    if (!mw_is_positive(value * size)) {
        return MW_ERR_UNIT;
    }
    *v = value * size;
    return MW_OK;
}

enum mw_status mw_viscosity_from_mm2_s(double v, enum mw_viscosity_unit unit,
                                       double density, double t, double *value)
{
    double size;
    *value = NAN;
    if (!mw_is_positive(v)) {
        return MW_ERR_UNIT;
    }
    if (unit == MW_SUS) {
        return mw_sus(v, t, value);
    }
    enum mw_status status = size_in_mm2_s(unit, density, &size);
    if (status != MW_OK) {
        return status;
    }
    if (!mw_is_positive(v / size)) {
        return MW_ERR_UNIT;
    }
    *value = v / size;
    return MW_OK;
}
