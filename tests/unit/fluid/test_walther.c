/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/range.h"
#include "check.h"
#include "fluid/walther.h"

/* the i-th of n viscosities from low to high, even on a logarithmic scale */
static double log_step(double low, double high, int i, int n)
{
    double v = low * pow(high / low, (double)i / (n - 1));
    return fmin(fmax(v, low), high);
}

enum { DENSE = 200000 };

static void there_and_back_closes(void **state)
{
    (void)state;
    for (int i = 0; i < DENSE; i++) {
        double w, back, v = log_step(0.21, 1e6, i, DENSE);
        check_ok(mw_walther_w(v, &w));
        check_ok(mw_walther_v(w, &back));
        check_part(back, v, 1e-12);
    }
}

static void the_whole_range_closes(void **state)
{
    (void)state;
    for (int i = 0; i < DENSE / 10; i++) {
        double w, back;
        double v = log_step(MW_VISCOSITY_MIN, MW_VISCOSITY_MAX, i, DENSE / 10);
        check_ok(mw_walther_w(v, &w));
        check_ok(mw_walther_v(w, &back));
        check_part(back, v, 1e-12);
        assert_true(mw_viscosity_in_range(back));
    }
}

/* at most the error that the header states, and not much less: the largest
 * is near 1.8 */
static void the_printed_inverse_is_a_little_off(void **state)
{
    double most = 0, at = NAN;
    (void)state;
    for (int i = 0; i < DENSE; i++) {
        double w, printed, v = log_step(0.22, 1e6, i, DENSE);
        check_ok(mw_walther_w(v, &w));
        check_ok(mw_walther_v_printed(w, &printed));
        check_near(printed, v, v > 5 ? 1e-10 + 1e-12 * v : 2.0e-4);
        if (fabs(printed - v) > most) {
            most = fabs(printed - v);
            at = v;
        }
    }
    check_near(most, 1.98e-4, 0.01e-4);
    check_near(at, 1.78, 0.01);
}

static void slope_is_the_derivative_and_rises(void **state)
{
    double last = 0;
    (void)state;
    for (int i = 0; i < DENSE; i++) {
        double slope, low, high;
        double v = log_step(0.2101, 1.9999e7, i, DENSE);
        const double step = 1e-5;
        check_ok(mw_walther_slope(v, &slope));
        assert_true(slope > last);
        last = slope;
        check_ok(mw_walther_w(v * (1 - step), &low));
        check_ok(mw_walther_w(v * (1 + step), &high));
        check_part(slope, (log1p(step) - log1p(-step)) / (high - low), 1e-7);
    }
}

static void lines_meet_their_points(void **state)
{
    (void)state;
    for (int i = 0; i < 200; i++) {
        const struct mw_point p = {log_step(2.385, 2e6, i, 200), 18.5};
        const struct mw_point q = {p.viscosity / (1.05 + i / 50.0), 97.3};
        struct mw_line line;
        double v;
        check_ok(mw_line_through(&p, &q, &line));
        check_ok(mw_line_at(&line, p.temperature, &v));
        check_part(v, p.viscosity, 1e-11);
        check_ok(mw_line_at(&line, q.temperature, &v));
        check_part(v, q.viscosity, 1e-11);
    }
}

static const struct mw_point cold = {238.5, 18.5}, warm = {23.85, 97.3};

static void points_may_come_in_any_order(void **state)
{
    struct mw_line line, turned;
    (void)state;
    check_ok(mw_line_through(&cold, &warm, &line));
    check_ok(mw_line_through(&warm, &cold, &turned));
    check_part(turned.a, line.a, 1e-13);
    check_part(turned.b, line.b, 1e-13);
}

static void viscosity_falls_with_temperature(void **state)
{
    struct mw_line line;
    double last = INFINITY;
    (void)state;
    check_ok(mw_line_through(&cold, &warm, &line));
    for (double t = -30; t <= 340; t += 0.37) {
        double v, slope, up, down;
        check_ok(mw_line_at(&line, t, &v));
        assert_true(v < last);
        last = v;
        check_ok(mw_line_slope(&line, t, &slope));
        assert_true(slope < 0);
        check_ok(mw_line_at(&line, t - 1e-4, &up));
        if (mw_line_at(&line, t + 1e-4, &down) == MW_OK) {
            check_part(slope, log(down / up) / 2e-4, 1e-6);
        }
    }
}

/* points on a line, then moved off it by known factors */
static void fit_finds_a_line_and_its_residual(void **state)
{
    const double off[5] = {0.01, -0.02, 0.02, -0.02, 0.01};
    const struct mw_line truth = {9.1, 3.52};
    struct mw_point points[5];
    struct mw_line line;
    double residual;
    (void)state;
    for (int i = 0; i < 5; i++) {
        points[i].temperature = 10 + 19.3 * i;
        check_ok(
            mw_line_at(&truth, points[i].temperature, &points[i].viscosity));
    }
    check_ok(mw_line_fit(points, 5, &line, &residual));
    check_part(line.a, truth.a, 1e-11);
    check_part(line.b, truth.b, 1e-11);
    check_near(residual, 0, 1e-11);
    for (int i = 0; i < 5; i++) {
        points[i].viscosity *= exp(off[i]);
    }
    check_ok(mw_line_fit(points, 5, &line, &residual));
    /* sqrt((2 x 0.01^2 + 3 x 0.02^2)/3), and a little less for the fit */
    check_near(residual, 0.0216, 0.0005);
    check_ok(mw_line_fit(points, 2, &line, &residual));
    check_near(residual, 0, 0);
}

/* Three points 1 % off a line and known to 1, 2 and 4 %. By hand: with the
 * weights p = (slope/u)^2, the slope b = S_xw/S_xx through the weighted
 * means. */
static void a_fit_weighs_its_points(void **state)
{
    const struct mw_point points[3] = {{350, 25}, {262, 40}, {133, 97.3}};
    const double u[3] = {0.02, 0.01, 0.04};
    double x[3], w[3], p[3], sum = 0, mean_x = 0, mean_w = 0, xx = 0, xw = 0;
    struct mw_line line, plain;
    double residual, v, squares = 0;
    (void)state;
    for (int i = 0; i < 3; i++) {
        double slope;
        check_ok(mw_walther_slope(points[i].viscosity, &slope));
        check_ok(mw_walther_w(points[i].viscosity, &w[i]));
        x[i] = log10(points[i].temperature + 273.15);
        p[i] = slope * slope / (u[i] * u[i]);
        sum += p[i];
        mean_x += p[i] * x[i];
        mean_w += p[i] * w[i];
    }
    for (int i = 0; i < 3; i++) {
        xx += p[i] * (x[i] - mean_x / sum) * (x[i] - mean_x / sum);
        xw += p[i] * (x[i] - mean_x / sum) * (w[i] - mean_w / sum);
    }
    check_ok(mw_line_fit_weighted(points, u, 3, &line, &residual));
    check_part(line.b, -xw / xx, 1e-11);
    check_part(line.a, mean_w / sum - xw / xx * mean_x / sum, 1e-11);
    for (int i = 0; i < 3; i++) {
        check_ok(mw_line_at(&line, points[i].temperature, &v));
        squares += log(points[i].viscosity / v) * log(points[i].viscosity / v);
    }
    check_part(residual, sqrt(squares), 1e-12);
    check_ok(mw_line_fit(points, 3, &plain, NULL));
    assert_true(fabs(plain.b - line.b) > 0.01 * line.b);
}

static void well_known_points_draw_the_line(void **state)
{
    const struct mw_point points[3] = {{350, 25}, {262, 40}, {133, 97.3}};
    const double equal[3] = {0.02, 0.02, 0.02}, sure[3] = {1e-7, 2.385, 1e-7};
    struct mw_line line, other;
    (void)state;
    /* one point has hardly any weight: the line is that through the other
     * two */
    check_ok(mw_line_fit_weighted(points, sure, 3, &line, NULL));
    check_ok(mw_line_through(&points[0], &points[2], &other));
    check_part(line.a, other.a, 1e-9);
    check_part(line.b, other.b, 1e-9);
    /* two points have one line, whatever their uncertainties */
    check_ok(mw_line_fit_weighted(points, sure, 2, &line, NULL));
    check_ok(mw_line_through(&points[0], &points[1], &other));
    check_part(line.a, other.a, 1e-9);
    check_part(line.b, other.b, 1e-9);
    /* a common factor of all uncertainties changes nothing */
    check_ok(mw_line_fit_weighted(points, equal, 3, &line, NULL));
    const double wider[3] = {0.06, 0.06, 0.06};
    check_ok(mw_line_fit_weighted(points, wider, 3, &other, NULL));
    check_part(line.b, other.b, 1e-12);
}

static void points_of_no_weight(void **state)
{
    const struct mw_point points[2] = {{350, 25}, {133, 97.3}};
    const double bad[] = {0, -0.02, NAN, INFINITY, 1e-200, 1e200};
    struct mw_line line;
    double residual;
    (void)state;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        const double u[2] = {0.02385, bad[i]};
        check_fails(mw_line_fit_weighted(points, u, 2, &line, &residual),
                    MW_ERR_UNCERTAINTY, residual);
        assert_true(isnan(line.a) && isnan(line.b));
    }
}

static void check_no_fit(const struct mw_point *points, size_t n,
                         enum mw_status status)
{
    struct mw_line line = {2.385, 2.385};
    double residual;
    check_fails(mw_line_fit(points, n, &line, &residual), status, residual);
    assert_true(isnan(line.a) && isnan(line.b));
    line = (struct mw_line){2.385, 2.385};
    check_status_at("without residual", mw_line_fit(points, n, &line, NULL),
                    status, __FILE__, __LINE__);
    assert_true(isnan(line.a) && isnan(line.b));
}

static void points_that_make_no_line(void **state)
{
    struct mw_point many[MW_POINTS_MAX + 1];
    const struct mw_point same[2] = {{238.5, 40}, {23.85, 40}};
    const struct mw_point nearly[2] = {{238.5, 40}, {23.85, 40 + 5e-7}};
    const struct mw_point rising[2] = {{23.85, 40}, {238.5, 100}};
    const struct mw_point flat[2] = {{23.85, 40}, {23.85, 100}};
    const struct mw_point thin[2] = {{23.85, 40}, {0.2, 100}};
    const struct mw_point hot[2] = {{238.5, 40}, {23.85, 341}};
    const struct mw_point lost[2] = {{238.5, 40}, {NAN, 100}};
    const struct mw_point nowhere[2] = {{238.5, NAN}, {23.85, 100}};
    (void)state;
    for (size_t i = 0; i <= MW_POINTS_MAX; i++) {
        many[i] = (struct mw_point){238.5 / (double)(i + 1), (double)i};
    }
    check_no_fit(many, MW_POINTS_MAX + 1, MW_ERR_POINTS);
    check_no_fit(many, 1, MW_ERR_POINTS);
    check_no_fit(many, 0, MW_ERR_POINTS);
    check_no_fit(same, 2, MW_ERR_POINTS);
    check_no_fit(nearly, 2, MW_ERR_POINTS);
    check_no_fit(rising, 2, MW_ERR_NOT_DECREASING);
    check_no_fit(flat, 2, MW_ERR_NOT_DECREASING);
    check_no_fit(thin, 2, MW_ERR_VISCOSITY);
    check_no_fit(hot, 2, MW_ERR_TEMPERATURE);
    check_no_fit(lost, 2, MW_ERR_VISCOSITY);
    check_no_fit(nowhere, 2, MW_ERR_TEMPERATURE);
}

/* the best line through these leaves the range at the first of them */
static void a_line_that_misses_its_range(void **state)
{
    const struct mw_point points[3] = {{2e7, 0}, {2e7, 1}, {1e3, 50}};
    struct mw_line line = {2.385, 2.385};
    double residual;
    (void)state;
    check_fails(mw_line_fit(points, 3, &line, &residual), MW_ERR_VISCOSITY,
                residual);
    assert_true(isnan(line.a) && isnan(line.b));
}

static void temperatures_that_are_the_same(void **state)
{
    (void)state;
    assert_true(mw_same_temperature(23.85, 23.85));
    assert_true(mw_same_temperature(23.85, 23.85 + 9e-7));
    assert_false(mw_same_temperature(23.85, 23.85 - 1.1e-6));
    assert_false(mw_same_temperature(NAN, 23.85));
    assert_false(mw_same_temperature(NAN, NAN));
}

static void outside_the_chart(void **state)
{
    const double bad_v[] = {0.2099, 2.001e7, 0, -2.385, NAN, INFINITY};
    const double bad_t[] = {-273.15, -300, 340.1, NAN, INFINITY, -INFINITY};
    const double bad_w[] = {-3, -2, 0.9, 9, 1e300, -1e300, NAN, INFINITY};
    const struct mw_line line = {9.1, 3.52};
    double x;
    (void)state;
    for (size_t i = 0; i < sizeof bad_v / sizeof bad_v[0]; i++) {
        check_fails(mw_walther_w(bad_v[i], &x), MW_ERR_VISCOSITY, x);
        check_fails(mw_walther_slope(bad_v[i], &x), MW_ERR_VISCOSITY, x);
    }
    for (size_t i = 0; i < sizeof bad_t / sizeof bad_t[0]; i++) {
        check_fails(mw_chart_x(bad_t[i], &x), MW_ERR_TEMPERATURE, x);
        check_fails(mw_line_at(&line, bad_t[i], &x), MW_ERR_TEMPERATURE, x);
        check_fails(mw_line_slope(&line, bad_t[i], &x), MW_ERR_TEMPERATURE, x);
    }
    for (size_t i = 0; i < sizeof bad_w / sizeof bad_w[0]; i++) {
        check_fails(mw_walther_v(bad_w[i], &x), MW_ERR_VISCOSITY, x);
        check_fails(mw_walther_v_printed(bad_w[i], &x), MW_ERR_VISCOSITY, x);
    }
    check_fails(mw_line_at(&line, -120, &x), MW_ERR_VISCOSITY, x);
    check_fails(mw_line_slope(&line, -120, &x), MW_ERR_VISCOSITY, x);
}

static void temperatures_of_the_chart(void **state)
{
    const double good[] = {-273.14, -23.85, 0, 23.85, 340};
    const double bad[] = {-273.15, -500, 340.001, INFINITY, NAN};
    (void)state;
    for (size_t i = 0; i < 5; i++) {
        assert_true(mw_temperature_in_range(good[i]));
        assert_false(mw_temperature_in_range(bad[i]));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(there_and_back_closes),
        cmocka_unit_test(the_whole_range_closes),
        cmocka_unit_test(the_printed_inverse_is_a_little_off),
        cmocka_unit_test(slope_is_the_derivative_and_rises),
        cmocka_unit_test(lines_meet_their_points),
        cmocka_unit_test(points_may_come_in_any_order),
        cmocka_unit_test(viscosity_falls_with_temperature),
        cmocka_unit_test(fit_finds_a_line_and_its_residual),
        cmocka_unit_test(a_fit_weighs_its_points),
        cmocka_unit_test(well_known_points_draw_the_line),
        cmocka_unit_test(points_of_no_weight),
        cmocka_unit_test(points_that_make_no_line),
        cmocka_unit_test(a_line_that_misses_its_range),
        cmocka_unit_test(temperatures_that_are_the_same),
        cmocka_unit_test(temperatures_of_the_chart),
        cmocka_unit_test(outside_the_chart),
    };
    return cmocka_run_group_tests_name("walther", tests, NULL, NULL);
}
