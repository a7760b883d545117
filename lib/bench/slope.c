/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench/slope.h"

#include <math.h>

#include "fluid/silicone.h"
#include "fluid/walther.h"
#include "uncertainty/budget.h"

/* the mineral oil that stands for others; common practice, no source */
#define USUAL_V40   46.0
#define USUAL_INDEX 95.0

enum mw_status mw_bench_slope(enum mw_family family, double t, double *slope)
{
    struct mw_oil oil;
    *slope = NAN;
    if (family == MW_SILICONE) {
        return mw_silicone_slope(t, slope);
    }
    if (family != MW_MINERAL) {
        return MW_ERR_FAMILY;
    }
    mw_oil_from_index(USUAL_V40, USUAL_INDEX, NAN, &oil);
    return mw_line_slope(&oil.line, t, slope);
}

enum mw_status mw_bench_density(const struct mw_ball_run *run,
                                enum mw_family family, double t,
                                double *density)
{
    /* g/ml to start from, near every oil; each round leaves a hundredth of the
     * miss or less, since density hardly follows viscosity */
    double next = 0.97;
    enum { ROUNDS = 10 };
    *density = NAN;
    for (int round = 0; round < ROUNDS; round++) {
        struct mw_ball_run fall = *run;
        struct mw_ball_result result;
        struct mw_oil oil;
        fall.density = next;
        enum mw_status status = mw_ball_viscosity(&fall, &result);
        const struct mw_point point = {result.viscosity, t};
        if (status == MW_OK) {
            status = mw_oil_make(family, &point, 1, NAN, &oil);
        }
        if (status == MW_OK) {
            status = mw_oil_density(&oil, t, &next, NULL);
        }
        if (status != MW_OK) {
            return status;
        }
    }
    *density = next;
    return MW_OK;
}

static double within(double limit)
{
    double u;
    mw_rectangular(limit, &u);
    return u;
}

struct mw_ball_uncertainty mw_bench_fall(const struct mw_ball_run *run,
                                         double time_u)
{
    return (struct mw_ball_uncertainty){
        .diameter = within(MW_BENCH_BALL),
        .tube = within(MW_BENCH_TUBE),
        .travel = within(MW_BENCH_TRAVEL),
        .time = time_u,
        .ball_density = within(MW_BENCH_BALL_DENSITY * run->ball_density),
        .density = within(MW_BENCH_OIL_DENSITY),
        .gravity = within(MW_BENCH_GRAVITY),
        .law = MW_BALL_LAW};
}
