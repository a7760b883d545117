/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench/cup.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "monte_carlo.h"

#define assert_close(x, y, d) assert_true(fabs((x) - (y)) <= (d))

static struct mw_cup named(const char *name)
{
    struct mw_cup cup;
    assert_int_equal(mw_cup_by_name(name, &cup), MW_OK);
    return cup;
}

static void names_ignore_case_space_and_hyphen(void **state)
{
    (void)state;
    const char *const names[][2] = {
        {"ISO4", "ISO 4"},   {"iso 4", "ISO 4"},     {"Ford 3", "Ford 3"},
        {"FORD3", "Ford 3"}, {"zahn-2", "Zahn 2"},   {"z ahn--2 ", "Zahn 2"},
        {"zahn5", "Zahn 5"}, {" - iso - 6", "ISO 6"}};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        assert_string_equal(named(names[i][0]).name, names[i][1]);
    }
}

static void other_names_are_unknown(void **state)
{
    (void)state;
    const char *const names[] = {"",     "ISO", "ISO 2", "ISO 44",  "Ford 6",
                                 "Zahn", "4",   "-",     "Zahn 2b", "Zahn\xe4"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        struct mw_cup cup = {.a = 2.385};
        assert_int_equal(mw_cup_by_name(names[i], &cup), MW_ERR_NAME);
        assert_true(cup.a == 2.385);
    }
}

static void every_cup_is_enumerated_and_named(void **state)
{
    (void)state;
    assert_int_equal(mw_cup_count(), 14);
    assert_null(mw_cup_by_index(mw_cup_count()));
    for (size_t i = 0; i < mw_cup_count(); i++) {
        const struct mw_cup *cup = mw_cup_by_index(i);
        struct mw_cup found = named(cup->name);
        assert_memory_equal(&found, cup, sizeof found);
    }
}

/* the formulas of the standards, written out */
static void formulas_are_those_of_the_standards(void **state)
{
    (void)state;
    const struct {
        const char *name;
        double v; /* at 62.5 s */
    } rows[] = {
        {"ISO 3", 0.443 * 62.5 - 200 / 62.5},
        {"ISO 4", 1.37 * 62.5 - 200 / 62.5},
        {"ISO 5", 3.28 * 62.5 - 220 / 62.5},
        {"ISO 6", 6.90 * 62.5 - 570 / 62.5},
        {"Ford 1", 0.49 * 27.5},
        {"Ford 2", 1.44 * 44.5},
        {"Ford 3", 2.31 * 55.92},
        {"Ford 4", 3.85 * 58.01},
        {"Ford 5", 12.1 * 60.5},
        {"Zahn 1", 1.1 * 33.5},
        {"Zahn 2", 3.5 * 48.5},
        {"Zahn 3", 11.7 * 55},
        {"Zahn 4", 14.8 * 57.5},
        {"Zahn 5", 23 * 62.5},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct mw_cup cup = named(rows[i].name);
        double v;
        assert_int_equal(mw_cup_viscosity(&cup, 62.5, &v), MW_OK);
        assert_close(v, rows[i].v, 1e-12 * v);
    }
}

static void times_and_viscosities_go_both_ways(void **state)
{
    (void)state;
    for (size_t i = 0; i < mw_cup_count(); i++) {
        const struct mw_cup *cup = mw_cup_by_index(i);
        const double span = cup->time_max - cup->time_min;
        for (double part = 0; part <= 1; part += 0.125) {
            double time = cup->time_min + part * span, v, back;
            assert_int_equal(mw_cup_viscosity(cup, time, &v), MW_OK);
            assert_int_equal(mw_cup_time(cup, v, &back), MW_OK);
            assert_close(back, time, 1e-12 * time);
        }
    }
}

static void the_window_of_the_standard_holds(void **state)
{
    (void)state;
    for (size_t i = 0; i < mw_cup_count(); i++) {
        const struct mw_cup *cup = mw_cup_by_index(i);
        const double outside[] = {cup->time_min * 0.9999,
                                  cup->time_max * 1.0001,
                                  0,
                                  -40,
                                  NAN,
                                  INFINITY};
        for (size_t j = 0; j < sizeof outside / sizeof outside[0]; j++) {
            double v = 2.385;
            assert_int_equal(mw_cup_viscosity(cup, outside[j], &v),
                             MW_ERR_CUP_TIME);
            assert_true(isnan(v));
        }
    }
}

static void an_oil_outside_the_window_has_no_time(void **state)
{
    (void)state;
    struct mw_cup cup = named("Zahn 2");
    double time;
    assert_int_equal(mw_cup_time(&cup, 20.9, &time), MW_ERR_CUP_TIME);
    assert_true(isnan(time));
    assert_int_equal(mw_cup_time(&cup, 231.2, &time), MW_ERR_CUP_TIME);
    assert_int_equal(mw_cup_time(&cup, 0.1, &time), MW_ERR_VISCOSITY);
    assert_int_equal(mw_cup_time(&cup, NAN, &time), MW_ERR_VISCOSITY);
    assert_true(isnan(time));
}

static void an_own_cup_has_its_constants(void **state)
{
    (void)state;
    struct mw_cup cup;
    double v, time;
    assert_int_equal(mw_cup_own(2.385, 317, &cup), MW_OK);
    assert_int_equal(mw_cup_viscosity(&cup, 151.7, &v), MW_OK);
    assert_close(v, 2.385 * 151.7 - 317 / 151.7, 1e-12);
    assert_int_equal(mw_cup_time(&cup, v, &time), MW_OK);
    assert_close(time, 151.7, 1e-10);
    /* sqrt(b/a) = 11.53 s: below it the formula is negative */
    assert_int_equal(mw_cup_viscosity(&cup, 11.5, &v), MW_ERR_VISCOSITY);
    assert_true(isnan(v));
}

static void constants_of_no_cup_are_refused(void **state)
{
    (void)state;
    const double bad[][2] = {{0, 317},         {-2.385, 317}, {NAN, 317},
                             {2.385, -1},      {2.385, NAN},  {INFINITY, 317},
                             {2.385, INFINITY}};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        struct mw_cup cup;
        double out;
        assert_int_equal(mw_cup_own(bad[i][0], bad[i][1], &cup),
                         MW_ERR_CALIBRATION);
        assert_true(isnan(cup.a) && isnan(cup.b) && isnan(cup.dead));
        assert_int_equal(mw_cup_viscosity(&cup, 62.5, &out), MW_ERR_CUP_TIME);
        assert_int_equal(mw_cup_time(&cup, 238.5, &out), MW_ERR_CUP_TIME);
    }
}

struct timed {
    struct mw_cup cup;
    double time;
};

static double ln_v(const void *measurement)
{
    const struct timed *timed = measurement;
    double v;
    mw_cup_viscosity(&timed->cup, timed->time, &v);
    return log(v);
}

static void the_budget_is_the_scatter_of_readings(void **state)
{
    (void)state;
    const char *const names[] = {"ISO 3", "ISO 6", "Ford 1", "Ford 4",
                                 "Zahn 1"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        struct timed timed = {named(names[i]), 63.5};
        struct mw_budget budget = {0};
        const struct mw_cup_uncertainty u = {.time = 0.31};
        const struct uncertain inputs[] = {{&timed.time, u.time}};
        assert_int_equal(mw_cup_budget(&timed.cup, timed.time, &u, &budget),
                         MW_OK);
        double linear = mw_budget_combined(&budget);
        double drawn = monte_carlo(ln_v, &timed, inputs, 1).deviation;
        assert_close(drawn, linear, 0.02 * linear);
    }
}

static void the_budget_counts_the_formula(void **state)
{
    (void)state;
    struct mw_cup cup = named("Ford 4");
    struct mw_budget budget = {0};
    const struct mw_cup_uncertainty u = {.time = 0.2, .law = 0.013};
    assert_int_equal(mw_cup_budget(&cup, 36, &u, &budget), MW_OK);
    assert_int_equal(budget.count, 2);
    assert_close(mw_budget_combined(&budget), hypot(0.2 / 31.51, 0.013), 1e-15);
    assert_string_equal(mw_budget_dominant(&budget), "cup's formula");
}

static void a_failed_budget_is_unchanged(void **state)
{
    (void)state;
    struct mw_cup cup = named("Ford 4");
    struct mw_budget budget = {0};
    const struct mw_cup_uncertainty good = {0.2, 0.013}, bad = {0.2, -0.013};
    mw_budget_add(&budget, "temperature", 0.58, -0.0198);
    assert_int_equal(mw_cup_budget(&cup, 19, &good, &budget), MW_ERR_CUP_TIME);
    assert_int_equal(mw_cup_budget(&cup, 36, &bad, &budget),
                     MW_ERR_UNCERTAINTY);
    assert_int_equal(budget.count, 1);
    while (budget.count < MW_BUDGET_MAX - 1) {
        mw_budget_add(&budget, "other", 0.001, 2);
    }
    assert_int_equal(mw_cup_budget(&cup, 36, &good, &budget), MW_ERR_BUDGET);
    assert_int_equal(budget.count, MW_BUDGET_MAX - 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(names_ignore_case_space_and_hyphen),
        cmocka_unit_test(other_names_are_unknown),
        cmocka_unit_test(every_cup_is_enumerated_and_named),
        cmocka_unit_test(formulas_are_those_of_the_standards),
        cmocka_unit_test(times_and_viscosities_go_both_ways),
        cmocka_unit_test(the_window_of_the_standard_holds),
        cmocka_unit_test(an_oil_outside_the_window_has_no_time),
        cmocka_unit_test(an_own_cup_has_its_constants),
        cmocka_unit_test(constants_of_no_cup_are_refused),
        cmocka_unit_test(the_budget_is_the_scatter_of_readings),
        cmocka_unit_test(the_budget_counts_the_formula),
        cmocka_unit_test(a_failed_budget_is_unchanged),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
