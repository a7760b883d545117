/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench/relative.h"

#include <gsl/gsl_pow_int.h>
#include <math.h>
#include <stdbool.h>
#include <stddef.h>

#include "base/positive.h"
#include "base/range.h"
#include "bench/ball.h"
#include "bench/timing.h"
#include "fluid/units.h"

static bool has_jet(const struct mw_against_runs *runs)
{
    return runs->how == MW_AGAINST_CUP || runs->how == MW_AGAINST_SYRINGE;
}

void mw_against_usual_jet(double *B, double *u)
{
    *B = MW_JET_MOST / 2;
    *u = MW_JET_MOST / 2 / sqrt(3);
}

static enum mw_status check(const struct mw_against_runs *runs)
{
    if (!mw_viscosity_in_range(runs->known)) {
        return MW_ERR_VISCOSITY;
    }
    if (!mw_is_positive(runs->known_time) || !mw_is_positive(runs->time) ||
        (has_jet(runs) && !(runs->jet >= 0 && isfinite(runs->jet)))) {
        return MW_ERR_QUANTITY;
    }
    if (runs->how != MW_AGAINST_BALL) {
        return MW_OK;
    }
    if (!mw_density_in_range(runs->known_density) ||
        !mw_density_in_range(runs->density)) {
        return MW_ERR_DENSITY;
    }
    bool sinks = runs->ball_density > runs->known_density &&
                 runs->ball_density > runs->density &&
                 runs->ball_density <= MW_BALL_DENSITY_MAX;
    return sinks ? MW_OK : MW_ERR_BALL;
}

/* what the oil's density does to v: (rho_ball - rho)/rho */
static double drive(double ball_density, double density)
{
    return (ball_density - density) / density;
}

/* of v for each mm2 of B */
static double by_jet(const struct mw_against_runs *runs)
{
    return has_jet(runs) ? runs->time / runs->known_time / runs->known_time -
                               1 / runs->time
                         : 0;
}

static double law(const struct mw_against_runs *runs)
{
    double v = runs->known * runs->time / runs->known_time;
    if (runs->how != MW_AGAINST_BALL) {
        return has_jet(runs) ? v + runs->jet * by_jet(runs) : v;
    }
    return v * drive(runs->ball_density, runs->density) /
           drive(runs->ball_density, runs->known_density);
}

static unsigned notes_of(const struct mw_against_runs *runs)
{
    double shorter = fmin(runs->time, runs->known_time);
    double longer = fmax(runs->time, runs->known_time);
    double most = has_jet(runs) ? MW_AGAINST_JET_RATIO : MW_AGAINST_SLOW_RATIO;
    unsigned warnings = 0;
    if (longer / shorter > most) {
        warnings |= MW_WARN_APART;
    }
    if (shorter < MW_SHORT_TIME) {
        warnings |= MW_WARN_SHORT_TIME;
    }
    return warnings;
}

enum mw_status mw_against_viscosity(const struct mw_against_runs *runs,
                                    double *v, unsigned *warnings)
{
    *v = NAN;
    enum mw_status status = check(runs);
    if (status != MW_OK) {
        return status;
    }
    if (!mw_viscosity_in_range(law(runs))) {
        return MW_ERR_VISCOSITY;
    }
    *v = law(runs);
    if (warnings) {
        *warnings |= notes_of(runs);
    }
    return MW_OK;
}

/* each input's uncertainty and derivative of ln v; the densities come last */
static enum mw_status add_inputs(const struct mw_against_runs *runs,
                                 const struct mw_against_uncertainty *u,
                                 struct mw_budget *budget)
{
    bool jet = has_jet(runs), ball = runs->how == MW_AGAINST_BALL;
    double heavier = runs->ball_density - runs->density;
    double known_heavier = runs->ball_density - runs->known_density;
    double plain = runs->known * runs->time / runs->known_time;
    double v = law(runs), b = jet ? runs->jet : 0;
    double part = ball ? 1 : plain / v, known_time = runs->known_time;
    const struct mw_contribution inputs[] = {
        {"known oil", u->known, part},
        {"time of the known oil", u->known_time,
         -part / known_time - 2 * b * runs->time / gsl_pow_3(known_time) / v},
        {"time", u->time,
         part / runs->time +
             b * (gsl_pow_2(1 / known_time) + gsl_pow_2(1 / runs->time)) / v},
        {"jet", u->jet, by_jet(runs) / v},
        {"density of the known oil", u->known_density,
         1 / runs->known_density + 1 / known_heavier},
        {"oil density", u->density, -1 / runs->density - 1 / heavier},
        {"ball density", u->ball_density, 1 / heavier - 1 / known_heavier},
    };
    size_t count = ball ? 7 : 4;
    enum mw_status status = MW_OK;
    for (size_t i = 0; i < count && status == MW_OK; i++) {
        if (i == 3 && !jet) {
            continue;
        }
        status = mw_budget_add(budget, inputs[i].name, inputs[i].uncertainty,
                               inputs[i].sensitivity);
    }
    return status;
}

enum mw_status mw_against_budget(const struct mw_against_runs *runs,
                                 const struct mw_against_uncertainty *u,
                                 struct mw_budget *budget)
{
    double v;
    struct mw_budget grown = *budget;
    enum mw_status status = mw_against_viscosity(runs, &v, NULL);
    if (status == MW_OK) {
        status = add_inputs(runs, u, &grown);
    }
    if (status == MW_OK) {
        *budget = grown;
    }
    return status;
}
