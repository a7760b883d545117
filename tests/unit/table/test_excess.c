/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <gsl/gsl_pow_int.h>

#include "check.h"
#include "monte_carlo.h"
#include "rule_blend.h"
#include "table/excess.h"
#include "table/mix_uncertainty.h"

/* a trial mix: two oils, a share, a reading */
struct trial {
    double v[2], u[2], share; /* mm2/s at 25 C; of ln v; of the second */
    double measured, u_measured;
};

static struct mw_oil silicone(double v25)
{
    const struct mw_point rating = {v25, 25};
    struct mw_oil oil;
    check_ok(mw_oil_make(MW_SILICONE, &rating, 1, NAN, &oil));
    return oil;
}

static enum mw_status trial_mix_excess(const struct trial *trial, double t,
                                       struct mw_excess *excess)
{
    const struct mw_oil oils[2] = {silicone(trial->v[0]),
                                   silicone(trial->v[1])};
    const double shares[2] = {1 - trial->share, trial->share};
    const struct mw_trial_mix trial_mix = {
        oils, trial->u, shares, 2, t, trial->measured, trial->u_measured};
    return mw_trial_mix_excess(&trial_mix, MW_RULE_ASTM, excess);
}

static struct mw_excess excess_of(const struct trial *trial)
{
    struct mw_excess excess;
    check_ok(trial_mix_excess(trial, 25, &excess));
    return excess;
}

/* v of a mix by the standard with the excess K, without the modules under
 * test */
static double mix_of(const double v[2], double share, double k)
{
    const double shares[2] = {1 - share, share};
    double ln_ratio = log(v[1] / v[0]), plain;
    rule_blend(MW_RULE_ASTM, v, NULL, shares, 2, NAN, 0, &plain);
    return plain * exp(k * share * (1 - share) * ln_ratio * ln_ratio);
}

static double k_of(const struct trial *trial)
{
    double ln_ratio = log(trial->v[1] / trial->v[0]);
    return log(trial->measured / mix_of(trial->v, trial->share, 0)) /
           (trial->share * (1 - trial->share) * ln_ratio * ln_ratio);
}

static void a_trial_mix_by_hand(void **state)
{
    /* 100 and 1000, half and half, read as 360 to 2 %. ASTM: W(100) =
     * lg lg 100.7 = 0.30171013, W(1000) = lg lg 1000.7 = 0.47716513, so
     * W = 0.38943763 and v = 282.0928. S = 0.25 (ln 10)^2 = 1.32547472.
     * K = ln(360/282.0928)/S = 0.24386791/1.32547472 = 0.183985. */
    struct trial trial = {{100, 1000}, {0, 0}, 0.5, 360, 0.02};
    (void)state;
    struct mw_excess excess = excess_of(&trial);
    check_near(excess.value, 0.183985, 1e-6);
    /* from the reading alone: 0.02/S */
    check_near(excess.uncertainty, 0.0150889, 1e-7);
    /* by the thin oil too: d ln v/d ln v1 = f1 s/s1 - 2 K f1 f2 ln 10, s being
     * (ln 10) z (ln z)/v: s = 13.02969, s1 = 10.69420; 0.6091943 - 0.2118210 =
     * 0.3973733; x 0.03 = 0.0119212; sqrt(0.02^2 + 0.0119212^2)/S = 0.0175661
     */
    trial.u[0] = 0.03;
    excess = excess_of(&trial);
    check_near(excess.value, 0.183985, 1e-6);
    check_near(excess.uncertainty, 0.0175661, 1e-6);
}

struct drawn_trial {
    struct trial trial;
    double moved[3]; /* ln of the oils and of the reading */
};

static double drawn_k(const void *measurement)
{
    const struct drawn_trial *drawn = measurement;
    struct trial trial = drawn->trial;
    trial.v[0] *= exp(drawn->moved[0]);
    trial.v[1] *= exp(drawn->moved[1]);
    trial.measured *= exp(drawn->moved[2]);
    return k_of(&trial);
}

/* to 1 %, against draws of the oils and the reading; an oil changes S too */
static void the_uncertainty_is_the_scatter_of_trial_mixes(void **state)
{
    const struct trial trials[] = {
        {{100, 1000}, {0.0289, 0.0289}, 0.5, 0.2, 0.02},
        {{100, 1000}, {0.0289, 0.0289}, 0.8, 0.2, 0.02},
        {{100, 1000}, {0.001, 0.0289}, 0.3, 0.1, 0.01},
        {{350, 30000}, {0.0289, 0.0577}, 0.5, 0.3, 0.02},
        {{200, 400}, {0.01, 0.01}, 0.5, 0.2, 0.01}};
    (void)state;
    for (size_t i = 0; i < sizeof trials / sizeof trials[0]; i++) {
        struct drawn_trial drawn = {.trial = trials[i]};
        struct trial *trial = &drawn.trial;
        trial->measured = mix_of(trial->v, trial->share, trials[i].measured);
        const struct uncertain inputs[] = {
            {&drawn.moved[0], trial->u[0]},
            {&drawn.moved[1], trial->u[1]},
            {&drawn.moved[2], trial->u_measured}};
        struct mw_excess excess = excess_of(trial);
        check_near(excess.value, trials[i].measured, 1e-9);
        check_part(excess.uncertainty,
                   monte_carlo(drawn_k, &drawn, inputs, 3).deviation, 0.01);
    }
}

/* the pairs that determine K best: at 1000 : 1 the mix is far above the
 * standard */
static void wide_pairs_determine_the_excess(void **state)
{
    const double pairs[][2] = {{1000, 1e6}, {1e4, 1e6}, {1e4, 1e7}};
    (void)state;
    for (size_t i = 0; i < 3; i++) {
        struct trial trial = {{pairs[i][0], pairs[i][1]},
                              {0.0577, 0.0577},
                              0.5,
                              mix_of(pairs[i], 0.5, 0.2),
                              0.02};
        struct mw_excess excess = excess_of(&trial);
        check_near(excess.value, 0.2, 1e-9);
        assert_true(excess.uncertainty < 0.03);
    }
}

static void check_no_excess(const struct trial *trial, double t,
                            enum mw_status status)
{
    struct mw_excess excess;
    check_fails(trial_mix_excess(trial, t, &excess), status, excess.value);
    assert_true(isnan(excess.uncertainty));
}

static void close_pairs_are_refused(void **state)
{
    /* 350/500: u = 0.0289 sqrt(1/2) / 0.0318 = 0.64; 0.22 for oils known to
     * 1 % */
    struct trial trial = {{350, 500}, {0.0289, 0.0289}, 0.5, 421, 0.001};
    (void)state;
    check_no_excess(&trial, 25, MW_ERR_TRIAL_MIX);
    trial.u[0] = trial.u[1] = 0.01;
    assert_true(excess_of(&trial).uncertainty < 0.25);
    const double closer[] = {351, 350.001, 350 + 1e-9, 350};
    for (size_t i = 0; i < 4; i++) {
        trial.v[1] = closer[i];
        check_no_excess(&trial, 25, MW_ERR_TRIAL_MIX);
    }
    trial.v[1] = 500; /* one oil alone is no mix */
    trial.share = 1;
    check_no_excess(&trial, 25, MW_ERR_TRIAL_MIX);
}

static void trial_mixes_that_are_refused(void **state)
{
    const struct trial good = {{100, 1000}, {0.02, 0.02}, 0.5, 360, 0.02};
    const double bad[] = {-0.02, NAN, INFINITY};
    struct trial trial;
    (void)state;
    for (size_t i = 0; i < 3; i++) {
        trial = good;
        trial.u[1] = bad[i];
        check_no_excess(&trial, 25, MW_ERR_UNCERTAINTY);
        trial = good;
        trial.u_measured = bad[i];
        check_no_excess(&trial, 25, MW_ERR_UNCERTAINTY);
        trial = good;
        trial.measured = bad[i];
        check_no_excess(&trial, 25, MW_ERR_VISCOSITY);
    }
    trial = good; /* not everything can be exact */
    trial.u[0] = trial.u[1] = trial.u_measured = 0;
    check_no_excess(&trial, 25, MW_ERR_UNCERTAINTY);
    trial = good;
    trial.share = 1.1;
    check_no_excess(&trial, 25, MW_ERR_SHARES);
    trial.share = 0.5;
    trial.v[1] = 100100;
    check_no_excess(&trial, 25, MW_ERR_RATIO);
    check_no_excess(&good, 101, MW_ERR_LAW_RANGE);
}

/* at 12 C both oils and the reading have changed by one factor; the
 * uncertainty of the law is added, 0.0132724 as in test_mix_uncertainty.c */
static void a_trial_mix_in_the_cold(void **state)
{
    struct trial trial = {{100, 1000}, {0, 0}, 0.5, NAN, 0.02};
    const double factor = exp(5.892 * 13 / 285.15);
    const double cold[2] = {100 * factor, 1000 * factor};
    struct mw_excess excess;
    (void)state;
    trial.measured = mix_of(cold, 0.5, 0.2);
    check_ok(trial_mix_excess(&trial, 12, &excess));
    check_near(excess.value, 0.2, 1e-9);
    assert_true(excess.uncertainty > 0.02 / 1.32547472);
    check_part(excess.uncertainty, hypot(0.02, 0.0132724) / 1.32547472, 0.01);
}

static void a_fit_by_hand(void **state)
{
    const struct mw_excess prior = {0.2, 0.06};
    const struct mw_excess trial_mixes[] = {{0.1, 0.03}, {0.16, 0.06}};
    struct mw_excess fitted;
    (void)state;
    check_ok(mw_fit_excess(&prior, NULL, 0, &fitted));
    check_near(fitted.value, 0.2, 1e-15);
    check_near(fitted.uncertainty, 0.06, 1e-15);
    /* weights 1 : 4 : 1, hence (0.2 + 0.4 + 0.16)/6 and 0.06/sqrt 6 */
    check_ok(mw_fit_excess(&prior, trial_mixes, 2, &fitted));
    check_near(fitted.value, 0.126666667, 1e-9);
    check_near(fitted.uncertainty, 0.0244948974, 1e-10);
    /* a worthless trial mix has less than 1 % of the weight of the usual
     * prior */
    const struct mw_excess usual = {0.2, mw_usual_excess_uncertainty()};
    const struct mw_excess worthless = {1.2, MW_TRIAL_MIX_WORTHLESS};
    check_ok(mw_fit_excess(&usual, &worthless, 1, &fitted));
    check_near(fitted.value, 0.2, 0.01);
}

/* Oils of K = 0.15, with labels and readings that scatter: the fit comes
 * near it, and the trial mixes differ from it as their uncertainties say. */
static void the_fit_approaches_the_true_excess(void **state)
{
    enum { TRIAL_MIXES = 400 };
    const struct mw_excess prior = {0.2, mw_usual_excess_uncertainty()};
    struct mw_excess trial_mixes[TRIAL_MIXES], fitted;
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    double chi_squared = 0, last = prior.uncertainty;
    size_t count = 0;
    (void)state;
    gsl_rng_set(rng, 15);
    while (count < TRIAL_MIXES) {
        double thin = 100 * exp(2 * gsl_rng_uniform(rng));
        const double v[2] = {thin, thin * (1.5 + 18 * gsl_rng_uniform(rng))};
        double share = 0.2 + 0.6 * gsl_rng_uniform(rng);
        struct trial trial = {{v[0] * exp(gsl_ran_gaussian(rng, 0.02)),
                               v[1] * exp(gsl_ran_gaussian(rng, 0.01))},
                              {0.02, 0.01},
                              share,
                              mix_of(v, share, 0.15) *
                                  exp(gsl_ran_gaussian(rng, 0.03)),
                              0.03};
        if (trial_mix_excess(&trial, 25, &trial_mixes[count]) == MW_OK) {
            double off = trial_mixes[count].value - 0.15;
            chi_squared += gsl_pow_2(off / trial_mixes[count].uncertainty);
            count++;
        }
        if (count == 5 || count == 50 || count == TRIAL_MIXES) {
            check_ok(mw_fit_excess(&prior, trial_mixes, count, &fitted));
            assert_true(fitted.uncertainty <= last);
            last = fitted.uncertainty;
            check_near(fitted.value, 0.15, 3 * fitted.uncertainty);
        }
    }
    gsl_rng_free(rng);
    assert_true(last < 0.003);
    /* chi squared of n has mean n and deviation sqrt(2 n) */
    check_near(chi_squared, TRIAL_MIXES, 3 * sqrt(2.0 * TRIAL_MIXES));
}

static void fits_that_are_refused(void **state)
{
    const struct mw_excess good = {0.2, 0.06};
    const struct mw_excess bad[] = {
        {0.2, 0},         {0.2, -0.06},    {0.2, NAN},   {NAN, 0.06},
        {INFINITY, 0.06}, {0.2, INFINITY}, {0.2, 1e-200}};
    struct mw_excess fitted;
    (void)state;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        check_fails(mw_fit_excess(&good, &bad[i], 1, &fitted),
                    MW_ERR_UNCERTAINTY, fitted.value);
        assert_true(isnan(fitted.uncertainty));
        check_fails(mw_fit_excess(&bad[i], &good, 1, &fitted),
                    MW_ERR_UNCERTAINTY, fitted.value);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_trial_mix_by_hand),
        cmocka_unit_test(the_uncertainty_is_the_scatter_of_trial_mixes),
        cmocka_unit_test(wide_pairs_determine_the_excess),
        cmocka_unit_test(close_pairs_are_refused),
        cmocka_unit_test(trial_mixes_that_are_refused),
        cmocka_unit_test(a_trial_mix_in_the_cold),
        cmocka_unit_test(a_fit_by_hand),
        cmocka_unit_test(the_fit_approaches_the_true_excess),
        cmocka_unit_test(fits_that_are_refused),
    };
    return cmocka_run_group_tests_name("learn", tests, NULL, NULL);
}
