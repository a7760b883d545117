/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * provoke_measuring - the statuses and notes of measuring, for test_status.c,
 * which defines PROVOKE and struct outcome.
 */
#ifndef PROVOKE_MEASURING_H
#define PROVOKE_MEASURING_H

#include "midweight.h"

PROVOKE(MW_ERR_UNCERTAINTY)
{
    struct outcome o = {.left = 0};
    o.status = mw_rectangular(-0.2385, &o.left);
    return o;
}

PROVOKE(MW_ERR_BUDGET)
{
    const struct mw_budget budget = {0};
    struct outcome o = {.left = 0};
    o.status = mw_budget_share(&budget, 0, &o.left);
    return o;
}

PROVOKE(MW_ERR_READINGS)
{
    const double time = 23.85;
    struct mw_scatter scatter = {0, 0, 0};
    enum mw_status status = mw_scatter_of(&time, 1, &scatter);
    return (struct outcome){status, scatter.mean};
}

PROVOKE(MW_ERR_CUP_TIME)
{
    struct outcome o = {.left = 0};
    o.status = mw_cup_viscosity(mw_cup_by_index(0), 29.9, &o.left);
    return o;
}

PROVOKE(MW_ERR_CALIBRATION)
{
    struct mw_cup cup;
    enum mw_status status = mw_cup_own(2.385, -1, &cup);
    return (struct outcome){status, cup.a};
}

/* a fall as at the bench, which has no notes */
static struct mw_ball_run good_fall(void)
{
    return (struct mw_ball_run){0.00635, 0.0385, 0.1285, 0.195,
                                12.85,   7.81,   0.974,  MW_GRAVITY};
}

static struct outcome fallen(struct mw_ball_run run)
{
    struct mw_ball_result result = {0};
    enum mw_status status = mw_ball_viscosity(&run, &result);
    return (struct outcome){status, result.viscosity};
}

PROVOKE(MW_ERR_LENGTH)
{
    struct mw_ball_run run = good_fall();
    run.travel = 128.5;
    return fallen(run);
}

PROVOKE(MW_ERR_TUBE)
{
    struct outcome o = {.left = 0};
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
    return (struct outcome){status, count == 0 ? NAN : (double)count};
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

static struct outcome noted(struct mw_ball_run run)
{
    struct mw_ball_result result;
    check_ok(mw_ball_viscosity(&run, &result));
    return (struct outcome){.left = result.notes};
}

PROVOKE(MW_NOTE_NO_JET)
{
    const struct mw_cup_run runs[] = {{104, 20}, {350, 71}};
    struct mw_cup cup;
    double residual;
    unsigned notes = 0;
    check_ok(mw_cup_calibrate(runs, 2, &cup, &residual, &notes));
    return (struct outcome){.left = notes};
}

PROVOKE(MW_NOTE_REYNOLDS)
{
    struct mw_ball_run run = good_fall();
    run.travel = 2.385;
    run.depth = 2.6;
    return noted(run);
}

PROVOKE(MW_NOTE_MARKS)
{
    struct mw_ball_run run = good_fall();
    run.depth = run.travel;
    return noted(run);
}

PROVOKE(MW_NOTE_SHORT_TIME)
{
    struct mw_ball_run run = good_fall();
    run.time = 9.9;
    return noted(run);
}

PROVOKE(MW_NOTE_APART)
{
    const struct mw_against_runs runs = {
        .known = 350, .known_time = 50, .time = 63.5}; /* a cup */
    double v;
    unsigned notes = 0;
    check_ok(mw_against_viscosity(&runs, &v, &notes));
    return (struct outcome){.left = notes};
}

#endif
