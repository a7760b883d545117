/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "check.h"
#include "fluid/chart.h"
#include "fluid/family.h"
#include "fluid/silicone.h"
#include "fluid/units.h"

static enum mw_status family_of(double v1, double t1, double v2, double t2,
                                enum mw_family *family)
{
    const struct mw_point points[] = {{v1, t1}, {v2, t2}};
    *family = (enum mw_family)7;
    return mw_family_from_points(points, 2, family);
}

static void is_silicone(double v1, double t1, double v2, double t2)
{
    enum mw_family family;
    assert_int_equal(family_of(v1, t1, v2, t2, &family), MW_OK);
    assert_int_equal(family, MW_SILICONE);
}

static void is_mineral(double v1, double t1, double v2, double t2)
{
    enum mw_family family;
    assert_int_equal(family_of(v1, t1, v2, t2, &family), MW_OK);
    assert_int_equal(family, MW_MINERAL);
}

static void is_undecided(double v1, double t1, double v2, double t2)
{
    enum mw_family family;
    assert_int_equal(family_of(v1, t1, v2, t2, &family), MW_ERR_NO_FAMILY);
    assert_int_equal(family, 7);
}

/* one point is silicone, as hobby bottles are rated */
static void one_point(void **state)
{
    const struct mw_point point = {352.5, 25};
    enum mw_family family = MW_MINERAL;
    (void)state;
    assert_int_equal(mw_family_from_points(&point, 1, &family), MW_OK);
    assert_int_equal(family, MW_SILICONE);
}

/* the silicone law itself, and the tabulated PDMS liquid of CoolProp (read):
 * 10.0 mPa.s of 936.0 kg/m3 at 20 C, 5.12 of 900.3 at 60 C */
static void silicones(void **state)
{
    double cold, warm;
    (void)state;
    assert_int_equal(mw_silicone_factor(2.5, &cold), MW_OK);
    assert_int_equal(mw_silicone_factor(47.5, &warm), MW_OK);
    is_silicone(345.5 * cold, 2.5, 345.5 * warm, 47.5);
    is_silicone(345.5 * warm, 47.5, 345.5 * cold, 2.5);
    is_silicone(10.0 / 0.936, 20, 5.12 / 0.9003, 60);
}

/* two petroleum oils at 40 and 100 C, one of them of a high index; the table of
 * Stachowiak and Batchelor, Engineering Tribology, 2.3 (read) at 30 and 100 C
 */
static void petroleum(void **state)
{
    (void)state;
    is_mineral(32, 40, 5.4, 100);
    is_mineral(22, 40, 7.3, 100); /* E = 17.9 kJ/mol */
    is_mineral(153 / 0.87, 30, 9.1 / 0.83, 100);
}

/* the edges: E in kJ/mol between 20 and 60 C, and at 40 and 100 C */
static double ratio(double energy, double t1, double t2)
{
    return exp(energy / 8.314472e-3 * (1 / (t1 + 273.15) - 1 / (t2 + 273.15)));
}

static void edges(void **state)
{
    (void)state;
    is_undecided(100.5 * ratio(11.99, 20, 60), 20, 100.5, 60);
    is_silicone(100.5 * ratio(12.01, 20, 60), 20, 100.5, 60);
    is_silicone(100.5 * ratio(16.49, 20, 60), 20, 100.5, 60);
    is_undecided(100.5 * ratio(16.51, 20, 60), 20, 100.5, 60);
    is_undecided(100.5 * ratio(21.99, 20, 60), 20, 100.5, 60);
    is_mineral(100.5 * ratio(22.01, 20, 60), 20, 100.5, 60);
    is_undecided(10.5 * ratio(16.49, 40, 100), 40, 10.5, 100);
    is_mineral(10.5 * ratio(16.51, 40, 100), 40, 10.5, 100);
    is_silicone(10.5 * ratio(16.49, 40, 75), 40, 10.5, 75);
    is_silicone(10.5 * ratio(16.49, 25, 100), 25, 10.5, 100);
}

/* labels within 5 % do not decide over a few degrees; about 25 are enough */
static void points_too_close(void **state)
{
    (void)state;
    is_undecided(100.5 * ratio(14.61, 20, 38), 20, 100.5, 38);
    is_silicone(100.5 * ratio(14.61, 20, 46), 20, 100.5, 46);
}

/* of three points the coldest and the warmest decide, in any order */
static void three_points(void **state)
{
    const struct mw_point points[] = {
        {15.1859, 60}, {5.4, 100}, {335.9996, 0}, {32, 40}};
    enum mw_family family;
    (void)state;
    assert_int_equal(mw_family_from_points(points, 4, &family), MW_OK);
    assert_int_equal(family, MW_MINERAL);
}

static void what_is_refused(void **state)
{
    struct mw_point points[MW_POINTS_MAX + 1] = {{352.5, 25}, {201.5, 60}};
    enum mw_family family;
    (void)state;
    assert_int_equal(mw_family_from_points(points, 0, &family), MW_ERR_POINTS);
    assert_int_equal(mw_family_from_points(points, MW_POINTS_MAX + 1, &family),
                     MW_ERR_POINTS);
    points[1] = (struct mw_point){201.5, 25};
    assert_int_equal(mw_family_from_points(points, 2, &family), MW_ERR_POINTS);
    points[1] = (struct mw_point){352.5, 60};
    assert_int_equal(mw_family_from_points(points, 2, &family),
                     MW_ERR_NOT_DECREASING);
    points[1] = (struct mw_point){402.5, 10};
    points[0].viscosity = 402.5;
    assert_int_equal(mw_family_from_points(points, 2, &family),
                     MW_ERR_NOT_DECREASING);
    points[1].viscosity = NAN;
    assert_int_equal(mw_family_from_points(points, 2, &family),
                     MW_ERR_VISCOSITY);
    points[1] = (struct mw_point){201.5, NAN};
    assert_int_equal(mw_family_from_points(points, 2, &family),
                     MW_ERR_TEMPERATURE);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_point),        cmocka_unit_test(silicones),
        cmocka_unit_test(petroleum),        cmocka_unit_test(edges),
        cmocka_unit_test(points_too_close), cmocka_unit_test(three_points),
        cmocka_unit_test(what_is_refused),
    };
    return cmocka_run_group_tests_name("family", tests, NULL, NULL);
}
