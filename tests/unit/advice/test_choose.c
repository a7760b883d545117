/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include <gsl/gsl_rng.h>
#include <stdbool.h>
#include <string.h>

#include "advice/choose.h"
#include "blend/dose_internal.h"
#include "blend/mixture.h"
#include "check.h"
#include "fluid/oil_internal.h"

enum { STOCK = 60, PAIRS = STOCK * STOCK / 4 };

/* a bottle of silicone oil, rated at 25 C */
struct spec {
    size_t id;
    double viscosity, uncertainty, left;
};

/* a stock, and the mix that is asked for */
struct request {
    struct spec bottles[STOCK];
    size_t n;
    double target, batch;
    struct mw_excess excess;
};

/* a pair by brute force */
struct found {
    size_t thin, thick; /* indexes, which are the ids too */
    double share, uncertainty, ratio;
    int parts;
};

static const struct mw_excess usual = {0.2, 0.0577};

static struct spec bottle(size_t id, double v, double u, double left)
{
    return (struct spec){id, v, u, left};
}

static struct mw_oil oil_of(const struct spec *candidate)
{
    const struct mw_point rating = {candidate->viscosity, 25};
    struct mw_oil oil;
    check_ok(mw_oil_make(MW_SILICONE, &rating, 1, NAN, &oil));
    return oil;
}

/* ln v of a mix whose oils are e thicker, with K */
static double ln_v(const struct mw_oil pair[2], const double e[2],
                   const double shares[2], double k)
{
    const struct mw_method method = {MW_RULE_ASTM, k};
    struct mw_oil oils[2];
    double v;
    for (size_t i = 0; i < 2; i++) {
        check_ok(mw_oil_scaled(&pair[i], exp(e[i]), &oils[i]));
    }
    check_ok(mw_mixture(oils, shares, 2, 25, &method, &v, NULL));
    return log(v);
}

/* The uncertainty of a mix: each input by its own, as differences of
 * mw_mixture(). */
static double uncertainty_of(const struct request *request,
                             const struct mw_oil pair[2],
                             const struct found *found)
{
    const double small = 1e-4, k = request->excess.value;
    const double u[3] = {request->bottles[found->thin].uncertainty,
                         request->bottles[found->thick].uncertainty,
                         request->excess.uncertainty};
    const double shares[2] = {1 - found->share, found->share};
    double sum = 0;
    for (size_t i = 0; i < 3; i++) {
        double up[3] = {0}, down[3] = {0};
        up[i] = small * u[i];
        down[i] = -small * u[i];
        double part = (ln_v(pair, up, shares, k + up[2]) -
                       ln_v(pair, down, shares, k + down[2])) /
                      (2 * small);
        sum += part * part;
    }
    return sqrt(sum);
}

static bool has(const struct spec *bottle, double ml)
{
    return isnan(bottle->left) || bottle->left >= ml;
}

/* solve one pair with the module mixture */
static enum mw_status solve(const struct request *request, struct found *found)
{
    const struct spec *thin = &request->bottles[found->thin];
    const struct spec *thick = &request->bottles[found->thick];
    const struct mw_oil pair[2] = {oil_of(thin), oil_of(thick)};
    const struct mw_method method = {MW_RULE_ASTM, request->excess.value};
    int parts[2];
    enum mw_status status = mw_mixture_share(pair, request->target, 25, &method,
                                             &found->share, NULL);
    if (status != MW_OK) {
        return status;
    }
    if (!has(thin, (1 - found->share) * request->batch) ||
        !has(thick, found->share * request->batch)) {
        return MW_ERR_INSUFFICIENT_STOCK;
    }
    found->uncertainty = uncertainty_of(request, pair, found);
    check_ok(
        mw_dose_ratio(found->share, MW_PARTS_COUNTED, &parts[0], &parts[1]));
    found->ratio = thick->viscosity / thin->viscosity;
    found->parts = parts[0] > 0 && parts[1] > 0 ? parts[0] + parts[1] : 99;
    return MW_OK;
}

/* all pairs that reach the target; the reason where there is none */
static enum mw_status find_all(const struct request *request,
                               struct found *list, size_t *count)
{
    bool unsteady = false, short_of = false;
    *count = 0;
    for (size_t i = 0; i < request->n; i++) {
        for (size_t j = 0; j < request->n; j++) {
            struct found found = {.thin = i, .thick = j};
            if (request->bottles[i].viscosity < request->target &&
                request->bottles[j].viscosity > request->target) {
                enum mw_status status = solve(request, &found);
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

/* remove the best pair, by the rule of the header, from the list */
static struct found take_best(struct found *list, size_t *count)
{
    double limit = least_of(list, *count) * (1 + MW_CHOICE_EQUAL);
    double closest = INFINITY;
    size_t best = *count;
    for (size_t i = 0; i < *count; i++) {
        if (list[i].uncertainty <= limit) {
            closest = fmin(closest, log(list[i].ratio));
        }
    }
    for (size_t i = 0; i < *count; i++) {
        bool good = list[i].uncertainty <= limit &&
                    log(list[i].ratio) <= closest * (1 + MW_CHOICE_EQUAL);
        bool better = best == *count || list[i].parts < list[best].parts ||
                      (list[i].parts == list[best].parts &&
                       list[i].uncertainty < list[best].uncertainty);
        best = good && better ? i : best;
    }
    struct found found = list[best];
    list[best] = list[--*count];
    return found;
}

static enum mw_status choose(const struct request *request,
                             struct mw_choice choices[MW_CHOICES],
                             size_t *count)
{
    static struct mw_oil oils[STOCK];
    struct mw_candidate candidates[STOCK];
    const struct mw_wish wish = {request->target, 25, request->batch,
                                 request->excess};
    for (size_t i = 0; i < request->n; i++) {
        const struct spec *spec = &request->bottles[i];
        oils[i] = oil_of(spec);
        candidates[i] = (struct mw_candidate){spec->id, &oils[i],
                                              spec->uncertainty, spec->left};
    }
    *count = 2385;
    enum mw_status status =
        mw_choose(candidates, request->n, &wish, choices, count);
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
    check_part(choice->uncertainty, found->uncertainty, 1e-3);
}

static double between(gsl_rng *rng, double low, double high)
{
    return low * pow(high / low, gsl_rng_uniform(rng));
}

/* a random stock, some of its bottles nearly empty */
static struct request random_request(gsl_rng *rng, size_t most, double widest)
{
    const double excesses[] = {0.2, 0, 0.15, 0.3, -0.1};
    struct request request = {.n = 2 + gsl_rng_uniform_int(rng, most - 1)};
    double thinnest = between(rng, 2, 2000);
    for (size_t i = 0; i < request.n; i++) {
        request.bottles[i] =
            bottle(i, between(rng, thinnest, thinnest * widest),
                   between(rng, 0.003, 0.06),
                   gsl_rng_uniform(rng) < 0.3 ? (double)NAN
                                              : 60 * gsl_rng_uniform(rng));
    }
    request.target = between(rng, thinnest * 1.05, thinnest * widest / 1.05);
    request.batch = gsl_rng_uniform(rng) < 0.3 ? 0 : between(rng, 1, 100);
    request.excess.value = excesses[gsl_rng_uniform_int(rng, 5)];
    request.excess.uncertainty = between(rng, 0.005, 0.06);
    return request;
}

static void small_stocks_match_brute_force(void **state)
{
    const double widest[] = {3, 10, 100, 3000};
    int solved = 0, refused = 0;
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    (void)state;
    gsl_rng_set(rng, 2385);
    for (int i = 0; i < 1000; i++) {
        struct request request = random_request(rng, 8, widest[i % 4]);
        struct mw_choice choices[MW_CHOICES];
        struct found list[PAIRS];
        size_t all, count;
        enum mw_status status = find_all(&request, list, &all);
        size_t expected = all < MW_CHOICES ? all : MW_CHOICES;
        check_status_at("choose", choose(&request, choices, &count), status,
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
    assert_in_range(solved, 500, 900);
    assert_in_range(refused, 100, 500);
}

/* few labels, and most bottles nearly empty */
static void make_alike(struct request *request)
{
    request->batch = 20;
    for (size_t i = 0; i < request->n; i++) {
        struct spec *spec = &request->bottles[i];
        spec->viscosity = 50 * rint(spec->viscosity / 50) + 50;
        spec->uncertainty = 0.0289;
        spec->left = i % 5 ? 0.05 * request->batch : request->batch;
    }
}

/* of many bottles a few are looked at: no stock is refused that has a pair, and
 * the choice is among the least uncertain of all pairs */
static void larger_stocks_match_brute_force(void **state)
{
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    (void)state;
    gsl_rng_set(rng, 5832);
    for (int i = 0; i < 60; i++) {
        struct request request = random_request(rng, STOCK, i % 2 ? 10 : 300);
        if (i % 3 == 0) {
            make_alike(&request);
        }
        struct mw_choice choices[MW_CHOICES];
        static struct found list[PAIRS];
        size_t all, count;
        enum mw_status status = find_all(&request, list, &all);
        check_status_at("choose", choose(&request, choices, &count), status,
                        __FILE__, __LINE__);
        for (size_t k = 0; k < count; k++) {
            struct found chosen = {.thin = choices[k].thin,
                                   .thick = choices[k].thick};
            check_ok(solve(&request, &chosen));
            check_choice(&choices[k], &chosen);
            if (k == 0) {
                assert_true(chosen.uncertainty <=
                            least_of(list, all) * (1.001 + MW_CHOICE_EQUAL));
            }
        }
    }
    gsl_rng_free(rng);
}

/* three bottles by hand: for 420, 350 and 500 are nearer than 100 and 500,
 * which are the runner-up */
static void three_bottles(void **state)
{
    const struct request request = {.bottles = {bottle(7, 500, 0.0289, NAN),
                                                bottle(2, 350, 0.0289, NAN),
                                                bottle(5, 100, 0.0289, NAN)},
                                    .n = 3,
                                    .target = 420,
                                    .excess = usual};
    struct mw_choice choices[MW_CHOICES];
    size_t count;
    (void)state;
    check_ok(choose(&request, choices, &count));
    assert_int_equal(count, 2);
    assert_int_equal(choices[0].thin, 2);
    assert_int_equal(choices[0].thick, 7);
    /* 0.50063 of the thick oil with K = 0.20 (computed), so 1 : 1 */
    check_near(choices[0].share, 0.50063, 5e-6);
    assert_int_equal(choices[1].thin, 5);
    assert_int_equal(choices[1].thick, 7);
}

/* Of pairs within MW_CHOICE_EQUAL the closer oils: 300 and 500 are not better
 * than 400 and 500 for a little less uncertainty. */
static void close_oils_decide_between_equal_pairs(void **state)
{
    struct request request = {.bottles = {bottle(0, 300, 0.0289, NAN),
                                          bottle(1, 400, 0.034, NAN),
                                          bottle(2, 500, 0.0289, NAN)},
                              .n = 3,
                              .target = 435,
                              .excess = usual};
    struct mw_choice choices[MW_CHOICES];
    size_t count;
    (void)state;
    check_ok(choose(&request, choices, &count));
    assert_int_equal(choices[0].thin, 1);
    assert_true(choices[0].uncertainty > choices[1].uncertainty);
    assert_true(choices[0].uncertainty < choices[1].uncertainty * 1.1);
    request.bottles[1].uncertainty = 0.045; /* beyond MW_CHOICE_EQUAL */
    check_ok(choose(&request, choices, &count));
    assert_int_equal(choices[0].thin, 0);
}

/* Of pairs that are as close, the fewest parts to count out: 350 and 500 give
 * 420 as 1 : 1, 360 and 500 as 5 : 6; and of the same parts, the least
 * uncertain. A share that rounds to 0 parts is not a small number. */
static void small_parts_decide_between_pairs_as_close(void **state)
{
    struct request request = {
        .bottles = {bottle(0, 360, 0.0285, NAN), bottle(1, 350, 0.0291, NAN),
                    bottle(2, 350, 0.0289, NAN), bottle(3, 500, 0.0289, NAN),
                    bottle(4, 350, 0.0290, NAN)},
        .n = 5,
        .target = 420,
        .excess = usual};
    struct mw_choice choices[MW_CHOICES];
    size_t count;
    (void)state;
    check_ok(choose(&request, choices, &count));
    assert_int_equal(choices[0].thin, 2);
    assert_int_equal(choices[1].thin, 4);
    /* 1 : 0 of 100, and 11 : 1 of 99.3, which are as close to 110 */
    request = (struct request){.bottles = {bottle(0, 100, 0.0289, NAN),
                                           bottle(1, 99.3, 0.0289, NAN),
                                           bottle(2, 110, 0.0289, NAN)},
                               .n = 3,
                               .target = 100.3,
                               .excess = usual};
    check_ok(choose(&request, choices, &count));
    assert_int_equal(choices[0].thin, 1);
    /* the same on the other side */
    request = (struct request){.bottles = {bottle(0, 110, 0.0289, NAN),
                                           bottle(1, 110.8, 0.0289, NAN),
                                           bottle(2, 100, 0.0289, NAN)},
                               .n = 3,
                               .target = 109.7,
                               .excess = usual};
    check_ok(choose(&request, choices, &count));
    assert_int_equal(choices[0].thick, 1);
}

/* The excess changes small shares most: to make 105 of 100, 1.7 % of 1000 is
 * needed with K = 0.20, and 2.6 % by the plain rule. 0.9 ml are enough for
 * 50 ml. */
static void a_bottle_that_just_suffices(void **state)
{
    struct request request = {
        .bottles = {bottle(0, 100, 0.0289, 60), bottle(1, 1000, 0.0289, 0.9)},
        .n = 2,
        .target = 105,
        .batch = 50,
        .excess = usual};
    struct mw_choice choices[MW_CHOICES];
    size_t count;
    (void)state;
    check_ok(choose(&request, choices, &count));
    for (int i = 0; i < 2; i++) {
        const double needs[2] = {(1 - choices[0].share) * 50,
                                 choices[0].share * 50};
        struct mw_choice again[MW_CHOICES];
        request.bottles[0].left = request.bottles[1].left = NAN;
        request.bottles[i].left = needs[i] * (1 + 1e-9);
        check_ok(choose(&request, again, &count));
        request.bottles[i].left = needs[i] * (1 - 1e-9);
        assert_int_equal(choose(&request, again, &count),
                         MW_ERR_INSUFFICIENT_STOCK);
    }
}

/* better pairs that hold slightly too little must not displace one that
 * holds enough */
static void pairs_slightly_short_of_oil(void **state)
{
    struct request request = {
        .n = STOCK, .target = 420, .batch = 20, .excess = usual};
    struct mw_choice choices[MW_CHOICES];
    size_t count;
    (void)state;
    for (size_t i = 0; i < STOCK; i++) {
        request.bottles[i] = bottle(
            i, i % 2 ? 350 + (double)i / 8 : 500 - (double)i / 8, 0.01, 8.5);
    }
    request.bottles[18] = bottle(18, 490, 0.0289, 30);
    request.bottles[19] = bottle(19, 360, 0.0289, 30);
    check_ok(choose(&request, choices, &count));
    assert_int_equal(count, 1);
    assert_int_equal(choices[0].thin, 19);
    assert_int_equal(choices[0].thick, 18);
}

static void equal_bottles(void **state)
{
    struct request request = {.n = STOCK, .target = 420, .excess = usual};
    struct mw_choice choices[MW_CHOICES];
    size_t count;
    (void)state;
    for (size_t i = 0; i < STOCK; i++) {
        request.bottles[i] = bottle(100 + i, i % 2 ? 350 : 500, 0.0289, NAN);
    }
    check_ok(choose(&request, choices, &count));
    assert_int_equal(count, 2);
    assert_true(choices[0].thin != choices[1].thin ||
                choices[0].thick != choices[1].thick);
    for (size_t k = 0; k < 2; k++) {
        assert_int_equal(choices[k].thin % 2, 1);
        assert_int_equal(choices[k].thick % 2, 0);
        check_near(choices[k].share, 0.50063, 5e-6);
    }
}

/* in whatever order the bottles are given */
static void the_order_does_not_matter(void **state)
{
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    (void)state;
    gsl_rng_set(rng, 77);
    for (int i = 0; i < 100; i++) {
        struct request request = random_request(rng, 10, 10), turned = request;
        struct mw_choice choices[MW_CHOICES], others[MW_CHOICES];
        size_t count, other;
        for (size_t k = 0; k < request.n; k++) {
            turned.bottles[k] = request.bottles[request.n - 1 - k];
        }
        enum mw_status status = choose(&request, choices, &count);
        assert_int_equal(choose(&turned, others, &other), status);
        assert_int_equal(other, count);
        for (size_t k = 0; k < count; k++) {
            assert_int_equal(others[k].thin, choices[k].thin);
            assert_int_equal(others[k].thick, choices[k].thick);
        }
    }
    gsl_rng_free(rng);
}

static void check_none(struct request request, enum mw_status status)
{
    struct mw_choice choices[MW_CHOICES];
    size_t count;
    check_status_at("choose", choose(&request, choices, &count), status,
                    __FILE__, __LINE__);
}

static void bottles_that_take_no_part(void **state)
{
    const struct request good = {
        .bottles = {bottle(0, 350, 0.0289, 30), bottle(1, 500, 0.0289, 30)},
        .n = 2,
        .target = 420,
        .excess = usual};
    const double bad_v[] = {420, 360};
    const double bad_u[] = {-0.01, NAN, INFINITY};
    const double bad_left[] = {0, -1, -INFINITY};
    struct request request = good;
    (void)state;
    check_none(good, MW_OK);
    for (size_t i = 0; i < sizeof bad_v / sizeof bad_v[0]; i++) {
        request.bottles[1].viscosity = bad_v[i];
        check_none(request, MW_ERR_TARGET);
    }
    request = good;
    for (size_t i = 0; i < 3; i++) {
        request.bottles[1].uncertainty = bad_u[i];
        check_none(request, MW_ERR_TARGET);
    }
    request = good;
    for (size_t i = 0; i < 3; i++) {
        request.bottles[0].left = bad_left[i];
        check_none(request, MW_ERR_TARGET);
    }
    request = good;
    request.n = 1;
    check_none(request, MW_ERR_TARGET);
    request.n = 0;
    check_none(request, MW_ERR_TARGET);
}

static void invalid_requests(void **state)
{
    const struct request good = {
        .bottles = {bottle(0, 350, 0.0289, 30), bottle(1, 500, 0.0289, 30)},
        .n = 2,
        .target = 420,
        .batch = 20,
        .excess = usual};
    const double bad[] = {-1, NAN, INFINITY};
    struct request request;
    (void)state;
    for (size_t i = 0; i < 3; i++) {
        request = good;
        request.target = bad[i];
        check_none(request, MW_ERR_VISCOSITY);
        request = good;
        request.batch = bad[i];
        check_none(request, MW_ERR_AMOUNT);
        request = good;
        request.excess.uncertainty = bad[i];
        check_none(request, MW_ERR_UNCERTAINTY);
    }
    request = good;
    request.excess.value = NAN;
    check_none(request, MW_ERR_EXCESS);
    /* finite, but too large for any pair, although there is enough oil */
    request.excess.value = 12;
    check_none(request, MW_ERR_EXCESS);
    request.excess.value = -12;
    check_none(request, MW_ERR_EXCESS);
}

/* a choice is allowed where the mix is, also after a change of temperature */
static void a_thousand_to_one(void **state)
{
    (void)state;
    for (int i = 0; i < 1000; i++) {
        double factor = 0.3 + i / 400.0;
        struct request request = {
            .bottles = {bottle(0, 1000 * factor, 0.0289, 30),
                        bottle(1, 1e6 * factor, 0.0289, 30)},
            .n = 2,
            .target = 20000,
            .excess = {0.1, 0.03}};
        check_none(request, MW_OK);
        request.bottles[1].viscosity *= 1.0001;
        check_none(request, MW_ERR_TARGET);
    }
}

/* by Wright's rule, as the same pair is by name; one that is known at another
 * temperature only takes no part */
static void petroleum_oils_are_chosen_by_their_own_rule(void **state)
{
    const struct mw_point points[5][2] = {{{30, 40}, {5, 100}},
                                          {{490, 40}, {32, 100}},
                                          {{120, 100}, {0, 0}},
                                          {{480, 40}, {0, 0}},
                                          {{32, 40}, {0, 0}}};
    struct mw_oil oils[5];
    struct mw_candidate candidates[5];
    const struct mw_wish wish = {100, 40, 0, usual};
    struct mw_choice choices[MW_CHOICES];
    struct mw_method method;
    double share;
    size_t count;
    (void)state;
    for (size_t i = 0; i < 5; i++) {
        check_ok(
            mw_oil_make(MW_MINERAL, points[i], i < 2 ? 2 : 1, NAN, &oils[i]));
        candidates[i] = (struct mw_candidate){i, &oils[i], 0.0289, NAN};
    }
    check_ok(mw_choose(candidates, 3, &wish, choices, &count));
    assert_int_equal(count, 1);
    check_ok(mw_method_default(oils, 2, &method));
    assert_int_equal(method.rule, MW_RULE_WRIGHT);
    check_ok(mw_mixture_share(oils, 100, 40, &method, &share, NULL));
    check_near(choices[0].share, share, 0);
    /* with an oil that has no line, by ASTM */
    const size_t lineless[2][2] = {{0, 3}, {4, 1}};
    for (size_t i = 0; i < 2; i++) {
        const size_t *at = lineless[i];
        const struct mw_candidate two[2] = {candidates[at[0]],
                                            candidates[at[1]]};
        const struct mw_oil pair[2] = {oils[at[0]], oils[at[1]]};
        check_ok(mw_choose(two, 2, &wish, choices, &count));
        check_ok(mw_method_default(pair, 2, &method));
        assert_int_equal(method.rule, MW_RULE_ASTM);
        check_ok(mw_mixture_share(pair, 100, 40, &method, &share, NULL));
        check_near(choices[0].share, share, 0);
    }
}

/* 2.89 % expanded is 5.78 %, of which a quarter is 1.4 %: 424 is 420 already */
static void a_bottle_that_is_the_target(void **state)
{
    const struct mw_point labels[] = {{424, 25}, {421, 25}, {426.5, 25}};
    struct mw_oil oils[3];
    struct mw_candidate candidates[3];
    struct mw_wish wish = {420, 25, 20, usual};
    (void)state;
    for (size_t i = 0; i < 3; i++) {
        check_ok(mw_oil_make(MW_SILICONE, &labels[i], 1, NAN, &oils[i]));
        candidates[i] = (struct mw_candidate){i, &oils[i], 0.0289, NAN};
    }
    assert_int_equal(mw_choose_alone(candidates, 3, &wish), 1);
    candidates[2].uncertainty = 0.04; /* near too, but not the nearest */
    assert_int_equal(mw_choose_alone(candidates, 3, &wish), 1);
    candidates[2].uncertainty = 0.0289;
    candidates[1].left = 19.9;
    assert_int_equal(mw_choose_alone(candidates, 3, &wish), 0);
    wish.batch = 0;
    candidates[1].left = 0;
    assert_int_equal(mw_choose_alone(candidates, 3, &wish), 0);
    candidates[0].uncertainty = 0.01;
    assert_int_equal(mw_choose_alone(candidates, 3, &wish), 3);
    candidates[2].uncertainty = 0.04;
    assert_int_equal(mw_choose_alone(candidates, 3, &wish), 2);
    wish.temperature = 120; /* where nothing is known */
    assert_int_equal(mw_choose_alone(candidates, 3, &wish), 3);
}

/* exact bottles and an exact K give an uncertainty of 0 */
static void exact_bottles_and_excess(void **state)
{
    const struct request request = {.bottles = {bottle(0, 350, 0, NAN),
                                                bottle(1, 500, 0, NAN),
                                                bottle(2, 360, 0, NAN)},
                                    .n = 3,
                                    .target = 420,
                                    .excess = {0.2, 0}};
    struct mw_choice choices[MW_CHOICES];
    size_t count;
    (void)state;
    check_ok(choose(&request, choices, &count));
    assert_int_equal(choices[0].thin, 0); /* 1 : 1 */
    check_near(choices[0].uncertainty, 0, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(small_stocks_match_brute_force),
        cmocka_unit_test(larger_stocks_match_brute_force),
        cmocka_unit_test(three_bottles),
        cmocka_unit_test(close_oils_decide_between_equal_pairs),
        cmocka_unit_test(small_parts_decide_between_pairs_as_close),
        cmocka_unit_test(petroleum_oils_are_chosen_by_their_own_rule),
        cmocka_unit_test(a_bottle_that_just_suffices),
        cmocka_unit_test(pairs_slightly_short_of_oil),
        cmocka_unit_test(equal_bottles),
        cmocka_unit_test(the_order_does_not_matter),
        cmocka_unit_test(bottles_that_take_no_part),
        cmocka_unit_test(invalid_requests),
        cmocka_unit_test(a_thousand_to_one),
        cmocka_unit_test(a_bottle_that_is_the_target),
        cmocka_unit_test(exact_bottles_and_excess),
    };
    return cmocka_run_group_tests_name("choose", tests, NULL, NULL);
}
