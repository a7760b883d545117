/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "advice/next_reading.h"
#include "advice/trial_mix.h"
#include "fail_calloc.h"
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
    const struct mw_network_mix mix = {2, both, shares, 25,
                                       0, NULL, NULL,   false};
    struct mw_next_reading next;
    struct mw_network *network = network_of(bottles, 2, NULL, 0);
    check_ok(mw_next_reading(network, &mix, before_of(network, &mix), &next));
    assert_int_equal(next.bottle, 1);
    double left = MW_CAREFUL_READING * label / hypot(MW_CAREFUL_READING, label);
    check_part(next.after, hypot(0.3 * label, 0.7 * left), 5e-3);
    mw_network_free(network);
}

/* where K is what is not known no bottle helps, but a trial mix */
static void a_trial_mix(void **state)
{
    (void)state;
    struct mw_network_bottle bottles[] = {silicone(102.5), silicone(1025)};
    const double shares[] = {0.5, 0.5};
    const struct mw_network_mix mix = {2, both, shares, 25,
                                       0, NULL, NULL,   false};
    struct mw_next_reading next;
    bottles[0].tolerance = bottles[1].tolerance = 0.001;
    struct mw_network *network = network_of(bottles, 2, NULL, 0);
    double before = before_of(network, &mix);
    check_ok(mw_next_reading(network, &mix, before, &next));
    assert_true(next.bottle == MW_THE_TRIAL);
    /* by hand: half of each departs by K/4 (ln 10)^2; a dose of 5 ml is 1 %
     * off, which moves the share by 0.0025, at ln 10 and some of the excess */
    double apart = log(10),
           k = hypot(hypot(0.2 / 2 / sqrt(3), MW_EXCESS_THIN), MW_EXCESS_PAIR);
    double spread = k * apart * apart / 4;
    double reading = hypot(MW_CAREFUL_READING, 0.0025 * apart);
    check_part(before, spread, 0.01);
    check_part(next.after, spread * reading / hypot(spread, reading), 0.05);
    mw_network_free(network);
}

/* what is poured badly is measured when it is there */
static void the_mix_itself(void **state)
{
    (void)state;
    struct mw_network_bottle bottles[] = {silicone(102.5), silicone(1025)};
    const double shares[] = {0.5, 0.5}, doses[] = {0.2, 0.2};
    const struct mw_method method = {MW_RULE_ASTM, 0.2};
    struct mw_network_mix mix = {2, both, shares, 25, 0, doses, NULL, false};
    struct mw_next_reading next;
    bottles[0].tolerance = bottles[1].tolerance = 0.001;
    struct mw_network *network = network_of(bottles, 2, NULL, 0);
    check_ok(mw_next_reading(network, &mix, before_of(network, &mix), &next));
    assert_true(next.bottle == MW_THE_MIX);
    assert_true(next.after > 0.0099 && next.after < MW_CAREFUL_READING);
    /* nor does a trial teach what is taken as exact */
    mix.doses = NULL;
    mix.method = &method;
    check_ok(mw_next_reading(network, &mix, before_of(network, &mix), &next));
    assert_true(next.bottle == MW_THE_MIX);
    mw_network_free(network);
}

static void trials_that_are_none(void **state)
{
    (void)state;
    const struct mw_network_bottle bottles[] = {silicone(102.5),
                                                silicone(1025)};
    const double shares[] = {0.5, 0.5};
    struct mw_network_mix mix = {2, both, shares, 25, 0, NULL, NULL, false};
    struct mw_network *network = network_of(bottles, 2, NULL, 0);
    double after;
    check_fails(mw_trial_mix(network, &mix, 0, &after), MW_ERR_UNCERTAINTY,
                after);
    enum mw_status status;
    int call = 0;
    do {
        failing_calloc = ++call;
        status = mw_trial_mix(network, &mix, 0.01, &after);
        assert_true(status == MW_OK ||
                    (status == MW_ERR_MEMORY && isnan(after)));
    } while (status != MW_OK);
    failing_calloc = 0;
    assert_true(call > 20);
    mix.temperature = -60;
    check_fails(mw_trial_mix(network, &mix, 0.01, &after), MW_ERR_VISCOSITY,
                after);
    mix.count = 1;
    check_fails(mw_trial_mix(network, &mix, 0.01, &after), MW_ERR_READINGS,
                after);
    mw_network_free(network);
}

static void no_mix_at_all(void **state)
{
    (void)state;
    const struct mw_network_bottle bottles[] = {silicone(352.5)};
    const struct mw_network_mix none = {0, both, NULL, 25,
                                        0, NULL, NULL, false};
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
        cmocka_unit_test(a_trial_mix),
        cmocka_unit_test(the_mix_itself),
        cmocka_unit_test(trials_that_are_none),
        cmocka_unit_test(no_mix_at_all),
    };
    return cmocka_run_group_tests_name("next_reading", tests, NULL, NULL);
}
