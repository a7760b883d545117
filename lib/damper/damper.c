/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "damper/damper.h"

#include <gsl/gsl_math.h>
#include <gsl/gsl_pow_int.h>
#include <math.h>

#include "base/positive.h"
#include "damper/damper_internal.h"
#include "fluid/units.h"

/* of the end term, in hole diameters (source in the header) */
#define END_TERM (3 * M_PI / 16)

/* m of the kinetic pressure m rho V^2, from memory */
#define KINETIC 1.16

#define PA_S_PER_MPA_S 1e-3
#define KG_M3_PER_G_ML 1e3
#define M2_S_PER_MM2_S 1e-6

static double disc(double diameter)
{
    return M_PI / 4 * gsl_pow_2(diameter);
}

/* a result outside the range of a double is blamed on the input that fault
 * names */
static enum mw_status accept(double candidate, enum mw_status fault,
                             double *result)
{
    *result = mw_is_positive(candidate) ? candidate : NAN;
    return mw_is_positive(candidate) ? MW_OK : fault;
}

enum mw_status mw_pressure_drop(double dynamic, double diameter, double length,
                                double flow, double *drop)
{
    *drop = NAN;
    if (!mw_is_positive(dynamic)) {
        return MW_ERR_VISCOSITY;
    }
    if (!mw_length_in_range(diameter) || !mw_length_in_range(length)) {
        return MW_ERR_LENGTH;
    }
    if (!mw_is_positive(flow)) {
        return MW_ERR_QUANTITY;
    }
    return accept(128 * dynamic * PA_S_PER_MPA_S * length * flow /
                      (M_PI * gsl_pow_4(diameter)),
                  MW_ERR_QUANTITY, drop);
}

enum mw_status mw_piston_length(const struct mw_piston *piston, double *length)
{
    *length = NAN;
    if (piston->holes < 1 || !mw_length_in_range(piston->diameter) ||
        !mw_length_in_range(piston->thickness)) {
        return MW_ERR_LENGTH;
    }
    *length = piston->thickness + END_TERM * piston->diameter;
    return MW_OK;
}

enum mw_status mw_damper_area(const struct mw_damper *damper, double *area)
{
    bool shaft = damper->shaft == 0 || mw_length_in_range(damper->shaft);
    *area = NAN;
    if (!mw_length_in_range(damper->bore) || !shaft) {
        return MW_ERR_LENGTH;
    }
    return accept(disc(damper->bore) - disc(damper->shaft), MW_ERR_LENGTH,
                  area);
}

/* the piston fits its tube, and its holes fit the piston */
static enum mw_status measure(const struct mw_damper *damper, double *area,
                              double *holes, double *length)
{
    enum mw_status status = mw_damper_area(damper, area);
    if (status == MW_OK) {
        status = mw_piston_length(&damper->piston, length);
    }
    *holes = damper->piston.holes * disc(damper->piston.diameter);
    bool fits = *holes < *area && damper->gap >= 0 &&
                damper->gap <= damper->bore * MW_GAP_MAX;
    return status == MW_OK && !fits ? MW_ERR_LENGTH : status;
}

/* flow past the piston over that of its holes, of Le */
static double leak_of(const struct mw_damper *damper, double length)
{
    const struct mw_piston *piston = &damper->piston;
    double past =
        M_PI * damper->bore * gsl_pow_3(damper->gap) / (12 * piston->thickness);
    double through =
        piston->holes * M_PI * gsl_pow_4(piston->diameter) / (128 * length);
    return past / through;
}

enum mw_status mw_damper_leak(const struct mw_damper *damper, double *leak)
{
    double area, holes, length;
    *leak = NAN;
    enum mw_status status = measure(damper, &area, &holes, &length);
    if (status == MW_OK) {
        *leak = leak_of(damper, length);
    }
    return status;
}

enum mw_status mw_damping(const struct mw_damper *damper, double dynamic,
                          double *damping)
{
    double area, holes, length, drop = NAN;
    const struct mw_piston *piston = &damper->piston;
    *damping = NAN;
    enum mw_status status = measure(damper, &area, &holes, &length);
    if (status == MW_OK) {
        /* at 1 m/s the piston pushes its area, each hole taking a part */
        status = mw_pressure_drop(dynamic, piston->diameter, length,
                                  area / piston->holes, &drop);
    }
    if (status == MW_ERR_QUANTITY) { /* the flow of 1 m/s is none to refuse */
        status = MW_ERR_VISCOSITY;
    }
    return status == MW_OK ? accept(drop * area / (1 + leak_of(damper, length)),
                                    MW_ERR_VISCOSITY, damping)
                           : status;
}

enum mw_status mw_damping_ratio(double damping, double spring, double mass,
                                double *ratio)
{
    double zeta = damping / (2 * sqrt(spring) * sqrt(mass));
    bool good = mw_is_positive(damping) && mw_is_positive(spring) &&
                mw_is_positive(mass) && mw_is_positive(zeta);
    *ratio = good ? zeta : NAN;
    return good ? MW_OK : MW_ERR_QUANTITY;
}

static struct mw_damper_state state_of(const struct mw_damper *damper,
                                       double damping, double kinematic,
                                       double density, double speed)
{
    struct mw_damper_state state = {.viscous = damping * speed};
    double area, holes, length;
    measure(damper, &area, &holes, &length);
    state.hole_speed = speed * area / holes / (1 + leak_of(damper, length));
    state.reynolds = state.hole_speed * damper->piston.diameter / kinematic;
    state.wall_rate = 8 * state.hole_speed / damper->piston.diameter;
    state.kinetic = KINETIC * density * gsl_pow_2(state.hole_speed) * area;
    state.kinetic_share = state.kinetic / (state.viscous + state.kinetic);
    if (state.kinetic_share > MW_KINETIC_SHARE_MAX) {
        state.warnings |= MW_WARN_KINETIC;
    }
    if (state.reynolds > MW_LAMINAR_MAX) {
        state.warnings |= MW_WARN_TURBULENT;
    }
    return state;
}

enum mw_status mw_damper_at(const struct mw_damper *damper, double dynamic,
                            double density, double speed,
                            struct mw_damper_state *state)
{
    const struct mw_damper_state nothing = {NAN, NAN, NAN, NAN, NAN, NAN, 0};
    double damping;
    *state = nothing;
    enum mw_status status = mw_damping(damper, dynamic, &damping);
    if (status == MW_OK && !mw_density_in_range(density)) {
        status = MW_ERR_DENSITY;
    }
    if (status == MW_OK && !mw_is_positive(speed)) {
        status = MW_ERR_QUANTITY;
    }
    if (status != MW_OK) {
        return status;
    }
    *state = state_of(damper, damping, dynamic / density * M2_S_PER_MM2_S,
                      density * KG_M3_PER_G_ML, speed);
    /* a speed that carries a force out of the range of a double is none */
    if (!isfinite(state->kinetic_share) || !isfinite(state->reynolds)) {
        *state = nothing;
        return MW_ERR_QUANTITY;
    }
    return MW_OK;
}
