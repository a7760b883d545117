/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

#include "fluid/walther.h"
#include "table/bottle.h"
#include "uncertainty/budget.h"

static void assert_near(double found, double expected, double tolerance)
{
    if (!(fabs(found - expected) <= tolerance)) {
        fail_msg("%.15g, expected %.15g +- %g", found, expected, tolerance);
    }
}

static struct mw_oil one_point(enum mw_family family, double v, double t)
{
    const struct mw_point point = {v, t};
    struct mw_oil oil;
    assert_int_equal(mw_oil_make(family, &point, 1, NAN, &oil), MW_OK);
    return oil;
}

static void label_alone(void **state)
{
    (void)state;
    struct mw_oil label = one_point(MW_SILICONE, 352.5, 25);
    struct mw_bottle bottle;
    assert_int_equal(mw_bottle_make(&label, 0.05, NULL, 0, &bottle), MW_OK);
    assert_near(bottle.oil.points[0].viscosity, 352.5, 0);
    /* GUM 4.3.7: 0.05/sqrt 3 */
    assert_near(bottle.uncertainty, 0.028867513459481, 1e-12);
    assert_near(bottle.chi_squared, 0, 1e-12);
    assert_int_equal(bottle.outlier, MW_NO_OUTLIER);
}

static void label_and_reading(void **state)
{
    (void)state;
    /* By hand: the label 350 +-5 % has u = 0.05/sqrt 3 = 0.0288675, weight
     * 1200. The reading 371 at 22 C is 371 exp(-5.892 x 3/295.15) =
     * 371 x 0.94186984 = 349.43371 at 25 C; its own u = 0.03, and that of the
     * activation energy 0.97/R (1/295.15 - 1/298.15) = 0.00397724 together
     * 0.03026248, weight 1091.9228.
     * ln 350 = 5.85793315, ln 349.43371 = 5.85631387.
     * Mean: (1200 x 5.85793315 + 1091.9228 x 5.85631387)/2291.9228
     *     = 5.85716169, that is 349.73009; u = 1/sqrt 2291.9228 = 0.02088815.
     * Chi squared: (0.00161928)^2/(0.0288675^2 + 0.0302625^2) = 0.0014990. */
    struct mw_oil label = one_point(MW_SILICONE, 350, 25);
    const struct mw_reading reading = {371, 22, 0.03};
    struct mw_bottle bottle;
    assert_int_equal(mw_bottle_make(&label, 0.05, &reading, 1, &bottle), MW_OK);
    assert_near(bottle.oil.points[0].viscosity, 349.73009, 1e-4);
    assert_near(bottle.uncertainty, 0.02088815, 1e-7);
    assert_near(bottle.chi_squared, 0.0014990, 1e-7);
    assert_int_equal(bottle.outlier, MW_NO_OUTLIER);
}

static void an_outlying_reading_is_found(void **state)
{
    (void)state;
    struct mw_oil label = one_point(MW_SILICONE, 352.5, 25);
    const struct mw_reading readings[] = {
        {349, 25, 0.01}, {351, 25, 0.01}, {420, 25, 0.01}};
    struct mw_bottle bottle;
    assert_int_equal(mw_bottle_make(&label, 0.05, readings, 3, &bottle), MW_OK);
    assert_int_equal(bottle.outlier, 2);
    assert_true(bottle.p_value < 1e-6);
    const struct mw_reading others[] = {{431, 25, 0.01}, {433, 25, 0.01}};
    assert_int_equal(mw_bottle_make(&label, 0.05, others, 2, &bottle), MW_OK);
    assert_int_equal(bottle.outlier, MW_LABEL_OUTLIER);
}

/* a reading far from the rating moves the slope as far as it can: by hand, one
 * exact reading leaves the sum of label and slope what it says */
static void far_readings_move_the_slope(void **state)
{
    (void)state;
    struct mw_oil label = one_point(MW_SILICONE, 350, 25);
    double v60, at_60;
    assert_int_equal(mw_oil_viscosity(&label, 60, &v60), MW_OK);
    const struct mw_reading reading = {v60 * exp(0.04), 60, 1e-6};
    struct mw_bottle bottle;
    assert_int_equal(mw_bottle_make(&label, 0.05, &reading, 1, &bottle), MW_OK);
    assert_int_equal(mw_oil_viscosity(&bottle.oil, 60, &at_60), MW_OK);
    assert_near(log(at_60 / v60), 0.04, 1e-6);
    /* shared by their variances: 0.05^2/3, and (0.97/R (1/333.15 -
     * 1/298.15))^2 = 0.0411092^2 */
    double by_label = 0.05 * 0.05 / 3, by_slope = 0.0411092 * 0.0411092;
    double moved = log(bottle.oil.points[0].viscosity / 350);
    assert_near(moved, 0.04 * by_label / (by_label + by_slope), 1e-6);
    assert_true(bottle.oil.energy < 0);
    assert_near(bottle.uncertainty,
                sqrt(by_label * by_slope / (by_label + by_slope)), 1e-6);
}

/* a reading far from the one point of a petroleum oil gives it a line */
static void a_far_reading_gives_a_line(void **state)
{
    (void)state;
    struct mw_oil label = one_point(MW_MINERAL, 32.5, 40);
    const struct mw_reading readings[] = {{5.45, 100, 0.02}, {5.35, 100, 0.02}};
    struct mw_bottle bottle;
    double v;
    assert_int_equal(mw_bottle_make(&label, 0.05, readings, 2, &bottle), MW_OK);
    assert_near(bottle.oil.points[0].viscosity, 32.5, 1e-6);
    assert_int_equal(mw_oil_viscosity(&bottle.oil, 100, &v), MW_OK);
    assert_near(v, sqrt(5.45 * 5.35), 1e-3);
}

static void label_with_a_line_keeps_its_slope(void **state)
{
    (void)state;
    const struct mw_point points[] = {{32.5, 40}, {5.4, 100}};
    const struct mw_reading reading = {33.4, 40, 0.02};
    struct mw_oil label;
    struct mw_bottle bottle;
    assert_int_equal(mw_oil_make(MW_MINERAL, points, 2, 0.871, &label), MW_OK);
    assert_int_equal(mw_bottle_make(&label, 0.05, &reading, 1, &bottle), MW_OK);
    double factor = bottle.oil.points[0].viscosity / 32.5;
    assert_true(factor > 1.015 && factor < 33.4 / 32.5);
    /* a quarter of the variance is common to both points */
    double other = bottle.oil.points[1].viscosity / 5.4;
    assert_near(log(other), 0.25 * log(factor), 1e-7);
    assert_near(bottle.oil.density, 0.871, 0);
}

static void failures(void **state)
{
    (void)state;
    struct mw_oil mineral = one_point(MW_MINERAL, 32.5, 40);
    struct mw_oil silicone = one_point(MW_SILICONE, 352.5, 25);
    struct mw_reading reading = {45.5, 30, 0.02};
    struct mw_reading many[MW_READINGS_MAX + 1];
    struct mw_bottle bottle;
    for (size_t i = 0; i <= MW_READINGS_MAX; i++) {
        many[i] = (struct mw_reading){352.5, 25, 0.02};
    }
    assert_int_equal(mw_bottle_make(&mineral, 0.05, &reading, 1, &bottle),
                     MW_ERR_ONE_POINT);
    assert_true(isnan(bottle.uncertainty));
    assert_int_equal(
        mw_bottle_make(&silicone, 0.05, many, MW_READINGS_MAX + 1, &bottle),
        MW_ERR_READINGS);
    assert_int_equal(
        mw_bottle_make(&silicone, 0.05, many, MW_READINGS_MAX, &bottle), MW_OK);
    const double tolerances[] = {0, -0.05, 1, NAN};
    for (size_t i = 0; i < 4; i++) {
        assert_int_equal(
            mw_bottle_make(&silicone, tolerances[i], NULL, 0, &bottle),
            MW_ERR_UNCERTAINTY);
        assert_true(isnan(bottle.uncertainty));
    }
    reading.uncertainty = 0;
    assert_int_equal(mw_bottle_make(&silicone, 0.05, &reading, 1, &bottle),
                     MW_ERR_UNCERTAINTY);
    reading = (struct mw_reading){NAN, 25, 0.02};
    assert_int_equal(mw_bottle_make(&silicone, 0.05, &reading, 1, &bottle),
                     MW_ERR_VISCOSITY);
    /* far apart and thicker: no oil thickens as it warms */
    reading = (struct mw_reading){52.5, 75, 0.02};
    assert_int_equal(mw_bottle_make(&mineral, 0.05, &reading, 1, &bottle),
                     MW_ERR_NOT_DECREASING);
    reading = (struct mw_reading){12.5, 75, 0};
    assert_int_equal(mw_bottle_make(&mineral, 0.05, &reading, 1, &bottle),
                     MW_ERR_UNCERTAINTY);
}

/* the readings move the oil out of the range of the chart */
static void beyond_the_chart(void **state)
{
    (void)state;
    struct mw_oil thick = one_point(MW_SILICONE, 1.95e7, 25);
    const struct mw_reading thicker[] = {{1.8e7, 50, 0.001},
                                         {0.9e7, 75, 0.001}};
    struct mw_oil thin;
    const struct mw_point points[] = {{0.85, 40}, {0.38, 100}};
    const struct mw_reading hot[] = {{0.25, 335, 0.02}, {0.26, 335, 0.02}};
    struct mw_bottle bottle;
    assert_int_equal(mw_bottle_make(&thick, 0.5, thicker, 2, &bottle),
                     MW_ERR_VISCOSITY);
    assert_true(isnan(bottle.uncertainty));
    assert_int_equal(mw_oil_make(MW_MINERAL, points, 2, NAN, &thin), MW_OK);
    assert_int_equal(mw_bottle_make(&thin, 0.05, hot, 2, &bottle),
                     MW_ERR_VISCOSITY);
    assert_true(isnan(bottle.uncertainty));
}

static void the_order_of_readings_does_not_matter(void **state)
{
    (void)state;
    struct mw_oil label = one_point(MW_SILICONE, 352.5, 25);
    const struct mw_reading near_first[] = {{260.5, 45, 0.01},
                                            {205.5, 60, 0.01}};
    const struct mw_reading far_first[] = {{205.5, 60, 0.01},
                                           {260.5, 45, 0.01}};
    struct mw_bottle one, other;
    assert_int_equal(mw_bottle_make(&label, 0.05, near_first, 2, &one), MW_OK);
    assert_int_equal(mw_bottle_make(&label, 0.05, far_first, 2, &other), MW_OK);
    assert_near(one.oil.points[0].viscosity, other.oil.points[0].viscosity,
                1e-8);
    assert_near(one.oil.energy, other.oil.energy, 1e-9);
    assert_near(one.uncertainty, other.uncertainty, 1e-10);
}

static void a_tolerance_there_and_back(void **state)
{
    (void)state;
    for (double tolerance = 0.002385; tolerance < 0.99; tolerance *= 1.7) {
        double u;
        assert_int_equal(mw_rectangular(tolerance, &u), MW_OK);
        assert_near(mw_tolerance_of(u), tolerance, 1e-15);
    }
    assert_near(mw_tolerance_of(0), 0.001, 0);
    assert_near(mw_tolerance_of(2.385), 0.999, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(label_alone),
        cmocka_unit_test(label_and_reading),
        cmocka_unit_test(an_outlying_reading_is_found),
        cmocka_unit_test(far_readings_move_the_slope),
        cmocka_unit_test(a_far_reading_gives_a_line),
        cmocka_unit_test(label_with_a_line_keeps_its_slope),
        cmocka_unit_test(failures),
        cmocka_unit_test(beyond_the_chart),
        cmocka_unit_test(the_order_of_readings_does_not_matter),
        cmocka_unit_test(a_tolerance_there_and_back),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
