/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "check.h"
#include "fluid/units.h"
#include "fluid/units_internal.h"

static const enum mw_viscosity_unit units[] = {
#define UNIT(name, symbol) name,
    MW_VISCOSITY_UNIT_LIST(UNIT)
#undef UNIT
};

enum { UNITS = sizeof units / sizeof units[0] };

static void temperatures_there_and_back(void **state)
{
    (void)state;
    for (int scale = MW_CELSIUS; scale <= MW_KELVIN; scale++) {
        for (double t = -273.1; t < 340; t += 0.385) {
            double value, back;
            check_ok(
                mw_from_celsius(t, (enum mw_temperature_scale)scale, &value));
            check_ok(
                mw_celsius(value, (enum mw_temperature_scale)scale, &back));
            check_near(back, t, 2e-13);
        }
    }
}

static void absolute_zero_and_below(void **state)
{
    const double zero[] = {-273.15, -459.67, 0};
    double x;
    (void)state;
    for (int i = MW_CELSIUS; i <= MW_KELVIN; i++) {
        enum mw_temperature_scale scale = (enum mw_temperature_scale)i;
        check_fails(mw_celsius(zero[i], scale, &x), MW_ERR_TEMPERATURE, x);
        check_fails(mw_celsius(zero[i] - 2.385, scale, &x), MW_ERR_TEMPERATURE,
                    x);
        check_ok(mw_celsius(zero[i] + 2.385, scale, &x));
        check_fails(mw_celsius(NAN, scale, &x), MW_ERR_TEMPERATURE, x);
        check_fails(mw_celsius(INFINITY, scale, &x), MW_ERR_TEMPERATURE, x);
        check_fails(mw_from_celsius(-273.15, scale, &x), MW_ERR_TEMPERATURE, x);
        check_fails(mw_from_celsius(NAN, scale, &x), MW_ERR_TEMPERATURE, x);
        check_fails(mw_from_celsius(INFINITY, scale, &x), MW_ERR_TEMPERATURE,
                    x);
    }
}

static void no_such_scale(void **state)
{
    double x;
    (void)state;
    for (int i = -1; i <= 3; i += 4) {
        enum mw_temperature_scale scale = (enum mw_temperature_scale)i;
        check_fails(mw_celsius(23.85, scale, &x), MW_ERR_UNIT, x);
        check_fails(mw_from_celsius(23.85, scale, &x), MW_ERR_UNIT, x);
    }
}

static void symbols_lead_back_to_their_unit(void **state)
{
    (void)state;
    for (size_t i = 0; i < UNITS; i++) {
        enum mw_viscosity_unit unit = (enum mw_viscosity_unit)99;
        const char *symbol = mw_viscosity_unit_symbol(units[i]);
        check_ok(mw_viscosity_unit_from_symbol(symbol, &unit));
        assert_int_equal(unit, units[i]);
    }
    assert_string_equal(mw_viscosity_unit_symbol((enum mw_viscosity_unit)UNITS),
                        "?");
    assert_string_equal(mw_viscosity_unit_symbol((enum mw_viscosity_unit) - 1),
                        "?");
}

static void symbols_in_usual_spellings(void **state)
{
    static const struct {
        const char *symbol;
        enum mw_viscosity_unit unit;
    } written[] = {
        {"cSt", MW_MM2_S},
        {"CST", MW_MM2_S},
        {"mm\xc2\xb2/s", MW_MM2_S},
        {"m\xc2\xb2/s", MW_M2_S},
        {"cP", MW_MPA_S},
        {"cp", MW_MPA_S},
        {"mPas", MW_MPA_S},
        {"mPa\xc2\xb7s", MW_MPA_S},
        {"Pas", MW_PA_S},
        {"Pa\xc2\xb7s", MW_PA_S},
        {"PA.S", MW_PA_S},
        {"st", MW_STOKES},
        {"sus", MW_SUS},
    };
    const char *const none[] = {"", "wt", "W", "cS", "cStx", "mm2", " cSt"};
    enum mw_viscosity_unit unit;
    (void)state;
    for (size_t i = 0; i < sizeof written / sizeof written[0]; i++) {
        check_ok(mw_viscosity_unit_from_symbol(written[i].symbol, &unit));
        assert_int_equal(unit, written[i].unit);
    }
    for (size_t i = 0; i < sizeof none / sizeof none[0]; i++) {
        unit = MW_POISE;
        assert_int_equal(mw_viscosity_unit_from_symbol(none[i], &unit),
                         MW_ERR_NAME);
        assert_int_equal(unit, MW_POISE);
    }
}

static void viscosities_there_and_back(void **state)
{
    (void)state;
    for (size_t i = 0; i < UNITS; i++) {
        for (double v = 1.82; v < 1.9e7; v *= 1.385) {
            double value, back;
            check_ok(
                mw_viscosity_from_mm2_s(v, units[i], 0.9385, 23.85, &value));
            check_ok(
                mw_viscosity_to_mm2_s(value, units[i], 0.9385, 23.85, &back));
            check_part(back, v, 1e-13);
        }
    }
}

static void only_dynamic_units_need_a_density(void **state)
{
    const double bad[] = {NAN, 0, -0.97, 0.0999, 10.01, 970, INFINITY};
    (void)state;
    for (size_t i = 0; i < UNITS; i++) {
        bool dynamic = mw_viscosity_unit_is_dynamic(units[i]);
        enum mw_status status = dynamic ? MW_ERR_DENSITY : MW_OK;
        assert_true(dynamic ==
                    (strchr(mw_viscosity_unit_symbol(units[i]), 'P') != NULL));
        for (size_t j = 0; j < sizeof bad / sizeof bad[0]; j++) {
            double x;
            assert_false(mw_density_in_range(bad[j]));
            assert_int_equal(
                mw_viscosity_to_mm2_s(238.5, units[i], bad[j], 23.85, &x),
                status);
            assert_true(isnan(x) == dynamic);
            assert_int_equal(
                mw_viscosity_from_mm2_s(238.5, units[i], bad[j], 23.85, &x),
                status);
            assert_true(isnan(x) == dynamic);
        }
    }
    assert_true(mw_density_in_range(0.1) && mw_density_in_range(10));
}

static void lengths_of_a_bench(void **state)
{
    const double bad[] = {NAN, 0, -0.02385, 0.99e-5, 10.01, INFINITY};
    (void)state;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        assert_false(mw_length_in_range(bad[i]));
    }
    assert_true(mw_length_in_range(1e-5) && mw_length_in_range(10));
}

static void invalid_viscosities(void **state)
{
    const double bad[] = {0, -2.385, NAN, INFINITY, -INFINITY};
    double x;
    (void)state;
    for (size_t j = 0; j < sizeof bad / sizeof bad[0]; j++) {
        for (size_t i = 0; i < UNITS; i++) {
            check_fails(
                mw_viscosity_to_mm2_s(bad[j], units[i], 0.9385, 23.85, &x),
                MW_ERR_UNIT, x);
            check_fails(
                mw_viscosity_from_mm2_s(bad[j], units[i], 0.9385, 23.85, &x),
                MW_ERR_UNIT, x);
        }
    }
    for (int i = -1; i <= UNITS; i += UNITS + 1) {
        enum mw_viscosity_unit unit = (enum mw_viscosity_unit)i;
        assert_false(mw_viscosity_unit_is_dynamic(unit));
        check_fails(mw_viscosity_to_mm2_s(2.385, unit, 0.9385, 23.85, &x),
                    MW_ERR_UNIT, x);
        check_fails(mw_viscosity_from_mm2_s(2.385, unit, 0.9385, 23.85, &x),
                    MW_ERR_UNIT, x);
    }
}

static void results_too_large_or_small_for_a_double(void **state)
{
    double x;
    (void)state;
    check_fails(mw_from_celsius(1.7e308, MW_FAHRENHEIT, &x), MW_ERR_TEMPERATURE,
                x);
    check_fails(mw_viscosity_to_mm2_s(1e308, MW_STOKES, NAN, NAN, &x),
                MW_ERR_UNIT, x);
    check_fails(mw_viscosity_to_mm2_s(1e308, MW_PA_S, 0.97, NAN, &x),
                MW_ERR_UNIT, x);
    check_fails(mw_viscosity_from_mm2_s(1e-320, MW_M2_S, NAN, NAN, &x),
                MW_ERR_UNIT, x);
    check_fails(mw_viscosity_from_mm2_s(1e308, MW_MPA_S, 2.385, NAN, &x),
                MW_ERR_UNIT, x);
}

static void the_range_of_saybolt_seconds(void **state)
{
    const double bad_t[] = {-17.9, 176.8, NAN, -300, INFINITY};
    double x, least;
    (void)state;
    check_fails(mw_sus(1.8099, 40, &x), MW_ERR_UNIT, x);
    check_fails(mw_sus(2.001e7, 40, &x), MW_ERR_UNIT, x);
    check_fails(mw_sus(NAN, 40, &x), MW_ERR_UNIT, x);
    check_ok(mw_sus(1.81, 40, &least));
    check_ok(mw_viscosity_to_mm2_s(least, MW_SUS, NAN, 40, &x));
    check_near(x, 1.81, 0);
    check_fails(mw_viscosity_to_mm2_s(least - 0.01, MW_SUS, NAN, 40, &x),
                MW_ERR_UNIT, x);
    for (size_t i = 0; i < sizeof bad_t / sizeof bad_t[0]; i++) {
        check_fails(mw_sus(23.85, bad_t[i], &x), MW_ERR_UNIT, x);
        check_fails(mw_viscosity_to_mm2_s(238.5, MW_SUS, NAN, bad_t[i], &x),
                    MW_ERR_UNIT, x);
    }
}

static void saybolt_seconds_rise(void **state)
{
    double last = 0;
    (void)state;
    for (double v = 1.81; v < 1e6; v *= 1.001) {
        double sus;
        check_ok(mw_sus(v, 40, &sus));
        assert_true(sus > last);
        last = sus;
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(temperatures_there_and_back),
        cmocka_unit_test(absolute_zero_and_below),
        cmocka_unit_test(no_such_scale),
        cmocka_unit_test(symbols_lead_back_to_their_unit),
        cmocka_unit_test(symbols_in_usual_spellings),
        cmocka_unit_test(viscosities_there_and_back),
        cmocka_unit_test(only_dynamic_units_need_a_density),
        cmocka_unit_test(lengths_of_a_bench),
        cmocka_unit_test(invalid_viscosities),
        cmocka_unit_test(results_too_large_or_small_for_a_double),
        cmocka_unit_test(the_range_of_saybolt_seconds),
        cmocka_unit_test(saybolt_seconds_rise),
    };
    return cmocka_run_group_tests_name("units", tests, NULL, NULL);
}
