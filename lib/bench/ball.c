/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench/ball.h"

#include <gsl/gsl_pow_int.h>
#include <math.h>
#include <stdbool.h>
#include <stddef.h>

#include "base/positive.h"
#include "base/range.h"
#include "base/root.h"
#include "bench/ball_internal.h"
#include "bench/timing.h"
#include "fluid/units.h"
#include "uncertainty/budget_internal.h"

#define FAXEN_X_MAX 0.32

/* Schiller and Naumann: drag grows by 1 + 0.15 Re^0.687 */
#define INERTIA       0.15
#define INERTIA_POWER 0.687

#define MPA_S     1000.0 /* in one Pa.s */
#define KG_PER_M3 1000.0 /* in one g/ml */

static double faxen(double x)
{
    return 1 - 2.10444 * x + 2.08877 * gsl_pow_3(x) - 0.94813 * gsl_pow_5(x);
}

static double haberman_sayre(double x)
{
    return (1 - 2.1050 * x + 2.0865 * gsl_pow_3(x) - 1.7068 * gsl_pow_5(x) +
            0.72603 * gsl_pow_6(x)) /
           (1 - 0.75857 * gsl_pow_5(x));
}

enum mw_status mw_ball_wall(double x, double *factor)
{
    *factor = NAN;
    if (!(x >= 0 && x <= MW_BALL_X_MAX)) {
        return MW_ERR_TUBE;
    }
    *factor = x <= FAXEN_X_MAX ? faxen(x) : haberman_sayre(x);
    return MW_OK;
}

static bool lengths_are_good(const struct mw_ball_run *run)
{
    bool tube = mw_length_in_range(run->tube) || run->tube == INFINITY;
    bool depth = isnan(run->depth) ||
                 (mw_length_in_range(run->depth) && run->depth >= run->travel);
    return mw_length_in_range(run->diameter) &&
           mw_length_in_range(run->travel) && tube && depth;
}

/* all but the time; on MW_OK also F */
static enum mw_status check(const struct mw_ball_run *run, double *wall)
{
    *wall = NAN;
    if (!lengths_are_good(run)) {
        return MW_ERR_LENGTH;
    }
    if (!mw_density_in_range(run->density)) {
        return MW_ERR_DENSITY;
    }
    if (!(run->ball_density > run->density &&
          run->ball_density <= MW_BALL_DENSITY_MAX)) {
        return MW_ERR_BALL;
    }
    if (!(run->gravity >= MW_GRAVITY_MIN && run->gravity <= MW_GRAVITY_MAX)) {
        return MW_ERR_GRAVITY;
    }
    return mw_ball_wall(run->diameter / run->tube, wall);
}

/* Stokes: dynamic viscosity in Pa.s times speed in m/s */
static double stokes_product(const struct mw_ball_run *run)
{
    double heavier = (run->ball_density - run->density) * KG_PER_M3;
    return run->gravity * gsl_pow_2(run->diameter) * heavier / 18;
}

static double reynolds(const struct mw_ball_run *run, double speed,
                       double pascal_s)
{
    return run->density * KG_PER_M3 * speed * run->diameter / pascal_s;
}

/* What inertia adds to the drag, for the Re there would be without it. */
static double inertia(double wall, double re)
{
    return INERTIA * wall * pow(re, INERTIA_POWER);
}

/* With q = mu/(S F) the law is q + c q^(1 - 0.687) = 1: rising, and its root
 * is between 0 and 1. */
static double viscosity_miss(double q, void *params)
{
    const double *c = params;
    return q + *c * pow(q, 1 - INERTIA_POWER) - 1;
}

/* With p the speed over that without inertia it is p + c p^(1 + 0.687) = 1. */
static double speed_miss(double p, void *params)
{
    const double *c = params;
    return p + *c * pow(p, 1 + INERTIA_POWER) - 1;
}

static unsigned notes_of(const struct mw_ball_run *run, double re)
{
    unsigned warnings = 0;
    if (re > MW_BALL_RE_TESTED) {
        warnings |= MW_WARN_REYNOLDS;
    }
    /* the marks are midway: each has half of the spare depth */
    if (isfinite(run->tube) && run->depth - run->travel < run->tube) {
        warnings |= MW_WARN_MARKS;
    }
    if (run->time < MW_SHORT_TIME) {
        warnings |= MW_WARN_SHORT_TIME;
    }
    return warnings;
}

/* the result of a checked run; MW_ERR_REYNOLDS or MW_ERR_VISCOSITY */
static enum mw_status solve(const struct mw_ball_run *run, double wall,
                            struct mw_ball_result *result)
{
    double q;
    double speed = run->travel / run->time;
    double stokes = stokes_product(run) / speed;
    double c = inertia(wall, reynolds(run, speed, stokes * wall));
    /* without a root q is NaN, and so is Re */
    mw_root(viscosity_miss, &c, 0, 1, &q);
    double mu = stokes * wall * q;
    double re = reynolds(run, speed, mu);
    double v = mu * MPA_S / run->density;
    if (!(re <= MW_BALL_RE_MAX)) {
        return MW_ERR_REYNOLDS;
    }
    if (!mw_viscosity_in_range(v)) {
        return MW_ERR_VISCOSITY;
    }
    *result = (struct mw_ball_result){.viscosity = v,
                                      .dynamic = mu * MPA_S,
                                      .stokes = stokes * MPA_S,
                                      .wall = wall,
                                      .reynolds = re,
                                      .rate = 3 * speed / run->diameter,
                                      .warnings = notes_of(run, re)};
    return MW_OK;
}

enum mw_status mw_ball_viscosity(const struct mw_ball_run *run,
                                 struct mw_ball_result *result)
{
    double wall;
    *result = (struct mw_ball_result){NAN, NAN, NAN, NAN, NAN, NAN, 0};
    enum mw_status status = check(run, &wall);
    if (status != MW_OK) {
        return status;
    }
    if (!mw_is_positive(run->time)) {
        return MW_ERR_QUANTITY;
    }
    return solve(run, wall, result);
}

enum mw_status mw_ball_time(const struct mw_ball_run *run, double v,
                            double *time)
{
    double wall, p;
    *time = NAN;
    enum mw_status status = check(run, &wall);
    if (status != MW_OK) {
        return status;
    }
    if (!mw_viscosity_in_range(v)) {
        return MW_ERR_VISCOSITY;
    }
    double mu = v * run->density / MPA_S;
    double slow = stokes_product(run) * wall / mu;
    double c = inertia(wall, reynolds(run, slow, mu));
    mw_root(speed_miss, &c, 0, 1, &p);
    if (!(reynolds(run, slow * p, mu) <= MW_BALL_RE_MAX)) {
        return MW_ERR_REYNOLDS;
    }
    *time = run->travel / (slow * p);
    return MW_OK;
}

/* a run of which one input is varied */
struct varied {
    struct mw_ball_run run;
    double *input;
};

static double ln_v(double input, void *params)
{
    struct varied *varied = params;
    struct mw_ball_result result;
    double kept = *varied->input;
    *varied->input = input;
    mw_ball_viscosity(&varied->run, &result);
    *varied->input = kept;
    return log(result.viscosity);
}

static enum mw_status add_inputs(const struct mw_ball_run *run,
                                 const struct mw_ball_uncertainty *u,
                                 struct mw_budget *budget)
{
    struct varied varied = {.run = *run};
    struct mw_ball_run *of = &varied.run;
    const struct {
        const char *name;
        double *input;
        double u;
    } inputs[] = {
        {"ball diameter", &of->diameter, u->diameter},
        {"travel", &of->travel, u->travel},
        {"time", &of->time, u->time},
        {"ball density", &of->ball_density, u->ball_density},
        {"oil density", &of->density, u->density},
        {"gravity", &of->gravity, u->gravity},
        {"tube diameter", &of->tube, u->tube},
    };
    size_t count = sizeof inputs / sizeof inputs[0];
    count -= isinf(run->tube) ? 1 : 0; /* the last: there is no wall */
    enum mw_status status = MW_OK;
    for (size_t i = 0; i < count && status == MW_OK; i++) {
        varied.input = inputs[i].input;
        status = mw_budget_add_numeric(budget, inputs[i].name, *inputs[i].input,
                                       inputs[i].u, ln_v, &varied);
    }
    return status;
}

enum mw_status mw_ball_budget(const struct mw_ball_run *run,
                              const struct mw_ball_uncertainty *u,
                              struct mw_budget *budget)
{
    struct mw_ball_result result;
    struct mw_budget grown = *budget;
    enum mw_status status = mw_ball_viscosity(run, &result);
    if (status == MW_OK) {
        status = add_inputs(run, u, &grown);
    }
    if (status == MW_OK) {
        status = mw_budget_add(&grown, "ball's law", u->law, 1);
    }
    if (status == MW_OK) {
        *budget = grown;
    }
    return status;
}
