/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "uncertainty/budget.h"
#include "uncertainty/budget_internal.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#define assert_close(x, y, d) assert_true(fabs((x) - (y)) <= (d))

static void rectangular_limits_over_sqrt_3(void **state)
{
    (void)state;
    double u;
    assert_int_equal(mw_rectangular(2.385, &u), MW_OK);
    assert_close(u * u * 3, 2.385 * 2.385, 1e-14);
    assert_int_equal(mw_rectangular(0, &u), MW_OK);
    assert_true(u == 0);
    assert_int_equal(mw_rectangular(-0.017, &u), MW_ERR_UNCERTAINTY);
    assert_true(isnan(u));
    assert_int_equal(mw_rectangular(NAN, &u), MW_ERR_UNCERTAINTY);
    assert_int_equal(mw_rectangular(INFINITY, &u), MW_ERR_UNCERTAINTY);
}

static void contributions_add_in_squares(void **state)
{
    (void)state;
    struct mw_budget budget = {0};
    double percent;
    assert_int_equal(mw_budget_add(&budget, "time", 0.3, -0.1), MW_OK);
    assert_int_equal(mw_budget_add(&budget, "diameter", 0.02, 2), MW_OK);
    assert_close(mw_budget_combined(&budget), 0.05, 1e-16);
    assert_int_equal(mw_budget_share(&budget, 0, &percent), MW_OK);
    assert_close(percent, 36, 1e-12);
    assert_int_equal(mw_budget_share(&budget, 1, &percent), MW_OK);
    assert_close(percent, 64, 1e-12);
    assert_string_equal(mw_budget_dominant(&budget), "diameter");
}

static void the_band_is_symmetric_in_ln_v(void **state)
{
    (void)state;
    struct mw_budget budget = {0};
    double low, high;
    mw_budget_add(&budget, "law", 0.031, 1);
    assert_int_equal(mw_budget_band(&budget, 238.5, &low, &high), MW_OK);
    assert_close(log(238.5 / low), 0.062, 1e-15);
    assert_close(log(high / 238.5), 0.062, 1e-15);
    assert_int_equal(mw_budget_band(&budget, 0.2, &low, &high),
                     MW_ERR_VISCOSITY);
    assert_true(isnan(low) && isnan(high));
    mw_budget_add(&budget, "time", 2.98, 1);
    assert_int_equal(mw_budget_band(&budget, 238.5, &low, &high), MW_OK);
    assert_true(low > 0 && isfinite(high));
    /* the squares of 2.98 and 0.35 add up to more than 9 */
    mw_budget_add(&budget, "diameter", 0.35, 1);
    assert_int_equal(mw_budget_band(&budget, 238.5, &low, &high),
                     MW_ERR_UNCERTAINTY);
    assert_true(isnan(low) && isnan(high));
    mw_budget_add(&budget, "distance", 1e200, 1e200);
    assert_int_equal(mw_budget_band(&budget, 238.5, &low, &high),
                     MW_ERR_UNCERTAINTY);
}

static void an_empty_budget_has_no_uncertainty(void **state)
{
    (void)state;
    struct mw_budget budget = {0};
    double percent;
    assert_true(mw_budget_combined(&budget) == 0);
    assert_null(mw_budget_dominant(&budget));
    assert_int_equal(mw_budget_share(&budget, 0, &percent), MW_ERR_BUDGET);
    assert_true(isnan(percent));
    mw_budget_add(&budget, "exact", 0, 2.385);
    assert_null(mw_budget_dominant(&budget));
    assert_int_equal(mw_budget_share(&budget, 0, &percent), MW_ERR_BUDGET);
}

static void a_full_budget_refuses_more(void **state)
{
    (void)state;
    struct mw_budget budget = {0};
    for (int i = 0; i < MW_BUDGET_MAX; i++) {
        assert_int_equal(mw_budget_add(&budget, "part", 0.017, 2), MW_OK);
    }
    assert_int_equal(mw_budget_add(&budget, "more", 0.017, 2), MW_ERR_BUDGET);
    assert_int_equal(budget.count, MW_BUDGET_MAX);
    assert_close(mw_budget_combined(&budget), 0.034 * sqrt(MW_BUDGET_MAX),
                 1e-14);
}

static void bad_contributions_are_refused(void **state)
{
    (void)state;
    struct mw_budget budget = {0};
    const double bad[][2] = {{-0.01, 2},  {NAN, 2},          {INFINITY, 2},
                             {0.02, NAN}, {0.02, -INFINITY}, {1e200, 1e200},
                             {0, NAN}};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        assert_int_equal(mw_budget_add(&budget, "bad", bad[i][0], bad[i][1]),
                         MW_ERR_UNCERTAINTY);
    }
    assert_int_equal(budget.count, 0);
}

/* ln v = 1.7 ln x: c = 1.7/x */
static double power_law(double x, void *params)
{
    const double *power = params;
    return *power * log(x);
}

static void numeric_sensitivity_is_the_derivative(void **state)
{
    (void)state;
    struct mw_budget budget = {0};
    double power = 1.7;
    assert_int_equal(
        mw_budget_add_numeric(&budget, "x", 64.5, 0.02, power_law, &power),
        MW_OK);
    assert_close(budget.parts[0].sensitivity, 1.7 / 64.5, 1e-8);
    assert_int_equal(
        mw_budget_add_numeric(&budget, "exact", 64.5, 0, power_law, &power),
        MW_OK);
    assert_close(budget.parts[1].sensitivity, 1.7 / 64.5, 1e-9);
    assert_true(budget.parts[1].uncertainty == 0);
}

/* GUM 5.1.3, note 2: the contribution is half of f(x + u) - f(x - u) */
static void the_step_is_the_uncertainty(void **state)
{
    (void)state;
    struct mw_budget budget = {0};
    double power = 1.7;
    mw_budget_add_numeric(&budget, "x", 64.5, 9.5, power_law, &power);
    assert_close(mw_budget_combined(&budget), 0.85 * log(74.0 / 55.0), 1e-14);
}

static void an_uncertainty_past_the_end_is_refused(void **state)
{
    (void)state;
    struct mw_budget budget = {0};
    double power = 1.7;
    const double bad[][2] = {{64.5, 64.5}, {64.5, 70}, {64.5, -0.1},
                             {64.5, NAN},  {0, 0},     {INFINITY, 0.1}};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        assert_int_equal(mw_budget_add_numeric(&budget, "x", bad[i][0],
                                               bad[i][1], power_law, &power),
                         MW_ERR_UNCERTAINTY);
    }
    assert_int_equal(budget.count, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rectangular_limits_over_sqrt_3),
        cmocka_unit_test(contributions_add_in_squares),
        cmocka_unit_test(the_band_is_symmetric_in_ln_v),
        cmocka_unit_test(an_empty_budget_has_no_uncertainty),
        cmocka_unit_test(a_full_budget_refuses_more),
        cmocka_unit_test(bad_contributions_are_refused),
        cmocka_unit_test(numeric_sensitivity_is_the_derivative),
        cmocka_unit_test(the_step_is_the_uncertainty),
        cmocka_unit_test(an_uncertainty_past_the_end_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
