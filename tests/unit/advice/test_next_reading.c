/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "advice/next_reading.h"
#include "table/networks.h"

static const size_t both[] = {0, 1};

static double before_of(const struct mw_network *network,
                        const struct mw_network_mix *mix)
{
    struct mw_budget budget;
    double v;
    check_ok(mw_network_mix(network, mix, &v, &budget, NULL));
    return mw_budget_combined(&budget);
}

/* of two oils nearly alike the one that there is more of */
static void the_bottle_that_weighs_most(void **state)
{
    (void)state;
    const struct mw_network_bottle bottles[] = {silicone(352.5),
                                                silicone(372.5)};
    const double shares[] = {0.3, 0.7}, label = 0.05 / sqrt(3);
    const struct mw_network_mix mix = {2, both, shares, 25, 0, NULL, NULL};
    struct mw_next_reading next;
    struct mw_network *network = network_of(bottles, 2, NULL, 0);
    check_ok(mw_next_reading(network, &mix, before_of(network, &mix), &next));
    assert_int_equal(next.bottle, 1);
    double left = MW_CAREFUL_READING * label / hypot(MW_CAREFUL_READING, label);
    check_part(next.after, hypot(0.3 * label, 0.7 * left), 5e-3);
    mw_network_free(network);
}

/* where K is what is not known no bottle helps, but the mix */
static void the_mix_itself(void **state)
{
    (void)state;
    const struct mw_network_bottle bottles[] = {silicone(102.5),
                                                silicone(100250)};
    const double shares[] = {0.5, 0.5};
    const struct mw_network_mix mix = {2, both, shares, 25, 0, NULL, NULL};
    struct mw_next_reading next;
    struct mw_network *network = network_of(bottles, 2, NULL, 0);
    check_ok(mw_next_reading(network, &mix, before_of(network, &mix), &next));
    assert_true(next.bottle == MW_THE_MIX);
    assert_true(next.after > 0.0099 && next.after < MW_CAREFUL_READING);
    mw_network_free(network);
}

static void no_mix_at_all(void **state)
{
    (void)state;
    const struct mw_network_bottle bottles[] = {silicone(352.5)};
    const struct mw_network_mix none = {0, both, NULL, 25, 0, NULL, NULL};
    struct mw_next_reading next;
    struct mw_network *network = network_of(bottles, 1, NULL, 0);
    assert_int_equal(mw_next_reading(network, &none, 0.02, &next),
                     MW_ERR_BUDGET);
    assert_true(isnan(next.after) && next.bottle == MW_THE_MIX);
    mw_network_free(network);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_bottle_that_weighs_most),
        cmocka_unit_test(the_mix_itself),
        cmocka_unit_test(no_mix_at_all),
    };
    return cmocka_run_group_tests_name("next_reading", tests, NULL, NULL);
}
