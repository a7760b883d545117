/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "blend/residue.h"
#include "check.h"

static const struct mw_method silicone = {MW_RULE_ASTM, 0.20};

static void make(struct mw_oil oils[3], double first, double second,
                 double left)
{
    const double ratings[3] = {first, second, left};
    for (int i = 0; i < 3; i++) {
        const struct mw_point point = {ratings[i], 25};
        check_ok(mw_oil_make(MW_SILICONE, &point, 1, NAN, &oils[i]));
    }
}

static void whole_has_the_target(void **state)
{
    struct mw_oil oils[3];
    double share, v;
    unsigned warnings = 0;
    (void)state;
    make(oils, 350, 500, 1000);
    check_ok(
        mw_residue_share(oils, 0.0385, 420, 20, &silicone, &share, &warnings));
    check_ok(
        mw_residue_mixture(oils, 0.0385, share, 20, &silicone, &v, &warnings));
    check_part(v, 420.0, 1e-12);
    assert_int_equal(warnings, 0);
    /* the residue is thicker: less of the thicker oil is poured */
    double without;
    check_ok(mw_mixture_share(oils, 420, 20, &silicone, &without, NULL));
    assert_true(share < without - 0.05);
}

/* the wide pair of residue and thin oil raises its warning */
static void warnings_are_those_of_the_three_oils(void **state)
{
    struct mw_oil oils[3];
    double share;
    unsigned warnings = 0;
    (void)state;
    make(oils, 350, 500, 2000);
    check_ok(
        mw_residue_share(oils, 0.01, 420, 25, &silicone, &share, &warnings));
    assert_int_equal(warnings, MW_WARN_WIDE);
}

static void nothing_left_is_the_plain_mix(void **state)
{
    struct mw_oil oils[3];
    double share, plain;
    (void)state;
    make(oils, 350, 500, 1000);
    check_ok(mw_residue_share(oils, 0, 420, 25, &silicone, &share, NULL));
    check_ok(mw_mixture_share(oils, 420, 25, &silicone, &plain, NULL));
    check_part(share, plain, 1e-10);
}

/* an oil that is the residue too is reduced by it */
static void rest_of_one_of_the_two(void **state)
{
    struct mw_oil oils[3];
    double share, plain;
    const double part = 0.385 / 12;
    (void)state;
    make(oils, 350, 500, 500);
    check_ok(mw_residue_share(oils, part, 420, 25, &silicone, &share, NULL));
    mw_mixture_share(oils, 420, 25, &silicone, &plain, NULL);
    check_part(12 * (1 - part) * share, 12 * plain - 0.385, 1e-9);
    check_part(12 * (1 - part) * (1 - share), 12 * (1 - plain), 1e-9);
}

static void too_much_of_it_shifts_the_mix(void **state)
{
    struct mw_oil oils[3];
    double share = 0, v;
    (void)state;
    make(oils, 350, 500, 10000);
    assert_int_equal(
        mw_residue_share(oils, 0.2, 420, 25, &silicone, &share, NULL),
        MW_ERR_TARGET);
    assert_true(isnan(share));
    check_ok(mw_residue_mixture(oils, 0.2, 0.5, 25, &silicone, &v, NULL));
    /* by mw_mixture() of all three */
    const double shares[3] = {0.4, 0.4, 0.2};
    double same;
    mw_mixture(oils, shares, 3, 25, &silicone, &same, NULL);
    check_part(v, same, 1e-14);
    assert_true(v > 1.5 * 420);
}

static void refused(void **state)
{
    struct mw_oil oils[3];
    const struct mw_method wild = {MW_RULE_ASTM, 5};
    const double bad[] = {-0.01, 1, NAN, INFINITY};
    const double targets[] = {0, -420, NAN, INFINITY};
    double x;
    (void)state;
    make(oils, 350, 500, 1000);
    for (int i = 0; i < 4; i++) {
        x = 0;
        assert_int_equal(
            mw_residue_share(oils, bad[i], 420, 25, &silicone, &x, NULL),
            MW_ERR_SHARES);
        assert_true(isnan(x));
        x = 0;
        assert_int_equal(
            mw_residue_share(oils, 0.01, targets[i], 25, &silicone, &x, NULL),
            MW_ERR_TARGET);
        assert_true(isnan(x));
    }
    assert_int_equal(
        mw_residue_mixture(oils, 0.01, 1.01, 25, &silicone, &x, NULL),
        MW_ERR_SHARES);
    assert_true(isnan(x));
    assert_int_equal(
        mw_residue_mixture(oils, 0.01, NAN, 25, &silicone, &x, NULL),
        MW_ERR_SHARES);
    make(oils, 420, 420, 1000);
    assert_int_equal(mw_residue_share(oils, 0.01, 430, 25, &silicone, &x, NULL),
                     MW_ERR_EQUAL_VISCOSITY);
    make(oils, 100, 1000, 350);
    assert_int_equal(mw_residue_share(oils, 0.01, 350, 25, &wild, &x, NULL),
                     MW_ERR_EXCESS);
    assert_true(isnan(x));
    oils[2].family = MW_MINERAL;
    assert_int_equal(mw_residue_share(oils, 0.01, 350, 25, &silicone, &x, NULL),
                     MW_ERR_FAMILY);
    make(oils, 100, 1000, 200000);
    assert_int_equal(mw_residue_share(oils, 0.01, 350, 25, &silicone, &x, NULL),
                     MW_ERR_RATIO);
    assert_true(isnan(x));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(whole_has_the_target),
        cmocka_unit_test(warnings_are_those_of_the_three_oils),
        cmocka_unit_test(nothing_left_is_the_plain_mix),
        cmocka_unit_test(rest_of_one_of_the_two),
        cmocka_unit_test(too_much_of_it_shifts_the_mix),
        cmocka_unit_test(refused),
    };
    return cmocka_run_group_tests_name("residue", tests, NULL, NULL);
}
