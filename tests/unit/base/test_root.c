/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include <gsl/gsl_roots.h>

#include "base/root.h"
#include "check.h"

static double square_less(double x, void *params)
{
    const double *square = params;
    return x * x - *square;
}

static double less_cube(double x, void *params)
{
    (void)params;
    return 2.385 - x * x * x;
}

static double from_zero(double x, void *params)
{
    (void)params;
    return x * x * x;
}

/* finite at the ends, not between them */
static double holed(double x, void *params)
{
    const double *hole = params;
    return fabs(x) > 1 ? x : *hole;
}

static double steep(double x, void *params)
{
    (void)params;
    return expm1(100 * (x - 0.2385));
}

static void finds_roots(void **state)
{
    double x, square = 2.385;
    (void)state;
    check_ok(mw_root(square_less, &square, 0, 2.385, &x));
    check_part(x, sqrt(2.385), 4e-15);
    check_ok(mw_root(less_cube, NULL, -3, 30, &x));
    check_part(x, cbrt(2.385), 4e-15);
    check_ok(mw_root(steep, NULL, 0, 1, &x));
    check_part(x, 0.2385, 4e-15);
    check_ok(mw_root(square_less, &square, -2.385, 0, &x));
    check_part(x, -sqrt(2.385), 4e-15);
}

static void a_root_at_zero_ends(void **state)
{
    double x;
    (void)state;
    check_ok(mw_root(from_zero, NULL, -2.385, 23.85, &x));
    check_near(x, 0, 1e-15);
}

static void an_end_may_be_the_root(void **state)
{
    double x, square = 4;
    (void)state;
    check_ok(mw_root(square_less, &square, 2, 23.85, &x));
    check_near(x, 2, 0);
    check_ok(mw_root(square_less, &square, 0.2385, 2, &x));
    check_near(x, 2, 0);
}

static void what_is_no_bracket_is_refused(void **state)
{
    double x, square = 2.385;
    (void)state;
    check_fails(mw_root(square_less, &square, 2, 3, &x), MW_ERR_ROOT, x);
    check_fails(mw_root(square_less, &square, 0, 1, &x), MW_ERR_ROOT, x);
    check_fails(mw_root(square_less, &square, 2.385, 0, &x), MW_ERR_ROOT, x);
    check_fails(mw_root(square_less, &square, NAN, 2, &x), MW_ERR_ROOT, x);
    check_fails(mw_root(square_less, &square, 0, NAN, &x), MW_ERR_ROOT, x);
    check_fails(mw_root(square_less, &square, 0, 1e200, &x), MW_ERR_ROOT, x);
}

static void a_value_that_is_not_finite_is_refused(void **state)
{
    double x, holes[] = {NAN, INFINITY, -INFINITY};
    (void)state;
    for (size_t i = 0; i < 3; i++) {
        check_fails(mw_root(holed, &holes[i], -2.385, 3, &x), MW_ERR_ROOT, x);
    }
}

static double line(double x, void *params)
{
    (void)params;
    return x - 2.385;
}

/* a solver with a larger state than the buffer is refused */
static void a_state_that_does_not_fit(void **state)
{
    gsl_root_fsolver_type large = *gsl_root_fsolver_brent;
    double x;
    (void)state;
    check_ok(mw_root_by(&large, line, NULL, 0.5, 7.5, &x));
    check_near(x, 2.385, 1e-14);
    large.size = MW_ROOT_STATE_DOUBLES * sizeof(double);
    check_ok(mw_root_by(&large, line, NULL, 0.5, 7.5, &x));
    large.size++;
    check_fails(mw_root_by(&large, line, NULL, 0.5, 7.5, &x), MW_ERR_ROOT, x);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(finds_roots),
        cmocka_unit_test(a_root_at_zero_ends),
        cmocka_unit_test(an_end_may_be_the_root),
        cmocka_unit_test(what_is_no_bracket_is_refused),
        cmocka_unit_test(a_value_that_is_not_finite_is_refused),
        cmocka_unit_test(a_state_that_does_not_fit),
    };
    return cmocka_run_group_tests_name("root", tests, NULL, NULL);
}
