/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* oils that differ a little from another */
#include <math.h>

#include "base/range.h"
#include "fluid/oil_internal.h"

double mw_energy_factor(double energy, double t_from, double t_to)
{
    return exp(
        energy / MW_GAS_CONSTANT *
        (1 / (t_to - MW_ABSOLUTE_ZERO) - 1 / (t_from - MW_ABSOLUTE_ZERO)));
}

enum mw_status mw_oil_scaled(const struct mw_oil *oil, double factor,
                             struct mw_oil *scaled)
{
    struct mw_point points[MW_POINTS_MAX];
    for (size_t i = 0; i < oil->count; i++) {
        points[i] = oil->points[i];
        points[i].viscosity *= factor;
    }
    enum mw_status status =
        mw_oil_make(oil->family, points, oil->count, oil->density, scaled);
    scaled->energy = oil->energy;
    return status;
}

enum mw_status mw_oil_moved(const struct mw_oil *oil, const double *ln_points,
                            double energy, struct mw_oil *moved)
{
    struct mw_point points[MW_POINTS_MAX];
    for (size_t i = 0; i < oil->count; i++) {
        points[i] = oil->points[i];
        points[i].viscosity *= exp(ln_points[i]);
    }
    if (oil->count == 1 && mw_viscosity_in_range(points[0].viscosity)) {
        /* nothing has to be fitted: a network asks this thousands of times */
        *moved = *oil;
        moved->points[0] = points[0];
        moved->energy += energy;
        return MW_OK;
    }
    enum mw_status status =
        mw_oil_make(oil->family, points, oil->count, oil->density, moved);
    moved->energy = oil->energy + energy;
    return status;
}
