/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "check.h"
#include "table/shared.h"
#include "table/shared_internal.h"

static double total(const struct mw_shared *shared)
{
    const double one[1] = {1};
    return mw_shared_combined(shared, one, 1);
}

static void bottles_that_share_nothing(void **state)
{
    struct mw_shared oils[2] = {0};
    const double swings[2] = {0.385, 0.615};
    (void)state;
    mw_shared_complete(&oils[0], 1, 0.029);
    mw_shared_complete(&oils[1], 2, 0.058);
    check_part(mw_shared_combined(oils, swings, 2),
               hypot(0.385 * 0.029, 0.615 * 0.058), 1e-14);
}

/* half of an oil is half of another: the shared parts add up, the rest is
 * unchanged */
static void a_mix_with_its_parent(void **state)
{
    struct mw_shared oils[2] = {0};
    const double swings[2] = {0.25, 0.75};
    (void)state;
    mw_shared_complete(&oils[0], 1, 0.029);
    mw_shared_add(&oils[1], 1, 0.52 * 0.029);
    mw_shared_add(&oils[1], 2, 0.48 * 0.031);
    mw_shared_complete(&oils[1], 3, 0.025);
    check_part(total(&oils[1]), 0.025, 1e-14);
    double one = 0.25 * 0.029 + 0.75 * 0.52 * 0.029, two = 0.75 * 0.48 * 0.031;
    double rest = 0.025 * 0.025 - pow(0.52 * 0.029, 2) - pow(0.48 * 0.031, 2);
    check_part(mw_shared_combined(oils, swings, 2),
               sqrt(one * one + two * two + 0.75 * 0.75 * rest), 1e-14);
}

/* the errors of a mix from its parents, reduced by its readings */
static void parts_of_parents(void **state)
{
    struct mw_shared parents[2] = {0}, oil = {0};
    const double swings[2] = {0.52, 0.48};
    (void)state;
    mw_shared_complete(&parents[0], 1, 0.029);
    mw_shared_complete(&parents[1], 2, 0.031);
    double weight = mw_label_weight(0.05, 0.02);
    check_part(weight, pow(0.02 / (0.05 / sqrt(3)), 2), 1e-14);
    mw_shared_add_mix(&oil, parents, swings, 2, weight);
    check_part(total(&oil), weight * hypot(0.52 * 0.029, 0.48 * 0.031), 1e-14);
    check_near(mw_label_weight(0.05, 0.3), 1, 0);
    assert_true(isnan(mw_label_weight(0, 0.02)));
    assert_true(isnan(mw_label_weight(NAN, 0.02)));
}

/* the same bottle twice is one error */
static void one_bottle_in_both(void **state)
{
    struct mw_shared oils[2] = {0};
    const double swings[2] = {0.385, 0.615};
    (void)state;
    mw_shared_complete(&oils[0], 7, 0.029);
    mw_shared_complete(&oils[1], 7, 0.029);
    check_part(mw_shared_combined(oils, swings, 2), 0.029, 1e-14);
}

/* readings can make a mix less uncertain than its parents */
static void parts_beyond_the_whole(void **state)
{
    struct mw_shared oil = {0};
    (void)state;
    mw_shared_add(&oil, 1, 0.03);
    mw_shared_add(&oil, 2, 0.04);
    mw_shared_complete(&oil, 3, 0.01);
    check_part(total(&oil), 0.01, 1e-14);
    check_part(oil.list[0].part, 0.006, 1e-14);
    mw_shared_complete(&oil, 3, 0);
    check_near(total(&oil), 0, 0);
}

/* bottles beyond the limit count as the own error of the oil */
static void more_bottles_than_room(void **state)
{
    struct mw_shared oil = {0};
    (void)state;
    mw_shared_add(&oil, -1, 0);
    for (int i = 0; i < 2 * MW_SHARED_MAX; i++) {
        mw_shared_add(&oil, i, 0.001);
    }
    assert_int_equal(oil.count, MW_SHARED_MAX);
    mw_shared_complete(&oil, -1, 0.02);
    check_part(total(&oil), 0.02, 1e-14);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bottles_that_share_nothing),
        cmocka_unit_test(a_mix_with_its_parent),
        cmocka_unit_test(parts_of_parents),
        cmocka_unit_test(one_bottle_in_both),
        cmocka_unit_test(parts_beyond_the_whole),
        cmocka_unit_test(more_bottles_than_room),
    };
    return cmocka_run_group_tests_name("shared", tests, NULL, NULL);
}
