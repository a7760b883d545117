/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "check.h"
#include "fluid/shear.h"

static struct mw_oil oil_of(enum mw_family family, double v, double t)
{
    const struct mw_point point = {v, t};
    struct mw_oil oil;
    check_ok(mw_oil_make(family, &point, 1, NAN, &oil));
    return oil;
}

/* 350 mm2/s: sqrt(M) = (2.544068 - 1)/0.0123 = 125.5340, M = 15758.8; by
 * 0.969 g/ml, 8.31446 J/(mol K) and 298.15 K the stress is 0.07 x 969 x 2478.96
 * / 15.7588 = 10670 Pa, over 0.33915 Pa.s 31460 1/s */
static void a_thin_oil_by_hand(void **state)
{
    (void)state;
    const struct mw_oil oil = oil_of(MW_SILICONE, 350, 25);
    struct mw_shear onset;
    check_ok(mw_shear_onset(&oil, 25, &onset));
    check_part(onset.molar_mass, 15758.8, 1e-4);
    check_part(onset.stress, 10670, 1e-3);
    check_part(onset.rate, 31460, 1e-3);
}

/* in the cold the stress falls with T, and the rate with the viscosity too */
static void in_the_cold(void **state)
{
    (void)state;
    const struct mw_oil oil = oil_of(MW_SILICONE, 2385, 25);
    struct mw_shear warm, cold;
    double v25, v5;
    check_ok(mw_shear_onset(&oil, 25, &warm));
    check_ok(mw_shear_onset(&oil, 5, &cold));
    check_ok(mw_oil_viscosity(&oil, 25, &v25));
    check_ok(mw_oil_viscosity(&oil, 5, &v5));
    check_near(cold.molar_mass, warm.molar_mass, 0);
    check_part(cold.rate / warm.rate, 278.15 / 298.15 * v25 / v5, 1e-9);
}

static void above_and_below(void **state)
{
    (void)state;
    const struct mw_oil oil = oil_of(MW_SILICONE, 10500, 25);
    const struct mw_oil petroleum = oil_of(MW_MINERAL, 46, 40);
    struct mw_shear onset;
    check_ok(mw_shear_onset(&oil, 24, &onset));
    assert_int_equal(mw_shear_warnings(&oil, 24, 1.01 * onset.rate),
                     MW_WARN_SHEAR);
    assert_int_equal(mw_shear_warnings(&oil, 24, 0.99 * onset.rate), 0);
    assert_int_equal(mw_shear_warnings(&oil, 24, NAN), 0);
    assert_int_equal(mw_shear_warnings(&petroleum, 40, 1e9), 0);
}

static void no_onset(void **state)
{
    (void)state;
    const struct mw_oil thin = oil_of(MW_SILICONE, 41.1, 25);
    const struct mw_oil petroleum = oil_of(MW_MINERAL, 46, 40);
    const struct mw_oil oil = oil_of(MW_SILICONE, 350, 25);
    struct mw_shear onset;
    check_fails(mw_shear_onset(&thin, 25, &onset), MW_ERR_VISCOSITY,
                onset.rate);
    /* at 25 C beyond the chart */
    const struct mw_oil thick = oil_of(MW_SILICONE, 1.5e7, 80);
    check_fails(mw_shear_onset(&thick, 80, &onset), MW_ERR_VISCOSITY,
                onset.rate);
    check_fails(mw_shear_onset(&petroleum, 40, &onset), MW_ERR_FAMILY,
                onset.stress);
    check_fails(mw_shear_onset(&oil, 120, &onset), MW_ERR_LAW_RANGE,
                onset.molar_mass);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_thin_oil_by_hand),
        cmocka_unit_test(in_the_cold),
        cmocka_unit_test(above_and_below),
        cmocka_unit_test(no_onset),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
