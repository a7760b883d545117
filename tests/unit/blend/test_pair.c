/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The proof that ln v rises with the share is checked against a dense scan of
 * the blend itself.
 */
#include <stdbool.h>

#include "blend/pair.h"
#include "check.h"
#include "fluid/walther.h"
#include "rule_blend.h"

#define T 25.0

/* two oils with lines, and the method of mixing */
struct sample {
    struct mw_line lines[2];
    double v[2];
    enum mw_rule rule;
    double excess;
};

/* oils of v1 and v1 r at 25 C that thin to v/thin1 and v/thin2 at 97.3 C */
static struct sample sample_of(double v1, double r, double thin1, double thin2)
{
    struct sample sample = {.v = {v1, v1 * r}};
    const double thins[2] = {thin1, thin2};
    for (size_t i = 0; i < 2; i++) {
        const struct mw_point p = {sample.v[i], T};
        const struct mw_point q = {sample.v[i] / thins[i], 97.3};
        check_ok(mw_line_through(&p, &q, &sample.lines[i]));
        check_ok(mw_line_at(&sample.lines[i], T, &sample.v[i]));
    }
    return sample;
}

static double ln_blend(const struct sample *sample, double f)
{
    const double shares[2] = {1 - f, f};
    double blend, x;
    check_ok(mw_chart_x(T, &x));
    check_ok(rule_blend(sample->rule, sample->v, sample->lines, shares, 2, x,
                        sample->excess, &blend));
    return log(blend);
}

/* the least rise of ln v with the share, relative to the mean rise; negative
 * where the blend is not monotonic */
static double least_rise(const struct sample *sample)
{
    enum { STEPS = 2000 };
    double mean = (ln_blend(sample, 1) - ln_blend(sample, 0)) / STEPS;
    double last = ln_blend(sample, 0), least = INFINITY;
    for (int i = 1; i <= STEPS; i++) {
        double here = ln_blend(sample, (double)i / STEPS);
        least = fmin(least, (here - last) / mean);
        last = here;
    }
    return least;
}

static enum mw_status solve_for(const struct sample *sample, double target,
                                double *share)
{
    double x;
    check_ok(mw_chart_x(T, &x));
    struct mw_pair pair =
        mw_pair_of(sample->lines, sample->v, x, sample->rule, sample->excess);
    return mw_pair_share(&pair, target, share);
}

static enum mw_status solve(const struct sample *sample, double *share)
{
    return solve_for(sample, sqrt(sample->v[0] * sample->v[1]), share);
}

/* from one oil to the other; next to an oil the share is that of the oil */
static void check_shares(const struct sample *sample)
{
    double share;
    for (size_t i = 0; i < 2; i++) {
        check_ok(solve_for(sample, sample->v[i], &share));
        check_near(share, (double)i, 0);
    }
    for (double part = 0.002385; part < 1; part += 0.0997) {
        double ln_target =
            log(sample->v[0]) + part * log(sample->v[1] / sample->v[0]);
        check_ok(solve_for(sample, exp(ln_target), &share));
        check_near(ln_blend(sample, share), ln_target, 1e-10);
    }
}

/* the proof must agree with the scan; returns whether the sample was
 * accepted */
static bool check_proof(const struct sample *sample)
{
    double share = 2.385;
    double rise = least_rise(sample);
    enum mw_status status = solve(sample, &share);
    if (status == MW_OK) {
        assert_true(rise > -1e-9);
        check_near(ln_blend(sample, share),
                   log(sample->v[0] * sample->v[1]) / 2, 1e-10);
        check_shares(sample);
    } else {
        assert_int_equal(status, MW_ERR_EXCESS);
        assert_true(isnan(share));
        assert_true(rise < 0.05);
    }
    return status == MW_OK;
}

static void the_proof_agrees_with_a_scan(void **state)
{
    int accepted = 0, refused = 0;
    (void)state;
    for (double v1 = 2.385; v1 < 1e5; v1 *= 11.3) {
        for (double r = 1.05; r <= 1000 && v1 * r < 1e6; r *= 2.2) {
            for (double k = -0.8; k <= 0.81; k += 0.1) {
                for (int rule = MW_RULE_ASTM; rule <= MW_RULE_WRIGHT; rule++) {
                    struct sample sample = sample_of(v1, r, 1.5, 1.9);
                    sample.rule = (enum mw_rule)rule;
                    sample.excess = k;
                    bool good = check_proof(&sample);
                    accepted += good;
                    refused += !good;
                }
            }
        }
    }
    assert_in_range(accepted, 100, 100000);
    assert_in_range(refused, 100, 100000);
}

/* with the thicker oil first the result must be the same */
static void the_proof_works_both_ways_round(void **state)
{
    (void)state;
    for (double k = -0.8; k <= 0.81; k += 0.05) {
        struct sample sample = sample_of(238500, 1 / 238.5, 3.1, 2.3);
        sample.excess = k;
        struct sample turned = sample_of(1000, 238.5, 2.3, 3.1);
        turned.excess = k;
        assert_int_equal(check_proof(&sample), check_proof(&turned));
    }
}

/* Wright's share as a function of W has a pole near the oils where one thins
 * far more */
static void oils_of_other_slopes_have_shares(void **state)
{
    const double thins[] = {1.5, 2.385, 7.1};
    (void)state;
    for (size_t i = 0; i < 9; i++) {
        for (double r = 1 / 238.5; r < 500; r *= 1.7) {
            struct sample sample =
                sample_of(385, r, thins[i / 3], thins[i % 3]);
            sample.rule = MW_RULE_WRIGHT;
            sample.excess = i % 2 ? 0.2 : -0.03;
            check_proof(&sample);
        }
    }
}

static void a_pair_that_turns_round_is_refused(void **state)
{
    double share;
    (void)state;
    struct sample sample = sample_of(238.5, 900, 2.3, 2.3);
    sample.excess = 0.3;
    assert_true(least_rise(&sample) < -0.1);
    check_fails(solve(&sample, &share), MW_ERR_EXCESS, share);
    sample.rule = MW_RULE_WRIGHT;
    sample.excess = -0.9;
    assert_true(least_rise(&sample) < -0.1);
    check_fails(solve(&sample, &share), MW_ERR_EXCESS, share);
    sample.excess = NAN;
    check_fails(solve(&sample, &share), MW_ERR_EXCESS, share);
}

static void a_target_outside_is_refused(void **state)
{
    struct sample sample = sample_of(238.5, 2.385, 2.3, 2.3);
    const double bad[] = {238, 570, NAN, 0, -1};
    double x, share;
    (void)state;
    check_ok(mw_chart_x(T, &x));
    struct mw_pair pair =
        mw_pair_of(sample.lines, sample.v, x, MW_RULE_ASTM, 0.2);
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        check_fails(mw_pair_share(&pair, bad[i], &share), MW_ERR_TARGET, share);
    }
}

/* oils so close that rounding of W is a large part of their distance; within
 * the last digits there is no share, and a failure is returned */
static bool check_alike(double v, double apart, enum mw_rule rule)
{
    struct sample sample = sample_of(v, 1 + apart, 2.3, 2.4);
    const double *ends = sample.v;
    double share = NAN;
    sample.rule = rule;
    sample.excess = 0.2;
    for (double part = 0.085; part < 1; part += 0.1) {
        double target = ends[0] + part * (ends[1] - ends[0]);
        enum mw_status status = solve_for(&sample, target, &share);
        if (status == MW_OK) {
            check_near(ln_blend(&sample, share), log(target), 1e-10);
        } else {
            assert_true(status == MW_ERR_TARGET || status == MW_ERR_EXCESS);
            assert_true(apart < 1e-11 && isnan(share));
        }
    }
    return isfinite(share);
}

static void oils_nearly_alike(void **state)
{
    size_t solved = 0, all = 0;
    (void)state;
    for (double apart = 1e-6; apart > 2e-15; apart /= 1.7) {
        for (double v = 0.612; v < 1e7; v *= 1.385) {
            solved += check_alike(v, apart, MW_RULE_ASTM);
            solved += check_alike(v, apart, MW_RULE_WRIGHT);
            all += 2;
        }
    }
    assert_true(solved > all / 2 && solved < all);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_proof_agrees_with_a_scan),
        cmocka_unit_test(the_proof_works_both_ways_round),
        cmocka_unit_test(oils_of_other_slopes_have_shares),
        cmocka_unit_test(a_pair_that_turns_round_is_refused),
        cmocka_unit_test(a_target_outside_is_refused),
        cmocka_unit_test(oils_nearly_alike),
    };
    return cmocka_run_group_tests_name("pair", tests, NULL, NULL);
}
