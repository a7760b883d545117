/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench/ball_choice.h"

#include <math.h>
#include <stdbool.h>

#include "base/range.h"
#include "bench/ball_internal.h"
#include "bench/slope.h"
#include "bench/timing.h"
#include "fluid/units.h"

/* ball over tube: about where Faxen's law ends */
#define WIDEST (1.0 / 3)

/* m: sizes that balls are sold in (common practice, no source) */
static const double diameters[] = {0.001, 0.0015, 0.002, 0.0025, 0.003,
                                   0.004, 0.005,  0.006, 0.008,  0.010};

/* g/ml: usual densities, from memory */
static const struct {
    const char *name;
    double density;
} materials[] = {
    {"steel", 7.8}, {"glass", 2.5}, {"POM", 1.41}, {"nylon", 1.14}};

enum {
    DIAMETERS = sizeof diameters / sizeof diameters[0],
    MATERIALS = sizeof materials / sizeof materials[0]
};

static enum mw_status check(const struct mw_ball_run *fall, double v)
{
    bool travel =
        fall->travel >= MW_CHOICE_TRAVEL_MIN && fall->travel <= MW_LENGTH_MAX;
    bool tube = mw_length_in_range(fall->tube) || fall->tube == INFINITY;
    if (!mw_viscosity_in_range(v)) {
        return MW_ERR_VISCOSITY;
    }
    if (!mw_density_in_range(fall->density)) {
        return MW_ERR_DENSITY;
    }
    if (!isnan(fall->ball_density) &&
        !(fall->ball_density > fall->density &&
          fall->ball_density <= MW_BALL_DENSITY_MAX)) {
        return MW_ERR_BALL;
    }
    return travel && tube ? MW_OK : MW_ERR_LENGTH;
}

/* the travel that takes about MW_CHOICE_TIME_AIM, as far as there is room */
static double cut_travel(double room, double speed)
{
    double aim = speed * MW_CHOICE_TIME_AIM / MW_CHOICE_STEP;
    double travel = floor(aim + 0.5) * MW_CHOICE_STEP;
    return fmin(fmax(travel, MW_CHOICE_TRAVEL_MIN), room);
}

/* a ball and the travel that suits it; false where none does */
static bool suits(const struct mw_ball_run *ball, double v,
                  struct mw_ball_choice *choice)
{
    struct mw_ball_run fall = *ball;
    struct mw_ball_result result;
    struct mw_budget budget = {0};
    if (!(fall.diameter <= WIDEST * fall.tube) ||
        mw_ball_time(&fall, v, &fall.time) != MW_OK) {
        return false;
    }
    double speed = fall.travel / fall.time;
    fall.travel = cut_travel(fall.travel, speed);
    fall.time = fall.travel / speed;
    mw_ball_viscosity(&fall, &result); /* the same v, at the same speed */
    if (!(fall.time >= MW_SHORT_TIME && fall.time <= MW_CHOICE_TIME_MAX &&
          result.reynolds <= MW_BALL_RE_TESTED)) {
        return false;
    }
    const struct mw_ball_uncertainty u = mw_bench_fall(&fall, MW_STOPWATCH);
    if (mw_ball_budget(&fall, &u, &budget) != MW_OK) {
        return false;
    }
    *choice =
        (struct mw_ball_choice){.ball_density = fall.ball_density,
                                .diameter = fall.diameter,
                                .travel = fall.travel,
                                .time = fall.time,
                                .reynolds = result.reynolds,
                                .uncertainty = mw_budget_combined(&budget)};
    return true;
}

/* into the list, the least uncertain first; the last falls out of a full one */
static void insert(const struct mw_ball_choice *choice,
                   struct mw_ball_choice *choices, size_t *count)
{
    size_t at = *count;
    while (at > 0 && choice->uncertainty < choices[at - 1].uncertainty) {
        at--;
    }
    if (at == MW_CHOICES_MAX) {
        return;
    }
    if (*count < MW_CHOICES_MAX) {
        ++*count;
    }
    for (size_t i = *count - 1; i > at; i--) {
        choices[i] = choices[i - 1];
    }
    choices[at] = *choice;
}

static void try_sizes(const struct mw_ball_run *fall, const char *material,
                      double v, struct mw_ball_choice *choices, size_t *count)
{
    struct mw_ball_run ball = *fall;
    struct mw_ball_choice choice;
    ball.depth = NAN;
    for (size_t i = 0; i < DIAMETERS; i++) {
        ball.diameter = diameters[i];
        if (suits(&ball, v, &choice)) {
            choice.material = material;
            insert(&choice, choices, count);
        }
    }
}

enum mw_status mw_ball_choose(const struct mw_ball_run *fall, double v,
                              struct mw_ball_choice *choices, size_t *count)
{
    *count = 0;
    enum mw_status status = check(fall, v);
    if (status != MW_OK) {
        return status;
    }
    if (!isnan(fall->ball_density)) {
        try_sizes(fall, "ball", v, choices, count);
    } else {
        for (size_t i = 0; i < MATERIALS; i++) {
            struct mw_ball_run ball = *fall;
            ball.ball_density = materials[i].density;
            try_sizes(&ball, materials[i].name, v, choices, count);
        }
    }
    return *count > 0 ? MW_OK : MW_ERR_CHOICE;
}
