/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * provoke_measuring - the statuses and warnings of measuring, for
 * test_status.c, which defines PROVOKE and struct provoked.
 */
#ifndef PROVOKE_MEASURING_H
#define PROVOKE_MEASURING_H

#include "bench/ball_internal.h"
#include "bench/timing_internal.h"
#include "midweight.h"

PROVOKE(MW_ERR_UNCERTAINTY)
{
    struct provoked o = {.left = 0};
    o.status = mw_rectangular(-0.2385, &o.left);
    return o;
}

PROVOKE(MW_ERR_BUDGET)
{
    const struct mw_budget budget = {0};
    struct provoked o = {.left = 0};
    o.status = mw_budget_share(&budget, 0, &o.left);
    return o;
}

PROVOKE(MW_ERR_READINGS)
{
    const double time = 23.85;
    struct mw_type_a type_a = {0, 0, 0};
    enum mw_status status = mw_type_a_of(&time, 1, &type_a);
    return (struct provoked){status, type_a.mean};
}

PROVOKE(MW_ERR_CUP_TIME)
{
    struct provoked o = {.left = 0};
    o.status = mw_cup_viscosity(mw_cup_by_index(0), 29.9, &o.left);
    return o;
}

PROVOKE(MW_ERR_CALIBRATION)
{
    struct mw_cup cup;
    enum mw_status status = mw_cup_own(2.385, -1, &cup);
    return (struct provoked){status, cup.a};
}

/* a fall as on a bench, which raises no warning */
static struct mw_ball_run good_fall(void)
{
    return (struct mw_ball_run){0.00635, 0.0385, 0.1285, 0.195,
                                12.85,   7.81,   0.974,  MW_GRAVITY};
}

static struct provoked fallen(struct mw_ball_run run)
{
    struct mw_ball_result result = {0};
    enum mw_status status = mw_ball_viscosity(&run, &result);
    return (struct provoked){status, result.viscosity};
}

PROVOKE(MW_ERR_LENGTH)
{
    struct mw_ball_run run = good_fall();
    run.travel = 128.5;
    return fallen(run);
}

PROVOKE(MW_ERR_TUBE)
{
    struct provoked o = {.left = 0};
    o.status = mw_ball_wall(0.8001, &o.left);
    return o;
}

PROVOKE(MW_ERR_BALL)
{
    struct mw_ball_run run = good_fall();
    run.ball_density = run.density;
    return fallen(run);
}

PROVOKE(MW_ERR_CHOICE)
{
    struct mw_ball_run run = good_fall();
    struct mw_ball_choice choices[MW_CHOICES_MAX];
    size_t count = 2385;
    enum mw_status status = mw_ball_choose(&run, 0.2385, choices, &count);
    return (struct provoked){status, count == 0 ? NAN : (double)count};
}

PROVOKE(MW_ERR_GRAVITY)
{
    struct mw_ball_run run = good_fall();
    run.gravity = 981;
    return fallen(run);
}

PROVOKE(MW_ERR_REYNOLDS)
{
    struct mw_ball_run run = good_fall();
    run.time = 0.1;
    return fallen(run);
}

static struct provoked warned(struct mw_ball_run run)
{
    struct mw_ball_result result;
    check_ok(mw_ball_viscosity(&run, &result));
    return (struct provoked){.left = result.warnings};
}

PROVOKE(MW_WARN_NO_JET)
{
    const struct mw_cup_run runs[] = {{104, 20, 0}, {350, 71, 0}};
    struct mw_cup cup;
    double residual;
    unsigned warnings = 0;
    check_ok(mw_cup_calibrate(runs, 2, &cup, &residual, &warnings));
    return (struct provoked){.left = warnings};
}

PROVOKE(MW_WARN_REYNOLDS)
{
    struct mw_ball_run run = good_fall();
    run.travel = 2.385;
    run.depth = 2.6;
    return warned(run);
}

PROVOKE(MW_WARN_MARKS)
{
    struct mw_ball_run run = good_fall();
    run.depth = run.travel;
    return warned(run);
}

PROVOKE(MW_WARN_SHORT_TIME)
{
    struct mw_ball_run run = good_fall();
    run.time = 9.9;
    return warned(run);
}

PROVOKE(MW_WARN_APART)
{
    const struct mw_against_runs runs = {
        .known = 350, .known_time = 50, .time = 63.5}; /* a cup */
    double v;
    unsigned warnings = 0;
    check_ok(mw_against_viscosity(&runs, &v, &warnings));
    return (struct provoked){.left = warnings};
}

#endif
