/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench/relative.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "bench/ball.h"
#include "bench/ball_internal.h"
#include "monte_carlo.h"

#define assert_close(x, y, d) assert_true(fabs((x) - (y)) <= (d))

/* NIST Technical Note 1900, example E3; 4.63 mPa.s at 0.810 g/ml */
static struct mw_against_runs e3(void)
{
    return (struct mw_against_runs){.how = MW_AGAINST_BALL,
                                    .known = 4.63 / 0.810,
                                    .known_time = 36.6,
                                    .time = 61.0,
                                    .known_density = 0.810,
                                    .density = 1.180,
                                    .ball_density = 2.217};
}

static const struct mw_against_uncertainty e3_u = {.known = 0.0463 / 4.63,
                                                   .known_time = 5.49,
                                                   .time = 6.1,
                                                   .known_density = 0.0005,
                                                   .density = 0.0005,
                                                   .ball_density = 0.0005};

static struct mw_against_runs cup_runs(void)
{
    return (struct mw_against_runs){.how = MW_AGAINST_CUP,
                                    .known = 350,
                                    .known_time = 61.7,
                                    .time = 72.3,
                                    .jet = 0,
                                    .known_density = NAN,
                                    .density = NAN,
                                    .ball_density = NAN};
}

static void example_e3_comes_out(void **state)
{
    (void)state;
    struct mw_against_runs runs = e3();
    struct mw_budget budget = {0};
    double v;
    assert_int_equal(mw_against_viscosity(&runs, &v, NULL), MW_OK);
    assert_close(v * 1.180, 5.69, 0.005);
    assert_int_equal(mw_against_budget(&runs, &e3_u, &budget), MW_OK);
    assert_close(v * 1.180 * mw_budget_combined(&budget), 1.03, 0.005);
    assert_string_equal(mw_budget_dominant(&budget), "time of the known oil");
}

/* the dynamic viscosity itself, to compare its mean with that of E3 */
static double dynamic(const void *measurement)
{
    const struct mw_against_runs *runs = measurement;
    double v;
    mw_against_viscosity(runs, &v, NULL);
    return v * runs->density;
}

/* With times known to 10 and 15 %, linear propagation gives too little: the
 * example states an uncertainty of 1.11, and a Monte Carlo mean of 5.82. */
static void example_e3_is_drawn(void **state)
{
    (void)state;
    struct mw_against_runs runs = e3();
    const struct uncertain inputs[] = {
        {&runs.known, e3_u.known * runs.known},
        {&runs.known_time, e3_u.known_time},
        {&runs.time, e3_u.time},
        {&runs.known_density, e3_u.known_density},
        {&runs.density, e3_u.density},
        {&runs.ball_density, e3_u.ball_density},
    };
    struct drawn drawn = monte_carlo(dynamic, &runs, inputs, 6);
    assert_close(drawn.mean, 5.82, 0.015);
    assert_close(drawn.deviation, 1.11, 0.015);
}

static void a_damper_compares_by_times_alone(void **state)
{
    (void)state;
    struct mw_against_runs runs = cup_runs();
    runs.how = MW_AGAINST_DAMPER;
    runs.jet = NAN;
    double v;
    unsigned warnings = 0;
    assert_int_equal(mw_against_viscosity(&runs, &v, &warnings), MW_OK);
    assert_close(v, 350 * 72.3 / 61.7, 1e-10);
    assert_int_equal(warnings, 0);
}

/* ISO 2431, 4 mm: v = 1.37 t - 200/t (read in print). Where B is known the
 * comparison is the cup's own formula. */
static void a_jet_is_that_of_the_cup(void **state)
{
    (void)state;
    struct mw_against_runs runs = cup_runs();
    double v;
    runs.jet = 200;
    runs.known_time = 41.385;
    runs.time = 87.25;
    runs.known = 1.37 * runs.known_time - 200 / runs.known_time;
    assert_int_equal(mw_against_viscosity(&runs, &v, NULL), MW_OK);
    assert_close(v, 1.37 * runs.time - 200 / runs.time, 1e-11);
    runs.how = MW_AGAINST_SYRINGE;
    assert_int_equal(mw_against_viscosity(&runs, &v, NULL), MW_OK);
    assert_close(v, 1.37 * runs.time - 200 / runs.time, 1e-11);
}

/* 350 mm2/s in 18.0 s against 21.4 s: B = 200 makes 0.93 % (worked by hand) */
static void a_jet_of_which_nothing_is_known(void **state)
{
    (void)state;
    struct mw_against_runs runs = cup_runs();
    double v, plain, u;
    runs.known_time = 18.0;
    runs.time = 21.4;
    assert_int_equal(mw_against_viscosity(&runs, &plain, NULL), MW_OK);
    mw_against_usual_jet(&runs.jet, &u);
    assert_close(u, 100 / sqrt(3), 1e-12);
    assert_int_equal(mw_against_viscosity(&runs, &v, NULL), MW_OK);
    assert_close(100 * (v / plain - 1), 0.93 / 2, 0.005);
    runs.jet = -1;
    assert_int_equal(mw_against_viscosity(&runs, &v, NULL), MW_ERR_QUANTITY);
    runs.jet = NAN;
    assert_int_equal(mw_against_viscosity(&runs, &v, NULL), MW_ERR_QUANTITY);
    runs.jet = INFINITY;
    assert_int_equal(mw_against_viscosity(&runs, &v, NULL), MW_ERR_QUANTITY);
}

/* two slow balls in a wide tube, one oil known: the full law and the
 * comparison agree, as the wall factor cancels */
static void a_comparison_agrees_with_the_ball_itself(void **state)
{
    (void)state;
    struct mw_ball_run fall = {.diameter = 0.00635,
                               .tube = 0.0215,
                               .travel = 0.1285,
                               .depth = NAN,
                               .ball_density = 7.81,
                               .density = 0.974,
                               .gravity = MW_GRAVITY};
    struct mw_against_runs runs = {.how = MW_AGAINST_BALL,
                                   .known = 1e6,
                                   .known_density = 0.974,
                                   .density = 0.881,
                                   .ball_density = 7.81};
    double v;
    assert_int_equal(mw_ball_time(&fall, 1e6, &runs.known_time), MW_OK);
    fall.density = 0.881;
    assert_int_equal(mw_ball_time(&fall, 2.385e6, &runs.time), MW_OK);
    assert_int_equal(mw_against_viscosity(&runs, &v, NULL), MW_OK);
    assert_close(v, 2.385e6, 1e-4 * v);
}

static void an_oil_against_itself_is_itself(void **state)
{
    (void)state;
    struct mw_against_runs runs = e3();
    double v;
    runs.time = runs.known_time;
    runs.density = runs.known_density;
    assert_int_equal(mw_against_viscosity(&runs, &v, NULL), MW_OK);
    assert_close(v, runs.known, 1e-14 * v);
}

static unsigned warnings_of(const struct mw_against_runs *runs)
{
    double v;
    unsigned warnings = 0;
    assert_int_equal(mw_against_viscosity(runs, &v, &warnings), MW_OK);
    return warnings;
}

static void times_far_apart_or_short_raise_warnings(void **state)
{
    (void)state;
    struct mw_against_runs ball = e3(), cup = cup_runs();
    assert_int_equal(warnings_of(&ball), 0);
    ball.time = 36.6 * 3.01;
    assert_int_equal(warnings_of(&ball), MW_WARN_APART);
    ball.time = 36.6 / 3.01;
    assert_int_equal(warnings_of(&ball), MW_WARN_APART);
    cup.time = 61.7 * 1.26;
    assert_int_equal(warnings_of(&cup), MW_WARN_APART);
    cup.known_time = 9.1;
    cup.time = 9.9;
    assert_int_equal(warnings_of(&cup), MW_WARN_SHORT_TIME);
}

static void assert_refused(const struct mw_against_runs *runs,
                           enum mw_status why)
{
    double v = 2.385;
    unsigned warnings = 0;
    struct mw_budget budget = {0};
    assert_int_equal(mw_against_viscosity(runs, &v, &warnings), why);
    assert_true(isnan(v) && warnings == 0);
    assert_int_equal(mw_against_budget(runs, &e3_u, &budget), why);
    assert_int_equal(budget.count, 0);
}

static void bad_runs_are_refused(void **state)
{
    (void)state;
    struct mw_against_runs runs = e3();
    const struct {
        double *input;
        double bad;
        enum mw_status why;
    } rows[] = {
        {&runs.known, 0, MW_ERR_VISCOSITY},
        {&runs.known, NAN, MW_ERR_VISCOSITY},
        {&runs.time, 0.01, MW_ERR_VISCOSITY}, /* of the result */
        {&runs.time, 0, MW_ERR_QUANTITY},
        {&runs.time, NAN, MW_ERR_QUANTITY},
        {&runs.time, INFINITY, MW_ERR_QUANTITY},
        {&runs.known_time, -36.6, MW_ERR_QUANTITY},
        {&runs.known_time, INFINITY, MW_ERR_QUANTITY},
        {&runs.known_density, 810, MW_ERR_DENSITY},
        {&runs.density, NAN, MW_ERR_DENSITY},
        {&runs.density, 2.217, MW_ERR_BALL},
        {&runs.known_density, 2.3, MW_ERR_BALL},
        {&runs.ball_density, 1.1, MW_ERR_BALL},
        {&runs.ball_density, NAN, MW_ERR_BALL},
        {&runs.ball_density, 2217, MW_ERR_BALL},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double kept = *rows[i].input;
        *rows[i].input = rows[i].bad;
        assert_refused(&runs, rows[i].why);
        *rows[i].input = kept;
    }
}

static double ln_v(const void *measurement)
{
    double v;
    mw_against_viscosity(measurement, &v, NULL);
    return log(v);
}

static void the_budget_of_a_ball_is_the_scatter_of_readings(void **state)
{
    (void)state;
    struct mw_against_runs runs = e3();
    const struct mw_against_uncertainty u = {.known = 0.012,
                                             .known_time = 0.41,
                                             .time = 0.83,
                                             .known_density = 0.017,
                                             .density = 0.013,
                                             .ball_density = 0.021};
    const struct uncertain inputs[] = {
        {&runs.known, u.known * runs.known},
        {&runs.known_time, u.known_time},
        {&runs.time, u.time},
        {&runs.known_density, u.known_density},
        {&runs.density, u.density},
        {&runs.ball_density, u.ball_density},
    };
    struct mw_budget budget = {0};
    assert_int_equal(mw_against_budget(&runs, &u, &budget), MW_OK);
    assert_int_equal(budget.count, 6);
    /* all of them, and each alone */
    double linear = mw_budget_combined(&budget);
    double drawn = monte_carlo(ln_v, &runs, inputs, 6).deviation;
    assert_close(drawn, linear, 0.02 * linear);
    for (size_t i = 0; i < 6; i++) {
        linear =
            fabs(budget.parts[i].sensitivity * budget.parts[i].uncertainty);
        drawn = monte_carlo(ln_v, &runs, &inputs[i], 1).deviation;
        assert_close(drawn, linear, 0.02 * linear);
    }
}

static void the_budget_of_a_cup_is_the_scatter_of_readings(void **state)
{
    (void)state;
    struct mw_against_runs runs = cup_runs();
    const struct mw_against_uncertainty u = {
        .known = 0.029, .known_time = 0.71, .time = 0.31, .jet = 480};
    const struct uncertain inputs[] = {
        {&runs.known, u.known * runs.known},
        {&runs.known_time, u.known_time},
        {&runs.time, u.time},
        {&runs.jet, u.jet},
    };
    struct mw_budget budget = {0};
    runs.jet = 3850;
    assert_int_equal(mw_against_budget(&runs, &u, &budget), MW_OK);
    assert_int_equal(budget.count, 4);
    /* all of them, and each alone */
    double linear = mw_budget_combined(&budget);
    double drawn = monte_carlo(ln_v, &runs, inputs, 4).deviation;
    assert_close(drawn, linear, 0.02 * linear);
    for (size_t i = 0; i < 4; i++) {
        linear =
            fabs(budget.parts[i].sensitivity * budget.parts[i].uncertainty);
        drawn = monte_carlo(ln_v, &runs, &inputs[i], 1).deviation;
        assert_close(drawn, linear, 0.02 * linear);
    }
}

static void a_failed_budget_is_unchanged(void **state)
{
    (void)state;
    struct mw_against_runs runs = e3();
    struct mw_budget budget = {0};
    const struct mw_against_uncertainty bad = {.known = 0.012,
                                               .ball_density = -0.1};
    assert_int_equal(mw_against_budget(&runs, &bad, &budget),
                     MW_ERR_UNCERTAINTY);
    assert_int_equal(budget.count, 0);
    const struct mw_against_uncertainty first = {.known = -0.012};
    assert_int_equal(mw_against_budget(&runs, &first, &budget),
                     MW_ERR_UNCERTAINTY);
    assert_int_equal(budget.count, 0);
    while (budget.count < MW_BUDGET_MAX - 5) {
        mw_budget_add(&budget, "other", 0.001, 2);
    }
    assert_int_equal(mw_against_budget(&runs, &e3_u, &budget), MW_ERR_BUDGET);
    assert_int_equal(budget.count, MW_BUDGET_MAX - 5);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(example_e3_comes_out),
        cmocka_unit_test(example_e3_is_drawn),
        cmocka_unit_test(a_damper_compares_by_times_alone),
        cmocka_unit_test(a_jet_is_that_of_the_cup),
        cmocka_unit_test(a_jet_of_which_nothing_is_known),
        cmocka_unit_test(a_comparison_agrees_with_the_ball_itself),
        cmocka_unit_test(an_oil_against_itself_is_itself),
        cmocka_unit_test(times_far_apart_or_short_raise_warnings),
        cmocka_unit_test(bad_runs_are_refused),
        cmocka_unit_test(the_budget_of_a_ball_is_the_scatter_of_readings),
        cmocka_unit_test(the_budget_of_a_cup_is_the_scatter_of_readings),
        cmocka_unit_test(a_failed_budget_is_unchanged),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
