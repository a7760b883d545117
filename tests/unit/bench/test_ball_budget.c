/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench/ball.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "ball_runs.h"
#include "bench/timing.h"
#include "monte_carlo.h"

#define assert_close(x, y, d) assert_true(fabs((x) - (y)) <= (d))

static double ln_v(const void *measurement)
{
    struct mw_ball_result result;
    mw_ball_viscosity(measurement, &result);
    return log(result.viscosity);
}

static void assert_budget_is_scatter(struct mw_ball_run run,
                                     const struct mw_ball_uncertainty *u)
{
    struct mw_budget budget = {0};
    const struct uncertain inputs[] = {
        {&run.diameter, u->diameter}, {&run.travel, u->travel},
        {&run.time, u->time},         {&run.ball_density, u->ball_density},
        {&run.density, u->density},   {&run.gravity, u->gravity},
        {&run.tube, u->tube},
    };
    assert_int_equal(mw_ball_budget(&run, u, &budget), MW_OK);
    double linear = mw_budget_combined(&budget);
    double drawn =
        monte_carlo(ln_v, &run, inputs, isinf(run.tube) ? 6 : 7).deviation;
    assert_close(drawn, linear, 0.02 * linear);
}

static void the_budget_is_the_scatter_of_readings(void **state)
{
    (void)state;
    struct mw_ball_run run = bench();
    const struct mw_ball_uncertainty u = {.diameter = 2e-5,
                                          .tube = 2e-4,
                                          .travel = 4e-4,
                                          .time = MW_STOPWATCH,
                                          .ball_density = 0.04,
                                          .density = 0.006,
                                          .gravity = 0.004};
    assert_budget_is_scatter(run, &u);
    run.tube = 0.0105; /* x = 0.6: the wall dominates */
    assert_budget_is_scatter(run, &u);
    run.tube = INFINITY;
    assert_budget_is_scatter(run, &u);
    run.travel = 2.385; /* inertia dominates: Reynolds number 3.5 */
    run.depth = NAN;
    assert_budget_is_scatter(run, &u);
}

/* a ball slightly denser than the oil: the difference of densities dominates */
static void a_light_ball_hangs_on_its_density(void **state)
{
    (void)state;
    struct mw_ball_run run = heidelberg(4);
    const struct mw_ball_uncertainty u = {.diameter = 5e-6,
                                          .tube = 1e-4,
                                          .travel = 5e-4,
                                          .time = 0.1,
                                          .ball_density = 0.005,
                                          .density = 0.001,
                                          .gravity = 0.001};
    struct mw_budget budget = {0};
    assert_budget_is_scatter(run, &u);
    assert_int_equal(mw_ball_budget(&run, &u, &budget), MW_OK);
    assert_string_equal(mw_budget_dominant(&budget), "ball density");
}

static void the_budget_counts_the_law(void **state)
{
    (void)state;
    struct mw_ball_run run = bench();
    struct mw_budget budget = {0};
    const struct mw_ball_uncertainty u = {.law = MW_BALL_LAW};
    assert_int_equal(mw_ball_budget(&run, &u, &budget), MW_OK);
    assert_int_equal(budget.count, 8);
    assert_close(mw_budget_combined(&budget), 0.033, 1e-15);
    run.tube = INFINITY;
    budget.count = 0;
    assert_int_equal(mw_ball_budget(&run, &u, &budget), MW_OK);
    assert_int_equal(budget.count, 7);
}

static void a_failed_budget_is_unchanged(void **state)
{
    (void)state;
    struct mw_ball_run run = bench();
    struct mw_budget budget = {0};
    const struct mw_ball_uncertainty u = {.time = 0.2}, huge = {.density = 7},
                                     bad = {.law = -0.03};
    assert_int_equal(mw_budget_add(&budget, "temperature", 0.58, -0.0198),
                     MW_OK);
    assert_int_equal(mw_ball_budget(&run, &huge, &budget), MW_ERR_UNCERTAINTY);
    assert_int_equal(mw_ball_budget(&run, &bad, &budget), MW_ERR_UNCERTAINTY);
    run.time = 0;
    assert_int_equal(mw_ball_budget(&run, &u, &budget), MW_ERR_QUANTITY);
    assert_int_equal(budget.count, 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_budget_is_the_scatter_of_readings),
        cmocka_unit_test(a_light_ball_hangs_on_its_density),
        cmocka_unit_test(the_budget_counts_the_law),
        cmocka_unit_test(a_failed_budget_is_unchanged),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
