/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "damper/match.h"

#include <gsl/gsl_pow_int.h>
#include <math.h>

#include "base/positive.h"
#include "base/range.h"
#include "damper/damper_internal.h"
#include "uncertainty/budget.h"

enum mw_status mw_hold_factor(double from, double to, double *factor)
{
    double root = sqrt(to / from);
    bool good =
        mw_is_positive(from) && mw_is_positive(to) && mw_is_positive(root);
    *factor = good ? root : NAN;
    return good ? MW_OK : MW_ERR_QUANTITY;
}

/* n d^4/Le; without Le where the ends are left out */
static enum mw_status openness(const struct mw_piston *piston, bool ends,
                               double *open)
{
    struct mw_piston checked = *piston;
    double length;
    if (!ends) {
        checked.thickness = piston->diameter; /* any that passes the check */
    }
    enum mw_status status = mw_piston_length(&checked, &length);
    *open = piston->holes * gsl_pow_4(piston->diameter) / (ends ? length : 1);
    return status;
}

enum mw_status mw_hold_piston(const struct mw_piston *from,
                              const struct mw_piston *to, double *factor,
                              unsigned *warnings)
{
    double open_from, open_to;
    bool ends = !(isnan(from->thickness) && isnan(to->thickness));
    *factor = NAN;
    enum mw_status status = openness(from, ends, &open_from);
    if (status == MW_OK) {
        status = openness(to, ends, &open_to);
    }
    if (status != MW_OK) {
        return status;
    }
    if (warnings && !ends) {
        *warnings |= MW_WARN_ENDS;
    }
    *factor = open_to / open_from;
    return MW_OK;
}

enum mw_status mw_hold_damper(const struct mw_damper *from,
                              const struct mw_damper *to, double *factor)
{
    double before, after;
    *factor = NAN;
    enum mw_status status = mw_damping(from, 1, &before); /* any viscosity */
    if (status == MW_OK) {
        status = mw_damping(to, 1, &after);
    }
    if (status == MW_OK) {
        *factor = before / after;
    }
    return status;
}

/* the same oil after; a mineral oil need not be known there */
static enum mw_status if_unchanged(const struct mw_oil *oil, double t,
                                   struct mw_hold *hold)
{
    struct mw_oil_state after;
    enum mw_status status = mw_oil_at(oil, t, &after);
    hold->unchanged = after.dynamic;
    hold->change = after.dynamic / hold->wanted - 1;
    hold->warnings |= after.warnings;
    return status == MW_ERR_ONE_POINT ? MW_OK : status;
}

/* the oil wanted, in mm2/s, and what is to be said of it */
static enum mw_status find_wanted(const struct mw_oil *oil, double t,
                                  struct mw_hold *hold)
{
    struct mw_oil other;
    struct mw_oil_state after;
    struct mw_point point = {.temperature = t};
    enum mw_status status = mw_oil_from_dynamic(oil->family, hold->wanted, t,
                                                oil->density, &point.viscosity);
    if (status == MW_OK) {
        status = mw_oil_make(oil->family, &point, 1, oil->density, &other);
    }
    if (status == MW_OK) {
        status = mw_oil_at(&other, t, &after);
        hold->viscosity = point.viscosity;
        hold->warnings |= after.warnings;
    }
    return status;
}

enum mw_status mw_hold_oil(const struct mw_oil *oil, double t_from, double t_to,
                           double factor, struct mw_hold *hold)
{
    const struct mw_hold nothing = {NAN, NAN, NAN, NAN, NAN, 0};
    struct mw_oil_state before;
    *hold = nothing;
    if (!mw_is_positive(factor)) {
        return MW_ERR_QUANTITY;
    }
    enum mw_status status = mw_oil_at(oil, t_from, &before);
    if (status == MW_OK) {
        hold->before = before.dynamic;
        hold->wanted = before.dynamic * factor;
        hold->warnings = before.warnings;
        status = if_unchanged(oil, t_to, hold);
    }
    if (status == MW_OK) {
        status = find_wanted(oil, t_to, hold);
    }
    if (status != MW_OK) {
        *hold = nothing;
    }
    return status;
}

enum mw_status mw_hold_with(const struct mw_oil *oil, double t, double wanted,
                            double *change, double *miss)
{
    struct mw_oil_state after;
    *change = *miss = NAN;
    if (!mw_is_positive(wanted)) {
        return MW_ERR_VISCOSITY;
    }
    enum mw_status status = mw_oil_at(oil, t, &after);
    double ratio = after.dynamic / wanted;
    if (status == MW_OK && !mw_is_positive(ratio)) {
        return MW_ERR_VISCOSITY;
    }
    if (status == MW_OK) {
        *change = ratio - 1;
        *miss = log(ratio);
    }
    return status;
}

enum mw_status mw_hold_rating(const struct mw_oil *oil, double viscosity,
                              double t, double t_rating, double *rating)
{
    double here, there;
    *rating = NAN;
    if (oil->family != MW_SILICONE) {
        return MW_ERR_NO_LAW;
    }
    enum mw_status status = mw_oil_viscosity(oil, t, &here);
    if (status == MW_OK) {
        status = mw_oil_viscosity(oil, t_rating, &there);
    }
    if (status != MW_OK) {
        return status;
    }
    double candidate = viscosity * (there / here);
    if (!mw_viscosity_in_range(viscosity) ||
        !mw_viscosity_in_range(candidate)) {
        return MW_ERR_VISCOSITY;
    }
    *rating = candidate;
    return MW_OK;
}

bool mw_change_matters(double change, double u)
{
    return fabs(log1p(change)) > MW_COVERAGE * u;
}
