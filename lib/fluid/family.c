/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "fluid/family.h"

#include <gsl/gsl_const_mksa.h>
#include <math.h>
#include <stdbool.h>

#include "base/range.h"
#include "fluid/chart.h"
#include "fluid/units.h"

/* kJ/mol; where they come from is in the header */
#define SILICONE_LEAST   12.0
#define SILICONE_MOST    16.5
#define PETROLEUM_LEAST  22.0
#define UNCERTAINTY_MOST 1.5
/* a fraction: how good a usual label is, from memory */
#define LABEL_LIMIT 0.05
/* degC: the two temperatures that petroleum is rated at */
#define RATED_COLD 40.0
#define RATED_WARM 100.0

static enum mw_status check_points(const struct mw_point *points, size_t count)
{
    if (count < 1 || count > MW_POINTS_MAX) {
        return MW_ERR_POINTS;
    }
    for (size_t i = 0; i < count; i++) {
        if (!mw_viscosity_in_range(points[i].viscosity)) {
            return MW_ERR_VISCOSITY;
        }
        if (!mw_temperature_in_range(points[i].temperature)) {
            return MW_ERR_TEMPERATURE;
        }
    }
    return MW_OK;
}

static double inverse_kelvin(const struct mw_point *point)
{
    return 1 / (point->temperature - MW_ABSOLUTE_ZERO);
}

/* E from the coldest and the warmest point decides */
static enum mw_status judge(const struct mw_point *cold,
                            const struct mw_point *warm, enum mw_family *family)
{
    const double gas = GSL_CONST_MKSA_MOLAR_GAS * 1e-3; /* kJ/(mol K) */
    double span = inverse_kelvin(cold) - inverse_kelvin(warm);
    double energy = gas * log(cold->viscosity / warm->viscosity) / span;
    /* two labels with rectangular limits */
    double uncertainty = gas * sqrt(2.0 / 3) * log1p(LABEL_LIMIT) / span;
    bool rated = mw_same_temperature(cold->temperature, RATED_COLD) &&
                 mw_same_temperature(warm->temperature, RATED_WARM);
    if (!(energy > 0)) {
        return MW_ERR_NOT_DECREASING;
    }
    if (!(uncertainty <= UNCERTAINTY_MOST)) {
        return MW_ERR_NO_FAMILY;
    }
    if (energy >= PETROLEUM_LEAST || (rated && energy > SILICONE_MOST)) {
        *family = MW_MINERAL;
        return MW_OK;
    }
    if (energy >= SILICONE_LEAST && energy <= SILICONE_MOST && !rated) {
        *family = MW_SILICONE;
        return MW_OK;
    }
    return MW_ERR_NO_FAMILY;
}

enum mw_status mw_family_from_points(const struct mw_point *points,
                                     size_t count, enum mw_family *family)
{
    enum mw_status status = check_points(points, count);
    if (status != MW_OK) {
        return status;
    }
    if (count == 1) {
        *family = MW_SILICONE;
        return MW_OK;
    }
    const struct mw_point *cold = points, *warm = points;
    for (size_t i = 1; i < count; i++) {
        cold = points[i].temperature < cold->temperature ? &points[i] : cold;
        warm = points[i].temperature > warm->temperature ? &points[i] : warm;
    }
    return mw_same_temperature(cold->temperature, warm->temperature)
               ? MW_ERR_POINTS
               : judge(cold, warm, family);
}
