/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "blend/rule.h"

#include "blend/mixture.h"
#include "check.h"
#include "fluid/walther.h"
#include "rule_blend.h"

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
    check_ok(rule_blend(MW_RULE_ASTM, v, NULL, shares, 2, NAN, 0, &blend));
    return blend;
}

static double log_t(void)
{
    double x;
    check_ok(mw_chart_x(cold.temperature, &x));
    return x;
}

static void ends_of(const struct mw_line lines[2], double v[2])
{
    for (size_t i = 0; i < 2; i++) {
        check_ok(mw_line_at(&lines[i], cold.temperature, &v[i]));
    }
}

static double wright(const struct mw_line *one, const struct mw_line *two,
                     double f)
{
    const struct mw_line lines[2] = {*one, *two};
    const double shares[2] = {1 - f, f};
    double v[2], blend;
    ends_of(lines, v);
    check_ok(
        rule_blend(MW_RULE_WRIGHT, v, lines, shares, 2, log_t(), 0, &blend));
    return blend;
}

static enum mw_status astm_share(double v1, double v2, double target,
                                 double *share)
{
    const double v[2] = {v1, v2};
    const struct mw_line none[2] = {{NAN, NAN}, {NAN, NAN}};
    struct mw_pair pair = mw_pair_of(none, v, NAN, MW_RULE_ASTM, 0);
    return mw_pair_plain_share(&pair, target, share);
}

static enum mw_status wright_share(const struct mw_line *one,
                                   const struct mw_line *two, double target,
                                   double *share)
{
    const struct mw_line lines[2] = {*one, *two};
    double v[2];
    ends_of(lines, v);
    struct mw_pair pair = mw_pair_of(lines, v, log_t(), MW_RULE_WRIGHT, 0);
    return mw_pair_plain_share(&pair, target, share);
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

/* W is additive, so a blend may be blended further */
static void blending_in_two_steps_is_one_blend(void **state)
{
    const double v[3] = {23.85, 385.2, 2385}, shares[3] = {0.2, 0.3, 0.5};
    double blend;
    (void)state;
    check_ok(rule_blend(MW_RULE_ASTM, v, NULL, shares, 3, NAN, 0, &blend));
    check_part(astm(astm(v[0], v[1], 0.6), v[2], 0.5), blend, 1e-13);
}

static void an_oil_in_two_parts_is_one_oil(void **state)
{
    const struct mw_line lines[3] = {line_of(238.5, 4.1), line_of(23.85, 2.3),
                                     line_of(238.5, 4.1)};
    const double v[3] = {238.5, 23.85, 238.5}, shares[3] = {0.2, 0.615, 0.185};
    double blend, whole, part;
    (void)state;
    check_ok(rule_blend(MW_RULE_ASTM, v, NULL, shares, 3, NAN, 0, &blend));
    check_part(astm(238.5, 23.85, 0.615), blend, 1e-13);
    check_ok(
        rule_blend(MW_RULE_WRIGHT, v, lines, shares, 3, log_t(), 0, &blend));
    check_part(wright(&lines[0], &lines[1], 0.615), blend, 1e-12);
    const double joined[2] = {0.385, 0.615};
    check_ok(rule_blend(MW_RULE_ASTM, v, NULL, shares, 3, NAN, 0.2, &part));
    check_ok(rule_blend(MW_RULE_ASTM, v, NULL, joined, 2, NAN, 0.2, &whole));
    check_part(part, whole, 1e-13);
}

static void shares_lead_back(void **state)
{
    const struct mw_line one = line_of(238.5, 4.1), two = line_of(23.85, 2.3);
    (void)state;
    for (double f = 0; f <= 1; f += 0.0385) {
        double share;
        check_ok(astm_share(238.5, 23.85, astm(238.5, 23.85, f), &share));
        check_near(share, f, 1e-13);
        if (f > 0) { /* at 0 the line may miss its own point by a digit */
            check_ok(wright_share(&one, &two, wright(&one, &two, f), &share));
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
        check_ok(astm_share(238.5, 23.85, target, &share));
        check_ok(astm_share(23.85, 238.5, target, &other));
        check_near(share + other, 1, 1e-14);
        check_ok(wright_share(&one, &two, target, &share));
        check_ok(wright_share(&two, &one, target, &other));
        check_near(share + other, 1, 1e-13);
    }
}

/* for lines of equal slope Wright's rule is that of the ASTM */
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

/* d ln v/dy against a difference, for every rule */
static void slopes_are_those_of_the_scale(void **state)
{
    (void)state;
    for (int rule = MW_RULE_ASTM; rule <= MW_RULE_WRIGHT; rule++) {
        const struct mw_rule_entry *entry = mw_rule_entry((enum mw_rule)rule);
        for (double v = 2.385; v < 1e6; v *= 3.7) {
            double step = 1e-6;
            double rise =
                entry->scale(v * exp(step)) - entry->scale(v * exp(-step));
            check_part(entry->slope(v), 2 * step / rise, 1e-5);
            check_part(entry->unscale(entry->scale(v)), v, 1e-12);
        }
        assert_true(isnan(entry->scale(0.2)));
        assert_true(isnan(entry->unscale(9.5)));
    }
}

static void targets_out_of_reach(void **state)
{
    const struct mw_line one = line_of(238.5, 4.1), two = line_of(23.85, 2.3);
    double x;
    (void)state;
    check_fails(astm_share(238.5, 23.85, 23.84, &x), MW_ERR_TARGET, x);
    check_fails(astm_share(238.5, 23.85, 238.6, &x), MW_ERR_TARGET, x);
    check_fails(wright_share(&one, &two, 23.84, &x), MW_ERR_TARGET, x);
    check_fails(wright_share(&one, &two, 238.6, &x), MW_ERR_TARGET, x);
}

static void no_such_rule(void **state)
{
    const struct mw_point rating = {238.5, 25};
    const struct mw_method method = {(enum mw_rule)7, 0};
    struct mw_oil oil;
    const double whole[1] = {1};
    double v;
    (void)state;
    check_ok(mw_oil_make(MW_SILICONE, &rating, 1, NAN, &oil));
    check_fails(mw_mixture(&oil, whole, 1, 25, &method, &v, NULL), MW_ERR_NAME,
                v);
}

static void rules_have_names(void **state)
{
    enum mw_rule rule = MW_RULE_WRIGHT;
    (void)state;
    assert_string_equal(mw_rule_name(MW_RULE_ASTM), "astm");
    assert_string_equal(mw_rule_name(MW_RULE_WRIGHT), "wright");
    assert_string_equal(mw_rule_name((enum mw_rule)2), "?");
    assert_string_equal(mw_rule_name((enum mw_rule) - 1), "?");
    assert_string_equal(mw_rule_standard(MW_RULE_WRIGHT), "ASTM D7152");
    assert_string_equal(mw_rule_standard((enum mw_rule)2), "?");
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
        cmocka_unit_test(slopes_are_those_of_the_scale),
        cmocka_unit_test(targets_out_of_reach),
        cmocka_unit_test(no_such_rule),
        cmocka_unit_test(rules_have_names),
    };
    return cmocka_run_group_tests_name("rule", tests, NULL, NULL);
}
