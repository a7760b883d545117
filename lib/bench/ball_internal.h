/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * ball_internal - not installed: for the library and its tests alone.
 */
#ifndef MIDWEIGHT_BENCH_BALL_INTERNAL_H
#define MIDWEIGHT_BENCH_BALL_INTERNAL_H

#include "bench/ball.h"

/**
 * The time a ball will take: the inverse of mw_ball_viscosity(), to choose ball
 * and travel by.
 *
 * Given:     run     all but the time
 *            v       mm2/s
 * Returned:  time    s
 * Failures:  as above
 */
enum mw_status mw_ball_time(const struct mw_ball_run *run, double v,
                            double *time);

/**
 * How much the wall of a tube slows a ball: its speed over that without a wall.
 *
 * Given:     x       ball diameter over tube diameter, 0 to 0.8
 * Returned:  factor  F, 1 at x = 0 and falling
 * Failures:  MW_ERR_TUBE  x is out of range
 */
enum mw_status mw_ball_wall(double x, double *factor);

#endif
