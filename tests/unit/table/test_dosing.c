/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "check.h"
#include "table/dosing.h"

/* 0.2 ml marks in 23.85 ml: 0.1/23.85/sqrt 3 (GUM 4.3.7) */
static void half_a_mark_each_way(void **state)
{
    double u;
    (void)state;
    check_ok(mw_dose_uncertainty(0.2, 23.85, &u));
    check_part(u, 0.1 / 23.85 / sqrt(3), 1e-15);
    check_ok(mw_dose_uncertainty(0, 23.85, &u));
    check_near(u, 0, 0);
    check_fails(mw_dose_uncertainty(-0.2, 23.85, &u), MW_ERR_AMOUNT, u);
    check_fails(mw_dose_uncertainty(NAN, 23.85, &u), MW_ERR_AMOUNT, u);
    check_fails(mw_dose_uncertainty(0.2, 0, &u), MW_ERR_AMOUNT, u);
    check_fails(mw_dose_uncertainty(0.2, NAN, &u), MW_ERR_AMOUNT, u);
    check_fails(mw_dose_uncertainty(1e300, 1e-300, &u), MW_ERR_AMOUNT, u);
}

/* a dose of two draws has sqrt 2 of one; without a tool it is a part of the
 * smallest, and what is not poured has no error */
static void the_doses_of_a_mix(void **state)
{
    const struct mw_point points[2] = {{352.5, 25}, {498.5, 25}};
    static const struct mw_mix_part parts[2];
    struct mw_mix_job job = {.count = 2,
                             .parts = parts,
                             .temperature = 25,
                             .target = 420,
                             .method = {MW_RULE_ASTM, 0.2},
                             .batch_ml = 12.385,
                             .batch_g = NAN,
                             .tools = {.graduation_ml = 0.2, .capacity_ml = 5}};
    struct mw_oil oils[2];
    struct mw_mix mix;
    double doses[2];
    (void)state;
    for (size_t i = 0; i < 2; i++) {
        check_ok(mw_oil_make(MW_SILICONE, &points[i], 1, NAN, &oils[i]));
    }
    job.oils = oils;
    check_ok(mw_mix_solve(&job, &mix));
    mw_mix_doses(&mix, 2, doses);
    for (size_t i = 0; i < 2; i++) {
        assert_true(mix.volumes[i] > 5 && mix.volumes[i] < 10);
        check_part(doses[i], 0.1 / sqrt(3) / 12.385 * sqrt(2), 1e-12);
    }
    job.tools = (struct mw_tools){0};
    check_ok(mw_mix_solve(&job, &mix));
    mw_mix_doses(&mix, 2, doses);
    check_part(doses[0], 0.01 * fmin(mix.shares[0], mix.shares[1]), 1e-14);
    check_near(doses[0] - doses[1], 0, 0);
    mix.shares[0] = 0;
    mix.shares[1] = 1;
    mw_mix_doses(&mix, 2, doses);
    check_near(doses[0], 0, 0);
    check_near(doses[1], 0.01, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(half_a_mark_each_way),
        cmocka_unit_test(the_doses_of_a_mix),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
