/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/range.h"

#include <math.h>

bool mw_viscosity_in_range(double v)
{
    return v >= MW_VISCOSITY_MIN && v <= MW_VISCOSITY_MAX;
}

bool mw_temperature_in_range(double t)
{
    return t > MW_ABSOLUTE_ZERO && t <= MW_TEMPERATURE_MAX;
}

bool mw_same_temperature(double t, double u)
{
    return fabs(t - u) <= 1e-6;
}
