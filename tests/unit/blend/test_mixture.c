/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "blend/mixture.h"
#include "blend/mixture_internal.h"
#include "check.h"

static struct mw_oil silicone(double v25)
{
    const struct mw_point rating = {v25, 25};
    struct mw_oil oil;
    check_ok(mw_oil_make(MW_SILICONE, &rating, 1, NAN, &oil));
    return oil;
}

/* an oil known at 40 and 100 C, thinner by a ratio at 100 */
static struct mw_oil lined(enum mw_family family, double v40, double ratio)
{
    const struct mw_point points[2] = {{v40, 40}, {v40 / ratio, 100}};
    struct mw_oil oil;
    check_ok(mw_oil_make(family, points, 2, NAN, &oil));
    return oil;
}

static const struct mw_method astm = {MW_RULE_ASTM, 0};
static const struct mw_method wright = {MW_RULE_WRIGHT, 0};
static const struct mw_method usual = {MW_RULE_ASTM, MW_SILICONE_EXCESS};

static const double halves[2] = {0.5, 0.5};

static double mix(const struct mw_oil pair[2], double f, double t,
                  const struct mw_method *method)
{
    const double shares[2] = {1 - f, f};
    double v;
    check_ok(mw_mixture(pair, shares, 2, t, method, &v, NULL));
    return v;
}

/* the mix with the share that was found has the target; returns the status */
static enum mw_status solve(const struct mw_oil pair[2], double target,
                            double t, const struct mw_method *method,
                            double *share)
{
    enum mw_status status =
        mw_mixture_share(pair, target, t, method, share, NULL);
    if (status == MW_OK) {
        check_part(mix(pair, *share, t, method), target, 1e-10);
    } else {
        assert_true(isnan(*share));
    }
    return status;
}

static void the_inverse_gives_the_target_back(void **state)
{
    const double ratios[] = {1.05, 1.43, 2, 3, 10, 50, 238.5, 999, 1000};
    int solved = 0, refused = 0;
    (void)state;
    for (size_t i = 0; i < sizeof ratios / sizeof ratios[0]; i++) {
        const struct mw_oil pair[2] = {
            lined(MW_MINERAL, 23.85, 5.1),
            lined(MW_MINERAL, 23.85 * ratios[i], 5.1 + log(ratios[i]))};
        double v1 = mix(pair, 0, 40, &astm), v2 = mix(pair, 1, 40, &astm);
        for (int k = -4; k <= 6; k++) {
            for (int rule = MW_RULE_ASTM; rule <= MW_RULE_WRIGHT; rule++) {
                for (double part = 0.01; part < 1; part += 0.07) {
                    const struct mw_method method = {(enum mw_rule)rule,
                                                     0.05 * k};
                    double share, target = v1 * pow(v2 / v1, part);
                    enum mw_status status =
                        solve(pair, target, 40, &method, &share);
                    assert_true(status == MW_OK || status == MW_ERR_EXCESS);
                    solved += status == MW_OK;
                    refused += status != MW_OK;
                }
            }
        }
    }
    /* none is refused up to 10 : 1, see below, and few beyond */
    assert_in_range(refused, 1, solved / 5);
}

static void up_to_ten_to_one_nothing_is_refused(void **state)
{
    (void)state;
    for (double r = 1.05; r <= 10; r *= 1.3) {
        const struct mw_oil pair[2] = {silicone(238.5), silicone(238.5 * r)};
        for (double k = -0.2; k <= 0.3001; k += 0.05) {
            const struct mw_method method = {MW_RULE_ASTM, k};
            double share;
            check_ok(solve(pair, 238.5 * sqrt(r), 25, &method, &share));
        }
    }
}

static void swapping_the_oils_mirrors_the_share(void **state)
{
    const struct mw_method methods[] = {
        astm, wright, {MW_RULE_ASTM, 0.2}, {MW_RULE_WRIGHT, -0.1}};
    const struct mw_oil pair[2] = {lined(MW_MINERAL, 238.5, 9.1),
                                   lined(MW_MINERAL, 23.85, 5.1)};
    const struct mw_oil turned[2] = {pair[1], pair[0]};
    (void)state;
    for (size_t i = 0; i < 4; i++) {
        for (double target = 25; target < 238; target *= 1.2) {
            double share, other;
            check_ok(solve(pair, target, 40, &methods[i], &share));
            check_ok(solve(turned, target, 40, &methods[i], &other));
            check_near(share + other, 1, 1e-12);
        }
    }
}

static void without_excess_a_mix_lies_between(void **state)
{
    const struct mw_oil pair[2] = {lined(MW_MINERAL, 238.5, 9.1),
                                   lined(MW_MINERAL, 23.85, 5.1)};
    (void)state;
    for (double t = -10; t <= 150; t += 7.7) {
        double thick = mix(pair, 0, t, &astm), thin = mix(pair, 1, t, &astm);
        for (double f = 0.0385; f < 1; f += 0.0385) {
            assert_true(mix(pair, f, t, &astm) < thick &&
                        mix(pair, f, t, &astm) > thin);
            assert_true(mix(pair, f, t, &wright) < thick &&
                        mix(pair, f, t, &wright) > thin);
        }
    }
}

static void a_mix_thins_as_it_warms(void **state)
{
    const struct mw_oil pair[2] = {silicone(238.5), silicone(2385)};
    double last = INFINITY;
    (void)state;
    for (double t = -20; t <= 100; t += 0.77) {
        double v = mix(pair, 0.385, t, &usual);
        assert_true(v < last);
        last = v;
    }
}

static void an_oil_in_parts_is_one_oil(void **state)
{
    const struct mw_oil a = lined(MW_MINERAL, 238.5, 9.1);
    const struct mw_oil b = lined(MW_MINERAL, 23.85, 5.1);
    const struct mw_oil four[4] = {a, b, a, a}, two[2] = {a, b};
    const double parts[4] = {0.2, 0.385, 0.115, 0.3};
    const struct mw_method methods[] = {
        astm, wright, {MW_RULE_ASTM, 0.2}, {MW_RULE_WRIGHT, 0.2}};
    (void)state;
    for (size_t i = 0; i < 4; i++) {
        double v;
        check_ok(mw_mixture(four, parts, 4, 18.5, &methods[i], &v, NULL));
        check_part(v, mix(two, 0.385, 18.5, &methods[i]), 1e-13);
    }
}

static void one_oil_alone_is_itself(void **state)
{
    const struct mw_oil oil = silicone(238.5);
    const double whole = 1;
    double v, alone;
    (void)state;
    check_ok(mw_mixture(&oil, &whole, 1, 18.5, &usual, &v, NULL));
    check_ok(mw_oil_viscosity(&oil, 18.5, &alone));
    check_part(v, alone, 1e-13);
}

static void a_target_that_is_an_oil_is_that_oil(void **state)
{
    const struct mw_oil pair[2] = {silicone(238.5), silicone(385.2)};
    double share;
    (void)state;
    check_ok(solve(pair, 238.5, 25, &usual, &share));
    check_near(share, 0, 0);
    check_ok(solve(pair, 385.2, 25, &usual, &share));
    check_near(share, 1, 0);
}

/* a target next to an oil lies between the oils like any other */
static void a_target_next_to_an_oil_is_met(void **state)
{
    const struct mw_method methods[] = {
        astm, wright, {MW_RULE_ASTM, 0.1}, {MW_RULE_WRIGHT, 0.1}};
    (void)state;
    for (double v = 2.385; v < 1e5; v *= 1.385) {
        const struct mw_oil pair[2] = {lined(MW_MINERAL, v, 2.1),
                                       lined(MW_MINERAL, v * 2.385, 2.2)};
        for (size_t i = 0; i < 4; i++) {
            double v1, v2, share;
            check_ok(mw_oil_viscosity(&pair[0], 25, &v1));
            check_ok(mw_oil_viscosity(&pair[1], 25, &v2));
            check_ok(solve(pair, nextafter(v1, v2), 25, &methods[i], &share));
            check_near(share, 0, 1e-12);
            check_ok(solve(pair, nextafter(v2, v1), 25, &methods[i], &share));
            check_near(share, 1, 1e-12);
        }
    }
}

static void the_usual_method(void **state)
{
    const struct mw_oil silicones[2] = {silicone(238.5),
                                        lined(MW_SILICONE, 238.5, 2.5)};
    const struct mw_oil minerals[2] = {lined(MW_MINERAL, 238.5, 9.1),
                                       lined(MW_MINERAL, 23.85, 5.1)};
    const struct mw_point rating = {46, 40};
    struct mw_oil mixed[2] = {minerals[0], minerals[1]};
    struct mw_method method;
    (void)state;
    check_ok(mw_method_default(silicones, 2, &method));
    assert_int_equal(method.rule, MW_RULE_ASTM);
    check_near(method.excess, MW_SILICONE_EXCESS, 0);
    check_ok(mw_method_default(minerals, 2, &method));
    assert_int_equal(method.rule, MW_RULE_WRIGHT);
    check_near(method.excess, 0, 0);
    check_ok(mw_oil_make(MW_MINERAL, &rating, 1, NAN, &mixed[1]));
    check_ok(mw_method_default(mixed, 2, &method));
    assert_int_equal(method.rule, MW_RULE_ASTM);
    check_near(method.excess, 0, 0);
    mixed[1] = silicones[0];
    check_fails(mw_method_default(mixed, 2, &method), MW_ERR_FAMILY,
                method.excess);
}

/* mixture and share refuse the same oils */
static void check_refused(const struct mw_oil pair[2],
                          const struct mw_method *method, double t,
                          enum mw_status status)
{
    double x;
    check_fails(mw_mixture(pair, halves, 2, t, method, &x, NULL), status, x);
    check_fails(mw_mixture_share(pair, 300, t, method, &x, NULL), status, x);
}

static void oils_that_do_not_mix(void **state)
{
    const struct mw_oil thin = silicone(238.5), thick = silicone(2385);
    const struct mw_oil mineral = lined(MW_MINERAL, 385.2, 9.1);
    const struct mw_oil far = silicone(238500 * (1 + 1e-9));
    const struct mw_oil families[2] = {thin, mineral}, wide[2] = {thin, far};
    const struct mw_oil pair[2] = {thin, thick};
    const struct mw_method lost = {MW_RULE_ASTM, NAN};
    const struct mw_method endless = {MW_RULE_ASTM, INFINITY};
    (void)state;
    check_refused(families, &astm, 25, MW_ERR_FAMILY);
    check_refused(wide, &astm, 25, MW_ERR_RATIO);
    check_refused(pair, &wright, 25, MW_ERR_NO_LINE);
    check_refused(pair, &lost, 25, MW_ERR_EXCESS);
    check_refused(pair, &endless, 25, MW_ERR_EXCESS);
    check_refused(pair, &astm, 101, MW_ERR_LAW_RANGE);
    check_refused(pair, &astm, NAN, MW_ERR_TEMPERATURE);
    const struct mw_oil thickest[2] = {silicone(1e7), silicone(2e7)};
    check_refused(thickest, &astm, 18.5, MW_ERR_VISCOSITY);
    const struct mw_point rating = {46, 40};
    struct mw_oil known[2] = {mineral, mineral};
    check_ok(mw_oil_make(MW_MINERAL, &rating, 1, NAN, &known[1]));
    check_refused(known, &astm, 25, MW_ERR_ONE_POINT);
}

/* exactly 1000 : 1 is allowed, at any temperature */
static void the_widest_pair(void **state)
{
    const struct mw_oil pair[2] = {silicone(238.5), silicone(238500)};
    (void)state;
    for (double t = -20; t <= 100; t += 2.385) {
        assert_true(mix(pair, 0.385, t, &astm) > 0);
    }
}

static void invalid_shares(void **state)
{
    const struct mw_oil pair[2] = {silicone(238.5), silicone(385.2)};
    const double bad[][2] = {{0.5, 0.4}, {-0.1, 1.1}, {NAN, 1}};
    double x;
    (void)state;
    for (size_t i = 0; i < 3; i++) {
        check_fails(mw_mixture(pair, bad[i], 2, 25, &astm, &x, NULL),
                    MW_ERR_SHARES, x);
    }
    check_fails(mw_mixture(pair, halves, 0, 25, &astm, &x, NULL), MW_ERR_SHARES,
                x);
}

static void an_excess_may_carry_a_mix_off_the_scale(void **state)
{
    const struct mw_oil thick[2] = {silicone(1.9e7), silicone(2e5)};
    const struct mw_method up = {MW_RULE_ASTM, 3};
    const double shares[2] = {0.9, 0.1};
    double x;
    (void)state;
    check_fails(mw_mixture(thick, shares, 2, 25, &up, &x, NULL),
                MW_ERR_VISCOSITY, x);
}

static void targets_out_of_reach(void **state)
{
    const struct mw_oil pair[2] = {silicone(238.5), silicone(385.2)};
    const struct mw_oil same[2] = {silicone(238.5), silicone(238.5)};
    const double bad[] = {238.4, 385.3, 0, -300, NAN, INFINITY};
    const struct mw_method methods[] = {astm, usual};
    double x;
    (void)state;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        for (size_t j = 0; j < 2; j++) {
            check_fails(
                mw_mixture_share(pair, bad[i], 25, &methods[j], &x, NULL),
                MW_ERR_TARGET, x);
        }
    }
    check_fails(mw_mixture_share(same, 238.5, 25, &usual, &x, NULL),
                MW_ERR_EQUAL_VISCOSITY, x);
    check_fails(mw_mixture_share(same, 238.6, 25, &usual, &x, NULL),
                MW_ERR_TARGET, x);
}

/* mixture and share raise the same warnings */
static unsigned warnings_of(struct mw_oil a, struct mw_oil b, double t,
                            const struct mw_method *method)
{
    const struct mw_oil pair[2] = {a, b};
    double v, share, target = mix(pair, 0.5, t, method);
    unsigned forward = 0, backward = 0;
    check_ok(mw_mixture(pair, halves, 2, t, method, &v, &forward));
    check_ok(mw_mixture_share(pair, target, t, method, &share, &backward));
    assert_int_equal(forward, backward);
    return forward;
}

static void warnings_name_what_is_extrapolated(void **state)
{
    const struct mw_oil a = silicone(238.5), b = silicone(385.2);
    (void)state;
    assert_int_equal(warnings_of(a, b, 25, &usual), 0);
    assert_int_equal(warnings_of(a, b, 60, &usual), 0);
    assert_int_equal(warnings_of(a, b, 0, &usual), 0);
    assert_int_equal(warnings_of(a, b, 60.1, &usual), MW_WARN_TEMPERATURE);
    assert_int_equal(warnings_of(a, b, -0.1, &usual), MW_WARN_TEMPERATURE);
    assert_int_equal(warnings_of(silicone(49.9), b, 25, &astm),
                     MW_WARN_THIN_SILICONE | MW_WARN_WIDE);
    assert_int_equal(warnings_of(a, silicone(3 * 238.4), 25, &usual), 0);
    assert_int_equal(warnings_of(a, silicone(3 * 238.6), 25, &usual),
                     MW_WARN_WIDE);
    assert_int_equal(warnings_of(lined(MW_SILICONE, 238.5, 2.5),
                                 lined(MW_SILICONE, 385.2, 2.6), 50, &wright),
                     MW_WARN_WRIGHT_SILICONE);
    assert_int_equal(warnings_of(lined(MW_MINERAL, 238.5, 9.1),
                                 lined(MW_MINERAL, 385.2, 9.2), 101, &wright),
                     MW_WARN_EXTRAPOLATED);
}

/* silicone lines extend further than the densities of silicone */
static void warnings_do_not_depend_on_density(void **state)
{
    const struct mw_oil a = lined(MW_SILICONE, 238.5, 2.5);
    const struct mw_oil b = lined(MW_SILICONE, 385.2, 2.6);
    const unsigned both = MW_WARN_EXTRAPOLATED | MW_WARN_TEMPERATURE;
    (void)state;
    assert_int_equal(warnings_of(a, b, 99, &astm), MW_WARN_TEMPERATURE);
    assert_int_equal(warnings_of(a, b, 120, &astm), both);
    assert_int_equal(warnings_of(a, b, -25, &astm), both);
}

static void the_nearest_oil(void **state)
{
    const struct mw_point rating = {46, 40};
    struct mw_oil oils[3] = {silicone(100), silicone(1000), silicone(200)};
    size_t nearest;
    double v;
    (void)state;
    check_ok(mw_mixture_nearest(oils, 3, 400, 25, &nearest, &v));
    assert_int_equal(nearest, 2);
    check_near(v, 200, 0);
    check_ok(mw_mixture_nearest(oils, 3, 450, 25, &nearest, &v));
    assert_int_equal(nearest, 1);
    check_ok(mw_oil_make(MW_MINERAL, &rating, 1, NAN, &oils[2]));
    check_ok(mw_mixture_nearest(oils, 3, 46, 25, &nearest, &v));
    assert_int_equal(nearest, 0);
    check_fails(mw_mixture_nearest(&oils[2], 1, 46, 25, &nearest, &v),
                MW_ERR_ONE_POINT, v);
    assert_int_equal(nearest, 1);
}

static void nothing_is_near_no_viscosity(void **state)
{
    const struct mw_oil oils[2] = {silicone(100), silicone(1000)};
    const double bad[] = {0, -238.5, NAN, INFINITY};
    (void)state;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        size_t nearest = 0;
        double v;
        check_fails(mw_mixture_nearest(oils, 2, bad[i], 25, &nearest, &v),
                    MW_ERR_VISCOSITY, v);
        assert_int_equal(nearest, 2);
    }
}

static void midway_is_even_on_a_logarithmic_scale(void **state)
{
    (void)state;
    check_part(mw_mixture_midway(238.5, 23850), 2385, 1e-15);
}

static void no_warnings_on_failure(void **state)
{
    (void)state;
    const struct mw_point points[2] = {{23.85, 25}, {385.2, 25}};
    const struct mw_method method = {MW_RULE_ASTM, 0};
    const double shares[2] = {0.385, 0.385};
    struct mw_oil pair[2];
    unsigned warnings = MW_WARN_WIDE;
    double x;
    check_ok(mw_oil_make(MW_SILICONE, &points[0], 1, NAN, &pair[0]));
    check_ok(mw_oil_make(MW_SILICONE, &points[1], 1, NAN, &pair[1]));
    check_fails(mw_mixture(pair, shares, 2, 25, &method, &x, &warnings),
                MW_ERR_SHARES, x);
    assert_int_equal(warnings, 0);
    warnings = MW_WARN_WIDE;
    check_fails(mw_mixture_share(pair, 538.2, 25, &method, &x, &warnings),
                MW_ERR_TARGET, x);
    assert_int_equal(warnings, 0);
}

static void a_thousand_to_one_is_allowed(void **state)
{
    (void)state;
    assert_true(mw_ratio_allowed(23.85, 23850));
    assert_true(mw_ratio_allowed(238.5, 2.385));
    assert_false(mw_ratio_allowed(23.85, 23851));
    assert_false(mw_ratio_allowed(NAN, 23.85));
    assert_false(mw_ratio_allowed(23.85, NAN));
}

static struct mw_oil petroleum(double v40, double density)
{
    const struct mw_point points[2] = {{v40, 40}, {v40 / 6, 100}};
    struct mw_oil oil;
    check_ok(mw_oil_make(MW_MINERAL, points, 2, density, &oil));
    return oil;
}

/* two oils of 0.80 and 0.82 g/ml at 15 C, by volume; one that states none has
 * the usual 0.88 */
static void a_mix_keeps_its_density(void **state)
{
    const struct mw_oil pair[2] = {petroleum(30.5, 0.80),
                                   petroleum(90.5, 0.82)};
    const struct mw_oil half[2] = {petroleum(30.5, 0.80), petroleum(90.5, NAN)};
    const struct mw_oil none[2] = {petroleum(30.5, NAN), petroleum(90.5, NAN)};
    const double shares[2] = {0.385, 0.615};
    double density;
    (void)state;
    check_ok(mw_mixture_density(pair, shares, 2, &density));
    check_part(density, 0.385 * 0.80 + 0.615 * 0.82, 1e-15);
    check_ok(mw_mixture_density(half, shares, 2, &density));
    check_part(density, 0.385 * 0.80 + 0.615 * 0.88, 1e-15);
    check_ok(mw_mixture_density(none, shares, 2, &density));
    assert_true(isnan(density));
}

static void invalid_densities(void **state)
{
    const struct mw_oil families[2] = {silicone(345.5), petroleum(90.5, 0.82)};
    /* a line that is not known at 25 C, where silicone states its density */
    struct mw_oil broken[2] = {petroleum(30.5, 0.80), petroleum(90.5, 0.82)};
    double density;
    (void)state;
    check_fails(mw_mixture_density(families, halves, 2, &density),
                MW_ERR_FAMILY, density);
    check_fails(
        mw_mixture_density(broken, (const double[]){0.5, 0.6}, 2, &density),
        MW_ERR_SHARES, density);
    broken[1].points[0].viscosity = NAN;
    broken[1].family = broken[0].family = MW_SILICONE;
    broken[1].density = broken[0].density = NAN;
    broken[1].count = broken[0].count = 1;
    broken[1].has_line = broken[0].has_line = false;
    assert_true(mw_mixture_density(broken, halves, 2, &density) != MW_OK);
    assert_true(isnan(density));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_inverse_gives_the_target_back),
        cmocka_unit_test(up_to_ten_to_one_nothing_is_refused),
        cmocka_unit_test(swapping_the_oils_mirrors_the_share),
        cmocka_unit_test(without_excess_a_mix_lies_between),
        cmocka_unit_test(a_mix_thins_as_it_warms),
        cmocka_unit_test(an_oil_in_parts_is_one_oil),
        cmocka_unit_test(one_oil_alone_is_itself),
        cmocka_unit_test(a_target_that_is_an_oil_is_that_oil),
        cmocka_unit_test(a_target_next_to_an_oil_is_met),
        cmocka_unit_test(the_usual_method),
        cmocka_unit_test(oils_that_do_not_mix),
        cmocka_unit_test(the_widest_pair),
        cmocka_unit_test(a_thousand_to_one_is_allowed),
        cmocka_unit_test(invalid_shares),
        cmocka_unit_test(an_excess_may_carry_a_mix_off_the_scale),
        cmocka_unit_test(targets_out_of_reach),
        cmocka_unit_test(warnings_name_what_is_extrapolated),
        cmocka_unit_test(warnings_do_not_depend_on_density),
        cmocka_unit_test(the_nearest_oil),
        cmocka_unit_test(nothing_is_near_no_viscosity),
        cmocka_unit_test(midway_is_even_on_a_logarithmic_scale),
        cmocka_unit_test(no_warnings_on_failure),
        cmocka_unit_test(a_mix_keeps_its_density),
        cmocka_unit_test(invalid_densities),
    };
    return cmocka_run_group_tests_name("mixture", tests, NULL, NULL);
}
