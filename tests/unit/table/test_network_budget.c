/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "bench/outlier.h"
#include "table/bottle.h"
#include "table/networks.h"

static const size_t both[] = {0, 1};
static const double halves[] = {0.5, 0.5};

static double squares(const struct mw_sources *sources)
{
    double sum = 0;
    for (size_t i = 0; i < sources->count; i++) {
        sum += pow(sources->list[i].uncertainty, 2);
    }
    return sum;
}

static const struct mw_source *source_of(const struct mw_sources *sources,
                                         enum mw_source_kind kind, size_t index)
{
    for (size_t i = 0; i < sources->count; i++) {
        if (sources->list[i].kind == kind && sources->list[i].index == index) {
            return &sources->list[i];
        }
    }
    return NULL;
}

/* two labels, of which one was read: by the weights of the mean */
static void each_source_by_hand(void **state)
{
    (void)state;
    const struct mw_network_bottle bottles[] = {silicone(352.5),
                                                silicone(352.5)};
    const struct mw_network_reading reading = reading_of(0, 352.5, 25, 0.01);
    const double doses[] = {0.01, 0.01};
    const struct mw_network_mix mix = {2, both,  halves, 25,
                                       0, doses, NULL,   false};
    struct mw_sources sources;
    struct mw_budget budget;
    double v, label = 0.05 / sqrt(3);
    struct mw_network *network = network_of(bottles, 2, &reading, 1);
    check_ok(mw_network_mix(network, &mix, &v, &budget, &sources));
    double of_label = 1e-4 / (1e-4 + label * label);
    check_part(source_of(&sources, MW_SOURCE_LABEL, 1)->uncertainty, label / 2,
               1e-7);
    check_part(source_of(&sources, MW_SOURCE_LABEL, 0)->uncertainty,
               label / 2 * of_label, 1e-7);
    check_part(source_of(&sources, MW_SOURCE_READING, 0)->uncertainty,
               0.01 / 2 * (1 - of_label), 1e-7);
    assert_int_equal(sources.list[0].kind, MW_SOURCE_LABEL);
    assert_int_equal(sources.list[0].index, 1);
    check_part(squares(&sources), pow(mw_budget_combined(&budget), 2), 1e-12);
    mw_network_free(network);
}

/* what priors and rows bring, one by one, against c' V c */
static void the_parts_are_the_whole(void **state)
{
    (void)state;
    const struct mw_network_part parts[] = {{0, 6.385}, {1, 3.2}};
    const struct mw_network_bottle bottles[] = {
        silicone(352.5), silicone(1812.5), mix_of(parts, 2), silicone(402.5)};
    struct mw_network_reading readings[] = {
        reading_of(0, 349.5, 12.5, 0.02), reading_of(2, 642.5, 25, 0.02),
        reading_of(3, 412.5, 19.5, 0.01), reading_of(1, 1782.5, 21.5, 0.03)};
    const double one = 1;
    const struct mw_network_reference known = {0, 372.5, 19.5, 1};
    compare(&readings[2], &known);
    for (size_t i = 0; i < 4; i += 3) {
        readings[i].instrument = 5;
        readings[i].systematic = 0.03;
        readings[i].thermometer = 1;
    }
    struct mw_network *network = network_of(bottles, 4, readings, 4);
    for (size_t i = 0; i < 4; i++) {
        double rated = bottles[i].label.points[0].temperature, v, u;
        const struct mw_network_mix alone = {1, &i,   &one, rated,
                                             0, NULL, NULL, false};
        struct mw_budget budget;
        struct mw_oil oil;
        check_ok(mw_network_mix(network, &alone, &v, &budget, NULL));
        check_ok(mw_network_oil(network, i, &oil, &u));
        check_part(mw_budget_combined(&budget), u, 1e-12);
    }
    mw_network_free(network);
}

/* many primary inputs: the largest are named, in order */
static void the_largest_of_many(void **state)
{
    (void)state;
    enum { OILS = 12 };
    struct mw_network_bottle bottles[OILS + 1];
    struct mw_network_part parts[OILS];
    const struct mw_network_part pair[] = {{0, 6.385}, {11, 3.2}};
    size_t asked[2] = {OILS, 11};
    for (size_t i = 0; i < OILS; i++) {
        bottles[i] = silicone(95.385 * pow(1.5, (double)i));
        parts[i] = (struct mw_network_part){i, 1.385 + (double)i};
    }
    bottles[OILS] = mix_of(parts, OILS);
    const double doses[] = {0.002, 0.002};
    const struct mw_network_mix mix = {2, asked, halves, 12,
                                       1, doses, NULL,   false};
    struct mw_sources sources;
    struct mw_budget budget;
    double v;
    struct mw_network *network = network_of(bottles, OILS + 1, NULL, 0);
    check_ok(mw_network_mix(network, &mix, &v, &budget, &sources));
    assert_int_equal(sources.count, MW_SOURCES_MAX);
    for (size_t i = 1; i < sources.count; i++) {
        assert_true(sources.list[i - 1].uncertainty >=
                    sources.list[i].uncertainty);
    }
    assert_true(squares(&sources) < pow(mw_budget_combined(&budget), 2));
    mw_network_free(network);
    /* all kinds that a mix without readings has */
    bottles[OILS] = mix_of(pair, 2);
    network = network_of(bottles, OILS + 1, NULL, 0);
    asked[1] = 0;
    check_ok(mw_network_mix(network, &mix, &v, &budget, &sources));
    assert_non_null(source_of(&sources, MW_SOURCE_RECIPE, OILS));
    assert_non_null(source_of(&sources, MW_SOURCE_EXCESS, 0));
    assert_non_null(source_of(&sources, MW_SOURCE_TEMPERATURE, 0));
    assert_non_null(source_of(&sources, MW_SOURCE_DOSING, 0));
    assert_non_null(source_of(&sources, MW_SOURCE_LAW, 11));
    check_part(squares(&sources), pow(mw_budget_combined(&budget), 2), 1e-12);
    mw_network_free(network);
}

/* what it says of a reading is what the reading does, where it says what is
 * thought already */
static void after_one_more_reading(void **state)
{
    (void)state;
    const struct mw_network_part parts[] = {{0, 10}, {1, 10}};
    struct mw_network_bottle bottles[] = {silicone(352.5), silicone(812.5),
                                          mix_of(parts, 2)};
    const struct mw_network_mix mix = {2, both, halves, 17.5,
                                       1, NULL, NULL,   false};
    const size_t whole[] = {2};
    const double one = 1;
    const struct mw_network_mix made = {1, whole, &one, 17.5,
                                        0, NULL,  NULL, false};
    const struct mw_network_mix asked = {2, both, halves, 17.5,
                                         0, NULL, NULL,   false};
    struct mw_budget budget;
    double after[2], other[2], itself, again, v, u;
    bottles[2].dose_ml = 1e-4;
    struct mw_network *network = network_of(bottles, 3, NULL, 0);
    check_ok(mw_network_after(network, &mix, both, 2, 0.01, after, &itself));
    check_ok(mw_network_after(network, &asked, both, 2, 0.01, other, &again));
    for (size_t i = 0; i < 2; i++) {
        const struct mw_network_mix alone = {1, &both[i], &one, 17.5,
                                             0, NULL,     NULL, false};
        check_ok(mw_network_mix(network, &alone, &v, &budget, NULL));
        const struct mw_network_reading reading = reading_of(i, v, 17.5, 0.01);
        struct mw_network *with = network_of(bottles, 3, &reading, 1);
        check_ok(
            mw_network_after(network, &mix, both, 2, 0.01, after, &itself));
        check_ok(mw_network_mix(with, &mix, &v, &budget, NULL));
        check_part(after[i], mw_budget_combined(&budget), 1e-5);
        mw_network_free(with);
    }
    check_ok(mw_network_mix(network, &made, &v, &budget, NULL));
    const struct mw_network_reading reading = reading_of(2, v, 17.5, 0.01);
    struct mw_network *with = network_of(bottles, 3, &reading, 1);
    check_ok(mw_network_mix(with, &made, &v, &budget, NULL));
    u = mw_budget_combined(&budget);
    check_part(again, u, 1e-4);
    mw_network_free(with);
    mw_network_free(network);
}

static void readings_that_cannot_be(void **state)
{
    (void)state;
    const struct mw_network_bottle bottles[] = {
        silicone(352.5), silicone(812.5), petroleum(32.385, 0)};
    const struct mw_network_mix mix = {2, both, halves, 25,
                                       1, NULL, NULL,   false};
    struct mw_network_mix bad = mix;
    const size_t other[] = {2};
    struct mw_budget budget;
    double after[2], itself, v;
    struct mw_network *network = network_of(bottles, 3, NULL, 0);
    assert_int_equal(
        mw_network_after(network, &mix, both, 2, 0, after, &itself),
        MW_ERR_UNCERTAINTY);
    assert_true(isnan(after[0]) && isnan(after[1]) && isnan(itself));
    assert_int_equal(
        mw_network_after(network, &mix, both, 2, INFINITY, after, &itself),
        MW_ERR_UNCERTAINTY);
    bad.count = 0;
    assert_int_equal(
        mw_network_after(network, &bad, both, 2, 0.01, after, &itself),
        MW_ERR_BUDGET);
    /* a petroleum oil of one point is not known elsewhere: nothing is gained */
    check_ok(mw_network_after(network, &mix, other, 1, 0.01, after, &itself));
    check_ok(mw_network_mix(network, &mix, &v, &budget, NULL));
    check_part(after[0], mw_budget_combined(&budget), 1e-12);
    mw_network_free(network);
}

/* -- Outliers -------------------------------------------------------------- */

static void what_its_owner_should_look_at(void **state)
{
    (void)state;
    const struct mw_network_bottle bottles[] = {silicone(352.5),
                                                silicone(452.5)};
    const struct mw_network_reading wrong_label[] = {
        reading_of(0, 452.5, 25, 0.01), reading_of(0, 455.5, 25, 0.01),
        reading_of(1, 452.5, 25, 0.01)};
    struct mw_network *network = network_of(bottles, 2, wrong_label, 3);
    assert_int_equal(mw_network_outlier(network, 0), MW_LABEL_OUTLIER);
    assert_int_equal(mw_network_outlier(network, 1), MW_NO_OUTLIER);
    mw_network_free(network);
    /* a slip of the pen, the second of its bottle */
    const struct mw_network_reading slip[] = {
        reading_of(0, 350.5, 25, 0.01), reading_of(1, 452.5, 25, 0.01),
        reading_of(0, 3505, 25, 0.01), reading_of(0, 352.5, 25, 0.01)};
    network = network_of(bottles, 2, slip, 4);
    assert_int_equal(mw_network_outlier(network, 0), 1);
    mw_network_free(network);
    /* a label set aside early, for a few per cent, is no outlier yet */
    const struct mw_network_reading mild[] = {reading_of(0, 372.5, 25, 0.005),
                                              reading_of(0, 373.5, 25, 0.005)};
    network = network_of(bottles, 1, mild, 2);
    assert_int_equal(mw_network_label(network, 0), MW_SET_ASIDE);
    assert_int_equal(mw_network_outlier(network, 0), MW_NO_OUTLIER);
    mw_network_free(network);
    /* readings that scatter: the one that is farthest off */
    const struct mw_network_reading wild[] = {reading_of(0, 348.5, 25, 0.003),
                                              reading_of(0, 352.5, 25, 0.003),
                                              reading_of(0, 385.5, 25, 0.003)};
    network = network_of(bottles, 1, wild, 3);
    assert_int_equal(mw_network_outlier(network, 0), 2);
    mw_network_free(network);
}

/* more than three times what all else says */
static void slips_of_the_pen(void **state)
{
    (void)state;
    const struct mw_network_bottle bottles[] = {silicone(352.5),
                                                petroleum(32.385, 0)};
    double expected;
    struct mw_network *network = network_of(bottles, 2, NULL, 0);
    assert_false(mw_network_is_far(network, 0, 1050, 25, &expected));
    check_near(expected, 352.5, 1e-9);
    assert_true(mw_network_is_far(network, 0, 1060, 25, &expected));
    assert_true(mw_network_is_far(network, 0, 117, 25, &expected));
    assert_false(mw_network_is_far(network, 0, 118, 25, &expected));
    /* one point says nothing of another temperature */
    assert_false(mw_network_is_far(network, 1, 1060, 20, &expected));
    assert_true(isnan(expected));
    mw_network_free(network);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_source_by_hand),
        cmocka_unit_test(the_parts_are_the_whole),
        cmocka_unit_test(the_largest_of_many),
        cmocka_unit_test(after_one_more_reading),
        cmocka_unit_test(readings_that_cannot_be),
        cmocka_unit_test(what_its_owner_should_look_at),
        cmocka_unit_test(slips_of_the_pen),
    };
    return cmocka_run_group_tests_name("network_budget", tests, NULL, NULL);
}
