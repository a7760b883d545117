/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench/timing.h"
#include "bench/timing_internal.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#define assert_close(x, y, d) assert_true(fabs((x) - (y)) <= (d))

static void times_scatter_about_their_mean(void **state)
{
    (void)state;
    const double times[] = {64.1, 64.5, 64.9};
    struct mw_type_a type_a;
    assert_int_equal(mw_type_a_of(times, 3, &type_a), MW_OK);
    assert_close(type_a.mean, 64.5, 1e-13);
    assert_close(type_a.deviation, 0.4, 1e-13);
    /* t of GUM table G.2 for 2 degrees of freedom and 95.45 %: 4.53 */
    assert_close(type_a.uncertainty, 0.4 / sqrt(3) * 4.53 / 2, 0.001);
}

/* Student's t for 95.45 %: GUM table G.2 (from memory), 1 and 9 degrees */
static void few_times_are_widened(void **state)
{
    (void)state;
    const double times[] = {30.2, 30.8, 30.2, 30.8, 30.2,
                            30.8, 30.2, 30.8, 30.2, 30.8};
    struct mw_type_a two, ten;
    assert_int_equal(mw_type_a_of(times, 2, &two), MW_OK);
    assert_int_equal(mw_type_a_of(times, 10, &ten), MW_OK);
    assert_close(two.uncertainty / (two.deviation / sqrt(2)), 13.97 / 2, 0.003);
    assert_close(ten.uncertainty / (ten.deviation / sqrt(10)), 2.32 / 2, 0.003);
}

/* the purpose of the widening: mean +-2 u contains the true value in 95.45 %
 * of cases, even with three times */
static void the_band_of_three_times_holds(void **state)
{
    (void)state;
    enum { RUNS = 200000 };
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    gsl_rng_set(rng, 20240);
    int inside = 0;
    for (int i = 0; i < RUNS; i++) {
        double times[3];
        struct mw_type_a type_a;
        for (int j = 0; j < 3; j++) {
            times[j] = 64.5 + gsl_ran_gaussian(rng, 0.23);
        }
        mw_type_a_of(times, 3, &type_a);
        inside += fabs(type_a.mean - 64.5) <= 2 * type_a.uncertainty;
    }
    gsl_rng_free(rng);
    assert_close((double)inside / RUNS, 0.9545, 0.002);
}

static void one_time_has_the_uncertainty_of_a_stopwatch(void **state)
{
    (void)state;
    const double time = 23.85, bad[] = {0, -2.385, NAN, INFINITY};
    double mean, u;
    assert_int_equal(mw_hand_time(&time, 1, &mean, &u), MW_OK);
    assert_true(mean == 23.85 && u == MW_STOPWATCH);
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        const double times[] = {23.85, bad[i]};
        assert_int_equal(mw_hand_time(&bad[i], 1, &mean, &u), MW_ERR_READINGS);
        assert_true(isnan(mean) && isnan(u));
        assert_int_equal(mw_hand_time(times, 2, &mean, &u), MW_ERR_READINGS);
        assert_true(isnan(mean) && isnan(u));
    }
    assert_int_equal(mw_hand_time(&time, 0, &mean, &u), MW_ERR_READINGS);
}

/* a second time lowers the uncertainty, unless the two are far apart */
static void more_times_lower_the_uncertainty(void **state)
{
    (void)state;
    const double near[] = {31.2, 30.9, 31.3, 30.8}, far[] = {60, 64};
    double mean, u, last = MW_STOPWATCH;
    for (size_t n = 2; n <= 4; n++) {
        assert_int_equal(mw_hand_time(near, n, &mean, &u), MW_OK);
        assert_true(u < last);
        last = u;
    }
    assert_int_equal(mw_hand_time(far, 2, &mean, &u), MW_OK);
    assert_close(mean, 62, 1e-13);
    /* (4 x 0.2^2 + 2^2 + 2^2)/5, t of GUM table G.2 for 5 degrees: 2.65 */
    assert_close(u, sqrt(8.16 / 5 / 2) * 2.65 / 2, 0.002);
}

/* the purpose of the widening: persons differ as MW_STOPWATCH_FREEDOM says,
 * and mean +-2 u contains the true value in 95.45 % of cases */
static void the_band_of_hand_timing_holds(void **state)
{
    (void)state;
    enum { RUNS = 200000 };
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    gsl_rng_set(rng, 20241);
    for (size_t n = 2; n <= 5; n += 3) {
        int inside = 0;
        for (int i = 0; i < RUNS; i++) {
            double times[5], mean, u;
            double stopwatch =
                MW_STOPWATCH * sqrt(MW_STOPWATCH_FREEDOM /
                                    gsl_ran_chisq(rng, MW_STOPWATCH_FREEDOM));
            for (size_t j = 0; j < n; j++) {
                times[j] = 64.5 + gsl_ran_gaussian(rng, stopwatch);
            }
            mw_hand_time(times, n, &mean, &u);
            inside += fabs(mean - 64.5) <= 2 * u;
        }
        assert_close((double)inside / RUNS, 0.9545, 0.002);
    }
    gsl_rng_free(rng);
}

static void equal_times_do_not_scatter(void **state)
{
    (void)state;
    const double times[] = {64.5, 64.5};
    struct mw_type_a type_a;
    assert_int_equal(mw_type_a_of(times, 2, &type_a), MW_OK);
    assert_true(type_a.uncertainty == 0);
}

static void bad_times_are_refused(void **state)
{
    (void)state;
    struct mw_type_a type_a;
    const double bad[] = {0, -3.2, NAN, INFINITY};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        const double times[] = {64.5, bad[i]};
        assert_int_equal(mw_type_a_of(times, 2, &type_a), MW_ERR_READINGS);
        assert_true(isnan(type_a.mean) && isnan(type_a.deviation) &&
                    isnan(type_a.uncertainty));
    }
    const double one[] = {64.5};
    assert_int_equal(mw_type_a_of(one, 1, &type_a), MW_ERR_READINGS);
    assert_int_equal(mw_type_a_of(one, 0, &type_a), MW_ERR_READINGS);
}

static void estimates_weigh_by_their_uncertainty(void **state)
{
    (void)state;
    const struct mw_estimate estimates[] = {{350, 0.04}, {371, 0.02}};
    struct mw_pooled pooled;
    assert_int_equal(mw_pool(estimates, 2, &pooled), MW_OK);
    assert_close(log(pooled.viscosity), 0.2 * log(350) + 0.8 * log(371), 1e-14);
    assert_close(pooled.uncertainty, 0.04 * 0.02 / sqrt(0.002), 1e-16);
    double apart = log(371.0 / 350.0);
    assert_close(pooled.chi_squared, apart * apart / 0.002, 1e-12);
    /* for one degree of freedom the p-value is erfc(sqrt(chi2/2)) */
    assert_close(pooled.p_value, erfc(sqrt(pooled.chi_squared / 2)), 1e-12);
    assert_close(pooled.widened, pooled.uncertainty * sqrt(pooled.chi_squared),
                 1e-15);
}

static void agreeing_estimates_are_not_narrowed(void **state)
{
    (void)state;
    const struct mw_estimate estimates[] = {
        {348, 0.04}, {350, 0.03}, {351, 0.05}};
    struct mw_pooled pooled;
    assert_int_equal(mw_pool(estimates, 3, &pooled), MW_OK);
    assert_true(pooled.chi_squared < 2);
    assert_true(pooled.widened == pooled.uncertainty);
    assert_true(pooled.p_value > 0.9);
}

static void one_estimate_stays_as_it_is(void **state)
{
    (void)state;
    const struct mw_estimate alone = {238.5, 0.031};
    struct mw_pooled pooled;
    assert_int_equal(mw_pool(&alone, 1, &pooled), MW_OK);
    assert_close(pooled.viscosity, 238.5, 1e-12);
    assert_close(pooled.uncertainty, 0.031, 1e-16);
    assert_true(pooled.p_value == 1 && pooled.widened == pooled.uncertainty);
}

/* the pooled uncertainty is the standard deviation of pooled values */
static void the_pooled_uncertainty_holds(void **state)
{
    (void)state;
    enum { RUNS = 200000 };
    const double u[] = {0.029, 0.018, 0.041};
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    gsl_rng_set(rng, 1707);
    double squares = 0, chi_squared = 0;
    struct mw_pooled pooled;
    for (int i = 0; i < RUNS; i++) {
        struct mw_estimate estimates[3];
        for (int j = 0; j < 3; j++) {
            estimates[j].viscosity = 238.5 * exp(gsl_ran_gaussian(rng, u[j]));
            estimates[j].uncertainty = u[j];
        }
        mw_pool(estimates, 3, &pooled);
        double away = log(pooled.viscosity / 238.5);
        squares += away * away;
        chi_squared += pooled.chi_squared;
    }
    gsl_rng_free(rng);
    assert_close(sqrt(squares / RUNS) / pooled.uncertainty, 1, 0.01);
    assert_close(chi_squared / RUNS, 2, 0.02);
}

static void bad_estimates_are_refused(void **state)
{
    (void)state;
    struct mw_pooled pooled;
    const struct mw_estimate none = {350, 0}, nan = {350, NAN},
                             negative = {350, -0.02}, vague = {350, 11},
                             air = {0.1, 0.02};
    assert_int_equal(mw_pool(&none, 0, &pooled), MW_ERR_READINGS);
    assert_int_equal(mw_pool(&none, 1, &pooled), MW_ERR_UNCERTAINTY);
    assert_int_equal(mw_pool(&nan, 1, &pooled), MW_ERR_UNCERTAINTY);
    assert_int_equal(mw_pool(&negative, 1, &pooled), MW_ERR_UNCERTAINTY);
    assert_int_equal(mw_pool(&vague, 1, &pooled), MW_ERR_UNCERTAINTY);
    assert_int_equal(mw_pool(&air, 1, &pooled), MW_ERR_VISCOSITY);
    assert_true(isnan(pooled.viscosity) && isnan(pooled.uncertainty) &&
                isnan(pooled.chi_squared) && isnan(pooled.p_value) &&
                isnan(pooled.widened));
}

static void estimates_far_apart_have_a_p_value_of_0(void **state)
{
    (void)state;
    const struct mw_estimate estimates[] = {{0.21, 1e-9}, {2e7, 1e-9}};
    struct mw_pooled pooled;
    assert_int_equal(mw_pool(estimates, 2, &pooled), MW_OK);
    assert_true(pooled.p_value == 0);
    assert_close(pooled.widened, log(2e7 / 0.21) / 2, 1e-9);
}

static void a_label_is_known_within_its_tolerance(void **state)
{
    (void)state;
    double u;
    assert_int_equal(mw_label_uncertainty(350, &u), MW_OK);
    assert_close(u, 0.05 / sqrt(3), 1e-16);
    assert_int_equal(mw_label_uncertainty(1000, &u), MW_OK);
    assert_close(u, 0.05 / sqrt(3), 1e-16);
    assert_int_equal(mw_label_uncertainty(10000, &u), MW_OK);
    assert_close(u, 0.10 / sqrt(3), 1e-16);
    assert_int_equal(mw_label_uncertainty(NAN, &u), MW_ERR_VISCOSITY);
    assert_true(isnan(u));
    assert_true(mw_usual_tolerance(1000) == 0.05);
    assert_true(mw_usual_tolerance(1000.1) == 0.10);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(times_scatter_about_their_mean),
        cmocka_unit_test(few_times_are_widened),
        cmocka_unit_test(the_band_of_three_times_holds),
        cmocka_unit_test(one_time_has_the_uncertainty_of_a_stopwatch),
        cmocka_unit_test(more_times_lower_the_uncertainty),
        cmocka_unit_test(the_band_of_hand_timing_holds),
        cmocka_unit_test(equal_times_do_not_scatter),
        cmocka_unit_test(bad_times_are_refused),
        cmocka_unit_test(estimates_weigh_by_their_uncertainty),
        cmocka_unit_test(agreeing_estimates_are_not_narrowed),
        cmocka_unit_test(one_estimate_stays_as_it_is),
        cmocka_unit_test(the_pooled_uncertainty_holds),
        cmocka_unit_test(bad_estimates_are_refused),
        cmocka_unit_test(estimates_far_apart_have_a_p_value_of_0),
        cmocka_unit_test(a_label_is_known_within_its_tolerance),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
