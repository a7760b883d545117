/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "fluid/silicone.h"

#include <math.h>
#include <stdbool.h>
#include <stddef.h>

#include "base/range.h"
#include "fluid/units.h"

/* the law's constant (source in the header) */
#define LAW 5.892

/* per degree, from memory */
#define EXPANSION 9.5e-4

static const struct {
    double v25;       /* mm2/s at 25 C */
    double density25; /* g/ml at 25 C */
} densities[] = {
    {9.8, 0.9315}, /* read: CoolProp's tabulated liquid, 20 and 40 C rows */
    {50, 0.960},   /* read in print */
    {100, 0.964},  /* read in print */
    {350, 0.969},  /* from memory, like all that follow */
    {500, 0.970},  {1000, 0.971}, {10000, 0.974}, {100000, 0.977},
};

enum { ROWS = sizeof densities / sizeof densities[0] };

static bool in_law(double t)
{
    return t >= MW_SILICONE_T_MIN && t <= MW_SILICONE_T_MAX;
}

static double factor_at(double t)
{
    return exp(LAW * (MW_SILICONE_RATED - t) / (t - MW_ABSOLUTE_ZERO));
}

enum mw_status mw_silicone_factor(double t, double *factor)
{
    *factor = in_law(t) ? factor_at(t) : NAN;
    return in_law(t) ? MW_OK : MW_ERR_LAW_RANGE;
}

enum mw_status mw_silicone_at(double v_from, double t_from, double t_to,
                              double *v_to)
{
    *v_to = NAN;
    if (!mw_viscosity_in_range(v_from)) {
        return MW_ERR_VISCOSITY;
    }
    if (!in_law(t_from) || !in_law(t_to)) {
        return MW_ERR_LAW_RANGE;
    }
    /* the ratio first: it is 1 to the last digit when nothing changes */
    double v = v_from * (factor_at(t_to) / factor_at(t_from));
    if (!mw_viscosity_in_range(v)) {
        return MW_ERR_VISCOSITY;
    }
    *v_to = v;
    return MW_OK;
}

enum mw_status mw_silicone_slope(double t, double *slope)
{
    double kelvin = t - MW_ABSOLUTE_ZERO;
    double rated = MW_SILICONE_RATED - MW_ABSOLUTE_ZERO;
    *slope = in_law(t) ? -LAW * rated / (kelvin * kelvin) : NAN;
    return in_law(t) ? MW_OK : MW_ERR_LAW_RANGE;
}

static double tabulated_density(double v25)
{
    size_t above = 1;
    while (above < ROWS - 1 && v25 > densities[above].v25) {
        above++;
    }
    double low = log(densities[above - 1].v25);
    double high = log(densities[above].v25);
    double part = fmin(fmax((log(v25) - low) / (high - low), 0), 1);
    return densities[above - 1].density25 * (1 - part) +
           densities[above].density25 * part;
}

enum mw_status mw_silicone_density(double v25, double t, double *density,
                                   unsigned *warnings)
{
    *density = NAN;
    if (!mw_viscosity_in_range(v25)) {
        return MW_ERR_VISCOSITY;
    }
    bool tabulated = v25 >= densities[0].v25 && v25 <= densities[ROWS - 1].v25;
    if (warnings && !tabulated) {
        *warnings |= MW_WARN_DENSITY;
    }
    return mw_silicone_expand(tabulated_density(v25), t, density);
}

enum mw_status mw_silicone_expand(double density25, double t, double *density)
{
    *density = NAN;
    if (!mw_density_in_range(density25)) {
        return MW_ERR_DENSITY;
    }
    if (!in_law(t)) {
        return MW_ERR_LAW_RANGE;
    }
    *density = density25 / (1 + EXPANSION * (t - MW_SILICONE_RATED));
    return MW_OK;
}
