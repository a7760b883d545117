/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "blend/sums.h"
#include "check.h"

static const double v[4] = {23.85, 385.2, 2385, 1.385};
static const double shares[4] = {0.385, 0.1, 0.2385, 0.2765};

static void shares_that_add_up(void **state)
{
    const double one[] = {1},
                 tenths[] = {0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1};
    const double ends[] = {0, 1, 0};
    (void)state;
    check_ok(mw_sums_check(one, 1));
    check_ok(mw_sums_check(tenths, 10));
    check_ok(mw_sums_check(ends, 3));
    check_ok(mw_sums_check(shares, 4));
}

static void shares_that_do_not(void **state)
{
    const double bad[][2] = {
        {0.385, 0.385}, {0.385, 0.61501}, {-0.1, 1.1},   {1.0001, 0},
        {NAN, 1},       {1, NAN},         {INFINITY, 0}, {0, 0}};
    (void)state;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        assert_int_equal(mw_sums_check(bad[i], 2), MW_ERR_SHARES);
    }
    assert_int_equal(mw_sums_check(bad[0], 0), MW_ERR_SHARES);
}

static void astm_sums_w(void **state)
{
    struct mw_sums sums = {0};
    double w, expected = 0;
    (void)state;
    for (size_t i = 0; i < 4; i++) {
        check_ok(mw_sums_to_astm(&sums, v[i], shares[i]));
        check_ok(mw_walther_w(v[i], &w));
        expected += shares[i] * w;
    }
    check_near(sums.w, expected, 1e-15);
    assert_int_equal(mw_sums_to_astm(&sums, 0.2, 0), MW_ERR_VISCOSITY);
    assert_int_equal(mw_sums_to_astm(&sums, NAN, 0), MW_ERR_VISCOSITY);
    check_near(sums.w, expected, 1e-15);
}

/* one line alone gives its own W; two meet in X = sum f L(W) */
static void wright_solves_the_chart(void **state)
{
    const struct mw_line first = {9.53, 3.746}, second = {9.06, 3.509};
    struct mw_sums sums = {0};
    const double x = 2.4815;
    (void)state;
    mw_sums_to_wright(&sums, &first, 1);
    check_part(mw_sums_wright_w(&sums, x), first.a - first.b * x, 1e-13);
    sums = (struct mw_sums){0};
    mw_sums_to_wright(&sums, &first, 0.385);
    mw_sums_to_wright(&sums, &second, 0.615);
    double w = mw_sums_wright_w(&sums, x);
    check_part(0.385 * (first.a - w) / first.b +
                   0.615 * (second.a - w) / second.b,
               x, 1e-14);
}

/* the running variance against the sum over pairs that the excess is */
static void excess_is_the_sum_over_pairs(void **state)
{
    struct mw_sums sums = {0};
    double pairs = 0;
    (void)state;
    for (size_t i = 0; i < 4; i++) {
        mw_sums_to_excess(&sums, v[i], shares[i]);
        for (size_t j = 0; j < i; j++) {
            pairs += shares[i] * shares[j] * pow(log(v[i] / v[j]), 2);
        }
    }
    check_part(sums.variance, pairs, 1e-14);
}

static void a_share_of_nothing_adds_nothing(void **state)
{
    struct mw_sums sums = {0};
    (void)state;
    mw_sums_to_excess(&sums, 23.85, 0);
    mw_sums_to_excess(&sums, 238.5, 0.385);
    mw_sums_to_excess(&sums, 2.385, 0);
    mw_sums_to_excess(&sums, 238.5, 0.615);
    check_near(sums.variance, 0, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(shares_that_add_up),
        cmocka_unit_test(shares_that_do_not),
        cmocka_unit_test(astm_sums_w),
        cmocka_unit_test(wright_solves_the_chart),
        cmocka_unit_test(excess_is_the_sum_over_pairs),
        cmocka_unit_test(a_share_of_nothing_adds_nothing),
    };
    return cmocka_run_group_tests_name("sums", tests, NULL, NULL);
}
