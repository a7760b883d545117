/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench/outlier.h"
#include "check.h"
#include "fluid/walther.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>

static const struct mw_line truth = {9.1, 3.52};

/* set points on a line, 17.3 K apart */
static void put_on_line(struct mw_point points[], size_t n)
{
    for (size_t i = 0; i < n; i++) {
        points[i].temperature = 10 + 17.3 * (double)i;
        check_ok(
            mw_line_at(&truth, points[i].temperature, &points[i].viscosity));
    }
}

static void residuals_are_those_of_the_fit(void **state)
{
    struct mw_point points[5];
    struct mw_residual residuals[5];
    struct mw_line line;
    double spread, sum = 0;
    int outlier;
    (void)state;
    put_on_line(points, 5);
    for (int i = 0; i < 5; i++) {
        points[i].viscosity *= exp(i % 2 ? 0.0123 : -0.0238);
    }
    check_ok(mw_line_fit(points, 5, &line, &spread));
    check_ok(mw_line_residuals(points, 5, residuals, &outlier));
    for (int i = 0; i < 5; i++) {
        double v;
        check_ok(mw_line_at(&line, points[i].temperature, &v));
        check_near(residuals[i].residual, log(points[i].viscosity / v), 1e-12);
        sum += residuals[i].residual * residuals[i].residual;
    }
    check_part(sqrt(sum / 3), spread, 1e-12);
    assert_int_equal(outlier, MW_NO_OUTLIER);
}

/* each point in turn, thicker and thinner, at the ends and in the middle */
static void the_outlier_is_found(void **state)
{
    (void)state;
    for (size_t n = 5; n <= 9; n++) {
        for (size_t wrong = 0; wrong < n; wrong++) {
            for (int sign = -1; sign <= 1; sign += 2) {
                struct mw_point points[9];
                struct mw_residual residuals[9];
                int outlier;
                put_on_line(points, n);
                for (size_t i = 0; i < n; i++) {
                    points[i].viscosity *= i % 2 ? 1.002 : 0.998;
                }
                points[wrong].viscosity *= exp(sign * 0.238);
                check_ok(mw_line_residuals(points, n, residuals, &outlier));
                assert_int_equal(outlier, (int)wrong);
                assert_true(residuals[wrong].standard * sign >
                            MW_OUTLIER_LIMIT);
            }
        }
    }
}

/* A limit of 3 is passed by one normally distributed residual in 370,
 * whatever the number of points; the errors are so large that
 * MW_OUTLIER_TYPE_A has no effect. */
static void the_limit_holds_for_any_number_of_points(void **state)
{
    enum { RUNS = 15000 };
    const size_t counts[] = {5, 7, 12};
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    gsl_rng_set(rng, 2385);
    (void)state;
    for (size_t c = 0; c < sizeof counts / sizeof counts[0]; c++) {
        size_t n = counts[c], over = 0;
        struct mw_point exact[12];
        put_on_line(exact, n);
        for (int run = 0; run < RUNS; run++) {
            struct mw_point points[12];
            struct mw_residual residuals[12];
            int outlier;
            for (size_t i = 0; i < n; i++) {
                points[i] = exact[i];
                points[i].viscosity *= exp(gsl_ran_gaussian(rng, 0.05));
            }
            check_ok(mw_line_residuals(points, n, residuals, &outlier));
            for (size_t i = 0; i < n; i++) {
                over += fabs(residuals[i].standard) > MW_OUTLIER_LIMIT;
            }
        }
        check_near((double)over / (double)(RUNS * n), 0.0027, 0.0004);
    }
    gsl_rng_free(rng);
}

/* points that are exact except for rounding do not make another an outlier */
static void rounding_is_no_outlier(void **state)
{
    struct mw_point points[6];
    struct mw_residual residuals[6];
    int outlier;
    (void)state;
    put_on_line(points, 6);
    points[2].viscosity *= 1.003;
    check_ok(mw_line_residuals(points, 6, residuals, &outlier));
    assert_int_equal(outlier, MW_NO_OUTLIER);
    assert_true(residuals[2].standard > 0);
    points[2].viscosity *= 1.05;
    check_ok(mw_line_residuals(points, 6, residuals, &outlier));
    assert_int_equal(outlier, 2);
}

static void too_few_points_for_an_outlier(void **state)
{
    struct mw_point points[4] = {
        {238.5, 20}, {23.85, 80}, {230.1, 20}, {241.7, 20}};
    struct mw_residual residuals[4];
    int outlier;
    (void)state;
    check_ok(mw_line_residuals(points, 2, residuals, &outlier));
    check_near(residuals[0].residual, 0, 1e-12);
    assert_true(isnan(residuals[0].standard));
    check_ok(mw_line_residuals(points, 3, residuals, &outlier));
    assert_true(isnan(residuals[2].standard));
    /* without the only warm point there is no line */
    check_ok(mw_line_residuals(points, 4, residuals, &outlier));
    assert_true(isnan(residuals[1].standard));
    assert_true(isfinite(residuals[0].standard));
    assert_int_equal(outlier, MW_NO_OUTLIER);
}

/* the line through the other points leaves the chart before this one */
static void a_point_that_no_line_reaches(void **state)
{
    const struct mw_point points[5] = {
        {1e6, -23.85}, {1000, 80}, {500, 85}, {250, 90}, {130, 95}};
    struct mw_residual residuals[5];
    int outlier;
    (void)state;
    check_ok(mw_line_residuals(points, 5, residuals, &outlier));
    assert_true(isnan(residuals[0].standard));
    assert_true(isfinite(residuals[1].standard));
}

static void no_line_no_residuals(void **state)
{
    const struct mw_point rising[3] = {{23.85, 20}, {238.5, 40}, {300, 60}};
    struct mw_residual residuals[3] = {{2.385, 2.385}};
    int outlier = 0;
    (void)state;
    check_fails(mw_line_residuals(rising, 3, residuals, &outlier),
                MW_ERR_NOT_DECREASING, residuals[0].residual);
    assert_int_equal(outlier, MW_NO_OUTLIER);
    check_fails(mw_line_residuals(rising, 1, residuals, &outlier),
                MW_ERR_POINTS, residuals[0].residual);
    assert_int_equal(mw_line_residuals(rising, 0, residuals, &outlier),
                     MW_ERR_POINTS);
}

/* how often of 400 a point is named that is off by a factor, where all points
 * scatter by 1 % */
static int named(gsl_rng *rng, size_t n, double factor)
{
    int count = 0;
    for (int i = 0; i < 400; i++) {
        struct mw_point points[10];
        struct mw_residual residuals[10];
        size_t off = gsl_rng_uniform_int(rng, n);
        int outlier;
        for (size_t j = 0; j < n; j++) {
            double t = 10 + 80 * (double)j / (double)(n - 1);
            points[j].temperature = t;
            check_ok(mw_line_at(&truth, t, &points[j].viscosity));
            points[j].viscosity *= exp(gsl_ran_gaussian(rng, 0.01));
        }
        points[off].viscosity *= factor;
        check_ok(mw_line_residuals(points, n, residuals, &outlier));
        count += outlier == (int)off;
    }
    return count;
}

/* what the header promises */
static void the_size_that_is_found(void **state)
{
    (void)state;
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    assert_true(named(rng, 4, 1.2) < 8);
    assert_in_range(named(rng, 5, 1.5), 320, 400);
    assert_in_range(named(rng, 6, 1.2), 340, 400);
    assert_in_range(named(rng, 8, 1.1), 340, 400);
    gsl_rng_free(rng);
}

static void a_point_beside_an_oil(void **state)
{
    const struct mw_point rating = {350, 25}, thick = {360.5, 25},
                          thin = {0.1, 25};
    struct mw_point elsewhere = {NAN, 12};
    struct mw_oil oil;
    double residual;
    (void)state;
    check_ok(mw_oil_make(MW_SILICONE, &rating, 1, NAN, &oil));
    check_ok(mw_oil_residual(&oil, &thick, &residual));
    check_near(residual, log(360.5 / 350), 1e-15);
    check_ok(mw_oil_viscosity(&oil, 12, &elsewhere.viscosity));
    elsewhere.viscosity *= 0.97;
    check_ok(mw_oil_residual(&oil, &elsewhere, &residual));
    check_near(residual, log(0.97), 1e-12);
    check_fails(mw_oil_residual(&oil, &thin, &residual), MW_ERR_VISCOSITY,
                residual);
    elsewhere.temperature = 101;
    check_fails(mw_oil_residual(&oil, &elsewhere, &residual), MW_ERR_LAW_RANGE,
                residual);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(residuals_are_those_of_the_fit),
        cmocka_unit_test(the_outlier_is_found),
        cmocka_unit_test(the_limit_holds_for_any_number_of_points),
        cmocka_unit_test(rounding_is_no_outlier),
        cmocka_unit_test(too_few_points_for_an_outlier),
        cmocka_unit_test(a_point_that_no_line_reaches),
        cmocka_unit_test(no_line_no_residuals),
        cmocka_unit_test(the_size_that_is_found),
        cmocka_unit_test(a_point_beside_an_oil),
    };
    return cmocka_run_group_tests_name("outlier", tests, NULL, NULL);
}
