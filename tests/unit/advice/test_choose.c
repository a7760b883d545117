/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <gsl/gsl_rng.h>
#include <stdbool.h>
#include <string.h>

#include "advice/choose.h"
#include "blend/dose.h"
#include "blend/mixture.h"
#include "check.h"
#include "table/mix_uncertainty.h"

enum { STOCK = 60, PAIRS = STOCK * STOCK / 4 };

/* a stock and what is wanted of it */
struct wish {
    struct mw_candidate bottles[STOCK];
    size_t n;
    double target, batch;
    struct mw_excess excess;
};

/* a pair by brute force */
struct found {
    size_t thin, thick; /* index; here the ids too */
    double share, uncertainty;
    int parts;
};

static const struct mw_excess usual = {0.2, 0.0577};

static struct mw_candidate bottle(size_t id, double v, double u, double left)
{
    return (struct mw_candidate){
        .id = id, .viscosity = v, .uncertainty = u, .left = left};
}

static struct mw_oil oil_of(const struct mw_candidate *candidate)
{
    const struct mw_point rating = {candidate->viscosity, 25};
    struct mw_oil oil;
    check_ok(mw_oil_make(MW_SILICONE, &rating, 1, NAN, &oil));
    return oil;
}

/* The uncertainty of a mix by its budget. Its steps are made small, so that it
 * is the derivative and not what a bend adds to it. */
static double doubt_of(const struct wish *wish, const struct mw_oil pair[2],
                       const struct found *found)
{
    const double small = 1e-4;
    const double u[2] = {wish->bottles[found->thin].uncertainty * small,
                         wish->bottles[found->thick].uncertainty * small};
    const double shares[2] = {1 - found->share, found->share};
    const struct mw_method method = {MW_RULE_ASTM, wish->excess.value};
    const struct mw_mix_inputs inputs = {u, wish->excess.uncertainty * small, 0,
                                         NULL, NULL};
    struct mw_budget budget;
    check_ok(
        mw_mixture_uncertainty(pair, shares, 2, 25, &method, &inputs, &budget));
    return mw_budget_combined(&budget) / small;
}

static bool has(const struct mw_candidate *bottle, double ml)
{
    return isnan(bottle->left) || bottle->left >= ml;
}

/* solve one pair through the whole of mixture and uncertainty */
static enum mw_status solve(const struct wish *wish, struct found *found)
{
    const struct mw_candidate *thin = &wish->bottles[found->thin];
    const struct mw_candidate *thick = &wish->bottles[found->thick];
    const struct mw_oil pair[2] = {oil_of(thin), oil_of(thick)};
    const struct mw_method method = {MW_RULE_ASTM, wish->excess.value};
    int parts[2];
    enum mw_status status =
        mw_mixture_share(pair, wish->target, 25, &method, &found->share, NULL);
    if (status != MW_OK) {
        return status;
    }
    if (!has(thin, (1 - found->share) * wish->batch) ||
        !has(thick, found->share * wish->batch)) {
        return MW_ERR_INSUFFICIENT_STOCK;
    }
    found->uncertainty = doubt_of(wish, pair, found);
    check_ok(
        mw_dose_ratio(found->share, MW_CHOICE_PARTS, &parts[0], &parts[1]));
    found->parts = parts[0] > 0 && parts[1] > 0 ? parts[0] + parts[1] : 99;
    return MW_OK;
}

/* all pairs that do it; why none where there is none */
static enum mw_status find_all(const struct wish *wish, struct found *list,
                               size_t *count)
{
    bool unsteady = false, short_of = false;
    *count = 0;
    for (size_t i = 0; i < wish->n; i++) {
        for (size_t j = 0; j < wish->n; j++) {
            struct found found = {.thin = i, .thick = j};
            if (wish->bottles[i].viscosity < wish->target &&
                wish->bottles[j].viscosity > wish->target) {
                enum mw_status status = solve(wish, &found);
                list[*count] = found;
                *count += status == MW_OK;
                unsteady = unsteady || status == MW_ERR_EXCESS;
                short_of = short_of || status == MW_ERR_INSUFFICIENT_STOCK;
            }
        }
    }
    return *count > 0 ? MW_OK
           : short_of ? MW_ERR_INSUFFICIENT_STOCK
           : unsteady ? MW_ERR_EXCESS
                      : MW_ERR_TARGET;
}

static double least_of(const struct found *list, size_t count)
{
    double least = INFINITY;
    for (size_t i = 0; i < count; i++) {
        least = fmin(least, list[i].uncertainty);
    }
    return least;
}

/* the best by the rule of the header; taken off the list */
static struct found take_best(struct found *list, size_t *count)
{
    double least = least_of(list, *count);
    size_t best = *count;
    for (size_t i = 0; i < *count; i++) {
        bool good = list[i].uncertainty <= least * (1 + MW_CHOICE_EQUAL);
        bool better = best == *count || list[i].parts < list[best].parts ||
                      (list[i].parts == list[best].parts &&
                       list[i].uncertainty < list[best].uncertainty);
        best = good && better ? i : best;
    }
    struct found found = list[best];
    list[best] = list[--*count];
    return found;
}

static enum mw_status choose(const struct wish *wish,
                             struct mw_choice choices[MW_CHOICES],
                             size_t *count)
{
    struct mw_candidate candidates[STOCK];
    memcpy(candidates, wish->bottles, sizeof candidates);
    *count = 2385;
    enum mw_status status =
        mw_choose(candidates, wish->n, wish->target, wish->batch, &wish->excess,
                  choices, count);
    assert_int_equal(status == MW_OK, *count > 0);
    assert_in_range(*count, 0, MW_CHOICES);
    return status;
}

static void check_choice(const struct mw_choice *choice,
                         const struct found *found)
{
    assert_int_equal(choice->thin, found->thin);
    assert_int_equal(choice->thick, found->thick);
    check_near(choice->share, found->share, 1e-9);
    check_part(choice->uncertainty, found->uncertainty, 1e-5);
}

static double between(gsl_rng *rng, double low, double high)
{
    return low * pow(high / low, gsl_rng_uniform(rng));
}

/* a stock of a box of bottles, some of them nearly empty */
static struct wish random_wish(gsl_rng *rng, size_t most, double widest)
{
    const double excesses[] = {0.2, 0, 0.15, 0.3, -0.1};
    struct wish wish = {.n = 2 + gsl_rng_uniform_int(rng, most - 1)};
    double thinnest = between(rng, 2, 2000);
    for (size_t i = 0; i < wish.n; i++) {
        wish.bottles[i] =
            bottle(i, between(rng, thinnest, thinnest * widest),
                   between(rng, 0.003, 0.06),
                   gsl_rng_uniform(rng) < 0.3 ? (double)NAN
                                              : 60 * gsl_rng_uniform(rng));
    }
    wish.target = between(rng, thinnest * 1.05, thinnest * widest / 1.05);
    wish.batch = gsl_rng_uniform(rng) < 0.3 ? 0 : between(rng, 1, 100);
    wish.excess.value = excesses[gsl_rng_uniform_int(rng, 5)];
    wish.excess.uncertainty = between(rng, 0.005, 0.06);
    return wish;
}

static void small_stocks_as_by_brute_force(void **state)
{
    const double widest[] = {3, 10, 100, 3000};
    int solved = 0, refused = 0;
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    (void)state;
    gsl_rng_set(rng, 2385);
    for (int i = 0; i < 1000; i++) {
        struct wish wish = random_wish(rng, 12, widest[i % 4]);
        struct mw_choice choices[MW_CHOICES];
        struct found list[PAIRS];
        size_t all, count;
        enum mw_status status = find_all(&wish, list, &all);
        size_t expected = all < MW_CHOICES ? all : MW_CHOICES;
        check_status_at("choose", choose(&wish, choices, &count), status,
                        __FILE__, __LINE__);
        assert_int_equal(count, expected);
        for (size_t k = 0; k < count; k++) {
            struct found best = take_best(list, &all);
            check_choice(&choices[k], &best);
        }
        solved += status == MW_OK;
        refused += status != MW_OK;
    }
    gsl_rng_free(rng);
    assert_in_range(solved, 600, 900);
    assert_in_range(refused, 100, 400);
}

/* more pairs than are kept for the whole numbers: as good as the best */
static void larger_stocks_as_good_as_by_brute_force(void **state)
{
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    (void)state;
    gsl_rng_set(rng, 5832);
    for (int i = 0; i < 40; i++) {
        struct wish wish = random_wish(rng, STOCK, i % 2 ? 10 : 300);
        struct mw_choice choices[MW_CHOICES];
        static struct found list[PAIRS];
        size_t all, count;
        enum mw_status status = find_all(&wish, list, &all);
        check_status_at("choose", choose(&wish, choices, &count), status,
                        __FILE__, __LINE__);
        for (size_t k = 0; k < count; k++) {
            struct found chosen = {.thin = choices[k].thin,
                                   .thick = choices[k].thick};
            check_ok(solve(&wish, &chosen));
            check_choice(&choices[k], &chosen);
            if (k == 0) {
                assert_true(chosen.uncertainty <=
                            least_of(list, all) * (1 + MW_CHOICE_EQUAL));
            }
        }
    }
    gsl_rng_free(rng);
}

/* three bottles by hand: 350 and 500 for 420 are told apart from 200 and 500
 * by their nearness; the runner-up is the other one */
static void three_bottles(void **state)
{
    const struct wish wish = {.bottles = {bottle(7, 500, 0.0289, NAN),
                                          bottle(2, 350, 0.0289, NAN),
                                          bottle(5, 100, 0.0289, NAN)},
                              .n = 3,
                              .target = 420,
                              .excess = usual};
    struct mw_choice choices[MW_CHOICES];
    size_t count;
    (void)state;
    check_ok(choose(&wish, choices, &count));
    assert_int_equal(count, 2);
    assert_int_equal(choices[0].thin, 2);
    assert_int_equal(choices[0].thick, 7);
    /* 0.50063 of the thick oil with K = 0.20 (computed), so one and one */
    check_near(choices[0].share, 0.50063, 5e-6);
    assert_int_equal(choices[0].parts[0], 1);
    assert_int_equal(choices[0].parts[1], 1);
    assert_int_equal(choices[1].thin, 5);
    assert_int_equal(choices[1].thick, 7);
}

/* Of two pairs as good as equal, the smaller numbers: 350 and 500 known to
 * 2.89 % are one and one for 420, 365 and 500 to 2.8 % are five and four. */
static void whole_numbers_decide_between_equals(void **state)
{
    struct wish wish = {.bottles = {bottle(0, 365, 0.028, NAN),
                                    bottle(1, 350, 0.0289, NAN),
                                    bottle(2, 500, 0.0289, NAN)},
                        .n = 3,
                        .target = 420,
                        .excess = usual};
    struct mw_choice choices[MW_CHOICES];
    size_t count;
    (void)state;
    check_ok(choose(&wish, choices, &count));
    assert_int_equal(choices[0].thin, 1);
    assert_true(choices[0].uncertainty > choices[1].uncertainty);
    wish.bottles[0].uncertainty = 0.025; /* no longer as good as equal */
    check_ok(choose(&wish, choices, &count));
    assert_int_equal(choices[0].thin, 0);
}

/* a share too small for any parts is not a small number of them */
static void no_part_is_no_whole_number(void **state)
{
    const struct wish wish = {.bottles = {bottle(0, 419.5, 0.0205, NAN),
                                          bottle(1, 350, 0.0289, NAN),
                                          bottle(2, 500, 0.0289, NAN)},
                              .n = 3,
                              .target = 420,
                              .excess = usual};
    struct mw_choice choices[MW_CHOICES];
    size_t count;
    (void)state;
    check_ok(choose(&wish, choices, &count));
    assert_int_equal(choices[0].thin, 1);
    assert_int_equal(choices[1].thin, 0);
    assert_int_equal(choices[1].parts[0], 1);
    assert_int_equal(choices[1].parts[1], 0);
}

/* The excess moves small shares most: 1000 for 105 of 100 needs 1.7 % with
 * K = 0.20, and 2.6 % by the plain rule. 0.9 ml are enough for 50 ml. */
static void a_pair_that_is_just_enough(void **state)
{
    struct wish wish = {
        .bottles = {bottle(0, 100, 0.0289, 60), bottle(1, 1000, 0.0289, 0.9)},
        .n = 2,
        .target = 105,
        .batch = 50,
        .excess = usual};
    struct mw_choice choices[MW_CHOICES];
    size_t count;
    (void)state;
    check_ok(choose(&wish, choices, &count));
    for (int i = 0; i < 2; i++) {
        const double needs[2] = {(1 - choices[0].share) * 50,
                                 choices[0].share * 50};
        struct mw_choice again[MW_CHOICES];
        wish.bottles[0].left = wish.bottles[1].left = NAN;
        wish.bottles[i].left = needs[i] * (1 + 1e-9);
        check_ok(choose(&wish, again, &count));
        wish.bottles[i].left = needs[i] * (1 - 1e-9);
        assert_int_equal(choose(&wish, again, &count),
                         MW_ERR_INSUFFICIENT_STOCK);
    }
}

/* better pairs that hold a little too little may not crowd out one that does */
static void many_that_fall_a_little_short(void **state)
{
    struct wish wish = {
        .n = STOCK, .target = 420, .batch = 20, .excess = usual};
    struct mw_choice choices[MW_CHOICES];
    size_t count;
    (void)state;
    for (size_t i = 0; i < STOCK; i++) {
        wish.bottles[i] = bottle(
            i, i % 2 ? 350 + (double)i / 8 : 500 - (double)i / 8, 0.01, 8.5);
    }
    wish.bottles[18] = bottle(18, 490, 0.0289, 30);
    wish.bottles[19] = bottle(19, 360, 0.0289, 30);
    check_ok(choose(&wish, choices, &count));
    assert_int_equal(count, 1);
    assert_int_equal(choices[0].thin, 19);
    assert_int_equal(choices[0].thick, 18);
}

static void equal_bottles(void **state)
{
    struct wish wish = {.n = STOCK, .target = 420, .excess = usual};
    struct mw_choice choices[MW_CHOICES];
    size_t count;
    (void)state;
    for (size_t i = 0; i < STOCK; i++) {
        wish.bottles[i] = bottle(100 + i, i % 2 ? 350 : 500, 0.0289, NAN);
    }
    check_ok(choose(&wish, choices, &count));
    assert_int_equal(count, 2);
    assert_true(choices[0].thin != choices[1].thin ||
                choices[0].thick != choices[1].thick);
    for (size_t k = 0; k < 2; k++) {
        assert_int_equal(choices[k].thin % 2, 1);
        assert_int_equal(choices[k].thick % 2, 0);
        check_near(choices[k].share, 0.50063, 5e-6);
    }
}

/* whatever order the bottles come in */
static void the_order_does_not_matter(void **state)
{
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    (void)state;
    gsl_rng_set(rng, 77);
    for (int i = 0; i < 100; i++) {
        struct wish wish = random_wish(rng, 10, 10), turned = wish;
        struct mw_choice choices[MW_CHOICES], others[MW_CHOICES];
        size_t count, other;
        for (size_t k = 0; k < wish.n; k++) {
            turned.bottles[k] = wish.bottles[wish.n - 1 - k];
        }
        enum mw_status status = choose(&wish, choices, &count);
        assert_int_equal(choose(&turned, others, &other), status);
        assert_int_equal(other, count);
        for (size_t k = 0; k < count; k++) {
            assert_int_equal(others[k].thin, choices[k].thin);
            assert_int_equal(others[k].thick, choices[k].thick);
        }
    }
    gsl_rng_free(rng);
}

/* no bottle is lost or made when they are put in order */
static void every_bottle_is_still_there(void **state)
{
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    (void)state;
    gsl_rng_set(rng, 78);
    for (int i = 0; i < 100; i++) {
        struct wish wish = random_wish(rng, STOCK, 10);
        bool seen[STOCK] = {false};
        struct mw_choice choices[MW_CHOICES];
        size_t count;
        wish.bottles[0].viscosity = wish.target;
        wish.bottles[1].viscosity = NAN;
        struct wish before = wish;
        mw_choose(wish.bottles, wish.n, wish.target, wish.batch, &usual,
                  choices, &count);
        for (size_t k = 0; k < wish.n; k++) {
            size_t id = wish.bottles[k].id;
            assert_false(seen[id]);
            seen[id] = true;
            assert_memory_equal(&wish.bottles[k].viscosity,
                                &before.bottles[id].viscosity, sizeof(double));
        }
    }
    gsl_rng_free(rng);
}

static void check_none(struct wish wish, enum mw_status status)
{
    struct mw_choice choices[MW_CHOICES];
    size_t count;
    check_status_at("choose", choose(&wish, choices, &count), status, __FILE__,
                    __LINE__);
}

static void who_takes_no_part(void **state)
{
    const struct wish good = {
        .bottles = {bottle(0, 350, 0.0289, 30), bottle(1, 500, 0.0289, 30)},
        .n = 2,
        .target = 420,
        .excess = usual};
    const double bad_v[] = {0.2, 2.1e7, 0, -500, NAN, INFINITY, 420, 360};
    const double bad_u[] = {-0.01, NAN, INFINITY};
    const double bad_left[] = {0, -1, -INFINITY};
    struct wish wish = good;
    (void)state;
    check_none(good, MW_OK);
    for (size_t i = 0; i < sizeof bad_v / sizeof bad_v[0]; i++) {
        wish.bottles[1].viscosity = bad_v[i];
        check_none(wish, MW_ERR_TARGET);
    }
    wish = good;
    for (size_t i = 0; i < 3; i++) {
        wish.bottles[1].uncertainty = bad_u[i];
        check_none(wish, MW_ERR_TARGET);
    }
    wish = good;
    for (size_t i = 0; i < 3; i++) {
        wish.bottles[0].left = bad_left[i];
        check_none(wish, MW_ERR_TARGET);
    }
    wish = good;
    wish.n = 1;
    check_none(wish, MW_ERR_TARGET);
    wish.n = 0;
    check_none(wish, MW_ERR_TARGET);
}

static void bad_wishes(void **state)
{
    const struct wish good = {
        .bottles = {bottle(0, 350, 0.0289, 30), bottle(1, 500, 0.0289, 30)},
        .n = 2,
        .target = 420,
        .batch = 20,
        .excess = usual};
    const double bad[] = {-1, NAN, INFINITY};
    struct wish wish;
    (void)state;
    for (size_t i = 0; i < 3; i++) {
        wish = good;
        wish.target = bad[i];
        check_none(wish, MW_ERR_VISCOSITY);
        wish = good;
        wish.batch = bad[i];
        check_none(wish, MW_ERR_AMOUNT);
        wish = good;
        wish.excess.uncertainty = bad[i];
        check_none(wish, MW_ERR_UNCERTAINTY);
    }
    wish = good;
    wish.excess.value = NAN;
    check_none(wish, MW_ERR_EXCESS);
    /* finite, but no pair is steady with it, though there is plenty */
    wish.excess.value = 12;
    check_none(wish, MW_ERR_EXCESS);
    wish.excess.value = -12;
    check_none(wish, MW_ERR_EXCESS);
}

/* as a mix is allowed, so is a choice: also after a change of temperature */
static void a_thousand_to_one(void **state)
{
    (void)state;
    for (int i = 0; i < 1000; i++) {
        double factor = 0.3 + i / 400.0;
        struct wish wish = {.bottles = {bottle(0, 1000 * factor, 0.0289, 30),
                                        bottle(1, 1e6 * factor, 0.0289, 30)},
                            .n = 2,
                            .target = 20000,
                            .excess = {0.1, 0.03}};
        check_none(wish, MW_OK);
        wish.bottles[1].viscosity *= 1.0001;
        check_none(wish, MW_ERR_TARGET);
    }
}

/* exact bottles and an exact K leave no uncertainty, and no trouble */
static void nothing_uncertain(void **state)
{
    const struct wish wish = {.bottles = {bottle(0, 350, 0, NAN),
                                          bottle(1, 500, 0, NAN),
                                          bottle(2, 360, 0, NAN)},
                              .n = 3,
                              .target = 420,
                              .excess = {0.2, 0}};
    struct mw_choice choices[MW_CHOICES];
    size_t count;
    (void)state;
    check_ok(choose(&wish, choices, &count));
    assert_int_equal(choices[0].thin, 0); /* one and one */
    check_near(choices[0].uncertainty, 0, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(small_stocks_as_by_brute_force),
        cmocka_unit_test(larger_stocks_as_good_as_by_brute_force),
        cmocka_unit_test(three_bottles),
        cmocka_unit_test(whole_numbers_decide_between_equals),
        cmocka_unit_test(no_part_is_no_whole_number),
        cmocka_unit_test(a_pair_that_is_just_enough),
        cmocka_unit_test(many_that_fall_a_little_short),
        cmocka_unit_test(equal_bottles),
        cmocka_unit_test(the_order_does_not_matter),
        cmocka_unit_test(every_bottle_is_still_there),
        cmocka_unit_test(who_takes_no_part),
        cmocka_unit_test(bad_wishes),
        cmocka_unit_test(a_thousand_to_one),
        cmocka_unit_test(nothing_uncertain),
    };
    return cmocka_run_group_tests_name("choose", tests, NULL, NULL);
}
