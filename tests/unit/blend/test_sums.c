/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
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

static void weighted_scales_add_up(void **state)
{
    struct mw_sums sums = {0};
    double p = 0, q = 0;
    (void)state;
    for (size_t i = 0; i < 4; i++) {
        mw_sums_to_rule(&sums, v[i], 1 / v[i], shares[i]);
        p += shares[i] * v[i];
        q += shares[i] / v[i];
    }
    check_part(sums.p, p, 1e-15);
    check_part(sums.q, q, 1e-15);
}

/* the running variance against the sum over pairs that defines the excess */
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
        cmocka_unit_test(weighted_scales_add_up),
        cmocka_unit_test(excess_is_the_sum_over_pairs),
        cmocka_unit_test(a_share_of_nothing_adds_nothing),
    };
    return cmocka_run_group_tests_name("sums", tests, NULL, NULL);
}
