/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* adapters: cups, falling balls, comparison with a known oil */
#include "bench/ball_internal.h"
#include "reference_functions.h"

#include <math.h>
#include <stddef.h>

typedef reference_inputs inputs;

/* cup s */
static enum mw_status cup_viscosity(inputs in, double *got)
{
    struct mw_cup cup;
    *got = NAN;
    enum mw_status status = mw_cup_by_name(in[0].name, &cup);
    return status == MW_OK ? mw_cup_viscosity(&cup, in[1].number, got) : status;
}

/* cup mm2/s */
static enum mw_status cup_time(inputs in, double *got)
{
    struct mw_cup cup;
    *got = NAN;
    enum mw_status status = mw_cup_by_name(in[0].name, &cup);
    return status == MW_OK ? mw_cup_time(&cup, in[1].number, got) : status;
}

static enum mw_status ball_wall(inputs in, double *got)
{
    return mw_ball_wall(in[0].number, got);
}

/* m, of ball, tube and travel; s; g/ml, of ball and oil; m/s2 */
static enum mw_status fall(inputs in, struct mw_ball_result *result)
{
    const struct mw_ball_run run = {.diameter = in[0].number,
                                    .tube = in[1].number,
                                    .travel = in[2].number,
                                    .depth = NAN,
                                    .time = in[3].number,
                                    .ball_density = in[4].number,
                                    .density = in[5].number,
                                    .gravity = in[6].number};
    return mw_ball_viscosity(&run, result);
}

static enum mw_status ball_dynamic(inputs in, double *got)
{
    struct mw_ball_result result;
    enum mw_status status = fall(in, &result);
    *got = result.dynamic;
    return status;
}

static enum mw_status ball_stokes(inputs in, double *got)
{
    struct mw_ball_result result;
    enum mw_status status = fall(in, &result);
    *got = result.stokes;
    return status;
}

/* mPa.s of the known oil; s, of it and of the oil; g/ml, of both and the ball
 */
static struct mw_against_runs ball_runs(inputs in)
{
    return (struct mw_against_runs){.how = MW_AGAINST_BALL,
                                    .known = in[0].number / in[3].number,
                                    .known_time = in[1].number,
                                    .time = in[2].number,
                                    .known_density = in[3].number,
                                    .density = in[4].number,
                                    .ball_density = in[5].number};
}

static enum mw_status against_dynamic(inputs in, double *got)
{
    const struct mw_against_runs runs = ball_runs(in);
    double v;
    enum mw_status status = mw_against_viscosity(&runs, &v, NULL);
    *got = v * runs.density;
    return status;
}

/* the same, then the standard uncertainties in the same units */
static enum mw_status against_uncertainty(inputs in, double *got)
{
    const struct mw_against_runs runs = ball_runs(in);
    const struct mw_against_uncertainty u = {.known =
                                                 in[6].number / in[0].number,
                                             .known_time = in[7].number,
                                             .time = in[8].number,
                                             .known_density = in[9].number,
                                             .density = in[10].number,
                                             .ball_density = in[11].number};
    struct mw_budget budget = {0};
    double dynamic;
    *got = NAN;
    enum mw_status status = against_dynamic(in, &dynamic);
    if (status == MW_OK) {
        status = mw_against_budget(&runs, &u, &budget);
    }
    if (status == MW_OK) {
        *got = dynamic * mw_budget_combined(&budget);
    }
    return status;
}

const struct reference_function reference_measure_functions[] = {
    {"mw_cup_viscosity", "sn", cup_viscosity},
    {"mw_cup_time", "sn", cup_time},
    {"mw_ball_wall", "n", ball_wall},
    {"ball_dynamic", "nnnnnnn", ball_dynamic},
    {"ball_stokes", "nnnnnnn", ball_stokes},
    {"against_dynamic", "nnnnnn", against_dynamic},
    {"against_uncertainty", "nnnnnnnnnnnn", against_uncertainty},
    {NULL, NULL, NULL},
};
