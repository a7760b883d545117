/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "blend/blend.h"
#include "check.h"

static const struct mw_point cold = {238.5, 18.5}, warm = {23.85, 97.3};

/* a line whose oil is v at 18.5 C and thins by a ratio up to 97.3 C */
static struct mw_line line_of(double v, double ratio)
{
    const struct mw_point p = {v, cold.temperature};
    const struct mw_point q = {v / ratio, warm.temperature};
    struct mw_line line;
    check_ok(mw_line_through(&p, &q, &line));
    return line;
}

static double astm(double v1, double v2, double f)
{
    const double v[2] = {v1, v2}, shares[2] = {1 - f, f};
    double blend;
    check_ok(mw_blend_astm(v, shares, 2, &blend));
    return blend;
}

static double wright(const struct mw_line *one, const struct mw_line *two,
                     double f)
{
    const struct mw_line lines[2] = {*one, *two};
    const double shares[2] = {1 - f, f};
    double blend;
    check_ok(mw_blend_wright(lines, shares, 2, cold.temperature, &blend));
    return blend;
}

static void a_blend_lies_between_its_oils(void **state)
{
    (void)state;
    for (double v1 = 0.25; v1 < 1e6; v1 *= 2.385) {
        for (double r = 1.05; r < 1000 && v1 * r < 2e7; r *= 2.385) {
            double last_c = v1 * (1 - 1e-12), last_a = last_c;
            struct mw_line thin = line_of(v1 + 2, 1.5);
            struct mw_line thick = line_of((v1 + 2) * r, 1.9);
            for (double f = 0.01; f < 1; f += 0.0385) {
                double c = astm(v1, v1 * r, f);
                double a = wright(&thin, &thick, f);
                assert_true(c > last_c && c < v1 * r);
                assert_true(a > last_a && a < (v1 + 2) * r);
                last_c = c;
                last_a = a;
            }
        }
    }
}

static void one_oil_alone_is_itself(void **state)
{
    const struct mw_line line = line_of(238.5, 4.1);
    (void)state;
    check_part(astm(238.5, 23.85, 0), 238.5, 1e-13);
    check_part(astm(238.5, 23.85, 1), 23.85, 1e-13);
    check_part(astm(238.5, 238.5, 0.385), 238.5, 1e-13);
    check_part(wright(&line, &line, 0.385), 238.5, 1e-11);
}

/* W adds up, so a blend may be blended on */
static void blending_in_two_steps_is_one_blend(void **state)
{
    const double v[3] = {23.85, 385.2, 2385}, shares[3] = {0.2, 0.3, 0.5};
    double blend;
    (void)state;
    check_ok(mw_blend_astm(v, shares, 3, &blend));
    check_part(astm(astm(v[0], v[1], 0.6), v[2], 0.5), blend, 1e-13);
}

static void an_oil_in_two_parts_is_one_oil(void **state)
{
    const struct mw_line lines[3] = {line_of(238.5, 4.1), line_of(23.85, 2.3),
                                     line_of(238.5, 4.1)};
    const double v[3] = {238.5, 23.85, 238.5}, shares[3] = {0.2, 0.615, 0.185};
    double blend, whole, part;
    (void)state;
    check_ok(mw_blend_astm(v, shares, 3, &blend));
    check_part(astm(238.5, 23.85, 0.615), blend, 1e-13);
    check_ok(mw_blend_wright(lines, shares, 3, 18.5, &blend));
    check_part(wright(&lines[0], &lines[1], 0.615), blend, 1e-12);
    check_ok(mw_blend_excess(v, shares, 3, 0.2, &part));
    const double joined[2] = {0.385, 0.615};
    check_ok(mw_blend_excess(v, joined, 2, 0.2, &whole));
    check_part(part, whole, 1e-14);
}

static void shares_lead_back(void **state)
{
    const struct mw_line one = line_of(238.5, 4.1), two = line_of(23.85, 2.3);
    (void)state;
    for (double f = 0; f <= 1; f += 0.0385) {
        double share;
        check_ok(
            mw_blend_astm_share(238.5, 23.85, astm(238.5, 23.85, f), &share));
        check_near(share, f, 1e-13);
        if (f > 0) { /* at 0 the line may miss its own point by a digit */
            check_ok(mw_blend_wright_share(&one, &two, wright(&one, &two, f),
                                           18.5, &share));
            check_near(share, f, 1e-12);
        }
    }
}

static void swapping_oils_mirrors_the_share(void **state)
{
    const struct mw_line one = line_of(238.5, 4.1), two = line_of(23.85, 2.3);
    (void)state;
    for (double target = 24; target < 238; target *= 1.07) {
        double share, other;
        check_ok(mw_blend_astm_share(238.5, 23.85, target, &share));
        check_ok(mw_blend_astm_share(23.85, 238.5, target, &other));
        check_near(share + other, 1, 1e-14);
        check_ok(mw_blend_wright_share(&one, &two, target, 18.5, &share));
        check_ok(mw_blend_wright_share(&two, &one, target, 18.5, &other));
        check_near(share + other, 1, 1e-13);
    }
}

/* lines with one slope leave Wright nothing to disagree on */
static void equal_slopes_make_the_rules_agree(void **state)
{
    const struct mw_line one = line_of(238.5, 4.1);
    const struct mw_line two = {one.a + 0.05, one.b};
    double v2;
    (void)state;
    check_ok(mw_line_at(&two, 18.5, &v2));
    for (double f = 0; f <= 1; f += 0.0385) {
        check_part(wright(&one, &two, f), astm(238.5, v2, f), 1e-12);
    }
}

static void excess_lifts_by_the_log_ratio_squared(void **state)
{
    const double v[2] = {238.5, 2385}, shares[2] = {0.385, 0.615};
    double factor, turned;
    (void)state;
    check_ok(mw_blend_excess(v, shares, 2, 0.2, &factor));
    check_part(log(factor), 0.2 * 0.385 * 0.615 * pow(log(10), 2), 1e-14);
    check_ok(mw_blend_excess(v, shares, 2, -0.2, &turned));
    check_part(turned * factor, 1, 1e-15);
    check_ok(mw_blend_excess(v, shares, 2, 0, &factor));
    check_near(factor, 1, 0);
}

static void bad_shares_and_viscosities(void **state)
{
    const double good_v[2] = {238.5, 23.85}, thin[2] = {238.5, 0.2};
    const double lost[2] = {NAN, 23.85};
    const double half[2] = {0.5, 0.5}, more[2] = {0.5, 0.6};
    const struct mw_line lines[2] = {line_of(238.5, 4.1), line_of(23.85, 2.3)};
    double x;
    (void)state;
    check_fails(mw_blend_astm(good_v, more, 2, &x), MW_ERR_SHARES, x);
    check_fails(mw_blend_astm(good_v, half, 0, &x), MW_ERR_SHARES, x);
    check_fails(mw_blend_astm(thin, half, 2, &x), MW_ERR_VISCOSITY, x);
    check_fails(mw_blend_astm(lost, half, 2, &x), MW_ERR_VISCOSITY, x);
    check_fails(mw_blend_excess(good_v, more, 2, 0.2, &x), MW_ERR_SHARES, x);
    check_fails(mw_blend_excess(thin, half, 2, 0.2, &x), MW_ERR_VISCOSITY, x);
    check_fails(mw_blend_excess(good_v, half, 2, NAN, &x), MW_ERR_EXCESS, x);
    check_fails(mw_blend_excess(good_v, half, 2, INFINITY, &x), MW_ERR_EXCESS,
                x);
    check_fails(mw_blend_wright(lines, more, 2, 18.5, &x), MW_ERR_SHARES, x);
    check_fails(mw_blend_wright(lines, half, 2, NAN, &x), MW_ERR_TEMPERATURE,
                x);
    check_fails(mw_blend_wright(lines, half, 2, -230, &x), MW_ERR_VISCOSITY, x);
}

static void lines_that_do_not_fall(void **state)
{
    const struct mw_line good = line_of(238.5, 4.1);
    const struct mw_line bad[] = {
        {9.5, 0}, {9.5, -3.7}, {NAN, 3.7}, {9.5, NAN}, {9.5, INFINITY}};
    const double half[2] = {0.5, 0.5};
    double x;
    (void)state;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        const struct mw_line lines[2] = {good, bad[i]};
        check_fails(mw_blend_wright(lines, half, 2, 18.5, &x), MW_ERR_NO_LINE,
                    x);
        check_fails(mw_blend_wright_share(&good, &bad[i], 100, 18.5, &x),
                    MW_ERR_NO_LINE, x);
        check_fails(mw_blend_wright_share(&bad[i], &good, 100, 18.5, &x),
                    MW_ERR_NO_LINE, x);
    }
}

static void targets_out_of_reach(void **state)
{
    const struct mw_line one = line_of(238.5, 4.1), two = line_of(23.85, 2.3);
    double x;
    (void)state;
    check_fails(mw_blend_astm_share(238.5, 23.85, 23.84, &x), MW_ERR_TARGET, x);
    check_fails(mw_blend_astm_share(238.5, 23.85, 238.6, &x), MW_ERR_TARGET, x);
    check_fails(mw_blend_astm_share(238.5, 238.5, 238.6, &x), MW_ERR_TARGET, x);
    check_fails(mw_blend_astm_share(238.5, 238.5, 238.5, &x),
                MW_ERR_EQUAL_VISCOSITY, x);
    check_fails(mw_blend_astm_share(238.5, NAN, 238.5, &x), MW_ERR_VISCOSITY,
                x);
    check_fails(mw_blend_astm_share(0.2, 238.5, 23, &x), MW_ERR_VISCOSITY, x);
    check_fails(mw_blend_astm_share(2.385, 238.5, NAN, &x), MW_ERR_VISCOSITY,
                x);
    check_fails(mw_blend_wright_share(&one, &two, 23.84, 18.5, &x),
                MW_ERR_TARGET, x);
    check_fails(mw_blend_wright_share(&one, &two, 238.6, 18.5, &x),
                MW_ERR_TARGET, x);
    check_fails(mw_blend_wright_share(&one, &two, NAN, 18.5, &x),
                MW_ERR_VISCOSITY, x);
    check_fails(mw_blend_wright_share(&one, &two, 100, 341, &x),
                MW_ERR_TEMPERATURE, x);
    check_fails(mw_blend_wright_share(&one, &one, 23.85, 18.5, &x),
                MW_ERR_TARGET, x);
}

static void rules_have_names(void **state)
{
    enum mw_rule rule = MW_RULE_WRIGHT;
    (void)state;
    assert_string_equal(mw_rule_name(MW_RULE_ASTM), "astm");
    assert_string_equal(mw_rule_name(MW_RULE_WRIGHT), "wright");
    assert_string_equal(mw_rule_name((enum mw_rule)2), "?");
    assert_string_equal(mw_rule_name((enum mw_rule) - 1), "?");
    check_ok(mw_rule_from_name("astm", &rule));
    assert_int_equal(rule, MW_RULE_ASTM);
    check_ok(mw_rule_from_name("wright", &rule));
    assert_int_equal(rule, MW_RULE_WRIGHT);
    assert_int_equal(mw_rule_from_name("ASTM ", &rule), MW_ERR_NAME);
    assert_int_equal(rule, MW_RULE_WRIGHT);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_blend_lies_between_its_oils),
        cmocka_unit_test(one_oil_alone_is_itself),
        cmocka_unit_test(blending_in_two_steps_is_one_blend),
        cmocka_unit_test(an_oil_in_two_parts_is_one_oil),
        cmocka_unit_test(shares_lead_back),
        cmocka_unit_test(swapping_oils_mirrors_the_share),
        cmocka_unit_test(equal_slopes_make_the_rules_agree),
        cmocka_unit_test(excess_lifts_by_the_log_ratio_squared),
        cmocka_unit_test(bad_shares_and_viscosities),
        cmocka_unit_test(lines_that_do_not_fall),
        cmocka_unit_test(targets_out_of_reach),
        cmocka_unit_test(rules_have_names),
    };
    return cmocka_run_group_tests_name("blend", tests, NULL, NULL);
}
