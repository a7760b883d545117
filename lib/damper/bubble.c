/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "damper/bubble.h"

#include <gsl/gsl_math.h>
#include <gsl/gsl_pow_int.h>
#include <math.h>
#include <stddef.h>

#include "base/positive.h"
#include "base/range.h"
#include "damper/bubble_internal.h"

#define M2_S_PER_MM2_S 1e-6

/* u = g d^2/(divisor v); sources in the header */
static const double divisors[] = {
    [MW_BUBBLE_RIGID] = 18,
    [MW_BUBBLE_CLEAN] = 12,
};

enum { SKINS = sizeof divisors / sizeof divisors[0] };

enum mw_status mw_bubble_speed(double v, double diameter,
                               enum mw_bubble_skin skin, double *speed)
{
    *speed = NAN;
    if (!mw_viscosity_in_range(v)) {
        return MW_ERR_VISCOSITY;
    }
    if ((unsigned)skin >= SKINS) {
        return MW_ERR_UNIT;
    }
    if (!mw_length_in_range(diameter)) {
        return MW_ERR_LENGTH;
    }
    *speed = MW_GRAVITY * gsl_pow_2(diameter) /
             (divisors[skin] * v * M2_S_PER_MM2_S);
    return MW_OK;
}

enum mw_status mw_bubble_reynolds(double v, double diameter,
                                  enum mw_bubble_skin skin, double *reynolds)
{
    double speed;
    *reynolds = NAN;
    enum mw_status status = mw_bubble_speed(v, diameter, skin, &speed);
    if (status != MW_OK) {
        return status;
    }
    *reynolds = speed * diameter / (v * M2_S_PER_MM2_S);
    return MW_OK;
}

enum mw_status mw_bubble_growth(double pressure, double *growth)
{
    bool good = mw_is_positive(pressure);
    *growth = good ? cbrt(MW_STANDARD_ATMOSPHERE_KPA / pressure) : NAN;
    return good ? MW_OK : MW_ERR_PRESSURE;
}

enum mw_status mw_pressure_of_gauge(double gauge, double *pressure)
{
    double absolute = MW_STANDARD_ATMOSPHERE_KPA + gauge;
    bool good = mw_is_positive(absolute);
    *pressure = good ? absolute : NAN;
    return good ? MW_OK : MW_ERR_PRESSURE;
}

static unsigned warnings_of(double reynolds, double pressure)
{
    unsigned warnings = 0;
    if (reynolds > MW_BUBBLE_REYNOLDS_MAX) {
        warnings |= MW_WARN_FAST_BUBBLE;
    }
    if (pressure < MW_PRESSURE_LOW) {
        warnings |= MW_WARN_LOW_PRESSURE;
    }
    return warnings;
}

enum mw_status mw_settle(double v, double diameter, double depth,
                         double pressure, struct mw_settle *settle)
{
    double growth, speed, reynolds = NAN;
    *settle = (struct mw_settle){NAN, NAN, NAN, NAN, NAN, 0};
    enum mw_status status = mw_bubble_growth(pressure, &growth);
    if (status == MW_OK) {
        status = mw_bubble_speed(v, diameter, MW_BUBBLE_RIGID, &speed);
    }
    if (status == MW_OK) {
        status = mw_bubble_reynolds(v, diameter, MW_BUBBLE_CLEAN, &reynolds);
    }
    if (status == MW_OK && !mw_length_in_range(depth)) {
        status = MW_ERR_LENGTH;
    }
    /* the speed grows with the square of the diameter, Re with its cube */
    reynolds *= gsl_pow_3(growth);
    if (status == MW_OK && !isfinite(reynolds)) {
        status = MW_ERR_PRESSURE;
    }
    if (status != MW_OK) {
        return status;
    }
    double still = depth / speed;
    double seconds = still / gsl_pow_2(growth);
    *settle = (struct mw_settle){.seconds = seconds,
                                 .clean_seconds = seconds *
                                                  divisors[MW_BUBBLE_CLEAN] /
                                                  divisors[MW_BUBBLE_RIGID],
                                 .still_seconds = still,
                                 .growth = growth,
                                 .reynolds = reynolds,
                                 .warnings = warnings_of(reynolds, pressure)};
    return MW_OK;
}

enum mw_status mw_batch_depth(double batch, double *depth)
{
    *depth = NAN;
    if (!mw_is_positive(batch)) {
        return MW_ERR_AMOUNT;
    }
    /* pi/4 d^2 d = batch, 1 ml = 1e-6 m3 */
    *depth = cbrt(4 * batch * 1e-6 / M_PI);
    return MW_OK;
}
