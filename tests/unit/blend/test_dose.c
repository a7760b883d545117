/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "blend/dose_internal.h"
#include "check.h"

static void amounts_become_shares(void **state)
{
    const double amounts[3] = {2.385, 0, 7.155};
    double shares[3], total;
    (void)state;
    check_ok(mw_dose_shares(amounts, 3, shares, &total));
    check_near(total, 9.54, 1e-14);
    check_near(shares[0], 0.25, 1e-15);
    check_near(shares[1], 0, 0);
    check_near(shares[2], 0.75, 1e-15);
    check_ok(mw_dose_shares(amounts, 3, shares, NULL));
    check_ok(mw_dose_shares(amounts, 1, shares, &total));
    check_near(shares[0], 1, 0);
}

static void amounts_that_make_no_shares(void **state)
{
    const double bad[][2] = {{0, 0},         {-0.1, 2.385},
                             {NAN, 2.385},   {2.385, INFINITY},
                             {1e308, 1e308}, {-1, 1}};
    (void)state;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        double shares[2] = {0.5, 0.5}, total;
        check_fails(mw_dose_shares(bad[i], 2, shares, &total), MW_ERR_AMOUNT,
                    total);
        assert_true(isnan(shares[0]) && isnan(shares[1]));
        assert_int_equal(mw_dose_shares(bad[i], 2, shares, NULL),
                         MW_ERR_AMOUNT);
    }
    double total;
    check_fails(mw_dose_shares(bad[0], 0, NULL, &total), MW_ERR_AMOUNT, total);
}

static void volume_of_a_mass(void **state)
{
    const double bad_amounts[] = {-0.01, NAN, INFINITY, -INFINITY};
    const double bad_densities[] = {0.09, 10.1, 970, -0.97, 0, NAN};
    double x;
    (void)state;
    check_ok(mw_dose_volume(23.85, 0.954, &x));
    check_near(x, 25, 1e-14);
    check_ok(mw_dose_volume(0, 0.954, &x));
    check_near(x, 0, 0);
    for (size_t i = 0; i < sizeof bad_amounts / sizeof bad_amounts[0]; i++) {
        check_fails(mw_dose_volume(bad_amounts[i], 0.97, &x), MW_ERR_AMOUNT, x);
    }
    /* overflows a double */
    check_fails(mw_dose_volume(1e308, 0.1, &x), MW_ERR_AMOUNT, x);
    for (size_t i = 0; i < sizeof bad_densities / sizeof bad_densities[0];
         i++) {
        check_fails(mw_dose_volume(2.385, bad_densities[i], &x), MW_ERR_DENSITY,
                    x);
    }
}

static void a_batch_with_waste(void **state)
{
    const double bad[][3] = {
        {0, 2.5, 0.3},    {4, 0, 0.3},      {4, 2.5, -0.1}, {4, 2.5, 1},
        {-4, -2.5, 0.3},  {NAN, 2.5, 0.3},  {4, NAN, 0.3},  {4, 2.5, NAN},
        {4, INFINITY, 0}, {1e200, 1e200, 0}};
    double batch;
    (void)state;
    check_ok(mw_dose_batch(4, 2.5, 0.3, &batch));
    check_near(batch, 13, 1e-14);
    check_ok(mw_dose_batch(3, 2.385, 0, &batch));
    check_near(batch, 7.155, 1e-14);
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        check_fails(mw_dose_batch(bad[i][0], bad[i][1], bad[i][2], &batch),
                    MW_ERR_AMOUNT, batch);
    }
}

static int common_divisor(int a, int b)
{
    return b == 0 ? a : common_divisor(b, a % b);
}

/* against all ratios */
static void ratios_are_the_nearest(void **state)
{
    (void)state;
    for (int most = 1; most <= 12; most++) {
        for (double share = 0; share <= 1; share += 0.00385) {
            int first, second;
            double best = INFINITY;
            for (int a = 0; a <= most; a++) {
                for (int b = a == 0; b <= most; b++) {
                    best = fmin(best, fabs((double)b / (a + b) - share));
                }
            }
            check_ok(mw_dose_ratio(share, most, &first, &second));
            assert_in_range(first, 0, most);
            assert_in_range(second, 0, most);
            assert_int_equal(common_divisor(first, second), 1);
            check_near((double)second / (first + second), share, best + 1e-9);
        }
    }
}

static void ratios_that_are_exact(void **state)
{
    int first, second;
    (void)state;
    check_ok(mw_dose_ratio(0.4, 12, &first, &second));
    assert_int_equal(first, 3);
    assert_int_equal(second, 2);
    check_ok(mw_dose_ratio(1, 12, &first, &second));
    assert_int_equal(first, 0);
    assert_int_equal(second, 1);
    check_ok(mw_dose_ratio(0, 1, &first, &second));
    assert_int_equal(first, 1);
    assert_int_equal(second, 0);
}

static void no_ratio(void **state)
{
    const double bad[] = {-0.01, 1.01, NAN, INFINITY};
    int first = 3, second = 5;
    (void)state;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        assert_int_equal(mw_dose_ratio(bad[i], 12, &first, &second),
                         MW_ERR_SHARES);
        assert_true(first == 0 && second == 0);
    }
    first = 3;
    assert_int_equal(mw_dose_ratio(0.385, 0, &first, &second), MW_ERR_AMOUNT);
    assert_int_equal(mw_dose_ratio(0.385, MW_PARTS_MAX + 1, &first, &second),
                     MW_ERR_AMOUNT);
    assert_true(first == 0 && second == 0);
    check_ok(mw_dose_ratio(0.38519, MW_PARTS_MAX, &first, &second));
}

/* 18.85 and 21.15 ml are wanted; the limiting bottle is named, with the part
 * of the mix that it allows */
static void what_the_bottles_hold(void **state)
{
    const double volumes[3] = {18.85, 21.15, 0};
    double part;
    size_t shortest;
    (void)state;
    check_ok(mw_dose_largest(volumes, (const double[]){5, 4.5, 0}, 3, &part,
                             &shortest));
    check_part(part, 4.5 / 21.15, 1e-15);
    assert_int_equal(shortest, 1);
    /* enough, not known, and short by rounding only */
    const double enough[3] = {18.85 * (1 - 5e-10), NAN, NAN};
    check_ok(mw_dose_largest(volumes, enough, 3, &part, &shortest));
    assert_true(part == 1 && shortest == 3);
    const double short_by_more[3] = {18.85 * (1 - 2e-9), NAN, 7.5};
    check_ok(mw_dose_largest(volumes, short_by_more, 3, &part, &shortest));
    assert_true(part < 1 && shortest == 0);
}

static void invalid_volumes(void **state)
{
    static const double bad[][2] = {
        {NAN, 2.385}, {-2.385, 2.385}, {INFINITY, 2.385}, {2.385, -0.5}};
    double part;
    (void)state;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        size_t shortest = 7;
        check_fails(
            mw_dose_largest(&bad[i][0], &bad[i][1], 1, &part, &shortest),
            MW_ERR_AMOUNT, part);
        assert_int_equal(shortest, 1);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(amounts_become_shares),
        cmocka_unit_test(amounts_that_make_no_shares),
        cmocka_unit_test(volume_of_a_mass),
        cmocka_unit_test(a_batch_with_waste),
        cmocka_unit_test(ratios_are_the_nearest),
        cmocka_unit_test(ratios_that_are_exact),
        cmocka_unit_test(no_ratio),
        cmocka_unit_test(what_the_bottles_hold),
        cmocka_unit_test(invalid_volumes),
    };
    return cmocka_run_group_tests_name("dose", tests, NULL, NULL);
}
