/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * ball_runs - falls that the tests of the ball share.
 */
#ifndef BALL_RUNS_H
#define BALL_RUNS_H

#include <math.h>
#include <stddef.h>

#include "bench/ball.h"

/* a steel ball in silicone of 10 000 mm2/s, as on a bench */
static inline struct mw_ball_run bench(void)
{
    return (struct mw_ball_run){.diameter = 0.00635,
                                .tube = 0.0385,
                                .travel = 0.1285,
                                .depth = 0.195,
                                .time = 12.85,
                                .ball_density = 7.81,
                                .density = 0.974,
                                .gravity = 9.812};
}

/* Heidelberg practical course V212, published data: diameter in mm, g/ml, s */
static const double balls[9][3] = {
    {9, 1.3625, 8.020},  {8, 1.3575, 10.070},  {7.144, 1.3775, 11.122},
    {6, 1.3775, 14.730}, {5, 1.3775, 20.244},  {4, 1.3775, 30.796},
    {3, 1.3775, 52.414}, {2, 1.3775, 106.986}, {1.5, 1.3775, 195.034}};

static inline struct mw_ball_run heidelberg(size_t i)
{
    return (struct mw_ball_run){.diameter = balls[i][0] / 1000,
                                .tube = 0.075,
                                .travel = 0.3,
                                .depth = NAN,
                                .time = balls[i][2],
                                .ball_density = balls[i][1],
                                .density = 1.1442,
                                .gravity = 9.81};
}

#endif
