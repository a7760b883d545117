/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "ball_runs.h"
#include "bench/slope.h"
#include "check.h"
#include "fluid/silicone.h"
#include "fluid/walther.h"

static void slopes_at_the_bench(void **state)
{
    double slope, law;
    struct mw_oil oil;
    (void)state;
    check_ok(mw_bench_slope(MW_SILICONE, 18.5, &slope));
    check_ok(mw_silicone_slope(18.5, &law));
    check_near(slope, law, 0);
    /* a mineral oil changes more than twice as much, and less when warm */
    check_ok(mw_bench_slope(MW_MINERAL, 18.5, &slope));
    check_ok(mw_oil_from_index(46, 95, NAN, &oil));
    check_ok(mw_line_slope(&oil.line, 18.5, &law));
    check_near(slope, law, 0);
    assert_true(slope < -0.05 && slope > -0.08);
    check_fails(mw_bench_slope(MW_SILICONE, 100.1, &slope), MW_ERR_LAW_RANGE,
                slope);
    check_fails(mw_bench_slope(MW_MINERAL, 340.1, &slope), MW_ERR_TEMPERATURE,
                slope);
    check_fails(mw_bench_slope((enum mw_family)9, 18.5, &slope), MW_ERR_FAMILY,
                slope);
}

/* the density is that of the oil whose viscosity the ball gives */
static void the_density_fits_the_viscosity(void **state)
{
    (void)state;
    const double ball_densities[] = {1.05, 1.41, 7.81};
    for (size_t i = 0; i < 3; i++) {
        struct mw_ball_run run = bench();
        struct mw_ball_result result;
        double density, v25, usual;
        run.ball_density = ball_densities[i];
        run.density = NAN;
        check_ok(mw_bench_density(&run, MW_SILICONE, 18.5, &density));
        run.density = density;
        check_ok(mw_ball_viscosity(&run, &result));
        check_ok(mw_silicone_at(result.viscosity, 18.5, 25, &v25));
        check_ok(mw_silicone_density(v25, 18.5, &usual, NULL));
        check_part(density, usual, 1e-12);
    }
}

static void no_density_without_a_viscosity(void **state)
{
    struct mw_ball_run run = bench();
    double density;
    (void)state;
    run.density = NAN;
    check_ok(mw_bench_density(&run, MW_MINERAL, 15, &density));
    check_near(density, 0.88, 1e-12);
    check_fails(mw_bench_density(&run, MW_SILICONE, 101, &density),
                MW_ERR_LAW_RANGE, density);
    run.time = 0;
    check_fails(mw_bench_density(&run, MW_SILICONE, 18.5, &density),
                MW_ERR_QUANTITY, density);
    run = bench();
    run.ball_density = 0.95;
    check_fails(mw_bench_density(&run, MW_SILICONE, 18.5, &density),
                MW_ERR_BALL, density);
}

static void a_fall_with_usual_tools(void **state)
{
    const struct mw_ball_run run = bench();
    const struct mw_ball_uncertainty u = mw_bench_fall(&run, 0.123);
    (void)state;
    check_near(u.time, 0.123, 0);
    check_near(u.law, MW_BALL_LAW, 0);
    check_part(u.diameter, 2e-5 / sqrt(3), 1e-15);
    check_part(u.travel, 1e-3 / sqrt(3), 1e-15);
    check_part(u.ball_density, 0.01 * run.ball_density / sqrt(3), 1e-15);
    assert_true(u.tube > 0 && u.density > 0 && u.gravity > 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(slopes_at_the_bench),
        cmocka_unit_test(the_density_fits_the_viscosity),
        cmocka_unit_test(no_density_without_a_viscosity),
        cmocka_unit_test(a_fall_with_usual_tools),
    };
    return cmocka_run_group_tests_name("bench", tests, NULL, NULL);
}
