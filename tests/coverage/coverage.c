/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * How often a printed band holds the truth: situations are drawn, asked about,
 * and compared with what was drawn. Prints TAP.
 *
 *     coverage RUNS [NAME...]
 */
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "fluid/oil_internal.h"
#include "midweight.h"

enum { MOST = 40 };

static gsl_rng *rng;

/* what is known of an invented stock, and what is true of it */
struct world {
    size_t n, m;
    struct mw_network_bottle bottles[MOST];
    struct mw_network_part parts[MOST][2];
    struct mw_network_reading readings[MOST];
    struct mw_network_reference known[MOST][2];
    struct mw_oil truth[MOST];
    double k;                 /* of all pairs */
    double pairs[MOST][MOST]; /* what each adds to it */
    /* the question */
    size_t count;
    size_t asked[4];
    double shares[4];
    double t, thermometer;
};

static double uniform(double low, double high)
{
    return low + (high - low) * gsl_rng_uniform(rng);
}

static void must(enum mw_status status)
{
    if (status != MW_OK) {
        printf("Bail out! %s\n", mw_status_name(status));
        exit(1);
    }
}

static double tolerance_of(double v)
{
    return v <= 1000 ? 0.05 : 0.10;
}

/* -- Worlds --------------------------------------------------------------- */

static void start(struct world *world)
{
    memset(world, 0, sizeof *world);
    world->k = uniform(0.1, 0.3);
    world->t = 25;
    for (size_t i = 0; i < MOST; i++) {
        for (size_t j = 0; j < i; j++) {
            world->pairs[i][j] = world->pairs[j][i] =
                gsl_ran_gaussian(rng, 0.03);
        }
    }
}

/* a silicone bottle whose label is off by a factor as well as its tolerance */
static size_t add_bottle(struct world *world, double v, double off)
{
    size_t i = world->n++;
    const struct mw_point label = {v, 25};
    double tolerance = tolerance_of(v);
    const double moved = off + log(1 + tolerance * uniform(-1, 1));
    world->bottles[i] =
        (struct mw_network_bottle){.tolerance = tolerance, .dose_ml = NAN};
    must(mw_oil_make(MW_SILICONE, &label, 1, NAN, &world->bottles[i].label));
    must(mw_oil_moved(&world->bottles[i].label, &moved, uniform(-1.25, 1.25),
                      &world->truth[i]));
    return i;
}

/* ln v of a true mix: the standard's rule, and the excess of each pair */
static double true_ln_v(const struct world *world, const size_t *bottles,
                        const double *shares, size_t count, double t)
{
    struct mw_oil oils[MOST];
    struct mw_method method = {MW_RULE_ASTM, 0};
    double v, lift = 0, ln_v[MOST];
    for (size_t i = 0; i < count; i++) {
        oils[i] = world->truth[bottles[i]];
        must(mw_oil_viscosity(&oils[i], t, &v));
        ln_v[i] = log(v);
    }
    if (oils[0].family == MW_MINERAL) {
        must(mw_method_default(oils, count, &method));
    }
    must(mw_mixture(oils, shares, count, t, &method, &v, NULL));
    for (size_t i = 0; i < count; i++) {
        for (size_t j = 0; j < i && oils[0].family == MW_SILICONE; j++) {
            double k = world->k + world->pairs[bottles[i]][bottles[j]];
            lift += k * shares[i] * shares[j] * pow(ln_v[i] - ln_v[j], 2);
        }
    }
    return log(v) + lift;
}

static double true_bottle(const struct world *world, size_t bottle, double t)
{
    const double whole = 1;
    return true_ln_v(world, &bottle, &whole, 1, t);
}

/* a reading that is what it claims to be, but for a factor */
static struct mw_network_reading *
add_reading(struct world *world, size_t bottle, double t, double ln_v, double u)
{
    struct mw_network_reading *reading = &world->readings[world->m++];
    *reading = (struct mw_network_reading){.bottle = bottle,
                                           .viscosity = exp(ln_v),
                                           .temperature = t,
                                           .random = u,
                                           .instrument = MW_NONE};
    return reading;
}

static void read_bottle(struct world *world, size_t bottle, double t, double u,
                        double claimed)
{
    add_reading(world, bottle, t,
                true_bottle(world, bottle, t) + gsl_ran_gaussian(rng, u),
                claimed);
}

/* two bottles poured together, with dosing errors of half a per cent; what
 * they really are is kept in actual */
static size_t add_mix(struct world *world, size_t first, size_t second,
                      double share, double actual[2])
{
    size_t i = world->n++;
    double smaller = 10 * fmin(share, 1 - share);
    world->parts[i][0] = (struct mw_network_part){first, 10 * (1 - share)};
    world->parts[i][1] = (struct mw_network_part){second, 10 * share};
    world->bottles[i] =
        (struct mw_network_bottle){.label = world->bottles[first].label,
                                   .tolerance = 0.05,
                                   .parts = world->parts[i],
                                   .part_count = 2,
                                   .dose_ml = NAN};
    double ml = 10 * share + gsl_ran_gaussian(rng, 0.01 * smaller);
    actual[0] = 1 - ml / 10;
    actual[1] = ml / 10;
    return i;
}

static void ask_one(struct world *world, size_t bottle, double t)
{
    world->count = 1;
    world->asked[0] = bottle;
    world->shares[0] = 1;
    world->t = t;
}

static void ask_two(struct world *world, size_t first, size_t second,
                    double share)
{
    world->count = 2;
    world->asked[0] = first;
    world->asked[1] = second;
    world->shares[0] = 1 - share;
    world->shares[1] = share;
}

/* -- Situations: each returns the true ln v of what is asked --------------- */

static double asked_truth(const struct world *world)
{
    return true_ln_v(world, world->asked, world->shares, world->count,
                     world->t);
}

static double two_labels(struct world *world)
{
    size_t a = add_bottle(world, 350, 0), b = add_bottle(world, 500, 0);
    ask_two(world, a, b, uniform(0.2, 0.8));
    return asked_truth(world);
}

static double two_labels_in_the_cold(struct world *world)
{
    size_t a = add_bottle(world, 350, 0), b = add_bottle(world, 500, 0);
    ask_two(world, a, b, uniform(0.2, 0.8));
    world->t = uniform(0, 15);
    return asked_truth(world);
}

/* 350 and 500 poured on what is left of 30 000 */
static double with_residue(struct world *world)
{
    const double shares[3] = {0.45, 0.4, 0.15};
    world->count = 3;
    for (size_t i = 0; i < 3; i++) {
        const double v[3] = {350, 500, 30000};
        world->asked[i] = add_bottle(world, v[i], 0);
        world->shares[i] = shares[i];
    }
    return asked_truth(world);
}

static double cold_readings(struct world *world)
{
    size_t a = add_bottle(world, 350, 0);
    for (int i = 0; i < 3; i++) {
        read_bottle(world, a, 10, 0.015, 0.015);
    }
    ask_one(world, a, 25);
    return asked_truth(world);
}

static double hot_reading(struct world *world)
{
    size_t a = add_bottle(world, 350, 0);
    read_bottle(world, a, uniform(45, 60), 0.03, 0.03);
    ask_one(world, a, uniform(0, 10));
    return asked_truth(world);
}

static double good_readings(struct world *world)
{
    size_t a = add_bottle(world, 350, 0);
    for (int i = 0; i < 3; i++) {
        read_bottle(world, a, 25, 0.03, 0.03);
    }
    ask_one(world, a, 25);
    return asked_truth(world);
}

static void learn(struct world *world)
{
    size_t a = add_bottle(world, 200, 0), b = add_bottle(world, 2000, 0);
    add_bottle(world, 20000, 0);
    for (int i = 0; i < 8; i++) {
        double actual[2];
        const size_t both[2] = {a, b};
        size_t mix = add_mix(world, a, b, uniform(0.25, 0.75), actual);
        add_reading(world, mix, 25,
                    true_ln_v(world, both, actual, 2, 25) +
                        gsl_ran_gaussian(rng, 0.03),
                    0.03);
    }
}

static double learned_same_pair(struct world *world)
{
    learn(world);
    ask_two(world, 0, 1, uniform(0.25, 0.75));
    return asked_truth(world);
}

static double learned_third_bottle(struct world *world)
{
    learn(world);
    ask_two(world, 0, 2, uniform(0.25, 0.75));
    return asked_truth(world);
}

/* a recorded mix, and one of the oils it was made of */
static double mix_with_its_parent(struct world *world)
{
    size_t a = add_bottle(world, 200, 0), b = add_bottle(world, 2000, 0);
    const size_t both[2] = {a, b};
    double actual[2];
    size_t mix = add_mix(world, a, b, uniform(0.3, 0.7), actual);
    double part = uniform(0.3, 0.7);
    ask_two(world, mix, b, part);
    const double shares[2] = {(1 - part) * actual[0],
                              (1 - part) * actual[1] + part};
    return true_ln_v(world, both, shares, 2, 25);
}

static double two_mixes_of_a_pair(struct world *world)
{
    size_t a = add_bottle(world, 200, 0), b = add_bottle(world, 2000, 0);
    const size_t both[2] = {a, b};
    double one[2], two[2];
    size_t first = add_mix(world, a, b, uniform(0.2, 0.4), one);
    size_t second = add_mix(world, a, b, uniform(0.6, 0.8), two);
    ask_two(world, first, second, 0.5);
    const double shares[2] = {(one[0] + two[0]) / 2, (one[1] + two[1]) / 2};
    return true_ln_v(world, both, shares, 2, 25);
}

/* mixes of mixes: each takes the one before it and some of the thick oil */
static double chain_of(struct world *world, int length)
{
    size_t a = add_bottle(world, 200, 0), b = add_bottle(world, 2000, 0);
    const size_t both[2] = {a, b};
    double f = 0, actual[2];
    size_t last = a;
    for (int i = 0; i < length; i++) {
        last = add_mix(world, last, b, uniform(0.2, 0.5), actual);
        f = f * actual[0] + actual[1];
    }
    ask_one(world, last, 25);
    const double shares[2] = {1 - f, f};
    return true_ln_v(world, both, shares, 2, 25);
}

static double chain_of_three(struct world *world)
{
    return chain_of(world, 3);
}

static double chain_of_five(struct world *world)
{
    return chain_of(world, 5);
}

/* a bottle that was measured twice, topped up, and measured again */
static double topped_up(struct world *world)
{
    size_t old = add_bottle(world, 350, 0), other = add_bottle(world, 800, 0);
    const size_t both[2] = {old, other};
    double actual[2];
    for (int i = 0; i < 2; i++) {
        read_bottle(world, old, 25, 0.03, 0.03);
    }
    size_t fill = add_mix(world, old, other, uniform(0.2, 0.5), actual);
    add_reading(world, fill, 25,
                true_ln_v(world, both, actual, 2, 25) +
                    gsl_ran_gaussian(rng, 0.03),
                0.03);
    ask_one(world, fill, 12);
    return true_ln_v(world, both, actual, 2, 12);
}

/* compared with a reference bottle by times of 60 s, to 0.2 s */
static void compare(struct world *world, size_t bottle, size_t reference)
{
    double label = world->bottles[reference].label.points[0].viscosity;
    double ratio = true_bottle(world, bottle, 25) -
                   true_bottle(world, reference, 25) +
                   gsl_ran_gaussian(rng, 0.0042);
    struct mw_network_reading *reading =
        add_reading(world, bottle, 25, log(label) + ratio, 0.0045);
    struct mw_network_reference *known = world->known[world->m - 1];
    *known = (struct mw_network_reference){reference, label, 25, 1};
    reading->references = known;
    reading->reference_count = 1;
}

static double five_comparisons(struct world *world)
{
    size_t a = add_bottle(world, 350, 0), b = add_bottle(world, 450, 0);
    for (int i = 0; i < 5; i++) {
        compare(world, b, a);
    }
    ask_one(world, b, 25);
    return asked_truth(world);
}

static double mixed_with_the_reference(struct world *world)
{
    five_comparisons(world);
    ask_two(world, 0, 1, uniform(0.3, 0.7));
    return asked_truth(world);
}

/* a reference that was measured itself before */
static double measured_reference(struct world *world)
{
    size_t a = add_bottle(world, 350, 0), b = add_bottle(world, 450, 0);
    for (int i = 0; i < 2; i++) {
        read_bottle(world, a, 25, 0.015, 0.015);
        compare(world, b, a);
    }
    ask_two(world, a, b, uniform(0.3, 0.7));
    return asked_truth(world);
}

/* a cup of its own error, read so many times */
static void read_with_cup(struct world *world, size_t bottle, long cup,
                          int count)
{
    double error = 0.03 * sqrt(3) * uniform(-1, 1);
    for (int i = 0; i < count; i++) {
        struct mw_network_reading *reading =
            add_reading(world, bottle, 25,
                        true_bottle(world, bottle, 25) + error +
                            gsl_ran_gaussian(rng, 0.004),
                        0.004);
        reading->instrument = cup;
        reading->systematic = 0.03;
    }
}

/* a bottle by a cup that was calibrated with bottles of 100 and 1000 mm2/s, all
 * times exact, and a mix of it with one of them */
static double cup_calibrated_with_bottles(struct world *world)
{
    double labels[] = {100, 1000}, v, time, residual, weights[2];
    struct mw_cup truth, cup;
    struct mw_cup_run runs[2];
    must(mw_cup_own(4.5, 320, &truth));
    for (size_t i = 0; i < 2; i++) {
        double ln_v = true_bottle(world, add_bottle(world, labels[i], 0), 25);
        must(mw_cup_time(&truth, exp(ln_v), &runs[i].time));
        runs[i].viscosity = labels[i];
    }
    must(mw_cup_calibrate(runs, 2, &cup, &residual, NULL));
    size_t read = add_bottle(world, 350, 0);
    must(mw_cup_time(&truth, exp(true_bottle(world, read, 25)), &time));
    must(mw_cup_viscosity(&cup, time, &v));
    must(mw_cup_weights(runs, 2, time, weights));
    struct mw_network_reading *reading =
        add_reading(world, read, 25, log(v), 0.001);
    struct mw_network_reference *known = world->known[world->m - 1];
    for (size_t i = 0; i < 2; i++) {
        known[i] = (struct mw_network_reference){i, labels[i], 25, weights[i]};
    }
    reading->references = known;
    reading->reference_count = 2;
    ask_two(world, read, 0, uniform(0.2, 0.8));
    return asked_truth(world);
}

static double one_cup_five_times(struct world *world)
{
    size_t a = add_bottle(world, 300, 0);
    read_with_cup(world, a, 1, 5);
    ask_one(world, a, 25);
    return asked_truth(world);
}

/* two cups on one bottle, one of them on another too */
static double two_instruments(struct world *world)
{
    size_t a = add_bottle(world, 300, 0), b = add_bottle(world, 400, 0);
    read_with_cup(world, a, 1, 3);
    read_with_cup(world, a, 2, 2);
    read_with_cup(world, b, 3, 2);
    ask_two(world, a, b, uniform(0.3, 0.7));
    return asked_truth(world);
}

/* a factor of ten among three good readings */
static double a_slip_of_the_pen(struct world *world)
{
    size_t a = add_bottle(world, 350, 0);
    for (int i = 0; i < 3; i++) {
        read_bottle(world, a, 25, 0.03, 0.03);
    }
    add_reading(world, a, 25, true_bottle(world, a, 25) - log(10), 0.03);
    ask_one(world, a, 25);
    return asked_truth(world);
}

/* one reading 30 % off among three good ones */
static double a_wild_reading(struct world *world)
{
    double sign = gsl_rng_uniform(rng) < 0.5 ? -1 : 1;
    size_t a = add_bottle(world, 350, 0);
    for (int i = 0; i < 3; i++) {
        read_bottle(world, a, 25, 0.03, 0.03);
    }
    add_reading(world, a, 25, true_bottle(world, a, 25) + sign * 0.3, 0.03);
    ask_one(world, a, 25);
    return asked_truth(world);
}

/* one thermometer, three days, its error half common */
static double one_thermometer(struct world *world)
{
    size_t a = add_bottle(world, 300, 0);
    double common = gsl_ran_gaussian(rng, 1 / sqrt(6));
    for (int day = 0; day < 3; day++) {
        double error = common + gsl_ran_gaussian(rng, 1 / sqrt(6));
        for (int i = 0; i < 2; i++) {
            struct mw_network_reading *reading =
                add_reading(world, a, 15,
                            true_bottle(world, a, 15 + error) +
                                gsl_ran_gaussian(rng, 0.004),
                            0.004);
            reading->thermometer = 1;
            reading->day = day;
        }
    }
    ask_one(world, a, 25);
    return asked_truth(world);
}

static double wrong_label(struct world *world, double off, int count,
                          double real)
{
    double sign = gsl_rng_uniform(rng) < 0.5 ? -1 : 1;
    size_t a = add_bottle(world, 350, 0);
    if (off != 0) { /* the truth stands that far from the label */
        const double moved = sign * off;
        mw_oil_moved(&world->bottles[a].label, &moved, 0, &world->truth[a]);
    }
    for (int i = 0; i < count; i++) {
        read_bottle(world, a, 25, real, 0.03);
    }
    ask_one(world, a, 25);
    return asked_truth(world);
}

static double off_20_two_readings(struct world *world)
{
    return wrong_label(world, 0.2, 2, 0.03);
}

static double off_15_one_reading(struct world *world)
{
    return wrong_label(world, 0.15, 1, 0.03);
}

static double off_10_two_readings(struct world *world)
{
    return wrong_label(world, 0.1, 2, 0.03);
}

static double off_10_four_readings(struct world *world)
{
    return wrong_label(world, 0.1, 4, 0.03);
}

static double scatter_8_four_readings(struct world *world)
{
    return wrong_label(world, 0, 4, 0.08);
}

static double scatter_8_eight_readings(struct world *world)
{
    return wrong_label(world, 0, 8, 0.08);
}

static double against_a_wrong_reference(struct world *world, int count)
{
    double sign = gsl_rng_uniform(rng) < 0.5 ? -1 : 1;
    size_t reference = add_bottle(world, 350, 0);
    const double moved = sign * 0.1;
    mw_oil_moved(&world->bottles[reference].label, &moved, 0,
                 &world->truth[reference]);
    for (int i = 0; i < count; i++) {
        compare(world, add_bottle(world, 300 + 20 * i, 0), reference);
    }
    ask_one(world, 1, 25);
    return asked_truth(world);
}

static double twelve_bottles_wrong_reference(struct world *world)
{
    return against_a_wrong_reference(world, 12);
}

static double two_bottles_wrong_reference(struct world *world)
{
    return against_a_wrong_reference(world, 2);
}

/* a petroleum oil with errors at 40 and 100 C that are independent or not */
static void petroleum(struct world *world, bool common)
{
    const struct mw_point points[2] = {{32, 40}, {5.4, 100}};
    double first = log(1 + 0.05 * uniform(-1, 1));
    const double moved[2] = {first,
                             common ? first : log(1 + 0.05 * uniform(-1, 1))};
    world->n = 1;
    world->bottles[0] =
        (struct mw_network_bottle){.tolerance = 0.05, .dose_ml = NAN};
    must(mw_oil_make(MW_MINERAL, points, 2, NAN, &world->bottles[0].label));
    must(mw_oil_moved(&world->bottles[0].label, moved, 0, &world->truth[0]));
}

static double petroleum_in_the_cold(struct world *world)
{
    petroleum(world, false);
    ask_one(world, 0, uniform(-20, 5));
    return asked_truth(world);
}

/* one of a viscosity index, which is off by up to 5 units times root 3 */
static double petroleum_by_index(struct world *world)
{
    double v40 = 46 * (1 + 0.05 * uniform(-1, 1));
    double index = 150 + 5 * sqrt(3) * uniform(-1, 1);
    world->n = 1;
    world->bottles[0] =
        (struct mw_network_bottle){.tolerance = 0.05, .dose_ml = NAN};
    must(mw_oil_from_index(46, 150, NAN, &world->bottles[0].label));
    must(mw_oil_from_index(v40, index, NAN, &world->truth[0]));
    ask_one(world, 0, uniform(-20, 100));
    return asked_truth(world);
}

static double petroleum_between(struct world *world)
{
    petroleum(world, true);
    ask_one(world, 0, 65);
    return asked_truth(world);
}

/* -- Counting ------------------------------------------------------------- */

static const struct situation {
    const char *name;
    double (*draw)(struct world *world);
    double least;      /* per cent of bands that hold the truth */
    double half_width; /* per cent of v, at most; 0: no limit */
} situations[] = {
    {"two labels at 25 C", two_labels, 92, 0},
    {"two labels and oil that is left over", with_residue, 92, 0},
    {"two labels in the cold", two_labels_in_the_cold, 92, 0},
    {"three 1.5 % readings at 10 C, asked at 25 C", cold_readings, 92, 4.2},
    {"one reading at 45 to 60 C, asked at 0 to 10 C", hot_reading, 92, 9},
    {"three good readings at 25 C", good_readings, 92, 3.5},
    {"K from 8 mixes, the same pair", learned_same_pair, 92, 3.5},
    {"K from 8 mixes, a third bottle", learned_third_bottle, 92, 50},
    {"a recorded mix with one of its oils", mix_with_its_parent, 92, 0},
    {"two recorded mixes of a pair", two_mixes_of_a_pair, 92, 0},
    {"a chain of three mixes", chain_of_three, 92, 0},
    {"a chain of five mixes", chain_of_five, 92, 0},
    {"a topped-up bottle with old readings", topped_up, 92, 0},
    {"five comparisons with one reference", five_comparisons, 92, 5},
    {"mixed with the reference", mixed_with_the_reference, 92, 5},
    {"a reference that was measured itself", measured_reference, 92, 0},
    {"one cup, five times", one_cup_five_times, 92, 0},
    {"a cup calibrated with bottles, mixed with one of them",
     cup_calibrated_with_bottles, 92, 0},
    {"two cups on one bottle", two_instruments, 92, 0},
    {"one thermometer on three days", one_thermometer, 92, 0},
    {"a label 20 % off, two readings", off_20_two_readings, 92, 0},
    {"a label 15 % off, one reading", off_15_one_reading, 92, 0},
    {"a label 10 % off, two readings", off_10_two_readings, 84, 0},
    {"a label 10 % off, four readings", off_10_four_readings, 92, 0},
    {"readings that scatter by 8 %, four", scatter_8_four_readings, 90, 0},
    {"readings that scatter by 8 %, eight", scatter_8_eight_readings, 92, 0},
    {"a slip of the pen among three readings", a_slip_of_the_pen, 92, 0},
    {"a reading 30 % off among three", a_wild_reading, 92, 0},
    {"twelve bottles against a wrong reference", twelve_bottles_wrong_reference,
     92, 0},
    {"two bottles against a wrong reference", two_bottles_wrong_reference, 75,
     0},
    {"a petroleum oil with independent errors, in the cold",
     petroleum_in_the_cold, 88, 0},
    {"a petroleum oil by its index, -20 to 100 C", petroleum_by_index, 92, 0},
    {"a petroleum oil with a common error, between its points",
     petroleum_between, 88, 0},
};

enum { SITUATIONS = sizeof situations / sizeof situations[0] };

/* whether the band holds the truth; adds its half-width, per cent */
static bool holds(const struct world *world, double truth, double *half_width)
{
    struct mw_network *network;
    struct mw_budget budget;
    double v;
    const struct mw_network_mix mix = {
        world->count,       world->asked, world->shares, world->t,
        world->thermometer, NULL,         NULL,          false};
    must(mw_network_make(world->bottles, world->n, world->readings, world->m,
                         &network));
    must(mw_network_mix(network, &mix, &v, &budget, NULL));
    mw_network_free(network);
    double u = mw_budget_combined(&budget);
    *half_width += 100 * MW_COVERAGE * u;
    return fabs(log(v) - truth) <= MW_COVERAGE * u;
}

/* three standard deviations of a share of so many runs below its limit */
static double limit_of(const struct situation *situation, int runs)
{
    double p = situation->least / 100;
    return situation->least -
           300 * sqrt(p * (1 - p) / runs) * (runs < 1000 ? 1 : 0);
}

static bool run(int number, const struct situation *situation, int runs)
{
    static struct world world;
    double half_width = 0;
    int held = 0;
    for (int i = 0; i < runs; i++) {
        start(&world);
        double truth = situation->draw(&world);
        held += holds(&world, truth, &half_width);
    }
    double percent = 100.0 * held / runs;
    half_width /= runs;
    bool good =
        percent >= limit_of(situation, runs) &&
        (situation->half_width == 0 || half_width <= situation->half_width);
    printf("%sok %d - %s: %.1f %% held, half-width %.2f %%\n",
           good ? "" : "not ", number, situation->name, percent, half_width);
    return good;
}

static bool is_wanted(const char *name, char **names, int count)
{
    bool wanted = count == 0;
    for (int i = 0; i < count; i++) {
        wanted = wanted || strstr(name, names[i]);
    }
    return wanted;
}

int main(int argc, char **argv)
{
    int runs = argc > 1 ? atoi(argv[1]) : 200, number = 0;
    bool all_good = true;
    rng = gsl_rng_alloc(gsl_rng_mt19937);
    for (size_t i = 0; i < SITUATIONS; i++) {
        if (is_wanted(situations[i].name, argv + 2, argc > 2 ? argc - 2 : 0)) {
            all_good = run(++number, &situations[i], runs) && all_good;
        }
    }
    printf("1..%d\n", number);
    gsl_rng_free(rng);
    return all_good ? 0 : 1;
}
