/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "check.h"
#include "damper/damper.h"
#include "damper/damper_internal.h"

/* a small damper with three holes */
static const struct mw_damper small = {{3, 1.2e-3, 2.0e-3}, 12e-3, 3e-3, 0};

static double damping_of(struct mw_damper damper, double dynamic)
{
    double damping;
    check_ok(mw_damping(&damper, dynamic, &damping));
    return damping;
}

static void ends_of_the_holes_add_to_their_length(void **state)
{
    double length, area, drop;
    (void)state;
    check_ok(mw_piston_length(&small.piston, &length));
    check_near(length, 2.0e-3 + 3 * acos(-1) / 16 * 1.2e-3, 1e-18);
    check_ok(mw_damper_area(&small, &area));
    mw_pressure_drop(339.5, 1.2e-3, 2.0e-3, area / 3, &drop);
    check_near(drop * area, 49.9955, 0.5e-4);
}

static void damping_scales_as_the_formula(void **state)
{
    struct mw_damper other = small;
    const double was = damping_of(small, 339.5);
    (void)state;
    check_part(damping_of(small, 2.385 * 339.5), 2.385 * was, 1e-14);
    other.piston.holes = 5;
    check_part(damping_of(other, 339.5), was * 3 / 5, 1e-14);
    /* every length by one factor: area^2 length/d^4 grows by that factor */
    other = (struct mw_damper){
        {3, 1.3 * 1.2e-3, 1.3 * 2.0e-3}, 1.3 * 12e-3, 1.3 * 3e-3, 0};
    check_part(damping_of(other, 339.5), 1.3 * was, 1e-14);
}

static void forces_at_a_speed(void **state)
{
    struct mw_damper_state at;
    (void)state;
    check_ok(mw_damper_at(&small, 339.5, 0.970, 0.1, &at));
    check_near(at.hole_speed, 3.125, 1e-12);
    check_near(at.reynolds, 10.7, 0.05);
    check_near(at.viscous, 6.767, 0.5e-3);
    check_near(at.kinetic, 1.165, 0.5e-3);
    check_near(at.kinetic_share, at.kinetic / (at.kinetic + at.viscous), 1e-15);
    /* a small Reynolds number does not mean a linear damper */
    assert_int_equal(at.warnings, MW_WARN_KINETIC);
}

/* damping falls, and the speed in the holes, by the same part: 1 + 2.8 % of
 * three holes of 1.2 mm in a 12 mm bore, after reference/damper.csv */
static void a_leak_softens(void **state)
{
    struct mw_damper loose = small;
    struct mw_damper_state tight_at, at;
    double leak, wide;
    (void)state;
    loose.gap = 0.1e-3;
    check_ok(mw_damper_leak(&small, &leak));
    check_near(leak, 0, 0);
    check_ok(mw_damper_leak(&loose, &leak));
    check_near(leak, 0.028, 0.5e-3);
    check_ok(mw_damper_at(&small, 339.5, 0.970, 0.1, &tight_at));
    check_ok(mw_damper_at(&loose, 339.5, 0.970, 0.1, &at));
    check_part(at.viscous * (1 + leak), tight_at.viscous, 1e-14);
    check_part(at.hole_speed * (1 + leak), tight_at.hole_speed, 1e-14);
    /* by the cube of the gap */
    loose.gap = 0.2e-3;
    check_ok(mw_damper_leak(&loose, &wide));
    check_part(wide, 8 * leak, 1e-14);
}

static void warnings_come_with_their_cause(void **state)
{
    struct mw_damper_state at;
    (void)state;
    check_ok(mw_damper_at(&small, 339.5, 0.970, 0.05, &at));
    assert_true(at.kinetic_share < MW_KINETIC_SHARE_MAX);
    assert_int_equal(at.warnings, 0);
    check_ok(mw_damper_at(&small, 2.9, 0.89, 0.17, &at));
    check_near(at.reynolds, 1956.5, 0.1);
    assert_int_equal(at.warnings, MW_WARN_KINETIC);
    check_ok(mw_damper_at(&small, 2.9, 0.89, 0.18, &at));
    assert_true(at.reynolds > MW_LAMINAR_MAX);
    assert_int_equal(at.warnings, MW_WARN_KINETIC | MW_WARN_TURBULENT);
}

static void damping_ratio(void **state)
{
    double ratio;
    (void)state;
    check_ok(mw_damping_ratio(67.6654, 2385, 0.42, &ratio));
    check_part(ratio, 67.6654 / (2 * sqrt(2385 * 0.42)), 1e-14);
    const double bad[][3] = {{0, 2385, 0.42},     {67, -2385, 0.42},
                             {67, 2385, NAN},     {67, INFINITY, 0.42},
                             {-67, -2385, -0.42}, {1e308, 1e-300, 1e-300}};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        ratio = 0;
        assert_int_equal(
            mw_damping_ratio(bad[i][0], bad[i][1], bad[i][2], &ratio),
            MW_ERR_QUANTITY);
        assert_true(isnan(ratio));
    }
}

static void sizes_that_are_refused(void **state)
{
    static const struct mw_damper bad[] = {
        {{0, 1.2e-3, 2.0e-3}, 12e-3, 3e-3, 0},
        {{-3, 1.2e-3, 2.0e-3}, 12e-3, 3e-3, 0},
        {{3, 0, 2.0e-3}, 12e-3, 3e-3, 0},
        {{3, NAN, 2.0e-3}, 12e-3, 3e-3, 0},
        {{3, 1.2e-3, 0}, 12e-3, 3e-3, 0},
        {{3, 1.2e-3, INFINITY}, 12e-3, 3e-3, 0},
        {{3, 1.2e-3, 2.0e-3}, 12e-3, 12e-3, 0}, /* the shaft fills the bore */
        {{3, 1.2e-3, 2.0e-3}, 12e-3, -3e-3, 0},
        {{3, 1.2e-3, 2.0e-3}, NAN, 3e-3, 0},
        {{3, 1.2e-3, 2.0e-3}, INFINITY, 3e-3, 0},
        {{3, 6.8e-3, 2.0e-3}, 12e-3, 3e-3, 0}, /* more than fit the piston */
        {{3, 0.9e-5, 2.0e-3}, 12e-3, 3e-3, 0}, /* a wrong unit */
        {{3, 1.2e-3, 2.0e-3}, 12, 3e-3, 0},    /* mm written as m */
        {{3, 1.2e-3, 2.0e-3}, 12e-3, 1e-6, 0},
        {{3, 1.2e-3, 2.0e-3}, 12e-3, 3e-3, -0.1e-3},
        {{3, 1.2e-3, 2.0e-3}, 12e-3, 3e-3, 1.3e-3}, /* no narrow gap */
        {{3, 1.2e-3, 2.0e-3}, 12e-3, 3e-3, NAN},
    };
    (void)state;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        struct mw_damper_state at;
        double damping = 0;
        assert_int_equal(mw_damping(&bad[i], 339.5, &damping), MW_ERR_LENGTH);
        assert_true(isnan(damping));
        assert_int_equal(mw_damper_at(&bad[i], 339.5, 0.970, 0.1, &at),
                         MW_ERR_LENGTH);
        assert_true(isnan(at.viscous));
        damping = 0;
        assert_int_equal(mw_damper_leak(&bad[i], &damping), MW_ERR_LENGTH);
        assert_true(isnan(damping));
    }
}

static void quantities_that_are_refused(void **state)
{
    struct mw_damper_state at;
    double x;
    (void)state;
    assert_int_equal(mw_damping(&small, 0, &x), MW_ERR_VISCOSITY);
    assert_int_equal(mw_damping(&small, NAN, &x), MW_ERR_VISCOSITY);
    assert_int_equal(mw_damping(&small, 1e306, &x), MW_ERR_VISCOSITY);
    assert_int_equal(mw_damping(&small, 1e308, &x), MW_ERR_VISCOSITY);
    assert_true(isnan(x));
    assert_int_equal(mw_damper_at(&small, 339.5, 970, 0.1, &at),
                     MW_ERR_DENSITY);
    assert_int_equal(mw_damper_at(&small, 339.5, 0.970, -0.1, &at),
                     MW_ERR_QUANTITY);
    assert_int_equal(mw_damper_at(&small, 339.5, 0.970, 1e200, &at),
                     MW_ERR_QUANTITY);
    assert_true(isnan(at.reynolds));
    assert_int_equal(at.warnings, 0);
    /* so thin that the force is finite, but not the Reynolds number */
    assert_int_equal(mw_damper_at(&small, 1e-303, 0.970, 1e50, &at),
                     MW_ERR_QUANTITY);
    assert_true(isnan(at.reynolds));
    assert_int_equal(mw_pressure_drop(1, 0.3e-3, 25e-3, NAN, &x),
                     MW_ERR_QUANTITY);
    assert_int_equal(mw_pressure_drop(1, 0.3e-3, 25e-3, 1e300, &x),
                     MW_ERR_QUANTITY);
    assert_int_equal(mw_pressure_drop(-1, 0.3e-3, 25e-3, 1e-7, &x),
                     MW_ERR_VISCOSITY);
    assert_int_equal(mw_pressure_drop(1, 0, 25e-3, 1e-7, &x), MW_ERR_LENGTH);
    assert_int_equal(mw_pressure_drop(1, 0.3e-3, -25e-3, 1e-7, &x),
                     MW_ERR_LENGTH);
    assert_true(isnan(x));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ends_of_the_holes_add_to_their_length),
        cmocka_unit_test(damping_scales_as_the_formula),
        cmocka_unit_test(forces_at_a_speed),
        cmocka_unit_test(a_leak_softens),
        cmocka_unit_test(warnings_come_with_their_cause),
        cmocka_unit_test(damping_ratio),
        cmocka_unit_test(sizes_that_are_refused),
        cmocka_unit_test(quantities_that_are_refused),
    };
    return cmocka_run_group_tests_name("damper", tests, NULL, NULL);
}
