/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/range.h"
#include "check.h"
#include "fluid/silicone.h"

static void the_law_falls_and_is_one_at_25(void **state)
{
    double factor, last = INFINITY;
    (void)state;
    for (double t = -20; t <= 100; t += 0.0625) {
        check_ok(mw_silicone_factor(t, &factor));
        assert_true(factor < last);
        last = factor;
    }
    check_ok(mw_silicone_factor(25, &factor));
    check_near(factor, 1, 0);
}

static void slope_is_the_derivative(void **state)
{
    (void)state;
    for (double t = -19.9; t < 99.9; t += 0.385) {
        double slope, up, down;
        check_ok(mw_silicone_slope(t, &slope));
        check_ok(mw_silicone_factor(t - 1e-3, &up));
        check_ok(mw_silicone_factor(t + 1e-3, &down));
        check_part(slope, log(down / up) / 2e-3, 1e-8);
    }
}

static void from_any_temperature_to_any_and_back(void **state)
{
    (void)state;
    for (double from = -20; from <= 100; from += 7.5) {
        for (double to = -20; to <= 100; to += 7.5) {
            double there, back;
            check_ok(mw_silicone_at(238.5, from, to, &there));
            check_ok(mw_silicone_at(there, to, from, &back));
            check_part(back, 238.5, 1e-14);
            assert_true(from == to || (there < 238.5) == (to > from));
        }
    }
}

static void the_same_temperature_changes_nothing(void **state)
{
    const double v[] = {MW_VISCOSITY_MIN, 238.5, MW_VISCOSITY_MAX};
    (void)state;
    for (size_t i = 0; i < 3; i++) {
        for (double t = -20; t <= 100; t += 0.125) {
            double same;
            check_ok(mw_silicone_at(v[i], t, t, &same));
            check_near(same, v[i], 0);
        }
    }
}

static void outside_the_law(void **state)
{
    const double bad[] = {-20.001, 100.001, -273.15, NAN, INFINITY, -INFINITY};
    double x;
    (void)state;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        check_fails(mw_silicone_factor(bad[i], &x), MW_ERR_LAW_RANGE, x);
        check_fails(mw_silicone_slope(bad[i], &x), MW_ERR_LAW_RANGE, x);
        check_fails(mw_silicone_at(238.5, bad[i], 25, &x), MW_ERR_LAW_RANGE, x);
        check_fails(mw_silicone_at(238.5, 25, bad[i], &x), MW_ERR_LAW_RANGE, x);
        check_fails(mw_silicone_density(238.5, bad[i], &x, NULL),
                    MW_ERR_LAW_RANGE, x);
        check_fails(mw_silicone_expand(0.97, bad[i], &x), MW_ERR_LAW_RANGE, x);
    }
}

static void viscosities_out_of_range(void **state)
{
    const double bad[] = {0.2099, 2.001e7, 0, -238.5, NAN, INFINITY};
    double x;
    (void)state;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        check_fails(mw_silicone_at(bad[i], 25, 18.5, &x), MW_ERR_VISCOSITY, x);
        check_fails(mw_silicone_density(bad[i], 18.5, &x, NULL),
                    MW_ERR_VISCOSITY, x);
    }
    check_fails(mw_silicone_at(1.9e7, 25, 0, &x), MW_ERR_VISCOSITY, x);
    check_fails(mw_silicone_at(0.22, 25, 90, &x), MW_ERR_VISCOSITY, x);
}

static void density_rises_with_the_grade(void **state)
{
    double density, last = 0;
    (void)state;
    for (double v = 9.8; v <= 1e5; v *= 1.01) {
        unsigned warnings = 0;
        check_ok(mw_silicone_density(v, 25, &density, &warnings));
        assert_true(density > last);
        assert_int_equal(warnings, 0);
        last = density;
    }
}

static void outside_the_table_the_ends_are_held(void **state)
{
    const struct {
        double v25, density;
    } ends[] = {{9.7, 0.9315}, {0.21, 0.9315}, {1.1e5, 0.977}, {2e7, 0.977}};
    (void)state;
    for (size_t i = 0; i < sizeof ends / sizeof ends[0]; i++) {
        unsigned warnings = MW_WARN_WIDE;
        double density;
        check_ok(mw_silicone_density(ends[i].v25, 25, &density, &warnings));
        check_near(density, ends[i].density, 1e-15);
        assert_int_equal(warnings, MW_WARN_WIDE | MW_WARN_DENSITY);
        check_ok(mw_silicone_density(ends[i].v25, 25, &density, NULL));
    }
}

/* halfway between 350 and 500 on a logarithmic scale is half of 1e-3 g/ml */
static void between_rows_density_is_straight_in_the_logarithm(void **state)
{
    double density;
    (void)state;
    check_ok(mw_silicone_density(sqrt(350.0 * 500.0), 25, &density, NULL));
    check_near(density, 0.9695, 1e-14);
}

static void oil_expands_with_warmth(void **state)
{
    const double bad[] = {0.0999, 10.01, 970, -0.97, NAN};
    double x, last = INFINITY;
    (void)state;
    for (double t = -20; t <= 100; t += 2.385) {
        check_ok(mw_silicone_expand(0.97, t, &x));
        assert_true(x < last);
        last = x;
    }
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        check_fails(mw_silicone_expand(bad[i], 18.5, &x), MW_ERR_DENSITY, x);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_law_falls_and_is_one_at_25),
        cmocka_unit_test(slope_is_the_derivative),
        cmocka_unit_test(from_any_temperature_to_any_and_back),
        cmocka_unit_test(the_same_temperature_changes_nothing),
        cmocka_unit_test(outside_the_law),
        cmocka_unit_test(viscosities_out_of_range),
        cmocka_unit_test(density_rises_with_the_grade),
        cmocka_unit_test(outside_the_table_the_ends_are_held),
        cmocka_unit_test(between_rows_density_is_straight_in_the_logarithm),
        cmocka_unit_test(oil_expands_with_warmth),
    };
    return cmocka_run_group_tests_name("silicone", tests, NULL, NULL);
}
