/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <stdlib.h>

#include "check.h"
#include "fluid/viscosity_index.h"

/* the table of the standard, read independently of the library: REFERENCE,
 * defined by the build, is the directory of the CSV files */
static int read_row(FILE *file, double row[3])
{
    char line[200];
    while (fgets(line, sizeof line, file)) {
        if (sscanf(line, "%lf,%lf,%lf", &row[0], &row[1], &row[2]) == 3) {
            return 1;
        }
    }
    return 0;
}

static void every_row_of_the_table(void **state)
{
    FILE *file = fopen(REFERENCE "/d2270_lh.csv", "r");
    double row[3], l, h, last = 0;
    int rows = 0;
    (void)state;
    assert_non_null(file);
    while (read_row(file, row)) {
        rows++;
        assert_true(row[0] > last);
        last = row[0];
        check_ok(mw_viscosity_index_lh(row[0], &l, &h));
        check_part(l, row[1], 1e-15);
        check_part(h, row[2], 1e-15);
    }
    fclose(file);
    assert_int_equal(rows, 311);
}

static void l_and_h_rise_within_the_table(void **state)
{
    double last_l = 0, last_h = 0;
    (void)state;
    for (double v = 2; v <= 70; v += 0.0125) {
        double l, h;
        check_ok(mw_viscosity_index_lh(v, &l, &h));
        assert_true(l > last_l && h > last_h && l > h);
        last_l = l;
        last_h = h;
    }
}

/* the printed equations start a little below the last row of the table */
static void the_table_and_the_equations_meet(void **state)
{
    double l, h, l_above, h_above;
    (void)state;
    check_ok(mw_viscosity_index_lh(70, &l, &h));
    check_ok(mw_viscosity_index_lh(70.0001, &l_above, &h_above));
    check_part(l_above, l, 5e-4);
    check_part(h_above, h, 5e-4);
}

static void an_oil_on_l_has_index_0_and_on_h_100(void **state)
{
    (void)state;
    for (double v = 2; v < 385; v *= 1.03) {
        double l, h, index;
        check_ok(mw_viscosity_index_lh(v, &l, &h));
        check_ok(mw_viscosity_index(l, v, &index));
        check_near(index, 0, 1e-11);
        check_ok(mw_viscosity_index(h, v, &index));
        check_near(index, 100, 1e-11);
        check_ok(mw_viscosity_index(h * (1 - 1e-12), v, &index));
        check_near(index, 100, 1e-7);
    }
}

static void a_thinner_oil_at_40_has_the_higher_index(void **state)
{
    (void)state;
    for (double v = 2; v < 385; v *= 1.1) {
        double last = INFINITY;
        for (double ratio = 1.2; ratio < 60; ratio *= 1.02) {
            double index;
            check_ok(mw_viscosity_index(v * ratio, v, &index));
            assert_true(index < last);
            last = index;
        }
    }
}

static void the_inverse_gives_the_index_back(void **state)
{
    (void)state;
    for (double v40 = 12.5; v40 < 5000; v40 *= 1.07) {
        for (double index = -60; index <= 400; index += 7.7) {
            double v100, back;
            enum mw_status status = mw_v100_from_index(v40, index, &v100);
            if (status != MW_OK) {
                assert_int_equal(status, MW_ERR_INDEX);
                assert_true(isnan(v100) && v40 < 20);
                continue;
            }
            check_ok(mw_viscosity_index(v40, v100, &back));
            check_near(back, index, 1e-9);
        }
    }
}

/* oils with a far higher index than any that is sold */
static void the_inverse_reaches_the_flattest_oils(void **state)
{
    (void)state;
    for (double ratio = 1.02; ratio < 3; ratio *= 1.1) {
        double index, v100;
        check_ok(mw_viscosity_index(238.5, 238.5 / ratio, &index));
        check_ok(mw_v100_from_index(238.5, index, &v100));
        check_part(v100, 238.5 / ratio, 1e-11);
    }
}

/* an index that was printed to twelve digits still has its oil at the end */
static void the_end_of_the_index(void **state)
{
    (void)state;
    static const double thick[] = {2.385, 4.385, 6.385, 7.994, 9.385, 23.85};
    for (size_t i = 0; i < sizeof thick / sizeof thick[0]; i++) {
        char printed[32];
        double index, v100;
        check_ok(mw_viscosity_index(thick[i], 2, &index));
        check_ok(mw_v100_from_index(thick[i], index, &v100));
        check_near(v100, 2, 0);
        snprintf(printed, sizeof printed, "%.12g", index);
        check_ok(mw_v100_from_index(thick[i], strtod(printed, NULL), &v100));
        check_near(v100, 2, 1e-9);
        check_fails(mw_v100_from_index(thick[i], index - 0.01, &v100),
                    MW_ERR_INDEX, v100);
    }
}

static void what_has_no_index(void **state)
{
    double x, h;
    (void)state;
    check_fails(mw_viscosity_index_lh(1.9999, &x, &h), MW_ERR_INDEX, x);
    check_fails(mw_viscosity_index_lh(1.9999, &h, &x), MW_ERR_INDEX, x);
    check_fails(mw_viscosity_index_lh(2.001e7, &x, &h), MW_ERR_INDEX, x);
    check_fails(mw_viscosity_index_lh(NAN, &x, &h), MW_ERR_INDEX, x);
    check_fails(mw_viscosity_index(23.85, 1.9999, &x), MW_ERR_INDEX, x);
    check_fails(mw_viscosity_index(23.85, 23.85, &x), MW_ERR_INDEX, x);
    check_fails(mw_viscosity_index(23.84, 23.85, &x), MW_ERR_INDEX, x);
    check_fails(mw_viscosity_index(2.001e7, 238.5, &x), MW_ERR_INDEX, x);
    check_fails(mw_viscosity_index(NAN, 23.85, &x), MW_ERR_INDEX, x);
    check_fails(mw_viscosity_index(238.5, NAN, &x), MW_ERR_INDEX, x);
}

static void an_index_that_no_oil_has(void **state)
{
    const double bad[] = {NAN, INFINITY, -INFINITY, 1e9, -1e9};
    double x;
    (void)state;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        check_fails(mw_v100_from_index(32.5, bad[i], &x), MW_ERR_INDEX, x);
    }
    check_fails(mw_v100_from_index(1.9, 98.5, &x), MW_ERR_INDEX, x);
    check_fails(mw_v100_from_index(2, 98.5, &x), MW_ERR_INDEX, x);
    check_fails(mw_v100_from_index(-32.5, 98.5, &x), MW_ERR_INDEX, x);
    check_fails(mw_v100_from_index(NAN, 98.5, &x), MW_ERR_INDEX, x);
    check_fails(mw_v100_from_index(INFINITY, 98.5, &x), MW_ERR_INDEX, x);
    check_fails(mw_v100_from_index(2.001e7, 98.5, &x), MW_ERR_INDEX, x);
    /* 8 mm2/s at 40 C is below the standard's L at 2 mm2/s for index -60 */
    check_fails(mw_v100_from_index(8, -60, &x), MW_ERR_INDEX, x);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_row_of_the_table),
        cmocka_unit_test(l_and_h_rise_within_the_table),
        cmocka_unit_test(the_table_and_the_equations_meet),
        cmocka_unit_test(an_oil_on_l_has_index_0_and_on_h_100),
        cmocka_unit_test(a_thinner_oil_at_40_has_the_higher_index),
        cmocka_unit_test(the_inverse_gives_the_index_back),
        cmocka_unit_test(the_inverse_reaches_the_flattest_oils),
        cmocka_unit_test(the_end_of_the_index),
        cmocka_unit_test(what_has_no_index),
        cmocka_unit_test(an_index_that_no_oil_has),
    };
    return cmocka_run_group_tests_name("viscosity_index", tests, NULL, NULL);
}
