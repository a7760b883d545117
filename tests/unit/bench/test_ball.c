/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench/ball.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "ball_runs.h"
#include "bench/ball_internal.h"

#define assert_close(x, y, d) assert_true(fabs((x) - (y)) <= (d))

static void nine_balls_agree_with_a_capillary(void **state)
{
    (void)state;
    double sum = 0, squares = 0, fastest = 0;
    for (size_t i = 0; i < 9; i++) {
        struct mw_ball_run run = heidelberg(i);
        struct mw_ball_result result;
        assert_int_equal(mw_ball_viscosity(&run, &result), MW_OK);
        sum += result.dynamic;
        squares += result.dynamic * result.dynamic;
        fastest = fmax(fastest, result.reynolds);
    }
    double mean = sum / 9;
    double deviation = sqrt((squares - 9 * mean * mean) / 8);
    assert_close(mean, 170.5, 0.005 * 170.5); /* computed beforehand */
    assert_close(mean, 172.3, 0.015 * 172.3); /* the capillary, published */
    assert_close(deviation / mean, MW_BALL_LAW, 0.0015);
    assert_close(fastest, 2.40, 0.005);
    assert_true(fastest <= MW_BALL_RE_TESTED);
}

/* without its corrections Stokes's law is far from the capillary */
static void stokes_alone_reads_high(void **state)
{
    (void)state;
    struct mw_ball_run run = heidelberg(0);
    struct mw_ball_result result;
    assert_int_equal(mw_ball_viscosity(&run, &result), MW_OK);
    assert_close(result.stokes, 260, 5);
}

static void the_law_holds_for_its_own_result(void **state)
{
    (void)state;
    struct mw_ball_run run = bench();
    struct mw_ball_result r;
    for (double time = 0.9; time < 5000; time *= 2.385) {
        run.time = time;
        assert_int_equal(mw_ball_viscosity(&run, &r), MW_OK);
        double speed = run.travel / time;
        double re = 974 * speed * run.diameter / (r.dynamic / 1000);
        double drag = 1 / r.wall + 0.15 * pow(re, 0.687);
        assert_close(r.dynamic * drag, r.stokes, 1e-12 * r.stokes);
        assert_close(r.reynolds, re, 1e-12 * re);
        assert_close(r.viscosity * 0.974, r.dynamic, 1e-12 * r.dynamic);
    }
}

static void times_and_viscosities_go_both_ways(void **state)
{
    (void)state;
    struct mw_ball_run run = bench();
    for (double x = 0; x <= 0.8; x += 0.1) {
        run.tube = x > 0 ? run.diameter / x : INFINITY;
        for (double v = 30; v < 2e7; v *= 7.3) {
            struct mw_ball_result result;
            assert_int_equal(mw_ball_time(&run, v, &run.time), MW_OK);
            assert_int_equal(mw_ball_viscosity(&run, &result), MW_OK);
            assert_close(result.viscosity, v, 1e-12 * v);
        }
    }
}

/* at a Reynolds number of 5e-8 inertia is 1.4e-6 of the drag */
static void a_slow_ball_is_stokes_with_a_wall(void **state)
{
    (void)state;
    struct mw_ball_run run = bench();
    struct mw_ball_result r;
    run.time = 4500;
    assert_int_equal(mw_ball_viscosity(&run, &r), MW_OK);
    assert_close(r.dynamic, r.stokes * r.wall, 2e-6 * r.dynamic);
    run.tube = INFINITY;
    assert_int_equal(mw_ball_viscosity(&run, &r), MW_OK);
    assert_true(r.wall == 1);
    assert_close(r.dynamic, r.stokes, 2e-6 * r.dynamic);
}

static void the_wall_slows_steadily(void **state)
{
    (void)state;
    double wall, before = 1;
    for (int i = 1; i <= 800; i++) {
        assert_int_equal(mw_ball_wall(i / 1000.0, &wall), MW_OK);
        assert_true(wall > 0 && wall < before);
        before = wall;
    }
}

/* the two laws have one value where they meet */
static void the_two_wall_laws_meet(void **state)
{
    (void)state;
    double faxen, haberman;
    mw_ball_wall(0.32, &faxen);
    mw_ball_wall(0.3200001, &haberman);
    assert_close(haberman / faxen, 0.9974, 0.0001);
}

static void a_ball_too_wide_has_no_wall_factor(void **state)
{
    (void)state;
    const double bad[] = {0.8001, -0.01, NAN, INFINITY};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        double wall;
        assert_int_equal(mw_ball_wall(bad[i], &wall), MW_ERR_TUBE);
        assert_true(isnan(wall));
    }
}

static void assert_refused(const struct mw_ball_run *run, enum mw_status why)
{
    struct mw_ball_result r;
    assert_int_equal(mw_ball_viscosity(run, &r), why);
    assert_true(isnan(r.viscosity) && isnan(r.dynamic) && isnan(r.stokes) &&
                isnan(r.wall) && isnan(r.reynolds));
    assert_int_equal(r.warnings, 0);
}

/* every number of a run, moved out of its range */
static void bad_runs_are_refused(void **state)
{
    (void)state;
    struct mw_ball_run run = bench();
    const struct {
        double *input;
        double bad;
        enum mw_status why;
    } rows[] = {
        {&run.diameter, 0, MW_ERR_LENGTH},
        {&run.diameter, NAN, MW_ERR_LENGTH},
        {&run.diameter, 0.0385, MW_ERR_TUBE},
        {&run.tube, 38.5, MW_ERR_LENGTH},
        {&run.tube, -INFINITY, MW_ERR_LENGTH},
        {&run.tube, NAN, MW_ERR_LENGTH},
        {&run.tube, 0.0079, MW_ERR_TUBE},
        {&run.travel, -0.1285, MW_ERR_LENGTH},
        {&run.travel, INFINITY, MW_ERR_LENGTH},
        {&run.depth, 0.12, MW_ERR_LENGTH},
        {&run.depth, INFINITY, MW_ERR_LENGTH},
        {&run.time, 0, MW_ERR_QUANTITY},
        {&run.time, -12.85, MW_ERR_QUANTITY},
        {&run.time, NAN, MW_ERR_QUANTITY},
        {&run.time, INFINITY, MW_ERR_QUANTITY},
        {&run.time, 1e7, MW_ERR_VISCOSITY},
        {&run.ball_density, 0.974, MW_ERR_BALL},
        {&run.ball_density, 0.9, MW_ERR_BALL},
        {&run.ball_density, 7810, MW_ERR_BALL},
        {&run.ball_density, NAN, MW_ERR_BALL},
        {&run.density, 974, MW_ERR_DENSITY},
        {&run.density, NAN, MW_ERR_DENSITY},
        {&run.density, 7.9, MW_ERR_BALL},
        {&run.gravity, 981, MW_ERR_GRAVITY},
        {&run.gravity, 0, MW_ERR_GRAVITY},
        {&run.gravity, NAN, MW_ERR_GRAVITY},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double kept = *rows[i].input, time;
        *rows[i].input = rows[i].bad;
        assert_refused(&run, rows[i].why);
        if (rows[i].input != &run.time) {
            assert_int_equal(mw_ball_time(&run, 10200, &time), rows[i].why);
            assert_true(isnan(time));
        }
        *rows[i].input = kept;
    }
}

static void a_ball_too_fast_is_refused(void **state)
{
    (void)state;
    struct mw_ball_run run = bench();
    struct mw_ball_result result;
    double time;
    assert_int_equal(mw_ball_time(&run, 2.385, &time), MW_ERR_REYNOLDS);
    assert_true(isnan(time));
    run.time = 0.115;
    assert_refused(&run, MW_ERR_REYNOLDS);
    run.time = 1e-320;
    assert_refused(&run, MW_ERR_REYNOLDS);
    /* the same limit from both sides */
    assert_int_equal(mw_ball_time(&run, 9.2, &run.time), MW_OK);
    assert_int_equal(mw_ball_viscosity(&run, &result), MW_OK);
    assert_true(result.reynolds > 700 && result.reynolds <= 800);
    assert_int_equal(mw_ball_time(&run, 0.2, &time), MW_ERR_VISCOSITY);
    assert_int_equal(mw_ball_time(&run, NAN, &time), MW_ERR_VISCOSITY);
    assert_true(isnan(time));
}

static unsigned warnings_of(const struct mw_ball_run *run)
{
    struct mw_ball_result result;
    assert_int_equal(mw_ball_viscosity(run, &result), MW_OK);
    return result.warnings;
}

static void a_good_run_has_no_warnings(void **state)
{
    (void)state;
    struct mw_ball_run run = bench();
    assert_int_equal(warnings_of(&run), 0);
    run.depth = NAN;
    assert_int_equal(warnings_of(&run), 0);
}

static void marks_near_the_ends_raise_a_warning(void **state)
{
    (void)state;
    struct mw_ball_run run = bench();
    run.depth = run.travel + 0.0386; /* half is above the radius */
    assert_int_equal(warnings_of(&run), 0);
    run.depth = run.travel + 0.0384;
    assert_int_equal(warnings_of(&run), MW_WARN_MARKS);
    run.tube = INFINITY;
    assert_int_equal(warnings_of(&run), 0);
}

static void short_times_and_fast_balls_raise_warnings(void **state)
{
    (void)state;
    struct mw_ball_run run = bench();
    run.time = 9.99;
    assert_int_equal(warnings_of(&run), MW_WARN_SHORT_TIME);
    run.time = 10;
    assert_int_equal(warnings_of(&run), 0);
    run.travel = 2.385; /* and the depth is not known */
    run.depth = NAN;
    run.time = 12.85;
    assert_int_equal(warnings_of(&run), MW_WARN_REYNOLDS);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nine_balls_agree_with_a_capillary),
        cmocka_unit_test(stokes_alone_reads_high),
        cmocka_unit_test(the_law_holds_for_its_own_result),
        cmocka_unit_test(times_and_viscosities_go_both_ways),
        cmocka_unit_test(a_slow_ball_is_stokes_with_a_wall),
        cmocka_unit_test(the_wall_slows_steadily),
        cmocka_unit_test(the_two_wall_laws_meet),
        cmocka_unit_test(a_ball_too_wide_has_no_wall_factor),
        cmocka_unit_test(bad_runs_are_refused),
        cmocka_unit_test(a_ball_too_fast_is_refused),
        cmocka_unit_test(a_good_run_has_no_warnings),
        cmocka_unit_test(marks_near_the_ends_raise_a_warning),
        cmocka_unit_test(short_times_and_fast_balls_raise_warnings),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
