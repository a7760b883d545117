/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include <gsl/gsl_rng.h>

#include "blend/mix.h"
#include "check.h"

enum { OILS_MOST = 6 };

static struct mw_oil silicone(double v)
{
    const struct mw_point rating = {v, 25};
    struct mw_oil oil;
    check_ok(mw_oil_make(MW_SILICONE, &rating, 1, NAN, &oil));
    return oil;
}

static struct mw_oil petroleum(double v40, double v100)
{
    const struct mw_point points[] = {{v40, 40}, {v100, 100}};
    struct mw_oil oil;
    check_ok(mw_oil_make(MW_MINERAL, points, 2, NAN, &oil));
    return oil;
}

static const struct mw_mix_part open_part = {MW_AMOUNT_OPEN, NAN, NAN};

static struct mw_mix_part ml(double amount)
{
    return (struct mw_mix_part){MW_AMOUNT_ML, amount, NAN};
}

static struct mw_mix_part share(double amount)
{
    return (struct mw_mix_part){MW_AMOUNT_SHARE, amount, NAN};
}

static struct mw_mix_job job_of(const struct mw_oil *oils,
                                const struct mw_mix_part *parts, size_t count,
                                double target)
{
    return (struct mw_mix_job){.count = count,
                               .oils = oils,
                               .parts = parts,
                               .temperature = 25,
                               .target = target,
                               .method = {MW_RULE_ASTM, MW_SILICONE_EXCESS},
                               .batch_ml = NAN,
                               .batch_g = NAN};
}

/* the viscosity of volumes, by the mixture itself */
static double blend(const struct mw_mix_job *job, const double volumes[])
{
    double shares[MW_MIX_OILS_MAX], total = 0, v;
    for (size_t i = 0; i < job->count; i++) {
        total += volumes[i];
    }
    for (size_t i = 0; i < job->count; i++) {
        shares[i] = volumes[i] / total;
    }
    check_ok(mw_mixture(job->oils, shares, job->count, job->temperature,
                        &job->method, &v, NULL));
    return v;
}

/* -- One open amount ---------------------------------------------------- */

static void a_third_oil_is_added(void **state)
{
    (void)state;
    const struct mw_oil oils[] = {silicone(300), silicone(400), silicone(500)};
    const struct mw_mix_part parts[] = {ml(5), ml(5), open_part};
    const struct mw_mix_job job = job_of(oils, parts, 3, 420);
    struct mw_mix mix;
    check_ok(mw_mix_solve(&job, &mix));
    check_near(mix.volumes[2], 10.448, 5e-4); /* regression, K = 0.20 */
    check_part(mix.viscosity, 420, 1e-12);
    check_near(mix.volumes[0], 5, 0);
    check_part(mix.total_ml, 10 + mix.volumes[2], 1e-14);
    check_part(mix.masses[2], mix.volumes[2] * mix.states[2].density, 1e-15);
    assert_int_equal(mix.open[0], 2);
    assert_int_equal(mix.open[1], 3);
    assert_true(isnan(mix.other_ml));
    assert_true(mix.plain_viscosity < mix.viscosity);
}

/* the amount by bisection of the first sign change on a fine grid */
static double bisected(const struct mw_mix_job *job, double volumes[],
                       size_t open)
{
    double known = 0, low = 0, high = NAN, first;
    volumes[open] = 0;
    for (size_t i = 0; i < job->count; i++) {
        known += volumes[i];
    }
    first = blend(job, volumes) - job->target;
    for (int i = 1; i < 400 && isnan(high); i++) {
        double f = i / 400.0;
        volumes[open] = known * f / (1 - f);
        if ((blend(job, volumes) - job->target) * first <= 0) {
            high = f;
        } else {
            low = f;
        }
    }
    if (isnan(high)) {
        high = 1 - 1e-9;
    }
    for (int i = 0; i < 60; i++) {
        double f = (low + high) / 2;
        volumes[open] = known * f / (1 - f);
        if ((blend(job, volumes) - job->target) * first <= 0) {
            high = f;
        } else {
            low = f;
        }
    }
    return known * low / (1 - low);
}

static void any_number_of_oils_is_solved_as_by_bisection(void **state)
{
    (void)state;
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    for (int trial = 0; trial < 3000; trial++) {
        struct mw_oil oils[OILS_MOST];
        struct mw_mix_part parts[OILS_MOST];
        double volumes[OILS_MOST];
        size_t count = 2 + gsl_rng_uniform_int(rng, OILS_MOST - 1);
        size_t open = gsl_rng_uniform_int(rng, count);
        for (size_t i = 0; i < count; i++) {
            oils[i] = silicone(100 * exp(3 * gsl_rng_uniform(rng)));
            volumes[i] = 0.1 + 10 * gsl_rng_uniform(rng);
            parts[i] = i == open ? open_part : ml(volumes[i]);
        }
        struct mw_mix_job job = job_of(oils, parts, count, NAN);
        job.target = blend(&job, volumes);
        struct mw_mix mix;
        check_ok(mw_mix_solve(&job, &mix));
        volumes[open] = mix.volumes[open];
        check_part(blend(&job, volumes), job.target, 1e-12);
        double other = bisected(&job, volumes, open);
        /* as sure as the viscosity is: flat places leave more open */
        assert_true(mix.volumes[open] <= other * (1 + 1e-7) + 1e-9);
        volumes[open] = other;
        check_part(blend(&job, volumes), job.target, 1e-9);
    }
    gsl_rng_free(rng);
}

/* an oil as thick as the mix it is added to: between them it goes up or down,
 * and back again */
static void two_amounts_may_answer(void **state)
{
    (void)state;
    struct mw_oil oils[] = {silicone(100), silicone(10000), silicone(1000)};
    const struct mw_mix_part parts[] = {ml(5), ml(5), open_part};
    struct mw_mix_job job = job_of(oils, parts, 3, NAN);
    double volumes[] = {5, 5, 0};
    oils[2] = silicone(blend(&job, volumes));
    volumes[2] = 1.37;
    job.target = blend(&job, volumes);
    struct mw_mix mix;
    check_ok(mw_mix_solve(&job, &mix));
    check_part(mix.volumes[2], 1.37, 1e-9);
    assert_true(mix.other_ml > mix.volumes[2]);
    volumes[2] = mix.other_ml;
    check_part(blend(&job, volumes), job.target, 1e-12);
    check_part(mix.other_share, mix.other_ml / (10 + mix.other_ml), 1e-12);
}

/* a second place where only the open oil alone is the target is no amount */
static void the_oil_alone_is_no_second_amount(void **state)
{
    (void)state;
    int met = 0;
    for (int sign = -1; sign <= 1; sign += 2) {
        struct mw_oil oils[] = {silicone(100), silicone(10000), silicone(1000)};
        const struct mw_mix_part parts[] = {ml(5), ml(5), open_part};
        struct mw_mix_job job = job_of(oils, parts, 3, NAN);
        const double volumes[] = {5, 5, 0};
        job.target = blend(&job, volumes) * (1 + sign * 1e-3);
        oils[2] = silicone(job.target);
        struct mw_mix mix;
        if (mw_mix_solve(&job, &mix) == MW_OK) {
            met++;
            assert_true(isnan(mix.other_ml));
            check_part(mix.viscosity, job.target, 1e-12);
        }
    }
    assert_int_equal(met, 1);
}

/* K = 3, far above that of any oil: over the thicker oil and back */
static void two_shares_may_answer(void **state)
{
    (void)state;
    const struct mw_oil oils[] = {silicone(238.5), silicone(954)};
    const struct mw_mix_part parts[] = {open_part, open_part};
    struct mw_mix_job job = job_of(oils, parts, 2, 1000);
    struct mw_mix mix;
    job.method.excess = 3;
    check_ok(mw_mix_solve(&job, &mix));
    assert_true(mix.other_share > mix.shares[1]);
    const double shares[] = {1 - mix.other_share, mix.other_share};
    check_part(blend(&job, shares), 1000, 1e-12);
}

static void small_whole_numbers(void **state)
{
    (void)state;
    const struct mw_oil oils[] = {silicone(350), silicone(500)};
    const double amounts[][2] = {{1000, 1}, {1, 1000}, {7.01, 4}};
    for (size_t i = 0; i < 3; i++) {
        const struct mw_mix_part parts[] = {
            {MW_AMOUNT_PARTS, amounts[i][0], NAN},
            {MW_AMOUNT_PARTS, amounts[i][1], NAN}};
        const struct mw_mix_job job = job_of(oils, parts, 2, NAN);
        struct mw_mix mix;
        check_ok(mw_mix_solve(&job, &mix));
        assert_true(isnan(mix.total_ml));
        assert_int_equal(mix.ratio[0], i == 2 ? 7 : 0);
        assert_int_equal(mix.ratio[1], i == 2 ? 4 : 0);
        assert_int_equal(isnan(mix.ratio_viscosity), i < 2);
    }
}

static void parts_are_solved_for_too(void **state)
{
    (void)state;
    const struct mw_oil oils[] = {silicone(300), silicone(400), silicone(500)};
    const struct mw_mix_part volumes[] = {ml(5), ml(5), open_part};
    const struct mw_mix_part parts[] = {
        {MW_AMOUNT_PARTS, 1, NAN}, {MW_AMOUNT_PARTS, 1, NAN}, open_part};
    const struct mw_mix_job by_volume = job_of(oils, volumes, 3, 420);
    struct mw_mix_job job = job_of(oils, parts, 3, 420);
    struct mw_mix mix, other;
    check_ok(mw_mix_solve(&by_volume, &other));
    check_ok(mw_mix_solve(&job, &mix));
    check_part(mix.shares[2], other.shares[2], 1e-14);
    assert_true(isnan(mix.total_ml) && isnan(mix.volumes[0]));
    job.batch_ml = 23.85;
    check_ok(mw_mix_solve(&job, &mix));
    check_part(mix.volumes[0] + mix.volumes[1] + mix.volumes[2], 23.85, 1e-14);
}

/* -- Fixed shares and what is in the cup -------------------------------- */

static void a_fixed_share_stays(void **state)
{
    (void)state;
    const struct mw_oil oils[] = {silicone(300), silicone(400), silicone(500)};
    const struct mw_mix_part parts[] = {share(0.2), open_part, open_part};
    struct mw_mix_job job = job_of(oils, parts, 3, 420);
    struct mw_mix mix;
    check_ok(mw_mix_solve(&job, &mix));
    check_near(mix.shares[0], 0.2, 0);
    check_part(mix.shares[1] + mix.shares[2], 0.8, 1e-15);
    check_part(blend(&job, mix.shares), 420, 1e-12);
    assert_true(isnan(mix.total_ml));
    assert_int_equal(mix.open[0], 1);
    assert_int_equal(mix.open[1], 2);
}

static void a_share_beside_volumes(void **state)
{
    (void)state;
    const struct mw_oil oils[] = {silicone(300), silicone(400), silicone(500)};
    const struct mw_mix_part made[] = {share(0.2), ml(4), ml(6)};
    const struct mw_mix_part parts[] = {share(0.2), ml(4), open_part};
    struct mw_mix_job job = job_of(oils, made, 3, NAN);
    struct mw_mix mix;
    check_ok(mw_mix_solve(&job, &mix));
    check_part(mix.total_ml, 12.5, 1e-15);
    check_part(mix.volumes[0], 2.5, 1e-15);
    job = job_of(oils, parts, 3, mix.viscosity);
    check_ok(mw_mix_solve(&job, &mix));
    check_part(mix.volumes[2], 6, 1e-9);
    check_part(mix.total_ml, 12.5, 1e-9);
}

/* the residue is an oil like the others: 3 ml of it in a batch of 15 */
static void what_is_in_the_cup_counts(void **state)
{
    (void)state;
    const struct mw_oil oils[] = {silicone(350), silicone(500), silicone(300)};
    const struct mw_mix_part parts[] = {open_part, open_part, ml(3)};
    struct mw_mix_job job = job_of(oils, parts, 3, 400);
    struct mw_mix mix;
    assert_int_equal(mw_mix_solve(&job, &mix), MW_ERR_UNKNOWNS);
    job.batch_ml = 15;
    check_ok(mw_mix_solve(&job, &mix));
    check_part(mix.shares[2], 0.2, 1e-14);
    check_part(blend(&job, mix.volumes), 400, 1e-12);
    job.batch_ml = NAN;
    job.batch_g = 15 * 0.97;
    check_ok(mw_mix_solve(&job, &mix));
    check_part(mix.masses[0] + mix.masses[1] + mix.masses[2], 15 * 0.97, 1e-12);
    check_part(mix.volumes[2], 3, 1e-12);
    check_part(blend(&job, mix.volumes), 400, 1e-12);
    job.target = 900;
    assert_int_equal(mw_mix_solve(&job, &mix), MW_ERR_TARGET);
}

/* -- Two oils ----------------------------------------------------------- */

static void two_oils_agree_with_the_pair(void **state)
{
    (void)state;
    const struct mw_oil oils[] = {petroleum(30, 5), petroleum(490, 32)};
    const struct mw_mix_part parts[] = {open_part, open_part};
    struct mw_mix_job job = job_of(oils, parts, 2, 100);
    struct mw_mix mix;
    double expected;
    job.temperature = 40;
    check_ok(mw_method_default(oils, 2, &job.method));
    check_ok(mw_mixture_share(oils, 100, 40, &job.method, &expected, NULL));
    check_ok(mw_mix_solve(&job, &mix));
    check_part(mix.shares[1], expected, 1e-12);
    check_near(mix.plain_viscosity, mix.viscosity, 0);
    assert_true(mix.spread > 0);
}

static void what_was_made(void **state)
{
    (void)state;
    const struct mw_oil oils[] = {silicone(350), silicone(500)};
    struct mw_mix_part parts[] = {{MW_AMOUNT_G, 9.7, NAN},
                                  {MW_AMOUNT_DROPS, 100, 0.0213}};
    const struct mw_mix_job job = job_of(oils, parts, 2, NAN);
    struct mw_mix mix;
    check_ok(mw_mix_solve(&job, &mix));
    check_part(mix.volumes[0], 9.7 / mix.states[0].density, 1e-15);
    check_part(mix.volumes[1], 2.13, 1e-15);
    check_part(mix.viscosity, blend(&job, mix.volumes), 1e-14);
    parts[1].drop_ml = NAN;
    assert_int_equal(mw_mix_solve(&job, &mix), MW_ERR_DROP);
    assert_int_equal(mix.fault, 1);
    assert_true(isnan(mix.viscosity) && isnan(mix.shares[0]));
}

/* -- What is no job ----------------------------------------------------- */

static void fails(const struct mw_mix_part parts[3], double target,
                  enum mw_status expected)
{
    const struct mw_oil oils[] = {silicone(300), silicone(400), silicone(500)};
    const struct mw_mix_job job = job_of(oils, parts, 3, target);
    struct mw_mix mix;
    assert_int_equal(mw_mix_solve(&job, &mix), expected);
    assert_true(isnan(mix.viscosity) && isnan(mix.total_ml));
}

static void jobs_without_an_answer(void **state)
{
    (void)state;
    const struct mw_mix_part part = {MW_AMOUNT_PARTS, 2, NAN};
    const struct mw_mix_part parts[][3] = {
        {open_part, open_part, open_part}, {ml(5), ml(5), ml(5)},
        {ml(5), open_part, open_part},     {ml(5), part, open_part},
        {part, open_part, open_part},      {share(0.5), share(0.5), open_part},
        {share(0.5), share(0.6), ml(3)},   {ml(-1), ml(5), open_part},
        {share(0.5), share(0.5), ml(5)},   {share(0.6), ml(5), open_part},
    };
    fails(parts[0], 420, MW_ERR_UNKNOWNS);
    fails(parts[1], 420, MW_ERR_UNKNOWNS);
    fails(parts[2], 420, MW_ERR_UNKNOWNS);
    fails(parts[2], NAN, MW_ERR_UNKNOWNS);
    fails(parts[3], 420, MW_ERR_AMOUNT);
    fails(parts[4], 420, MW_ERR_UNKNOWNS);
    fails(parts[5], 420, MW_ERR_AMOUNT);
    fails(parts[6], NAN, MW_ERR_AMOUNT);
    fails(parts[7], 420, MW_ERR_AMOUNT);
    fails(parts[8], NAN, MW_ERR_AMOUNT);
    fails(parts[9], 501, MW_ERR_TARGET);
    fails(parts[9], -1, MW_ERR_VISCOSITY);
    fails((const struct mw_mix_part[]){share(0.2), open_part, open_part}, 900,
          MW_ERR_TARGET);
    fails((const struct mw_mix_part[]){ml(INFINITY), ml(5), open_part}, 420,
          MW_ERR_AMOUNT);
    fails((const struct mw_mix_part[]){{MW_AMOUNT_DROPS, -3, 0.02},
                                       ml(5),
                                       open_part},
          420, MW_ERR_AMOUNT);
    fails((const struct mw_mix_part[]){share(0.3), share(0.2), open_part}, 420,
          MW_ERR_UNKNOWNS);
    fails((const struct mw_mix_part[]){share(0.3), share(0.2), share(0.4)}, NAN,
          MW_ERR_AMOUNT);
    fails((const struct mw_mix_part[]){share(1.2), ml(5), open_part}, 420,
          MW_ERR_AMOUNT);
    fails((const struct mw_mix_part[]){share(1.2), open_part, open_part}, 420,
          MW_ERR_AMOUNT);
}

static void no_amount_is_enough(void **state)
{
    (void)state;
    const struct mw_mix_part parts[] = {ml(5), ml(5), open_part};
    fails(parts, 500, MW_ERR_TARGET);
    fails(parts, 520, MW_ERR_TARGET);
    fails(parts, 300, MW_ERR_TARGET);
}

static void oils_that_make_no_mix(void **state)
{
    (void)state;
    const struct mw_oil alike[] = {silicone(400), silicone(400)};
    const struct mw_oil families[] = {silicone(400), petroleum(46, 6.9)};
    const struct mw_oil far[] = {silicone(5), silicone(50000)};
    const struct mw_mix_part parts[] = {open_part, ml(5)};
    const struct mw_mix_part made[] = {ml(5), ml(5)};
    struct mw_mix mix;
    struct mw_mix_job job = job_of(far, made, 2, NAN);
    assert_int_equal(mw_mix_solve(&job, &mix), MW_ERR_RATIO);
    job = job_of(alike, parts, 2, 400);
    assert_int_equal(mw_mix_solve(&job, &mix), MW_ERR_EQUAL_VISCOSITY);
    job.oils = families;
    assert_int_equal(mw_mix_solve(&job, &mix), MW_ERR_FAMILY);
    job.oils = far;
    assert_int_equal(mw_mix_solve(&job, &mix), MW_ERR_RATIO);
    job.temperature = 120;
    assert_int_equal(mw_mix_solve(&job, &mix), MW_ERR_LAW_RANGE);
    assert_int_equal(mix.fault, 0);
    job.count = 0;
    assert_int_equal(mw_mix_solve(&job, &mix), MW_ERR_BUDGET);
    job.count = MW_MIX_OILS_MAX + 1;
    assert_int_equal(mw_mix_solve(&job, &mix), MW_ERR_BUDGET);
    job = job_of(alike, parts, 2, 400);
    job.batch_ml = 0;
    assert_int_equal(mw_mix_solve(&job, &mix), MW_ERR_AMOUNT);
    job.batch_ml = NAN;
    job.batch_g = -2.385;
    assert_int_equal(mw_mix_solve(&job, &mix), MW_ERR_AMOUNT);
    job.batch_g = 23.85;
    assert_int_equal(mw_mix_solve(&job, &mix), MW_ERR_UNKNOWNS);
}

/* -- Oils that are mixes ------------------------------------------------- */

static void the_rules_spread(void **state)
{
    (void)state;
    const struct mw_mix_part halves[] = {share(0.5), share(0.5)};
    const struct mw_oil ratings[] = {silicone(238.5), silicone(2385)};
    struct mw_mix_job job = job_of(ratings, halves, 2, NAN);
    struct mw_mix mix;
    check_ok(mw_mix_solve(&job, &mix));
    check_part(mix.spread, exp(0.2 / 4 * pow(log(10), 2)) - 1, 1e-12);
    const struct mw_oil lines[] = {petroleum(23.85, 5.1),
                                   petroleum(238.5, 9.1)};
    const struct mw_method rules[] = {{MW_RULE_WRIGHT, 0}, {MW_RULE_ASTM, 0}};
    double v[2];
    for (size_t i = 0; i < 2; i++) {
        job = job_of(lines, halves, 2, NAN);
        job.temperature = 40;
        job.method = rules[i];
        check_ok(mw_mix_solve(&job, &mix));
        v[i] = mix.viscosity;
    }
    check_part(mix.spread, fmax(v[0] / v[1], v[1] / v[0]) - 1, 1e-12);
}

/* a target that rounding alone parts from one of the oils is that oil */
static void the_oils_themselves(void **state)
{
    (void)state;
    const struct mw_oil oils[] = {petroleum(30, 5), petroleum(490, 32)};
    const struct mw_mix_part parts[] = {open_part, open_part};
    struct mw_mix_job job = job_of(oils, parts, 2, NAN);
    struct mw_mix mix;
    job.method = (struct mw_method){MW_RULE_WRIGHT, 0};
    for (int t = 20; t <= 100; t += 4) {
        job.temperature = t;
        for (size_t i = 0; i < 2; i++) {
            check_ok(mw_oil_viscosity(&oils[i], t, &job.target));
            check_ok(mw_mix_solve(&job, &mix));
            check_near(mix.shares[i], 1, 1e-9);
        }
    }
}

/* "half" is 200 and 20 000 in equal parts, and is mixed with 200: as three
 * oils, of which two are one, are */
static void a_mix_counts_as_what_it_is_made_of(void **state)
{
    (void)state;
    const struct mw_oil oils[] = {silicone(2000), silicone(200)};
    const struct mw_oil roots[] = {silicone(200), silicone(20000)};
    const double made[] = {0.5, 0.5, 1, 0};
    const struct mw_mix_bases bases = {2, roots, made, NULL};
    const struct mw_mix_part amounts[] = {ml(6), ml(4)};
    const struct mw_mix_part rooted[] = {ml(7), ml(3)};
    struct mw_mix_job job = job_of(oils, amounts, 2, NAN);
    struct mw_mix mix, other;
    job.bases = &bases;
    check_ok(mw_mix_solve(&job, &mix));
    const struct mw_mix_job plain = job_of(roots, rooted, 2, NAN);
    check_ok(mw_mix_solve(&plain, &other));
    check_part(mix.viscosity, other.viscosity, 1e-13);
    check_part(mix.plain_viscosity, other.plain_viscosity, 1e-13);
    check_near(mix.shares[0], 0.6, 1e-15);
    /* and back: the share of what was mixed */
    const struct mw_mix_part opens[] = {open_part, open_part};
    job.parts = opens;
    job.target = mix.viscosity;
    check_ok(mw_mix_solve(&job, &mix));
    check_near(mix.shares[0], 0.6, 1e-10);
}

/* each pair of three oils has a K of its own */
static void pairs_with_an_excess_of_their_own(void **state)
{
    (void)state;
    const struct mw_oil oils[] = {silicone(200), silicone(2000),
                                  silicone(20000)};
    const double made[] = {1, 0, 0, 0, 1, 0, 0, 0, 1};
    const double k[] = {0, 0.1, 0.2, 0.1, 0, 0.3, 0.2, 0.3, 0};
    const struct mw_mix_bases bases = {3, oils, made, k};
    const struct mw_mix_part amounts[] = {ml(2), ml(3), ml(5)};
    struct mw_mix_job job = job_of(oils, amounts, 3, NAN);
    struct mw_mix mix;
    job.bases = &bases;
    check_ok(mw_mix_solve(&job, &mix));
    double ten = pow(log(10), 2);
    double lift = (0.1 * 0.06 + 0.3 * 0.15) * ten + 0.2 * 0.10 * 4 * ten;
    check_near(log(mix.viscosity / mix.plain_viscosity), lift, 1e-12);
    /* one open oil, found again */
    const struct mw_mix_part open[] = {ml(2), open_part, ml(5)};
    job.parts = open;
    job.target = mix.viscosity;
    check_ok(mw_mix_solve(&job, &mix));
    check_part(mix.volumes[1], 3, 1e-9);
    /* with no excess at all none counts */
    job.method.excess = 0;
    job.parts = amounts;
    job.target = NAN;
    check_ok(mw_mix_solve(&job, &mix));
    check_part(mix.viscosity, mix.plain_viscosity, 0);
}

/* an excess that carries a mix out of the chart */
static void an_excess_beyond_the_chart(void **state)
{
    (void)state;
    const struct mw_oil oils[] = {silicone(1e5), silicone(1.9e7)};
    const double made[] = {1, 0, 0, 1}, k[] = {0, 3, 3, 0};
    const struct mw_mix_bases bases = {2, oils, made, k};
    const struct mw_mix_part amounts[] = {ml(2), ml(8)};
    struct mw_mix_job job = job_of(oils, amounts, 2, NAN);
    struct mw_mix mix;
    job.bases = &bases;
    assert_int_equal(mw_mix_solve(&job, &mix), MW_ERR_VISCOSITY);
    assert_true(isnan(mix.viscosity));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_third_oil_is_added),
        cmocka_unit_test(any_number_of_oils_is_solved_as_by_bisection),
        cmocka_unit_test(two_amounts_may_answer),
        cmocka_unit_test(the_oil_alone_is_no_second_amount),
        cmocka_unit_test(two_shares_may_answer),
        cmocka_unit_test(small_whole_numbers),
        cmocka_unit_test(parts_are_solved_for_too),
        cmocka_unit_test(a_fixed_share_stays),
        cmocka_unit_test(a_share_beside_volumes),
        cmocka_unit_test(what_is_in_the_cup_counts),
        cmocka_unit_test(two_oils_agree_with_the_pair),
        cmocka_unit_test(what_was_made),
        cmocka_unit_test(jobs_without_an_answer),
        cmocka_unit_test(no_amount_is_enough),
        cmocka_unit_test(oils_that_make_no_mix),
        cmocka_unit_test(the_rules_spread),
        cmocka_unit_test(the_oils_themselves),
        cmocka_unit_test(a_mix_counts_as_what_it_is_made_of),
        cmocka_unit_test(pairs_with_an_excess_of_their_own),
        cmocka_unit_test(an_excess_beyond_the_chart),
    };
    return cmocka_run_group_tests_name("mix", tests, NULL, NULL);
}
