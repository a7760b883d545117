/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "check.h"
#include "fluid/grade.h"

enum { NO_GRADE = 0 };

/* grades never overlap, and a failure leaves no grade behind */
static void grades_rise_and_leave_gaps(void **state)
{
    int last = NO_GRADE, changes = 0;
    (void)state;
    for (double v = 1; v < 4000; v *= 1.0005) {
        int vg = -1;
        enum mw_status status = mw_iso_vg(v, &vg);
        assert_true((status == MW_OK) == (vg != NO_GRADE));
        assert_true(status == MW_OK || status == MW_ERR_GRADE);
        if (vg != NO_GRADE && vg != last) {
            assert_true(vg > last);
            last = vg;
            changes++;
        }
    }
    assert_int_equal(changes, 20);
    assert_int_equal(last, 3200);
}

/* only the four thinnest have midpoints that differ from their number */
static void a_grade_is_near_its_number(void **state)
{
    (void)state;
    for (double v = 9; v < 3520; v *= 1.0005) {
        int vg;
        if (mw_iso_vg(v, &vg) == MW_OK) {
            check_part(v, vg, 0.1 + 1e-9);
        }
    }
}

static void what_has_no_grade(void **state)
{
    const double bad[] = {0,    -46,     1.97, 2.43, 12.385,   40,       1349,
                          1651, 238.5e3, NAN,  -0.,  INFINITY, -INFINITY};
    (void)state;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        int vg = 46;
        assert_int_equal(mw_iso_vg(bad[i], &vg), MW_ERR_GRADE);
        assert_int_equal(vg, NO_GRADE);
    }
}

/* engine grades adjoin: there is no gap between the first and the last */
static void engine_grades_rise_without_gaps(void **state)
{
    int last = NO_GRADE;
    (void)state;
    for (double v = 6.9; v < 26.1; v *= 1.0005) {
        int grade = -1;
        assert_int_equal(mw_sae_j300(v, &grade), MW_OK);
        assert_true(grade == last || grade == (last ? last + 10 : 20));
        last = grade;
    }
    assert_int_equal(last, 60);
}

static void what_is_no_engine_grade(void **state)
{
    const double bad[] = {0, -12.385, 6.8999, 26.1, 2385, NAN, INFINITY};
    (void)state;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        int grade = 40;
        assert_int_equal(mw_sae_j300(bad[i], &grade), MW_ERR_GRADE);
        assert_int_equal(grade, NO_GRADE);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(grades_rise_and_leave_gaps),
        cmocka_unit_test(a_grade_is_near_its_number),
        cmocka_unit_test(what_has_no_grade),
        cmocka_unit_test(engine_grades_rise_without_gaps),
        cmocka_unit_test(what_is_no_engine_grade),
    };
    return cmocka_run_group_tests_name("grade", tests, NULL, NULL);
}
