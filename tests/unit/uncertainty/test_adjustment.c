/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include <gsl/gsl_fit.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <stdbool.h>
#include <string.h>

#include "check.h"
#include "fail_calloc.h"
#include "uncertainty/adjustment.h"

enum { MOST = 40 };

/* a row that is linear in its unknowns */
struct linear {
    size_t count;
    size_t unknowns[MOST];
    double slopes[MOST];
};

static double linear_value(const double *x, const void *params)
{
    const struct linear *linear = params;
    double sum = 0;
    for (size_t i = 0; i < linear->count; i++) {
        sum += linear->slopes[i] * x[linear->unknowns[i]];
    }
    return sum;
}

static struct mw_row row_of(const struct linear *linear, double observed,
                            double s)
{
    return (struct mw_row){linear_value,  linear,          observed, s,
                           linear->count, linear->unknowns};
}

static struct mw_gradient gradient_of(const struct linear *linear)
{
    return (struct mw_gradient){linear->count, linear->unknowns,
                                linear->slopes};
}

static struct mw_adjustment *solved(const struct mw_unknown *unknowns, size_t n,
                                    const struct mw_row *rows, size_t m)
{
    struct mw_adjustment *adjustment;
    check_ok(mw_adjustment_make(unknowns, n, rows, m, &adjustment));
    check_ok(mw_adjustment_solve(adjustment));
    return adjustment;
}

/* -- Against others ------------------------------------------------------- */

/* with priors that say next to nothing: the fit of the GNU Scientific Library
 */
static void a_straight_line(void **state)
{
    (void)state;
    enum { POINTS = 7 };
    const double x[POINTS] = {0.385, 1.2, 1.9, 2.385, 4.1, 5.5, 6.1};
    const double y[POINTS] = {2.1, 2.9, 3.3, 4.2, 5.1, 6.9, 7.3};
    const double s[POINTS] = {0.1, 0.2, 0.15, 0.1, 0.3, 0.2, 0.1};
    const struct mw_unknown unknowns[] = {{0, 1e5, 0}, {0, 1e5, 0}};
    struct linear linear[POINTS];
    struct mw_row rows[POINTS];
    double w[POINTS], z[2], c0, c1, v00, v01, v11, chi;
    for (size_t i = 0; i < POINTS; i++) {
        linear[i] = (struct linear){2, {0, 1}, {1, x[i]}};
        rows[i] = row_of(&linear[i], y[i], s[i]);
        w[i] = 1 / (s[i] * s[i]);
    }
    gsl_fit_wlinear(x, 1, w, 1, y, 1, POINTS, &c0, &c1, &v00, &v01, &v11, &chi);
    struct mw_adjustment *adjustment = solved(unknowns, 2, rows, POINTS);
    check_part(mw_adjustment_estimates(adjustment)[0], c0, 1e-7);
    check_part(mw_adjustment_estimates(adjustment)[1], c1, 1e-7);
    const struct linear first = {1, {0}, {1}}, second = {1, {1}, {1}};
    const struct mw_gradient c = gradient_of(&first), d = gradient_of(&second);
    check_part(mw_adjustment_variance(adjustment, &c, z), v00, 1e-7);
    check_part(mw_adjustment_product(&d, z), v01, 1e-7);
    check_part(mw_adjustment_variance(adjustment, &d, z), v11, 1e-7);
    check_part(mw_adjustment_chi_squared(adjustment), chi, 1e-7);
    mw_adjustment_free(adjustment);
}

/* Two cells read with one voltmeter whose zero is off by 0.1 V or so: by hand,
 * their difference does not know of it, each of them does, and a third reading,
 * of a cell that is known, takes most of it away. */
static void two_cells_and_one_voltmeter(void **state)
{
    (void)state;
    const struct mw_unknown unknowns[] = {
        {0, 1e4, 0}, {0, 1e4, 0}, {0, 0.1, 0}, {1.018, 0, 0}};
    const struct linear linear[] = {
        {2, {0, 2}, {1, 1}}, {2, {1, 2}, {1, 1}}, {2, {3, 2}, {1, 1}}};
    const struct mw_row rows[] = {row_of(&linear[0], 1.5385, 0.01),
                                  row_of(&linear[1], 1.2385, 0.02),
                                  row_of(&linear[2], 1.098, 0.01)};
    const struct linear first = {1, {0}, {1}}, apart = {2, {0, 1}, {1, -1}};
    const struct mw_gradient c = gradient_of(&first), d = gradient_of(&apart);
    double z[4];
    struct mw_adjustment *adjustment = solved(unknowns, 4, rows, 2);
    check_near(mw_adjustment_estimates(adjustment)[0], 1.5385, 1e-6);
    check_part(mw_adjustment_variance(adjustment, &c, z), 0.01 + 0.0001, 1e-6);
    check_part(mw_adjustment_variance(adjustment, &d, z), 0.0001 + 0.0004,
               1e-6);
    mw_adjustment_free(adjustment);
    /* the zero is then (0.08/0.01^2)/(1/0.1^2 + 1/0.01^2) */
    adjustment = solved(unknowns, 4, rows, 3);
    double zero = 800 / 10100.0;
    check_near(mw_adjustment_estimates(adjustment)[2], zero, 1e-6);
    check_near(mw_adjustment_estimates(adjustment)[0], 1.5385 - zero, 1e-6);
    check_part(mw_adjustment_estimates(adjustment)[3], 1.018, 0);
    check_part(mw_adjustment_variance(adjustment, &c, z), 1 / 10100.0 + 0.0001,
               1e-6);
    /* the known cell is no source of uncertainty */
    check_near(z[3], 0, 0);
    mw_adjustment_free(adjustment);
}

/* -- Networks that are drawn ---------------------------------------------- */

struct network {
    size_t n, m;
    struct mw_unknown unknowns[MOST];
    struct linear linear[MOST];
    struct mw_row rows[MOST];
    double truth[MOST];
};

/* five blocks of one to three unknowns, four shared ones, and rows of one block
 * and some of the shared */
static void draw_network(gsl_rng *rng, struct network *network)
{
    *network = (struct network){0};
    for (size_t block = 0; block <= 5; block++) {
        size_t size = block == 0 ? 4 : 1 + gsl_rng_uniform_int(rng, 3);
        for (size_t i = 0; i < size; i++) {
            network->unknowns[network->n++] = (struct mw_unknown){
                gsl_ran_gaussian(rng, 2), 0.2 + gsl_rng_uniform(rng), block};
        }
    }
    for (network->m = 0; network->m < 20; network->m++) {
        struct linear *linear = &network->linear[network->m];
        size_t block = gsl_rng_uniform_int(rng, 6);
        for (size_t i = 0; i < network->n; i++) {
            size_t here = network->unknowns[i].block;
            if (here == block || (here == 0 && gsl_rng_uniform(rng) < 0.5)) {
                linear->unknowns[linear->count] = i;
                linear->slopes[linear->count++] = gsl_ran_gaussian(rng, 1);
            }
        }
        network->rows[network->m] =
            row_of(linear, 0, 0.1 + gsl_rng_uniform(rng));
    }
}

static void draw_truth(gsl_rng *rng, struct network *network)
{
    for (size_t i = 0; i < network->n; i++) {
        const struct mw_unknown *unknown = &network->unknowns[i];
        network->truth[i] = unknown->mean + gsl_ran_gaussian(rng, unknown->s);
    }
    for (size_t i = 0; i < network->m; i++) {
        struct mw_row *row = &network->rows[i];
        row->observed = linear_value(network->truth, &network->linear[i]) +
                        gsl_ran_gaussian(rng, row->s);
    }
}

static void draw_query(gsl_rng *rng, const struct network *network,
                       struct linear *query)
{
    query->count = network->n;
    for (size_t i = 0; i < network->n; i++) {
        query->unknowns[i] = i;
        query->slopes[i] = gsl_ran_gaussian(rng, 1);
    }
}

/* blocks change nothing but the work */
static void blocks_are_only_a_short_cut(void **state)
{
    (void)state;
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    for (int round = 0; round < 50; round++) {
        struct network network, dense;
        struct linear query;
        double z[MOST], other[MOST];
        draw_network(rng, &network);
        draw_truth(rng, &network);
        draw_query(rng, &network, &query);
        dense = network;
        for (size_t i = 0; i < dense.n; i++) {
            dense.unknowns[i].block = 0;
        }
        struct mw_adjustment *one =
            solved(network.unknowns, network.n, network.rows, network.m);
        struct mw_adjustment *two =
            solved(dense.unknowns, dense.n, network.rows, network.m);
        const struct mw_gradient c = gradient_of(&query);
        check_part(mw_adjustment_variance(one, &c, z),
                   mw_adjustment_variance(two, &c, other), 1e-9);
        check_part(mw_adjustment_form(one, &c),
                   mw_adjustment_variance(one, &c, z), 1e-9);
        for (size_t i = 0; i < network.n; i++) {
            check_near(z[i], other[i], 1e-9);
            check_near(mw_adjustment_estimates(one)[i],
                       mw_adjustment_estimates(two)[i], 1e-9);
        }
        mw_adjustment_free(one);
        mw_adjustment_free(two);
    }
    gsl_rng_free(rng);
}

/* the variance is what the truth departs by, over 4000 draws: the mean of their
 * squares is good to 1/sqrt(2000) */
static void variances_are_those_of_the_truth(void **state)
{
    (void)state;
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    struct network network;
    struct linear query;
    double z[MOST], sum = 0, variance = NAN, chi = 0;
    enum { DRAWS = 4000 };
    draw_network(rng, &network);
    draw_query(rng, &network, &query);
    const struct mw_gradient c = gradient_of(&query);
    for (int i = 0; i < DRAWS; i++) {
        draw_truth(rng, &network);
        struct mw_adjustment *adjustment =
            solved(network.unknowns, network.n, network.rows, network.m);
        double away =
            linear_value(mw_adjustment_estimates(adjustment), &query) -
            linear_value(network.truth, &query);
        sum += away * away;
        variance = mw_adjustment_variance(adjustment, &c, z);
        chi += mw_adjustment_chi_squared(adjustment);
        mw_adjustment_free(adjustment);
    }
    check_part(sum / DRAWS, variance, 4 / sqrt(DRAWS / 2.0));
    /* as many degrees of freedom as rows */
    check_part(chi / DRAWS, (double)network.m, 4 * sqrt(2.0 / DRAWS / 20));
    gsl_rng_free(rng);
}

/* what each input brings adds up */
static void parts_add_up(void **state)
{
    (void)state;
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    struct network network;
    struct linear query;
    double z[MOST], sum = 0;
    draw_network(rng, &network);
    draw_truth(rng, &network);
    draw_query(rng, &network, &query);
    network.unknowns[2].s = 0; /* and one that is fixed */
    struct mw_adjustment *adjustment =
        solved(network.unknowns, network.n, network.rows, network.m);
    mw_adjustment_widen_prior(adjustment, 5, 2.385);
    mw_adjustment_widen_row(adjustment, 3, 1.385);
    check_ok(mw_adjustment_solve(adjustment));
    const struct mw_gradient c = gradient_of(&query);
    double variance = mw_adjustment_variance(adjustment, &c, z);
    check_near(mw_adjustment_prior_part(adjustment, z, 2), 0, 0);
    for (size_t i = 0; i < network.n; i++) {
        sum += pow(mw_adjustment_prior_part(adjustment, z, i), 2);
    }
    for (size_t i = 0; i < network.m; i++) {
        sum += pow(mw_adjustment_row_part(adjustment, z, i), 2);
    }
    check_part(sum, variance, 1e-8);
    mw_adjustment_free(adjustment);
    gsl_rng_free(rng);
}

/* one more reading does what was said of it */
static void one_more_reading(void **state)
{
    (void)state;
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    struct network network;
    struct linear query;
    double z[MOST];
    draw_network(rng, &network);
    draw_truth(rng, &network);
    draw_query(rng, &network, &query);
    const struct mw_gradient c = gradient_of(&query);
    const struct mw_gradient h = gradient_of(&network.linear[7]);
    struct mw_adjustment *before =
        solved(network.unknowns, network.n, network.rows, network.m - 1);
    double variance = mw_adjustment_variance(before, &c, z);
    double after = mw_adjustment_after(before, variance, z, &h, 0.2385);
    assert_true(after < variance);
    network.rows[network.m - 1] = row_of(&network.linear[7], 1, 0.2385);
    struct mw_adjustment *with =
        solved(network.unknowns, network.n, network.rows, network.m);
    check_part(after, mw_adjustment_variance(with, &c, z), 1e-8);
    mw_adjustment_free(before);
    mw_adjustment_free(with);
    gsl_rng_free(rng);
}

/* -- Conflicts ------------------------------------------------------------ */

/* a label of 2 +- 0.1 and two readings of 3 +- 0.1 and 3.2 +- 0.1, by hand */
static void residuals_and_what_is_set_aside(void **state)
{
    (void)state;
    const struct mw_unknown unknowns[] = {{2, 0.1, 0}, {7, 0.5, 0}};
    const struct linear linear = {1, {0}, {1}};
    const struct mw_row rows[] = {row_of(&linear, 3, 0.1),
                                  row_of(&linear, 3.2, 0.1)};
    const struct mw_gradient c = gradient_of(&linear);
    double z[2], distance;
    struct mw_adjustment *adjustment = solved(unknowns, 2, rows, 2);
    check_near(mw_adjustment_estimates(adjustment)[0], 8.2 / 3, 1e-9);
    /* against the rest: 3.1 +- 0.1/sqrt 2 */
    check_near(mw_adjustment_prior_residual(adjustment, 0),
               1.1 / sqrt(0.01 + 0.005), 1e-6);
    check_near(mw_adjustment_row_residual(adjustment, 1, &distance),
               0.7 / sqrt(0.01 + 0.005), 1e-6);
    check_near(distance, 0.7, 1e-6); /* 3.2 from 2.5, what the others say */
    check_near(mw_adjustment_row_residual(adjustment, 1, NULL),
               0.7 / sqrt(0.01 + 0.005), 1e-6);
    mw_adjustment_widen_row(adjustment, 1, INFINITY);
    check_near(mw_adjustment_row_residual(adjustment, 1, &distance), 0, 0);
    check_near(distance, 0, 0);
    mw_adjustment_widen_row(adjustment, 1, 1);
    /* nothing else says anything of the second unknown */
    check_near(mw_adjustment_prior_residual(adjustment, 1), 0, 0);
    mw_adjustment_widen_prior(adjustment, 0, INFINITY);
    check_ok(mw_adjustment_solve(adjustment));
    check_near(mw_adjustment_estimates(adjustment)[0], 3.1, 1e-9);
    check_near(mw_adjustment_prior_residual(adjustment, 0), 0, 0);
    check_part(mw_adjustment_variance(adjustment, &c, z), 0.005, 1e-9);
    check_part(mw_adjustment_chi_squared(adjustment), 2, 1e-6);
    mw_adjustment_free(adjustment);
}

/* -- Functions that are not linear ---------------------------------------- */

static double exponential(const double *x, const void *params)
{
    (void)params;
    return exp(x[0]);
}

/* up to ln 2, no further */
static double rising(const double *x, const void *params)
{
    (void)params;
    return x[0] <= log(2) ? exp(x[0]) : (double)NAN;
}

static double falling(const double *x, const void *params)
{
    (void)params;
    return x[0] >= log(2) ? exp(x[0]) : (double)NAN;
}

static void a_curve(void **state)
{
    (void)state;
    const size_t first = 0;
    const struct mw_unknown unknown = {2.385, 10, 0};
    const struct mw_row row = {exponential, NULL, 23.85, 1e-3, 1, &first};
    double slope;
    struct mw_adjustment *adjustment = solved(&unknown, 1, &row, 1);
    check_near(mw_adjustment_estimates(adjustment)[0], log(23.85), 1e-7);
    mw_adjustment_gradient(adjustment, exponential, NULL, 1, &first, &slope);
    check_part(slope, 23.85, 1e-6);
    mw_adjustment_gradient(adjustment, rising, NULL, 1, &first, &slope);
    assert_true(isnan(slope));
    mw_adjustment_free(adjustment);
}

/* at the end of what a function reaches the other side alone gives a slope */
static void a_curve_that_ends(void **state)
{
    (void)state;
    const size_t first = 0;
    const struct mw_unknown unknown = {log(2), 0.01, 0};
    double slope;
    struct mw_adjustment *adjustment = solved(&unknown, 1, NULL, 0);
    mw_adjustment_gradient(adjustment, rising, NULL, 1, &first, &slope);
    check_part(slope, 2, 1e-5);
    mw_adjustment_gradient(adjustment, falling, NULL, 1, &first, &slope);
    check_part(slope, 2, 1e-5);
    mw_adjustment_free(adjustment);
}

/* no value at any other place */
static double one_point(const double *x, const void *params)
{
    (void)params;
    return x[0] == 0.5 ? 1.385 : (double)NAN;
}

/* two minima, and no way to settle: rounds end */
static double wave(const double *x, const void *params)
{
    (void)params;
    return sin(1e3 * x[0]);
}

static void what_cannot_be_solved(void **state)
{
    (void)state;
    const size_t first = 0, both[] = {0, 1};
    const struct mw_unknown unknown = {0.5, 1, 0};
    const struct mw_unknown two[] = {{0.5, 1, 1}, {0.5, 1, 2}};
    const struct mw_unknown torn[] = {{0, 1, 1}, {0, 1, 0}, {0, 1, 1}};
    const struct linear linear = {2, {0, 1}, {1, 1}};
    struct mw_row row = {exponential, NULL, 1.385, 0.1, 1, &first};
    struct mw_unknown large[MW_BLOCK_MAX + 1];
    struct mw_adjustment *adjustment;
    for (size_t i = 0; i <= MW_BLOCK_MAX; i++) {
        large[i] = (struct mw_unknown){0, 1, 1};
    }
    static struct mw_unknown many[MW_SHARED_MAX + 1];
    assert_int_equal(
        mw_adjustment_make(many, MW_SHARED_MAX + 1, NULL, 0, &adjustment),
        MW_ERR_BUDGET);
    static const struct mw_unknown bad[] = {
        {NAN, 1, 0}, {0, -1, 0}, {0, NAN, 0}, {0, INFINITY, 0}};
    for (size_t i = 0; i < 4; i++) {
        assert_int_equal(mw_adjustment_make(&bad[i], 1, NULL, 0, &adjustment),
                         MW_ERR_UNCERTAINTY);
        assert_null(adjustment);
    }
    static const double bad_s[] = {0, -1, NAN, INFINITY};
    for (size_t i = 0; i < 4; i++) {
        row.s = bad_s[i];
        assert_int_equal(mw_adjustment_make(&unknown, 1, &row, 1, &adjustment),
                         MW_ERR_UNCERTAINTY);
    }
    row.s = 0.1;
    row.observed = NAN;
    assert_int_equal(mw_adjustment_make(&unknown, 1, &row, 1, &adjustment),
                     MW_ERR_UNCERTAINTY);
    const struct mw_row two_rows[] = {row, row}; /* the first is bad */
    assert_int_equal(mw_adjustment_make(&unknown, 1, two_rows, 2, &adjustment),
                     MW_ERR_UNCERTAINTY);
    struct mw_row joins = row_of(&linear, 1, 0.1);
    joins.unknowns = both;
    assert_int_equal(mw_adjustment_make(two, 2, &joins, 1, &adjustment),
                     MW_ERR_BUDGET);
    assert_int_equal(mw_adjustment_make(torn, 3, NULL, 0, &adjustment),
                     MW_ERR_BUDGET);
    assert_int_equal(
        mw_adjustment_make(large, MW_BLOCK_MAX + 1, NULL, 0, &adjustment),
        MW_ERR_BUDGET);
    row = (struct mw_row){one_point, NULL, 1.385, 0.1, 1, &first};
    check_ok(mw_adjustment_make(&unknown, 1, &row, 1, &adjustment));
    assert_int_equal(mw_adjustment_solve(adjustment), MW_ERR_VISCOSITY);
    mw_adjustment_free(adjustment);
    row.value = wave;
    check_ok(mw_adjustment_make(&unknown, 1, &row, 1, &adjustment));
    check_ok(mw_adjustment_solve(adjustment));
    assert_true(isfinite(mw_adjustment_estimates(adjustment)[0]));
    /* without its prior nothing is known of it */
    row.value = linear_value;
    const struct linear nothing = {1, {0}, {0}};
    row.params = &nothing;
    mw_adjustment_widen_prior(adjustment, 0, INFINITY);
    assert_int_equal(mw_adjustment_solve(adjustment), MW_ERR_UNCERTAINTY);
    mw_adjustment_free(adjustment);
    mw_adjustment_free(NULL);
}

/* a block that nothing determines */
static void a_block_without_a_prior(void **state)
{
    (void)state;
    const struct mw_unknown unknowns[] = {{0.5, 1, 3}, {0.2, 1, 4}, {1, 1, 0}};
    const size_t second = 1;
    const double slope = 2;
    const struct mw_gradient c = {1, &second, &slope};
    struct mw_adjustment *alone = solved(unknowns, 2, NULL, 0);
    check_part(mw_adjustment_form(alone, &c), 4, 1e-12); /* no block 0 */
    mw_adjustment_free(alone);
    /* two unknowns that one row does not tell apart */
    const struct mw_unknown two[] = {{0.5, 1, 3}, {0.2, 1, 3}, {0.2, 1, 3}};
    alone = solved(two, 3, NULL, 0);
    for (size_t i = 0; i < 3; i++) {
        mw_adjustment_widen_prior(alone, i, INFINITY);
    }
    assert_int_equal(mw_adjustment_solve(alone), MW_ERR_UNCERTAINTY);
    mw_adjustment_free(alone);
    /* and a shared one that stands in the same row */
    const struct mw_unknown joined[] = {{0.5, 1, 3}, {0.2, 1, 3}, {1, 1, 0}};
    const struct linear sum = {3, {0, 1, 2}, {1, 1, 1}};
    const struct mw_row row = row_of(&sum, 2.385, 0.5);
    alone = solved(joined, 3, &row, 1);
    mw_adjustment_widen_prior(alone, 0, INFINITY);
    mw_adjustment_widen_prior(alone, 1, INFINITY);
    assert_int_equal(mw_adjustment_solve(alone), MW_ERR_UNCERTAINTY);
    mw_adjustment_free(alone);
    struct mw_adjustment *adjustment = solved(unknowns, 3, NULL, 0);
    mw_adjustment_widen_prior(adjustment, 0, INFINITY);
    assert_int_equal(mw_adjustment_solve(adjustment), MW_ERR_UNCERTAINTY);
    mw_adjustment_free(adjustment);
}

static void without_memory(void **state)
{
    (void)state;
    const size_t first = 0;
    const struct mw_unknown unknown = {0.5, 1, 1};
    const struct mw_row row = {exponential, NULL, 1.385, 0.1, 1, &first};
    struct mw_adjustment *adjustment;
    int call = 1;
    for (;; call++) {
        failing_calloc = call;
        enum mw_status status =
            mw_adjustment_make(&unknown, 1, &row, 1, &adjustment);
        if (status == MW_OK) {
            break;
        }
        assert_int_equal(status, MW_ERR_MEMORY);
        assert_null(adjustment);
    }
    failing_calloc = 0;
    assert_int_equal(call, 12);
    mw_adjustment_free(adjustment);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_straight_line),
        cmocka_unit_test(two_cells_and_one_voltmeter),
        cmocka_unit_test(blocks_are_only_a_short_cut),
        cmocka_unit_test(variances_are_those_of_the_truth),
        cmocka_unit_test(parts_add_up),
        cmocka_unit_test(one_more_reading),
        cmocka_unit_test(residuals_and_what_is_set_aside),
        cmocka_unit_test(a_curve),
        cmocka_unit_test(a_curve_that_ends),
        cmocka_unit_test(what_cannot_be_solved),
        cmocka_unit_test(a_block_without_a_prior),
        cmocka_unit_test(without_memory),
    };
    return cmocka_run_group_tests_name("adjustment", tests, NULL, NULL);
}
