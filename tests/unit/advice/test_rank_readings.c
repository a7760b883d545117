/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "advice/next_reading.h"
#include "advice/rank_readings.h"
#include "table/networks.h"

enum { OILS = 6 };

static struct mw_network_bottle bottles[OILS];
static struct mw_candidate candidates[OILS];
static const struct mw_wish wish = {
    .target = NAN, .temperature = 25, .batch = NAN, .excess = {0.2, 0.0577}};

static struct mw_network *shelf(const double *v, size_t n,
                                const struct mw_network_reading *readings,
                                size_t m)
{
    for (size_t i = 0; i < n; i++) {
        bottles[i] = silicone(v[i]);
        candidates[i] = (struct mw_candidate){
            i, &bottles[i].label, bottles[i].tolerance / sqrt(3), NAN};
    }
    return network_of(bottles, n, readings, m);
}

/* of three bottles the one in the middle stands in every mix; what it brings is
 * what a network with such a reading says */
static void the_one_in_the_middle(void **state)
{
    (void)state;
    const double v[] = {202.5, 402.5, 802.5};
    const struct mw_network_reading reading = reading_of(1, 402.5, 25, 0.01);
    struct mw_ranked_readings ranked, afterwards;
    struct mw_network *network = shelf(v, 3, NULL, 0);
    check_ok(mw_rank_readings(network, candidates, 3, wish.temperature, 205,
                              800, &ranked));
    assert_int_equal(ranked.count, 3);
    assert_int_equal(ranked.list[0].bottle, 1);
    assert_true(ranked.list[0].after < ranked.list[1].after &&
                ranked.list[1].after <= ranked.list[2].after);
    mw_network_free(network);
    network = shelf(v, 3, &reading, 1);
    check_ok(mw_rank_readings(network, candidates, 3, wish.temperature, 205,
                              800, &afterwards));
    check_part(ranked.list[0].after, afterwards.before, 1e-4);
    mw_network_free(network);
}

/* more bottles than are named; the best ones are */
static void the_best_of_many(void **state)
{
    (void)state;
    const double v[] = {102.5, 202.5, 402.5, 802.5, 1602.5, 3202.5};
    struct mw_ranked_readings ranked;
    struct mw_network *network = shelf(v, OILS, NULL, 0);
    check_ok(mw_rank_readings(network, candidates, OILS, wish.temperature, 105,
                              3200, &ranked));
    assert_int_equal(ranked.count, MW_RANKED);
    for (size_t i = 0; i < ranked.count; i++) {
        assert_true(ranked.list[i].after < ranked.before);
        assert_true(i == 0 || ranked.list[i - 1].after <= ranked.list[i].after);
    }
    /* labels over 1000 mm2/s are as good as the others here: the ends count
     * for one mix, the middle for two */
    assert_true(ranked.list[0].bottle > 0 && ranked.list[0].bottle < OILS - 1);
    mw_network_free(network);
}

static void bands_that_are_none(void **state)
{
    (void)state;
    const double v[] = {202.5, 402.5};
    struct mw_ranked_readings ranked;
    struct mw_network *network = shelf(v, 2, NULL, 0);
    const double bands[][3] = {{800, 205, MW_ERR_VISCOSITY},
                               {205, 205, MW_ERR_VISCOSITY},
                               {NAN, 205, MW_ERR_VISCOSITY},
                               {205, INFINITY, MW_ERR_VISCOSITY},
                               {1000, 2000, MW_ERR_TARGET}};
    for (size_t i = 0; i < sizeof bands / sizeof bands[0]; i++) {
        assert_int_equal(mw_rank_readings(network, candidates, 2,
                                          wish.temperature, bands[i][0],
                                          bands[i][1], &ranked),
                         (int)bands[i][2]);
        assert_true(ranked.count == 0 && isnan(ranked.before));
    }
    mw_network_free(network);
}

/* where the mixes come from more oils than a row has room for */
static void a_mix_of_too_many(void **state)
{
    (void)state;
    enum { MANY = MW_MIX_OILS_MAX };
    static struct mw_network_bottle many[2 * MANY + 2];
    static struct mw_network_part parts[2][MANY];
    for (size_t i = 0; i < 2 * (size_t)MANY; i++) {
        many[i] = silicone(202.5 + (double)i);
        parts[i / MANY][i % MANY] = (struct mw_network_part){i, 2.385};
    }
    many[2 * MANY] = mix_of(parts[0], MANY);
    many[2 * MANY + 1] = mix_of(parts[1], MANY);
    const double v[] = {202.5, 802.5};
    struct mw_network *network = shelf(v, 2, NULL, 0);
    struct mw_ranked_readings ranked;
    mw_network_free(network);
    network = network_of(many, 2 * MANY + 2, NULL, 0);
    candidates[0].id = (size_t)2 * MANY;
    candidates[1].id = (size_t)2 * MANY + 1;
    assert_int_equal(mw_rank_readings(network, candidates, 2, wish.temperature,
                                      300, 700, &ranked),
                     MW_ERR_BUDGET);
    mw_network_free(network);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_one_in_the_middle),
        cmocka_unit_test(the_best_of_many),
        cmocka_unit_test(bands_that_are_none),
        cmocka_unit_test(a_mix_of_too_many),
    };
    return cmocka_run_group_tests_name("rank_readings", tests, NULL, NULL);
}
