/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cup.h"

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

static void names_forgive_case_space_and_hyphen(void **state)
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
    const char *const names[] = {"",
                                 "ISO",
                                 "ISO 2",
                                 "ISO 44",
                                 "Ford 6",
                                 "Zahn",
                                 "4",
                                 "-",
                                 "Zahn 2b",
                                 "IS\xd6"
                                 "4"};
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

static struct mw_cup_run run_of(double a, double b, double time)
{
    return (struct mw_cup_run){a * time - b / time, time};
}

static void two_known_oils_give_the_constants(void **state)
{
    (void)state;
    const struct mw_cup_run runs[] = {run_of(2.385, 317, 27.4),
                                      run_of(2.385, 317, 151.7)};
    struct mw_cup cup;
    double residual;
    unsigned notes = 0;
    assert_int_equal(mw_cup_calibrate(runs, 2, &cup, &residual, &notes), MW_OK);
    assert_close(cup.a, 2.385, 1e-12);
    assert_close(cup.b, 317, 1e-8);
    assert_true(residual == 0 && notes == 0);
}

/* Three times at which (t/v)^2, 1/t^2 and v/t are far apart, with v 1 % high,
 * 2 % low and 1 % high. The minimum is checked, not the algebra: no constants
 * near the found ones have a smaller sum of relative errors. */
static double relative_errors(const struct mw_cup_run *runs, size_t n, double a,
                              double b)
{
    double sum = 0;
    for (size_t i = 0; i < n; i++) {
        double v = a * runs[i].time - b / runs[i].time;
        sum += pow(v / runs[i].viscosity - 1, 2);
    }
    return sum;
}

static void a_calibration_has_the_least_relative_errors(void **state)
{
    (void)state;
    struct mw_cup_run runs[] = {run_of(2.385, 317, 21.4),
                                run_of(2.385, 317, 46.3),
                                run_of(2.385, 317, 151.7)};
    struct mw_cup cup;
    double residual;
    runs[0].viscosity *= 1.01;
    runs[1].viscosity *= 0.98;
    runs[2].viscosity *= 1.01;
    assert_int_equal(mw_cup_calibrate(runs, 3, &cup, &residual, NULL), MW_OK);
    double least = relative_errors(runs, 3, cup.a, cup.b);
    for (double step = -1e-4; step <= 1e-4; step += 2e-4) {
        double a = cup.a * (1 + step), b = cup.b * (1 + step);
        assert_true(relative_errors(runs, 3, a, cup.b) > least);
        assert_true(relative_errors(runs, 3, cup.a, b) > least);
        assert_true(relative_errors(runs, 3, a, b) > least);
    }
    /* one degree of freedom, and 1 - v/v' is ln v'/v to the third order */
    assert_close(residual, sqrt(least), 0.02 * residual);
    assert_true(residual > 0.01 && residual < 0.03);
}

static void oils_without_a_jet_give_v_equal_a_t(void **state)
{
    (void)state;
    const struct mw_cup_run runs[] = {{104.0, 20.0}, {350.0, 71.0}};
    struct mw_cup cup;
    double residual;
    unsigned notes = 0;
    assert_int_equal(mw_cup_calibrate(runs, 2, &cup, &residual, &notes), MW_OK);
    assert_true(cup.b == 0);
    assert_int_equal(notes, MW_NOTE_NO_JET);
    double least = relative_errors(runs, 2, cup.a, 0);
    assert_true(relative_errors(runs, 2, cup.a * 1.0001, 0) > least);
    assert_true(relative_errors(runs, 2, cup.a * 0.9999, 0) > least);
    assert_true(relative_errors(runs, 2, cup.a * 1.00001, 1) > least);
    assert_close(residual, sqrt(least), 0.02 * residual);
}

static void assert_no_calibration(const struct mw_cup_run *runs, size_t n,
                                  enum mw_status why)
{
    struct mw_cup cup;
    double residual = 2.385;
    unsigned notes = 0;
    assert_int_equal(mw_cup_calibrate(runs, n, &cup, &residual, &notes), why);
    assert_true(isnan(cup.a) && isnan(cup.b) && isnan(residual));
    assert_int_equal(notes, 0);
}

static void bad_calibrations_are_refused(void **state)
{
    (void)state;
    struct mw_cup_run many[MW_CUP_RUNS_MAX + 1];
    for (size_t i = 0; i <= MW_CUP_RUNS_MAX; i++) {
        many[i] = run_of(2.385, 317, 20.0 + (double)i);
    }
    const struct mw_cup_run same[] = {{104, 20.5}, {350, 20.5}},
                            faster[] = {{104, 71}, {350, 20.5}},
                            no_time[] = {{104, 20.5}, {350, NAN}},
                            past[] = {{104, -20.5}, {350, 71}},
                            no_oil[] = {{104, 20.5}, {NAN, 71}},
                            no_cup[] = {{100, 10.5}, {0.5, 11.5}, {1000, 100}};
    assert_no_calibration(many, 1, MW_ERR_READINGS);
    assert_no_calibration(many, 0, MW_ERR_READINGS);
    assert_no_calibration(many, MW_CUP_RUNS_MAX + 1, MW_ERR_READINGS);
    assert_no_calibration(same, 2, MW_ERR_CALIBRATION);
    assert_no_calibration(faster, 2, MW_ERR_CALIBRATION);
    assert_no_calibration(no_time, 2, MW_ERR_READINGS);
    assert_no_calibration(past, 2, MW_ERR_READINGS);
    assert_no_calibration(no_oil, 2, MW_ERR_VISCOSITY);
    assert_no_calibration(no_cup, 3, MW_ERR_CALIBRATION);
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

static void the_budget_is_how_readings_scatter(void **state)
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
    const struct mw_cup_uncertainty u = {.time = 0.2, .law = MW_CUP_LAW};
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
        cmocka_unit_test(names_forgive_case_space_and_hyphen),
        cmocka_unit_test(other_names_are_unknown),
        cmocka_unit_test(every_cup_is_enumerated_and_named),
        cmocka_unit_test(formulas_are_those_of_the_standards),
        cmocka_unit_test(times_and_viscosities_go_both_ways),
        cmocka_unit_test(the_window_of_the_standard_holds),
        cmocka_unit_test(an_oil_outside_the_window_has_no_time),
        cmocka_unit_test(an_own_cup_has_its_constants),
        cmocka_unit_test(constants_of_no_cup_are_refused),
        cmocka_unit_test(two_known_oils_give_the_constants),
        cmocka_unit_test(a_calibration_has_the_least_relative_errors),
        cmocka_unit_test(oils_without_a_jet_give_v_equal_a_t),
        cmocka_unit_test(bad_calibrations_are_refused),
        cmocka_unit_test(the_budget_is_how_readings_scatter),
        cmocka_unit_test(the_budget_counts_the_formula),
        cmocka_unit_test(a_failed_budget_is_unchanged),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
