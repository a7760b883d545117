/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <stdbool.h>
#include <string.h>

#include "check.h"
#include "fail_calloc.h"
#include "fluid/oil_internal.h"
#include "fluid/viscosity_index.h"
#include "table/network.h"
#include "table/networks.h"

enum { MOST = 70 };

static const size_t both[] = {0, 1};
static const double halves[] = {0.5, 0.5};

/* standard uncertainty of ln v of two bottles half and half at 25 C */
static double u_of_halves(const struct mw_network *network)
{
    const struct mw_network_mix mix = {2, both, halves, 25,
                                       0, NULL, NULL,   false};
    struct mw_budget budget;
    double v;
    check_ok(mw_network_mix(network, &mix, &v, &budget, NULL));
    return mw_budget_combined(&budget);
}

static double line_of(const struct mw_budget *budget, const char *name)
{
    for (size_t i = 0; i < budget->count; i++) {
        if (strcmp(budget->parts[i].name, name) == 0) {
            return budget->parts[i].uncertainty;
        }
    }
    return 0;
}

/* -- By hand --------------------------------------------------------------- */

/* two labels of 5 % and their ratio to 1 %: the ratio moves both the same way
 * in opposite directions, and says nothing of their product */
static void a_comparison_by_hand(void **state)
{
    (void)state;
    const struct mw_network_bottle bottles[] = {silicone(350), silicone(450)};
    const struct mw_network_reference known = {0, 350, 25, 1};
    struct mw_network_reading reading = reading_of(1, 461.385, 25, 0.01);
    compare(&reading, &known);
    struct mw_network *network = network_of(bottles, 2, &reading, 1);
    struct mw_oil oils[2];
    double u[2], label = 0.05 * 0.05 / 3, moved = log(461.385 / 450);
    for (size_t i = 0; i < 2; i++) {
        check_ok(mw_network_oil(network, i, &oils[i], &u[i]));
    }
    double part = moved * label / (2 * label + 1e-4);
    check_near(log(oils[0].points[0].viscosity / 350), -part, 1e-9);
    check_near(log(oils[1].points[0].viscosity / 450), part, 1e-9);
    double left = label - label * label / (2 * label + 1e-4);
    check_part(u[0], sqrt(left), 1e-7);
    check_part(u[1], sqrt(left), 1e-7);
    assert_int_equal(mw_network_label(network, 0), MW_AGREES);
    assert_int_equal(mw_network_reading(network, 0), MW_AGREES);
    mw_network_free(network);
    mw_network_free(NULL);
}

/* five readings of one cup whose own error is 3 %: no better than the cup, with
 * a label of 5 % */
static void one_instrument_by_hand(void **state)
{
    (void)state;
    const struct mw_network_bottle bottles[] = {silicone(350), silicone(450)};
    struct mw_network_reading readings[6];
    struct mw_oil oil;
    double u;
    for (size_t i = 0; i < 6; i++) {
        readings[i] = reading_of(i == 5, i == 5 ? 455 : 352.385, 25, 0.01);
        readings[i].instrument = i == 5 ? 12 : 7;
        readings[i].systematic = 0.03;
    }
    struct mw_network *network = network_of(bottles, 2, readings, 6);
    check_ok(mw_network_oil(network, 0, &oil, &u));
    double weight = 3 / (0.05 * 0.05) + 1 / (0.03 * 0.03 + 1e-4 / 5);
    check_part(u, 1 / sqrt(weight), 1e-7);
    check_ok(mw_network_oil(network, 1, &oil, &u));
    weight = 3 / (0.05 * 0.05) + 1 / (0.03 * 0.03 + 1e-4);
    check_part(u, 1 / sqrt(weight), 1e-7);
    mw_network_free(network);
}

/* a thermometer good to 1 K: half of the variance is common to two days, half
 * is of each; at 25 C 1.976 % of v for each degree */
static void one_thermometer_by_hand(void **state)
{
    (void)state;
    const struct mw_network_bottle bottles[] = {silicone(350), silicone(450)};
    struct mw_network_reading readings[4];
    struct mw_oil oil;
    double u;
    for (size_t i = 0; i < 4; i++) {
        readings[i] = reading_of(0, 351.385, 25, 1e-4);
        readings[i].thermometer = 1;
        readings[i].day = (long)(i / 2);
    }
    readings[3].bottle = 1;
    readings[3].thermometer = 0;
    struct mw_network *network = network_of(bottles, 1, readings, 3);
    check_ok(mw_network_oil(network, 0, &oil, &u));
    double half = pow(5.892 / 298.15, 2) / 6;
    double weight = 3 / (0.05 * 0.05) + 1 / (1.5 * half);
    check_part(u, 1 / sqrt(weight), 1e-3);
    mw_network_free(network);
    network = network_of(bottles, 2, readings, 4);
    mw_network_free(network);
}

/* -- By drawing ------------------------------------------------------------ */

/* a mix of "half" (200 and 2000) with 20 000, drawn from the priors: labels,
 * doses, K and what each pair departs by */
static double draw_mix(gsl_rng *rng)
{
    double k = 0.20 + gsl_ran_gaussian(rng, 0.1 / sqrt(3));
    double thin = gsl_ran_gaussian(rng, 0.08), lift = 0, v;
    double first = 10, second = 10 + gsl_ran_gaussian(rng, 0.1);
    const double rated[3] = {200, 2000, 20000};
    const double shares[3] = {0.6 * first / (first + second),
                              0.6 * second / (first + second), 0.4};
    const struct mw_method plain = {MW_RULE_ASTM, 0};
    struct mw_oil oils[3];
    double ln_v[3];
    for (size_t i = 0; i < 3; i++) {
        const struct mw_network_bottle bottle = silicone(rated[i]);
        double moved = gsl_ran_gaussian(rng, 0.05 / sqrt(3));
        check_ok(mw_oil_moved(&bottle.label, &moved, 0, &oils[i]));
        ln_v[i] = log(rated[i]) + moved;
        for (size_t j = 0; j < i; j++) {
            double pair = k + (j == 0 ? thin : 0) + gsl_ran_gaussian(rng, 0.03);
            lift += pair * shares[i] * shares[j] * pow(ln_v[i] - ln_v[j], 2);
        }
    }
    check_ok(mw_mixture(oils, shares, 3, 25, &plain, &v, NULL));
    return log(v) + lift;
}

static void a_mix_is_as_uncertain_as_it_is_drawn(void **state)
{
    (void)state;
    enum { DRAWS = 20000 };
    const struct mw_network_part parts[] = {{0, 10}, {1, 10}};
    const struct mw_network_bottle bottles[] = {
        silicone(200), silicone(2000), silicone(20000), mix_of(parts, 2)};
    const size_t asked[] = {3, 2};
    const double shares[] = {0.6, 0.4};
    const struct mw_network_mix mix = {2, asked, shares, 25,
                                       1, NULL,  NULL,   false};
    struct mw_budget budget;
    double v, sum = 0, squares = 0;
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    struct mw_network *network = network_of(bottles, 4, NULL, 0);
    check_ok(mw_network_mix(network, &mix, &v, &budget, NULL));
    for (int i = 0; i < DRAWS; i++) {
        double away = draw_mix(rng) - log(v);
        sum += away;
        squares += away * away;
    }
    double mean = sum / DRAWS;
    check_part(mw_budget_combined(&budget), sqrt(squares / DRAWS - mean * mean),
               0.03);
    /* a rating, so no thermometer; and nothing was measured */
    check_near(line_of(&budget, MW_FROM_TEMPERATURE), 0, 0);
    check_near(line_of(&budget, MW_FROM_READINGS), 0, 0);
    check_near(line_of(&budget, MW_FROM_LAW), 0, 0);
    assert_true(line_of(&budget, MW_FROM_DOSING) > 0);
    mw_network_free(network);
    gsl_rng_free(rng);
}

/* -- Questions ------------------------------------------------------------- */

static void doses_and_a_thermometer(void **state)
{
    (void)state;
    const struct mw_network_bottle bottles[] = {silicone(200), silicone(2000)};
    const double doses[] = {0.01, 0}, few[] = {0.001, 0.999};
    const double large[] = {0.01, 0.01};
    const struct mw_network_mix mix = {2, both,  halves, 12,
                                       1, doses, NULL,   false};
    const struct mw_network_mix tiny = {2, both,  few,  12,
                                        1, large, NULL, false};
    struct mw_network_mix bad = mix;
    struct mw_budget budget;
    double v;
    struct mw_network *network = network_of(bottles, 2, NULL, 0);
    check_ok(mw_network_mix(network, &mix, &v, &budget, NULL));
    /* half of the way to the other oil and the excess of it, for 1 % */
    assert_true(line_of(&budget, MW_FROM_DOSING) > 0.003 &&
                line_of(&budget, MW_FROM_DOSING) < 0.03);
    /* the oils', and that the excess grows a little in the cold */
    check_part(line_of(&budget, MW_FROM_TEMPERATURE),
               5.892 * 298.15 / (285.15 * 285.15) / sqrt(3), 0.02);
    /* 0.97 kJ/mol each, in halves */
    check_part(line_of(&budget, MW_FROM_LAW), 0.0178391 * sqrt(0.5), 0.1);
    /* less than a dose cannot be taken away: the other side counts */
    check_ok(mw_network_mix(network, &tiny, &v, &budget, NULL));
    assert_true(isfinite(mw_budget_combined(&budget)));
    /* a rating is exact, but where it was read off the thermometer */
    struct mw_network_mix rated = mix;
    rated.temperature = 25;
    check_ok(mw_network_mix(network, &rated, &v, &budget, NULL));
    check_near(line_of(&budget, MW_FROM_TEMPERATURE), 0, 0);
    rated.read = true;
    check_ok(mw_network_mix(network, &rated, &v, &budget, NULL));
    check_part(line_of(&budget, MW_FROM_TEMPERATURE), 5.892 / 298.15 / sqrt(3),
               0.02);
    bad.thermometer = -1;
    assert_int_equal(mw_network_mix(network, &bad, &v, &budget, NULL),
                     MW_ERR_UNCERTAINTY);
    assert_true(isnan(v) && budget.count == 0);
    mw_network_free(network);
}

/* a rule that was given is exact */
static void a_method_of_ones_own(void **state)
{
    (void)state;
    const struct mw_network_bottle bottles[] = {silicone(200), silicone(2000)};
    const struct mw_method method = {MW_RULE_ASTM, 0.1385};
    const struct mw_network_mix mix = {2, both, halves,  25,
                                       0, NULL, &method, false};
    struct mw_budget budget;
    double v, expected;
    struct mw_network *network = network_of(bottles, 2, NULL, 0);
    const struct mw_oil oils[] = {bottles[0].label, bottles[1].label};
    check_ok(mw_network_mix(network, &mix, &v, &budget, NULL));
    check_ok(mw_mixture(oils, halves, 2, 25, &method, &expected, NULL));
    check_part(v, expected, 1e-12);
    assert_int_equal(budget.count, 1);
    mw_network_free(network);
}

static void petroleum_oils(void **state)
{
    (void)state;
    const struct mw_network_bottle bottles[] = {petroleum(32, 5.4),
                                                petroleum(100, 11)};
    const struct mw_network_reading reading = reading_of(0, 32.5, 40, 0.01);
    const struct mw_network_mix mix = {2, both, halves, 40,
                                       0, NULL, NULL,   false};
    const struct mw_oil oils[] = {bottles[0].label, bottles[1].label};
    struct mw_budget budget;
    struct mw_method method;
    struct mw_excess excess;
    double v, expected;
    struct mw_network *network = network_of(bottles, 2, NULL, 0);
    check_ok(mw_network_mix(network, &mix, &v, &budget, NULL));
    check_ok(mw_method_default(oils, 2, &method));
    check_ok(mw_mixture(oils, halves, 2, 40, &method, &expected, NULL));
    check_part(v, expected, 1e-12);
    check_near(line_of(&budget, MW_FROM_EXCESS), 0, 0);
    mw_network_excess(network, 0, 1, &excess);
    check_near(excess.value, 0, 0);
    check_near(excess.uncertainty, 0, 0);
    mw_network_free(network);
    network = network_of(bottles, 2, &reading, 1);
    mw_network_free(network);
}

static void what_is_known_of_the_excess(void **state)
{
    (void)state;
    const struct mw_network_part parts[] = {{0, 10}, {1, 10}};
    const struct mw_network_bottle bottles[] = {
        silicone(2000), silicone(20000), mix_of(parts, 2), silicone(200)};
    struct mw_excess fresh, thin, pair, other;
    struct mw_network *network = network_of(bottles, 4, NULL, 0);
    mw_network_usual_excess(network, 1000, &fresh);
    mw_network_usual_excess(network, 999.9, &thin);
    check_near(fresh.value, 0.20, 0);
    check_part(fresh.uncertainty, hypot(0.1 / sqrt(3), 0.03), 1e-12);
    check_part(thin.uncertainty, hypot(0.08, fresh.uncertainty), 1e-12);
    mw_network_free(network);
    /* a mix that reads thicker than K = 0.20 makes it */
    const struct mw_network_reading reading = reading_of(2, 8385, 25, 0.01);
    network = network_of(bottles, 4, &reading, 1);
    mw_network_excess(network, 0, 1, &pair);
    mw_network_excess(network, 1, 3, &other);
    mw_network_usual_excess(network, 1000, &fresh);
    assert_true(pair.value > fresh.value && fresh.value > 0.2);
    assert_true(pair.uncertainty < fresh.uncertainty);
    assert_true(other.uncertainty > fresh.uncertainty);
    mw_network_free(network);
}

/* 200 and 2000 with 100 between them, compared with a mix of both */
static void readings_of_mixes(void **state)
{
    (void)state;
    const struct mw_network_part parts[] = {{0, 7}, {1, 10}, {2, 3}};
    const struct mw_network_part deeper[] = {{3, 5}, {0, 5}};
    struct mw_network_bottle bottles[] = {silicone(200),     silicone(2000),
                                          silicone(1000),    mix_of(parts, 3),
                                          mix_of(deeper, 2), silicone(500)};
    struct mw_network_reading readings[] = {reading_of(4, 430, 25, 0.02),
                                            reading_of(5, 505, 20, 0.02),
                                            reading_of(3, 850, 22, 0.02)};
    struct mw_oil oil;
    double u, before;
    bottles[4].dose_ml = 0.05;
    const struct mw_network_reference known = {3, 700, 20, 1};
    compare(&readings[1], &known);
    struct mw_network *network = network_of(bottles, 6, readings, 0);
    check_ok(mw_network_oil(network, 4, &oil, &before));
    mw_network_free(network);
    network = network_of(bottles, 6, readings, 3);
    check_ok(mw_network_oil(network, 4, &oil, &u));
    assert_true(u < before);
    assert_int_equal(oil.count, 1);
    mw_network_free(network);
    /* one that is known at two temperatures stays so */
    const struct mw_point points[] = {{632.5, 25}, {480, 40}};
    check_ok(mw_oil_make(MW_SILICONE, points, 2, NAN, &bottles[4].label));
    network = network_of(bottles, 6, readings, 3);
    check_ok(mw_network_oil(network, 4, &oil, &u));
    assert_int_equal(oil.count, 2);
    mw_network_free(network);
}

/* thick petroleum of one printed point, where a far reading gives the second */
static void a_far_reading_as_a_point(void **state)
{
    (void)state;
    const struct mw_network_bottle bottles[] = {petroleum(32, NAN),
                                                silicone(350)};
    const struct mw_network_reading readings[] = {
        reading_of(1, 352, 55, 0.02), reading_of(0, 33, 40, 0.02),
        reading_of(0, 5.4, 100, 0.02)};
    struct mw_oil oil;
    double u, v;
    struct mw_network *network = network_of(bottles, 2, readings + 1, 2);
    check_ok(mw_network_oil(network, 0, &oil, &u));
    check_ok(mw_oil_viscosity(&oil, 100, &v));
    check_part(v, 5.4, 1e-4);
    mw_network_free(network);
}

static void what_bottles_are_made_of(void **state)
{
    (void)state;
    const struct mw_network_part parts[] = {{1, 3}, {0, 1}};
    const struct mw_network_bottle bottles[] = {silicone(200), silicone(2000),
                                                mix_of(parts, 2)};
    const size_t asked[] = {2, 0};
    static struct mw_network_bases bases;
    struct mw_network *network = network_of(bottles, 3, NULL, 0);
    check_ok(mw_network_bases(network, asked, 2, &bases));
    assert_int_equal(bases.bases.count, 2);
    check_near(bases.oils[0].points[0].viscosity, 2000, 0);
    check_near(bases.made[0], 0.75, 1e-15);
    check_near(bases.made[1], 0.25, 1e-15);
    check_near(bases.made[2], 0, 0);
    check_near(bases.made[3], 1, 0);
    check_near(bases.excess[1], 0.2, 1e-15);
    mw_network_free(network);
}

/* a point and an index, with errors of their own */
static void an_oil_by_its_index(void **state)
{
    (void)state;
    const double u = 0.05 / sqrt(3);
    struct mw_network_bottle bottle = {.tolerance = 0.05, .dose_ml = NAN};
    check_ok(mw_oil_from_index(46, 153.5, NAN, &bottle.label));
    double hot = bottle.label.points[1].viscosity, thicker, steeper;
    struct mw_network *network = network_of(&bottle, 1, NULL, 0);
    const size_t it = 0;
    const double one = 1;
    struct mw_network_mix alone = {1, &it, &one, 40, 0, NULL, NULL, false};
    struct mw_budget budget;
    double v;
    check_ok(mw_network_mix(network, &alone, &v, &budget, NULL));
    check_near(v, 46, 1e-12);
    check_part(mw_budget_combined(&budget), u, 1e-6);
    /* at 100 C by making the oil again; the table of D2270 is straight between
     * its rows, so that slopes differ by some 0.3 % */
    check_ok(mw_v100_from_index(46 * 1.001, 153.5, &thicker));
    check_ok(mw_v100_from_index(46, 153.6, &steeper));
    alone.temperature = 100;
    check_ok(mw_network_mix(network, &alone, &v, &budget, NULL));
    check_near(v, hot, 1e-12);
    check_part(line_of(&budget, MW_FROM_OILS),
               log(thicker / hot) / log(1.001) * u, 5e-3);
    check_part(line_of(&budget, MW_FROM_LAW),
               log(steeper / hot) / 0.1 * MW_INDEX_UNCERTAINTY, 5e-3);
    mw_network_free(network);
}

/* what moves one reading up and the other down says nothing of their mean */
static void an_instrument_that_errs_both_ways(void **state)
{
    (void)state;
    const struct mw_network_bottle bottle = silicone(350);
    double u[2];
    for (int opposed = 0; opposed < 2; opposed++) {
        struct mw_network_reading readings[] = {reading_of(0, 352.5, 25, 1e-4),
                                                reading_of(0, 352.5, 25, 1e-4)};
        struct mw_oil oil;
        for (size_t i = 0; i < 2; i++) {
            readings[i].instrument = 3;
            readings[i].systematic = opposed && i == 1 ? -0.03 : 0.03;
        }
        struct mw_network *network = network_of(&bottle, 1, readings, 2);
        check_ok(mw_network_oil(network, 0, &oil, &u[opposed]));
        mw_network_free(network);
    }
    double label = 0.05 * 0.05 / 3, cup = 0.03 * 0.03;
    check_part(u[0], sqrt(label * cup / (label + cup)), 1e-4);
    check_part(u[1], 1e-4 / sqrt(2), 1e-3);
}

/* A reading by a cup that was calibrated with two bottles, half by each: what
 * is left of its uncertainty is theirs, however good its label. */
static void a_reading_by_a_calibrated_cup(void **state)
{
    (void)state;
    struct mw_network_bottle bottles[] = {silicone(150), silicone(1050),
                                          silicone(385)};
    const struct mw_network_reference known[] = {{0, 150, 25, 0.5},
                                                 {1, 1050, 25, 0.5}};
    struct mw_network_reading reading = reading_of(2, 385, 25, 1e-6);
    reading.references = known;
    reading.reference_count = 2;
    bottles[1].tolerance = 0.1;
    struct mw_network *network = network_of(bottles, 3, &reading, 1);
    struct mw_oil oil;
    double u, thin = 0.05 * 0.05 / 3, thick = 0.1 * 0.1 / 3;
    double cup = (thin + thick) / 4;
    check_ok(mw_network_oil(network, 2, &oil, &u));
    check_near(oil.points[0].viscosity, 385, 1e-9);
    check_part(u, sqrt(thin * cup / (thin + cup)), 1e-4);
    mw_network_free(network);
}

/* -- Contradictions -------------------------------------------------------- */

static void two_labels_and_their_ratio(void **state)
{
    (void)state;
    const struct mw_network_bottle bottles[] = {silicone(350), silicone(450)};
    const struct mw_network_reference known = {0, 350, 25, 1};
    struct mw_network_reading reading = reading_of(1, 650, 25, 0.001);
    compare(&reading, &known);
    struct mw_network *network = network_of(bottles, 2, &reading, 1);
    /* nothing says which of the three is wrong; two of them are widened */
    int widened = (mw_network_label(network, 0) == MW_WIDENED) +
                  (mw_network_label(network, 1) == MW_WIDENED) +
                  (mw_network_reading(network, 0) == MW_WIDENED);
    assert_int_equal(widened, 2);
    mw_network_free(network);
}

static void wrong_labels_and_readings(void **state)
{
    (void)state;
    const struct mw_network_bottle bottles[] = {silicone(350), silicone(450)};
    const struct mw_network_reading readings[] = {
        reading_of(0, 420, 25, 0.01), reading_of(0, 423, 25, 0.01),
        reading_of(1, 452, 25, 0.01), reading_of(1, 2000, 25, 0.01),
        reading_of(1, 449, 25, 0.01)};
    struct mw_network *network = network_of(bottles, 2, readings, 5);
    struct mw_oil oil;
    double u;
    assert_int_equal(mw_network_label(network, 0), MW_SET_ASIDE);
    assert_int_equal(mw_network_reading(network, 0), MW_AGREES);
    assert_int_equal(mw_network_label(network, 1), MW_AGREES);
    assert_int_equal(mw_network_reading(network, 3), MW_SET_ASIDE);
    check_ok(mw_network_oil(network, 0, &oil, &u));
    check_near(oil.points[0].viscosity, sqrt(420 * 423.0), 1e-3);
    check_part(u, 0.01 / sqrt(2), 1e-6);
    mw_network_free(network);
    /* readings that scatter by more than they claim */
    const struct mw_network_reading wild[] = {reading_of(0, 340, 25, 0.001),
                                              reading_of(0, 350, 25, 0.001),
                                              reading_of(0, 360, 25, 0.001)};
    network = network_of(bottles, 1, wild, 3);
    assert_int_equal(mw_network_reading(network, 1), MW_WIDENED);
    check_ok(mw_network_oil(network, 0, &oil, &u));
    assert_true(u > 0.01);
    mw_network_free(network);
    /* two of them alone */
    const struct mw_network_reading two[] = {reading_of(0, 345, 25, 0.003),
                                             reading_of(0, 355, 25, 0.003)};
    network = network_of(bottles, 1, two, 2);
    assert_int_equal(mw_network_reading(network, 0), MW_WIDENED);
    mw_network_free(network);
    /* and one among them that is set aside, and those of another bottle */
    const struct mw_network_reading wilder[] = {wild[0],
                                                wild[1],
                                                wild[2],
                                                reading_of(0, 2000, 25, 0.001),
                                                reading_of(1, 440, 25, 0.001),
                                                reading_of(1, 450, 25, 0.001),
                                                reading_of(1, 460, 25, 0.001)};
    network = network_of(bottles, 2, wilder, 5);
    assert_int_equal(mw_network_reading(network, 4), MW_AGREES);
    mw_network_free(network);
    network = network_of(bottles, 2, wilder, 7);
    assert_int_equal(mw_network_reading(network, 3), MW_SET_ASIDE);
    assert_int_equal(mw_network_reading(network, 2), MW_WIDENED);
    assert_int_equal(mw_network_reading(network, 4), MW_WIDENED);
    mw_network_free(network);
}

/* -- Order ----------------------------------------------------------------- */

static void order_does_not_matter(void **state)
{
    (void)state;
    const struct mw_network_bottle one[] = {silicone(350), silicone(450)};
    const struct mw_network_bottle two[] = {silicone(450), silicone(350)};
    const struct mw_network_reading first[] = {reading_of(0, 355, 10, 0.02),
                                               reading_of(1, 440, 40, 0.02)};
    const struct mw_network_reading second[] = {reading_of(0, 440, 40, 0.02),
                                                reading_of(1, 355, 10, 0.02)};
    struct mw_network *a = network_of(one, 2, first, 2);
    struct mw_network *b = network_of(two, 2, second, 2);
    check_part(u_of_halves(a), u_of_halves(b), 1e-9);
    mw_network_free(b);
    b = network_of(one, 2, first, 2);
    /* and the same again is the same to the bit */
    check_near(u_of_halves(a), u_of_halves(b), 0);
    mw_network_free(a);
    mw_network_free(b);
}

/* -- Failures -------------------------------------------------------------- */

static void bad_readings(void **state)
{
    (void)state;
    const struct mw_network_bottle bottles[] = {silicone(350),
                                                petroleum(32, NAN)};
    const struct mw_network_reference known[] = {
        {0, NAN, 25, 1}, {2, 350, 25, 1}, {0, 350, 25, NAN}};
    struct mw_network_reading bad[14];
    static const enum mw_status statuses[14] = {
        MW_ERR_UNCERTAINTY, MW_ERR_UNCERTAINTY, MW_ERR_UNCERTAINTY,
        MW_ERR_UNCERTAINTY, MW_ERR_UNCERTAINTY, MW_ERR_VISCOSITY,
        MW_ERR_VISCOSITY,   MW_ERR_READINGS,    MW_ERR_READINGS,
        MW_ERR_ONE_POINT,   MW_ERR_LAW_RANGE,   MW_ERR_UNCERTAINTY,
        MW_ERR_READINGS,    MW_ERR_VISCOSITY};
    struct mw_network *network;
    for (size_t i = 0; i < 14; i++) {
        bad[i] = reading_of(0, 352.5, 25, 0.02);
    }
    bad[0].random = 0;
    bad[1].random = INFINITY;
    bad[2].systematic = -INFINITY;
    bad[3].systematic = INFINITY;
    bad[4].thermometer = NAN;
    bad[5].viscosity = 0;
    compare(&bad[6], &known[0]);
    bad[7].bottle = 2;
    compare(&bad[8], &known[1]);
    compare(&bad[12], &known[2]);
    compare(&bad[13], known);
    bad[13].reference_count = 3;
    bad[9] = reading_of(1, 30, 42, 0.02);
    bad[10].temperature = 125;
    bad[11].thermometer = INFINITY;
    for (size_t i = 0; i < 14; i++) {
        assert_int_equal(mw_network_make(bottles, 2, &bad[i], 1, &network),
                         statuses[i]);
        assert_null(network);
    }
    /* the first of two that cannot be */
    const struct mw_network_reading two[] = {bad[10], bad[10]};
    assert_int_equal(mw_network_make(bottles, 2, two, 2, &network),
                     MW_ERR_LAW_RANGE);
    const struct mw_network_reading unsound[] = {bad[0], bad[10]};
    assert_int_equal(mw_network_make(bottles, 2, unsound, 2, &network),
                     MW_ERR_UNCERTAINTY);
    /* no petroleum oil thickens as it warms */
    const struct mw_network_reading warmer = reading_of(1, 52, 75, 0.02);
    assert_int_equal(mw_network_make(bottles, 2, &warmer, 1, &network),
                     MW_ERR_NOT_DECREASING);
}

static void bad_bottles(void **state)
{
    (void)state;
    struct mw_network_bottle bottle = silicone(350);
    static const double tolerances[] = {0, 1, NAN, -0.05};
    struct mw_network *network;
    for (size_t i = 0; i < 4; i++) {
        bottle.tolerance = tolerances[i];
        assert_int_equal(mw_network_make(&bottle, 1, NULL, 0, &network),
                         MW_ERR_UNCERTAINTY);
    }
    static const struct mw_network_part bad[] = {
        {0, 0}, {0, NAN}, {0, INFINITY}, {7, 1}};
    for (size_t i = 0; i < 4; i++) {
        const struct mw_network_part pair[] = {bad[i], {0, 1}};
        const struct mw_network_bottle bottles[] = {
            silicone(350), mix_of(pair, 2), silicone(450)};
        assert_int_equal(mw_network_make(bottles, 3, NULL, 0, &network),
                         MW_ERR_READINGS);
    }
}

/* a mix of itself, one of both families, and one of too many oils */
static void mixes_that_are_none(void **state)
{
    (void)state;
    static struct mw_network_part all[MOST], itself[] = {{1, 1}, {0, 1}};
    static struct mw_network_part families[] = {{0, 1}, {2, 1}};
    static struct mw_network_bottle bottles[MOST + 1];
    static struct mw_network_bases bases;
    struct mw_network_reading reading = reading_of(1, 400, 25, 0.02);
    struct mw_network *network;
    bottles[0] = silicone(350);
    bottles[1] = mix_of(itself, 2);
    bottles[2] = petroleum(320, 25);
    assert_int_equal(mw_network_make(bottles, 3, &reading, 1, &network),
                     MW_ERR_READINGS);
    bottles[1] = mix_of(families, 2);
    assert_int_equal(mw_network_make(bottles, 3, &reading, 1, &network),
                     MW_ERR_READINGS);
    network = network_of(bottles, 3, NULL, 0);
    struct mw_oil oil;
    double u;
    check_fails(mw_network_oil(network, 1, &oil, &u), MW_ERR_VISCOSITY, u);
    mw_network_free(network);
    reading.bottle = 0;
    const struct mw_network_reference known = {1, 400, 25, 1};
    compare(&reading, &known);
    assert_int_equal(mw_network_make(bottles, 3, &reading, 1, &network),
                     MW_ERR_READINGS);
    bottles[1] = mix_of(itself, 2);
    const struct mw_network_reading two[] = {reading, reading};
    assert_int_equal(mw_network_make(bottles, 3, two, 2, &network),
                     MW_ERR_READINGS);
    for (size_t i = 0; i < MOST; i++) {
        bottles[i] = silicone(350 + (double)i);
        all[i] = (struct mw_network_part){i, 1};
    }
    bottles[MOST] = mix_of(all, MOST);
    const size_t asked = MOST;
    const double whole = 1;
    const struct mw_network_mix mix = {1, &asked, &whole, 25,
                                       0, NULL,   NULL,   false};
    struct mw_network_mix none = mix;
    struct mw_budget budget;
    double v;
    network = network_of(bottles, MOST + 1, NULL, 0);
    assert_int_equal(mw_network_mix(network, &mix, &v, &budget, NULL),
                     MW_ERR_BUDGET);
    none.count = 0;
    assert_int_equal(mw_network_mix(network, &none, &v, &budget, NULL),
                     MW_ERR_BUDGET);
    none.count = MW_MIX_OILS_MAX + 1;
    assert_int_equal(mw_network_mix(network, &none, &v, &budget, NULL),
                     MW_ERR_BUDGET);
    assert_int_equal(mw_network_bases(network, &asked, 1, &bases),
                     MW_ERR_BUDGET);
    mw_network_free(network);
}

/* each mix is twice the one before: 2^13 ways down */
static void mixes_that_branch(void **state)
{
    (void)state;
    static struct mw_network_part parts[14][2];
    static struct mw_network_bottle bottles[14];
    const size_t last = 13;
    const double whole = 1;
    const struct mw_network_mix mix = {1, &last, &whole, 25,
                                       0, NULL,  NULL,   false};
    struct mw_budget budget;
    double v;
    bottles[0] = silicone(350);
    for (size_t i = 1; i <= last; i++) {
        parts[i][0] = parts[i][1] = (struct mw_network_part){i - 1, 1};
        bottles[i] = mix_of(parts[i], 2);
    }
    struct mw_network *network = network_of(bottles, last + 1, NULL, 0);
    assert_int_equal(mw_network_mix(network, &mix, &v, &budget, NULL),
                     MW_ERR_BUDGET);
    mw_network_free(network);
}

/* many oils of many points each */
static void more_unknowns_than_a_row_has_room_for(void **state)
{
    (void)state;
    static struct mw_network_part parts[60];
    static struct mw_network_bottle bottles[61];
    static double shares[60];
    static size_t asked[60];
    struct mw_point points[MW_POINTS_MAX];
    const double whole = 1;
    const size_t last = 60;
    double after, itself;
    for (size_t i = 0; i < MW_POINTS_MAX; i++) {
        points[i] = (struct mw_point){300 - 5 * (double)i, 20 + 2 * (double)i};
    }
    for (size_t i = 0; i < 60; i++) {
        bottles[i] =
            (struct mw_network_bottle){.tolerance = 0.05, .dose_ml = NAN};
        check_ok(mw_oil_make(MW_MINERAL, points, MW_POINTS_MAX, NAN,
                             &bottles[i].label));
        parts[i] = (struct mw_network_part){i, 1};
        shares[i] = 1 / 60.0;
        asked[i] = i;
    }
    bottles[60] = mix_of(parts, 60);
    bottles[60].label = bottles[0].label;
    const struct mw_network_mix mix = {60, asked, shares, 40,
                                       0,  NULL,  NULL,   false};
    const struct mw_network_reading reading = reading_of(60, 200, 40, 0.02);
    struct mw_network *network;
    struct mw_budget budget;
    double v;
    assert_int_equal(mw_network_make(bottles, 61, &reading, 1, &network),
                     MW_ERR_READINGS);
    network = network_of(bottles, 60, NULL, 0);
    assert_int_equal(mw_network_mix(network, &mix, &v, &budget, NULL),
                     MW_ERR_BUDGET);
    mw_network_free(network);
    /* a reading of it would say nothing */
    const struct mw_network_mix one = {1, asked, &whole, 40,
                                       0, NULL,  NULL,   false};
    network = network_of(bottles, 61, NULL, 0);
    check_ok(mw_network_mix(network, &one, &v, &budget, NULL));
    check_ok(mw_network_after(network, &one, &last, 1, 0.01, &after, &itself));
    check_part(after, mw_budget_combined(&budget), 1e-12);
    mw_network_free(network);
}

/* at the ends of the law one side alone shows what the temperature does */
static void at_the_ends_of_the_law(void **state)
{
    (void)state;
    const struct mw_network_bottle bottle = silicone(350);
    const size_t first = 0;
    const double whole = 1;
    struct mw_network_mix mix = {1, &first, &whole, 100, 1, NULL, NULL, false};
    struct mw_budget budget;
    double v;
    struct mw_network *network = network_of(&bottle, 1, NULL, 0);
    check_ok(mw_network_mix(network, &mix, &v, &budget, NULL));
    assert_true(line_of(&budget, MW_FROM_TEMPERATURE) > 0.005);
    mix.temperature = -20;
    check_ok(mw_network_mix(network, &mix, &v, &budget, NULL));
    assert_true(line_of(&budget, MW_FROM_TEMPERATURE) > 0.01);
    mw_network_free(network);
}

/* a temperature that the law does not reach */
static void questions_without_an_answer(void **state)
{
    (void)state;
    const struct mw_network_bottle bottles[] = {silicone(350), silicone(450)};
    const struct mw_network_mix mix = {2, both, halves, 125,
                                       0, NULL, NULL,   false};
    struct mw_budget budget;
    double v;
    struct mw_network *network = network_of(bottles, 2, NULL, 0);
    assert_int_equal(mw_network_mix(network, &mix, &v, &budget, NULL),
                     MW_ERR_VISCOSITY);
    assert_true(isnan(v));
    mw_network_free(network);
}

/* a comparison moves the thicker oil out of the range of the chart */
static void beyond_the_chart(void **state)
{
    (void)state;
    const struct mw_network_bottle bottles[] = {silicone(1.5e7),
                                                silicone(1.95e7)};
    struct mw_network_reading readings[2] = {reading_of(1, 1.99e7, 25, 0.001),
                                             reading_of(0, 1.5e7, 25, 0.02)};
    struct mw_network *network;
    const struct mw_network_reference known = {0, 1e7, 25, 1};
    compare(&readings[0], &known);
    assert_int_equal(mw_network_make(bottles, 2, readings, 2, &network),
                     MW_ERR_VISCOSITY);
    assert_null(network);
}

static void without_memory(void **state)
{
    (void)state;
    const struct mw_network_bottle bottles[] = {silicone(350), silicone(450)};
    const struct mw_network_reading readings[] = {reading_of(0, 355, 25, 0.02),
                                                  reading_of(1, 440, 25, 0.02)};
    struct mw_network *network;
    enum mw_status status;
    int call = 0;
    do {
        failing_calloc = ++call;
        status = mw_network_make(bottles, 2, readings, 2, &network);
        assert_true(status == MW_OK || (status == MW_ERR_MEMORY && !network));
    } while (status != MW_OK);
    failing_calloc = 0;
    assert_true(call > 20);
    mw_network_free(network);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_comparison_by_hand),
        cmocka_unit_test(an_oil_by_its_index),
        cmocka_unit_test(an_instrument_that_errs_both_ways),
        cmocka_unit_test(a_reading_by_a_calibrated_cup),
        cmocka_unit_test(one_instrument_by_hand),
        cmocka_unit_test(one_thermometer_by_hand),
        cmocka_unit_test(a_mix_is_as_uncertain_as_it_is_drawn),
        cmocka_unit_test(doses_and_a_thermometer),
        cmocka_unit_test(a_method_of_ones_own),
        cmocka_unit_test(petroleum_oils),
        cmocka_unit_test(what_is_known_of_the_excess),
        cmocka_unit_test(readings_of_mixes),
        cmocka_unit_test(a_far_reading_as_a_point),
        cmocka_unit_test(what_bottles_are_made_of),
        cmocka_unit_test(two_labels_and_their_ratio),
        cmocka_unit_test(wrong_labels_and_readings),
        cmocka_unit_test(order_does_not_matter),
        cmocka_unit_test(bad_readings),
        cmocka_unit_test(bad_bottles),
        cmocka_unit_test(mixes_that_are_none),
        cmocka_unit_test(mixes_that_branch),
        cmocka_unit_test(more_unknowns_than_a_row_has_room_for),
        cmocka_unit_test(at_the_ends_of_the_law),
        cmocka_unit_test(questions_without_an_answer),
        cmocka_unit_test(beyond_the_chart),
        cmocka_unit_test(without_memory),
    };
    return cmocka_run_group_tests_name("network", tests, NULL, NULL);
}
