/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "check.h"
#include "damper/match.h"

static struct mw_oil oil_of(enum mw_family family,
                            const struct mw_point *points, size_t count,
                            double density)
{
    struct mw_oil oil;
    check_ok(mw_oil_make(family, points, count, density, &oil));
    return oil;
}

static struct mw_oil silicone(double rating, double density)
{
    const struct mw_point point = {rating, 25};
    return oil_of(MW_SILICONE, &point, 1, density);
}

/* the factors keep the damping ratio that damper.h computes */
static void factors_hold_the_damping_ratio(void **state)
{
    const struct mw_damper from = {{3, 1.2e-3, 2.0e-3}, 12e-3, 3e-3, 0};
    struct mw_damper to = from;
    double spring, mass, piston, c1, c2, zeta1, zeta2;
    unsigned warnings = 0;
    (void)state;
    to.piston = (struct mw_piston){2, 1.4e-3, 2.385e-3};
    check_ok(mw_hold_factor(2385, 2702, &spring));
    check_ok(mw_hold_factor(0.385, 0.412, &mass));
    check_ok(mw_hold_piston(&from.piston, &to.piston, &piston, &warnings));
    assert_int_equal(warnings, 0);
    check_ok(mw_damping(&from, 339.5, &c1));
    check_ok(mw_damping(&to, 339.5 * spring * mass * piston, &c2));
    mw_damping_ratio(c1, 2385, 0.385, &zeta1);
    mw_damping_ratio(c2, 2702, 0.412, &zeta2);
    check_part(zeta2, zeta1, 1e-14);
}

/* a gap makes the holes count for less, and keeps what is kept */
static void a_leak_past_the_piston(void **state)
{
    struct mw_damper from = {{3, 1.2e-3, 2.0e-3}, 12e-3, 3e-3, 0}, to = from;
    double tight, piston, loose, c1, c2;
    (void)state;
    to.piston = (struct mw_piston){2, 1.0e-3, 2.385e-3};
    check_ok(mw_hold_piston(&from.piston, &to.piston, &piston, NULL));
    check_ok(mw_hold_damper(&from, &to, &tight));
    check_part(tight, piston, 1e-14);
    from.gap = to.gap = 0.15e-3;
    check_ok(mw_hold_damper(&from, &to, &loose));
    assert_true(loose > tight && loose < 1);
    check_ok(mw_damping(&from, 339.5, &c1));
    check_ok(mw_damping(&to, 339.5 * loose, &c2));
    check_part(c2, c1, 1e-14);
    to.gap = 1.3e-3;
    assert_int_equal(mw_hold_damper(&from, &to, &loose), MW_ERR_LENGTH);
    assert_true(isnan(loose));
    assert_int_equal(mw_hold_damper(&to, &from, &loose), MW_ERR_LENGTH);
    assert_true(isnan(loose));
}

static void piston_of_unknown_thickness(void **state)
{
    const struct mw_piston from = {3, 1.2e-3, NAN}, to = {2, 1.4e-3, NAN};
    const struct mw_piston known = {2, 1.4e-3, 2.0e-3};
    double factor;
    unsigned warnings = MW_WARN_DENSITY;
    (void)state;
    check_ok(mw_hold_piston(&from, &to, &factor, &warnings));
    check_part(factor, 2 * pow(1.4, 4) / (3 * pow(1.2, 4)), 1e-14);
    assert_int_equal(warnings, MW_WARN_DENSITY | MW_WARN_ENDS);
    check_ok(mw_hold_piston(&from, &to, &factor, NULL));
    assert_int_equal(mw_hold_piston(&from, &known, &factor, NULL),
                     MW_ERR_LENGTH);
    assert_true(isnan(factor));
    assert_int_equal(mw_hold_piston(&known, &from, &factor, NULL),
                     MW_ERR_LENGTH);
}

static void temperature_alone(void **state)
{
    const struct mw_oil oil = silicone(350, 0.970);
    struct mw_hold hold;
    double rating, there;
    (void)state;
    check_ok(mw_hold_oil(&oil, 20, 35, 1, &hold));
    assert_int_equal(hold.warnings, 0);
    check_part(hold.wanted, hold.before, 1e-15);
    /* law and expansion, by hand: the header of silicone.h */
    check_part(hold.before,
               350 * exp(5.892 * 5 / 293.15) * 0.970 / (1 - 9.5e-4 * 5), 1e-14);
    check_part(hold.unchanged,
               350 * exp(-5.892 * 10 / 308.15) * 0.970 / (1 + 9.5e-3), 1e-14);
    check_part(hold.change, hold.unchanged / hold.before - 1, 1e-14);
    check_near(hold.change, 0.82596 / 1.10572 * 0.99525 / 1.0095 - 1, 1e-5);
    check_ok(mw_hold_rating(&oil, hold.viscosity, 35, 25, &rating));
    const struct mw_oil other = silicone(rating, 0.970);
    struct mw_oil_state after;
    check_ok(mw_oil_at(&other, 35, &after));
    check_part(after.dynamic, hold.before, 1e-13);
    check_ok(mw_hold_rating(&oil, hold.viscosity, 35, 40, &there));
    mw_oil_viscosity(&other, 40, &rating);
    check_part(there, rating, 1e-14);
}

/* without a stated density each oil has its own from the table */
static void usual_density_is_that_of_the_new_grade(void **state)
{
    const struct mw_oil oil = silicone(120, NAN);
    struct mw_hold hold;
    struct mw_oil_state after;
    double rating;
    (void)state;
    check_ok(mw_hold_oil(&oil, 12, 31, 2.385, &hold));
    check_ok(mw_hold_rating(&oil, hold.viscosity, 31, 25, &rating));
    const struct mw_oil other = silicone(rating, NAN);
    check_ok(mw_oil_at(&other, 31, &after));
    check_part(after.dynamic, 2.385 * hold.before, 1e-12);
    check_part(hold.change, hold.unchanged / (2.385 * hold.before) - 1, 1e-13);
    /* the kinematic viscosity is not what is kept */
    struct mw_oil_state before;
    mw_oil_at(&oil, 12, &before);
    assert_true(fabs(after.viscosity / before.viscosity / 2.385 - 1) > 5e-3);
}

static void nothing_changed_keeps_the_rating(void **state)
{
    const struct mw_point two[] = {{350, 25}, {130, 100}};
    const struct mw_oil oils[] = {silicone(350, NAN), silicone(425, 0.981),
                                  oil_of(MW_SILICONE, two, 2, 0.972)};
    (void)state;
    for (size_t i = 0; i < 3; i++) {
        struct mw_hold hold;
        double rating;
        check_ok(mw_hold_oil(&oils[i], 17.5, 17.5, 1, &hold));
        check_near(hold.change, 0, 1e-14);
        check_ok(mw_hold_rating(&oils[i], hold.viscosity, 17.5, 25, &rating));
        check_part(rating, oils[i].points[0].viscosity, 1e-12);
    }
}

/* the oil that was found keeps the damping; the old one changes it by
 * hold.change */
static void an_oil_in_stock(void **state)
{
    const struct mw_oil oil = silicone(350, NAN);
    struct mw_hold hold;
    double rating, change, miss;
    (void)state;
    check_ok(mw_hold_oil(&oil, 21.5, 9, 1.0607, &hold));
    check_ok(mw_hold_with(&oil, 9, hold.wanted, &change, &miss));
    check_part(change, hold.change, 1e-14);
    check_part(miss, log1p(hold.change), 1e-14);
    check_ok(mw_hold_rating(&oil, hold.viscosity, 9, 25, &rating));
    const struct mw_oil found = silicone(rating, NAN);
    check_ok(mw_hold_with(&found, 9, hold.wanted, &change, &miss));
    check_near(change, 0, 1e-12);
    /* half and twice miss by the same ratio */
    double half, twice;
    check_ok(mw_hold_with(&oil, 9, 2 * hold.unchanged, &change, &half));
    check_part(change, -0.5, 1e-14);
    check_ok(mw_hold_with(&oil, 9, hold.unchanged / 2, &change, &twice));
    check_part(twice, -half, 1e-14);
}

/* a line of its own replaces the law */
static void silicone_by_its_line(void **state)
{
    const struct mw_point points[] = {{350, 25}, {130, 100}};
    const struct mw_oil oil = oil_of(MW_SILICONE, points, 2, 0.970);
    double at_60, rating;
    (void)state;
    check_ok(mw_oil_viscosity(&oil, 60, &at_60));
    check_ok(mw_hold_rating(&oil, 1.5 * at_60, 60, 25, &rating));
    check_part(rating, 1.5 * 350, 1e-12);
}

static void mineral_oil_has_no_rating(void **state)
{
    const struct mw_point points[] = {{32, 40}, {5.4, 100}};
    const struct mw_oil line = oil_of(MW_MINERAL, points, 2, 0.87);
    const struct mw_oil once = oil_of(MW_MINERAL, points, 1, 0.87);
    struct mw_hold hold, hold_once;
    double rating = 0;
    (void)state;
    check_ok(mw_hold_oil(&line, 40, 20, 1.05, &hold));
    check_part(hold.wanted, 1.05 * 32 * 0.87 * (1 - 7.2e-4 * 25), 1e-12);
    check_part(hold.viscosity, hold.wanted / (0.87 * (1 - 7.2e-4 * 5)), 1e-12);
    assert_true(hold.change > 1.5);
    assert_int_equal(hold.warnings, MW_WARN_EXTRAPOLATED);
    assert_int_equal(mw_hold_rating(&line, hold.viscosity, 20, 40, &rating),
                     MW_ERR_NO_LAW);
    assert_true(isnan(rating));
    /* known at one temperature: the damping of the same oil is not known,
     * the wanted oil is */
    check_ok(mw_hold_oil(&once, 40, 20, 1.05, &hold_once));
    check_part(hold_once.viscosity, hold.viscosity, 1e-12);
    assert_true(isnan(hold_once.unchanged));
    assert_true(isnan(hold_once.change));
    assert_int_equal(mw_hold_oil(&once, 20, 40, 1.05, &hold), MW_ERR_ONE_POINT);
}

static void warnings_of_both_oils(void **state)
{
    const struct mw_oil oil = silicone(60, NAN);
    struct mw_hold hold;
    (void)state;
    check_ok(mw_hold_oil(&oil, 20, 20, 0.7, &hold));
    assert_int_equal(hold.warnings, MW_WARN_THIN_SILICONE);
    check_ok(mw_hold_oil(&oil, -5, 20, 1, &hold));
    assert_int_equal(hold.warnings, MW_WARN_TEMPERATURE);
}

static void refused(void **state)
{
    const struct mw_oil oil = silicone(350, NAN);
    const double factors[] = {0, -1.05, NAN, INFINITY};
    struct mw_hold hold;
    double x = 0;
    (void)state;
    for (size_t i = 0; i < 4; i++) {
        assert_int_equal(mw_hold_oil(&oil, 20, 30, factors[i], &hold),
                         MW_ERR_QUANTITY);
        assert_int_equal(mw_hold_factor(factors[i], 2385, &x), MW_ERR_QUANTITY);
        assert_int_equal(mw_hold_factor(2385, factors[i], &x), MW_ERR_QUANTITY);
        assert_true(isnan(x));
    }
    assert_int_equal(mw_hold_factor(1e-300, 1e300, &x), MW_ERR_QUANTITY);
    assert_int_equal(mw_hold_oil(&oil, 20, 130, 1, &hold), MW_ERR_LAW_RANGE);
    assert_true(isnan(hold.before));
    assert_int_equal(hold.warnings, 0);
    assert_int_equal(mw_hold_oil(&oil, -30, 20, 1, &hold), MW_ERR_LAW_RANGE);
    assert_int_equal(mw_hold_oil(&oil, 20, 30, 1e6, &hold), MW_ERR_VISCOSITY);
    assert_true(isnan(hold.wanted));
    for (size_t i = 0; i < 4; i++) {
        double miss = 0;
        assert_int_equal(mw_hold_with(&oil, 20, factors[i], &x, &miss),
                         MW_ERR_VISCOSITY);
        assert_true(isnan(x) && isnan(miss));
    }
    assert_int_equal(mw_hold_with(&oil, 20, 1e-308, &x, &x), MW_ERR_VISCOSITY);
    assert_int_equal(mw_hold_with(&oil, 101, 350, &x, &x), MW_ERR_LAW_RANGE);
    assert_int_equal(mw_hold_rating(&oil, NAN, 20, 25, &x), MW_ERR_VISCOSITY);
    assert_int_equal(mw_hold_rating(&oil, 1.9e7, 100, 0, &x), MW_ERR_VISCOSITY);
    assert_int_equal(mw_hold_rating(&oil, 350, 20, 130, &x), MW_ERR_LAW_RANGE);
    assert_int_equal(mw_hold_rating(&oil, 350, 130, 20, &x), MW_ERR_LAW_RANGE);
    assert_true(isnan(x));
    const struct mw_piston good = {3, 1.2e-3, 2e-3}, none = {0, 1.2e-3, 2e-3},
                           thin = {3, 1e-90, 2e-3};
    assert_int_equal(mw_hold_piston(&good, &none, &x, NULL), MW_ERR_LENGTH);
    assert_int_equal(mw_hold_piston(&none, &good, &x, NULL), MW_ERR_LENGTH);
    assert_int_equal(mw_hold_piston(&thin, &good, &x, NULL), MW_ERR_LENGTH);
    assert_true(isnan(x));
}

/* a label of 5 %: twice 2.887 % are 5.77 % */
static void what_matters(void **state)
{
    (void)state;
    double u = 0.05 / sqrt(3);
    assert_true(mw_change_matters(0.0595, u));
    assert_false(mw_change_matters(0.0594, u));
    assert_true(mw_change_matters(-0.0562, u));
    assert_false(mw_change_matters(-0.0560, u));
    assert_false(mw_change_matters(NAN, u));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(factors_hold_the_damping_ratio),
        cmocka_unit_test(a_leak_past_the_piston),
        cmocka_unit_test(piston_of_unknown_thickness),
        cmocka_unit_test(what_matters),
        cmocka_unit_test(temperature_alone),
        cmocka_unit_test(usual_density_is_that_of_the_new_grade),
        cmocka_unit_test(nothing_changed_keeps_the_rating),
        cmocka_unit_test(an_oil_in_stock),
        cmocka_unit_test(silicone_by_its_line),
        cmocka_unit_test(mineral_oil_has_no_rating),
        cmocka_unit_test(warnings_of_both_oils),
        cmocka_unit_test(refused),
    };
    return cmocka_run_group_tests_name("hold", tests, NULL, NULL);
}
