/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "check.h"
#include "damper/bubble.h"
#include "damper/bubble_internal.h"

static void speed_under_reduced_pressure(void **state)
{
    double growth;
    (void)state;
    check_ok(mw_bubble_growth(10, &growth));
    check_near(growth * growth, 4.6825, 0.5e-4);
    check_ok(mw_bubble_growth(3.12, &growth));
    check_near(growth * growth, 10.2, 0.05);
    /* an eighth of the pressure doubles the diameter */
    check_ok(mw_bubble_growth(101.325 / 8, &growth));
    check_part(growth, 2.0, 1e-15);
}

static void pieces_make_the_whole(void **state)
{
    struct mw_settle settle;
    double rigid, clean, reynolds;
    (void)state;
    check_ok(mw_settle(419, 0.3e-3, 0.0385, 12.7, &settle));
    const double grown = 0.3e-3 * settle.growth;
    check_part(settle.growth, cbrt(101.325 / 12.7), 1e-15);
    check_ok(mw_bubble_speed(419, grown, MW_BUBBLE_RIGID, &rigid));
    check_ok(mw_bubble_speed(419, grown, MW_BUBBLE_CLEAN, &clean));
    check_part(settle.seconds, 0.0385 / rigid, 1e-13);
    check_part(settle.clean_seconds, 0.0385 / clean, 1e-13);
    check_part(settle.still_seconds / settle.seconds, pow(settle.growth, 2),
               1e-13);
    check_ok(mw_bubble_reynolds(419, grown, MW_BUBBLE_CLEAN, &reynolds));
    check_part(reynolds, clean * grown / 419e-6, 1e-13);
    check_part(settle.reynolds, reynolds, 1e-15);
}

/* Re = g d^3/(12 v^2) passes 0.5 at 4.2 mm in 350 mm2/s */
static void fast_bubbles_raise_a_warning(void **state)
{
    struct mw_settle settle;
    (void)state;
    check_ok(mw_settle(350, 4.1e-3, 0.05, MW_STANDARD_ATMOSPHERE_KPA, &settle));
    assert_int_equal(settle.warnings, 0);
    check_ok(mw_settle(350, 4.3e-3, 0.05, MW_STANDARD_ATMOSPHERE_KPA, &settle));
    assert_int_equal(settle.warnings, MW_WARN_FAST_BUBBLE);
    check_ok(mw_settle(350, 2.2e-3, 0.05, 10, &settle));
    assert_int_equal(settle.warnings, MW_WARN_FAST_BUBBLE);
}

static void low_pressure_raises_a_warning(void **state)
{
    struct mw_settle settle;
    (void)state;
    check_ok(mw_settle(2385, 0.2e-3, 0.05, 5, &settle));
    assert_int_equal(settle.warnings, 0);
    check_ok(mw_settle(2385, 0.2e-3, 0.05, 4.99, &settle));
    assert_int_equal(settle.warnings, MW_WARN_LOW_PRESSURE);
}

static void gauges(void **state)
{
    const double none[] = {-101.325, -238.5, NAN, INFINITY};
    double pressure;
    (void)state;
    check_ok(mw_pressure_of_gauge(-91.325, &pressure));
    check_part(pressure, 10, 1e-14);
    check_ok(mw_pressure_of_gauge(23.85, &pressure));
    check_part(pressure, 125.175, 1e-14);
    for (size_t i = 0; i < sizeof none / sizeof none[0]; i++) {
        assert_int_equal(mw_pressure_of_gauge(none[i], &pressure),
                         MW_ERR_PRESSURE);
        assert_true(isnan(pressure));
    }
}

/* the time that the usual bubble was chosen for: common practice, no source */
static void usual_bubble_takes_as_long_as_in_practice(void **state)
{
    struct mw_settle settle;
    (void)state;
    check_ok(mw_settle(450, MW_USUAL_BUBBLE, 0.02, 10, &settle));
    assert_true(settle.seconds >= 20 && settle.seconds < 60);
    assert_true(settle.still_seconds >= 120 && settle.still_seconds < 600);
}

static void refused(void **state)
{
    static const struct {
        double v, diameter, depth, pressure;
        enum mw_status status;
    } rows[] = {
        {0, 1e-3, 0.05, 10, MW_ERR_VISCOSITY},
        {NAN, 1e-3, 0.05, 10, MW_ERR_VISCOSITY},
        {350, 0, 0.05, 10, MW_ERR_LENGTH},
        {350, -1e-3, 0.05, 10, MW_ERR_LENGTH},
        {350, NAN, 0.05, 10, MW_ERR_LENGTH},
        {350, 1e150, 0.05, 10, MW_ERR_LENGTH},
        {350, 1e-150, 0.05, 10, MW_ERR_LENGTH},
        {350, 1e-3, 0, 10, MW_ERR_LENGTH},
        {350, 1e-3, INFINITY, 10, MW_ERR_LENGTH},
        {350, 1e-3, NAN, 10, MW_ERR_LENGTH},
        {350, 1e-3, 0.05, 0, MW_ERR_PRESSURE},
        {350, 1e-3, 0.05, -91.3, MW_ERR_PRESSURE}, /* a gauge's reading */
        {350, 1e-3, 0.05, NAN, MW_ERR_PRESSURE},
        {350, 1e-3, 0.05, 5e-324, MW_ERR_PRESSURE}, /* Re overflows */
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct mw_settle settle = {.warnings = 1};
        assert_int_equal(mw_settle(rows[i].v, rows[i].diameter, rows[i].depth,
                                   rows[i].pressure, &settle),
                         rows[i].status);
        assert_true(isnan(settle.seconds));
        assert_true(isnan(settle.growth));
        assert_int_equal(settle.warnings, 0);
    }
    double x = 0;
    assert_int_equal(mw_bubble_speed(350, 1e-3, (enum mw_bubble_skin)2, &x),
                     MW_ERR_UNIT);
    assert_true(isnan(x));
    x = 0;
    assert_int_equal(mw_bubble_reynolds(350, -1e-3, MW_BUBBLE_CLEAN, &x),
                     MW_ERR_LENGTH);
    assert_true(isnan(x));
}

static void depth_of_a_batch(void **state)
{
    double depth;
    (void)state;
    /* a cup of 30 mm across and 30 mm of oil holds pi/4 27 = 21.2058 ml */
    check_ok(mw_batch_depth(21.205750411731103, &depth));
    check_part(depth, 0.030, 1e-14);
    check_fails(mw_batch_depth(0, &depth), MW_ERR_AMOUNT, depth);
    check_fails(mw_batch_depth(NAN, &depth), MW_ERR_AMOUNT, depth);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(speed_under_reduced_pressure),
        cmocka_unit_test(pieces_make_the_whole),
        cmocka_unit_test(fast_bubbles_raise_a_warning),
        cmocka_unit_test(low_pressure_raises_a_warning),
        cmocka_unit_test(gauges),
        cmocka_unit_test(usual_bubble_takes_as_long_as_in_practice),
        cmocka_unit_test(depth_of_a_batch),
        cmocka_unit_test(refused),
    };
    return cmocka_run_group_tests_name("bubble", tests, NULL, NULL);
}
