/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "check.h"
#include "fluid/oil.h"
#include "fluid/oil_internal.h"
#include "fluid/silicone.h"
#include "fluid/viscosity_index.h"
#include "fluid/walther.h"

static const struct mw_point rating25 = {238.5, 25}, rating40 = {46, 40};
static const struct mw_point two[2] = {{46, 40}, {6.9, 100}};

static struct mw_oil make(enum mw_family family, const struct mw_point *points,
                          size_t count, double density)
{
    struct mw_oil oil;
    check_ok(mw_oil_make(family, points, count, density, &oil));
    return oil;
}

static void families_have_names_and_defaults(void **state)
{
    enum mw_family family = MW_MINERAL;
    (void)state;
    assert_string_equal(mw_family_name(MW_SILICONE), "silicone");
    assert_string_equal(mw_family_name(MW_MINERAL), "mineral");
    assert_string_equal(mw_family_name((enum mw_family)2), "?");
    check_ok(mw_family_from_name("silicone", &family));
    assert_int_equal(family, MW_SILICONE);
    assert_int_equal(mw_family_from_name("Silicone", &family), MW_ERR_NAME);
    check_near(mw_family_rating_t(MW_SILICONE), 25, 0);
    check_near(mw_family_rating_t(MW_MINERAL), 40, 0);
    check_near(mw_family_density_t(MW_SILICONE), 25, 0);
    check_near(mw_family_density_t(MW_MINERAL), 15, 0);
    assert_true(isnan(mw_family_rating_t((enum mw_family)2)));
    assert_true(isnan(mw_family_density_t((enum mw_family) - 1)));
}

static void oils_are_compared_where_all_are_rated(void **state)
{
    const struct mw_point warm = {113.5, 40};
    const struct mw_oil oils[] = {make(MW_SILICONE, &warm, 1, NAN),
                                  make(MW_SILICONE, &warm, 1, NAN),
                                  make(MW_SILICONE, &rating25, 1, NAN)};
    (void)state;
    check_near(mw_common_rating_t(oils, 1), 40, 0);
    check_near(mw_common_rating_t(oils, 2), 40, 0);
    check_near(mw_common_rating_t(oils, 3), 25, 0);
    check_near(mw_common_rating_t(oils + 2, 1), 25, 0);
}

static void an_oil_is_its_rating_at_its_rating(void **state)
{
    const struct mw_oil oils[] = {make(MW_SILICONE, &rating25, 1, NAN),
                                  make(MW_MINERAL, &rating40, 1, NAN),
                                  make(MW_MINERAL, two, 2, NAN),
                                  make(MW_SILICONE, two, 2, NAN)};
    (void)state;
    for (size_t i = 0; i < 4; i++) {
        struct mw_oil_state at;
        double t = oils[i].points[0].temperature;
        check_ok(mw_oil_at(&oils[i], t, &at));
        check_near(at.temperature, t, 0);
        check_part(at.viscosity, oils[i].points[0].viscosity, 1e-12);
        check_near(at.factor, 1, 0);
        check_part(at.dynamic, at.viscosity * at.density, 1e-15);
        assert_int_equal(at.warnings & MW_WARN_EXTRAPOLATED, 0);
    }
}

static void one_point_of_silicone_follows_the_law(void **state)
{
    const struct mw_oil oil = make(MW_SILICONE, &rating25, 1, NAN);
    double last = INFINITY;
    (void)state;
    for (double t = -20; t <= 100; t += 2.5) {
        struct mw_oil_state at;
        double factor, slope;
        check_ok(mw_oil_at(&oil, t, &at));
        check_ok(mw_silicone_factor(t, &factor));
        check_ok(mw_silicone_slope(t, &slope));
        check_part(at.viscosity, 238.5 * factor, 1e-15);
        check_part(at.factor, factor, 1e-15);
        check_near(at.slope, slope, 0);
        assert_true(at.viscosity < last);
        last = at.viscosity;
    }
}

static void two_points_follow_their_line(void **state)
{
    const struct mw_oil oil = make(MW_MINERAL, two, 2, NAN);
    double last = INFINITY;
    (void)state;
    for (double t = -20; t <= 200; t += 2.5) {
        struct mw_oil_state at;
        double v, slope;
        check_ok(mw_oil_at(&oil, t, &at));
        check_ok(mw_line_at(&oil.line, t, &v));
        check_ok(mw_line_slope(&oil.line, t, &slope));
        check_near(at.viscosity, v, 0);
        check_near(at.slope, slope, 0);
        assert_true(at.viscosity < last && at.slope < 0);
        last = at.viscosity;
    }
}

static void one_point_of_mineral_oil_is_known_there_only(void **state)
{
    const struct mw_oil oil = make(MW_MINERAL, &rating40, 1, NAN);
    struct mw_oil_state at;
    double v;
    (void)state;
    check_ok(mw_oil_viscosity(&oil, 40 + 9e-7, &v));
    check_near(v, 46, 0);
    check_fails(mw_oil_viscosity(&oil, 40.001, &v), MW_ERR_ONE_POINT, v);
    check_fails(mw_oil_at(&oil, 39.999, &at), MW_ERR_ONE_POINT, at.viscosity);
    assert_true(isnan(at.temperature) && isnan(at.dynamic) &&
                isnan(at.density) && isnan(at.factor) && isnan(at.slope));
    assert_int_equal(at.warnings, 0);
    check_ok(mw_oil_at(&oil, 40, &at));
    assert_true(isnan(at.slope));
}

static void more_points_are_fitted(void **state)
{
    const struct mw_point points[4] = {
        {46, 40}, {112, 22}, {6.9, 100}, {13.7, 73}};
    const struct mw_oil oil = make(MW_MINERAL, points, 4, 0.87);
    struct mw_line line;
    double residual;
    (void)state;
    check_ok(mw_line_fit(points, 4, &line, &residual));
    assert_true(oil.has_line && oil.count == 4);
    check_near(oil.line.a, line.a, 0);
    check_near(oil.line.b, line.b, 0);
    check_near(oil.residual, residual, 0);
    check_near(oil.t_low, 22, 0);
    check_near(oil.t_high, 100, 0);
    check_near(oil.density, 0.87, 0);
}

static void a_scaled_oil(void **state)
{
    const struct mw_oil law = make(MW_SILICONE, &rating25, 1, 0.9385);
    const struct mw_point points[2] = {{32, 40}, {5.4, 100}};
    const struct mw_oil line = make(MW_MINERAL, points, 2, NAN);
    const double t[] = {-20, 40, 60, 100};
    const double expected[] = {1.0224, 1.1, 1.1026, 1.1};
    struct mw_oil thicker;
    double before, after;
    (void)state;
    check_ok(mw_oil_scaled(&law, 1.1, &thicker));
    assert_int_equal(thicker.family, MW_SILICONE);
    check_near(thicker.density, 0.9385, 0);
    for (size_t i = 0; i < 4; i++) {
        check_ok(mw_oil_viscosity(&law, t[i], &before));
        check_ok(mw_oil_viscosity(&thicker, t[i], &after));
        check_part(after, 1.1 * before, 1e-12);
    }
    /* computed outside the library: D341 lines through the points */
    check_ok(mw_oil_scaled(&line, 1.1, &thicker));
    for (size_t i = 0; i < 4; i++) {
        check_ok(mw_oil_viscosity(&line, t[i], &before));
        check_ok(mw_oil_viscosity(&thicker, t[i], &after));
        check_near(after / before, expected[i], 5e-5);
    }
    /* there and back, in place */
    check_ok(mw_oil_scaled(&thicker, 1 / 1.1, &thicker));
    check_part(thicker.line.a, line.line.a, 1e-12);
    check_part(thicker.line.b, line.line.b, 1e-12);
}

static void no_scaled_oil(void **state)
{
    const struct mw_oil oil = make(MW_SILICONE, &rating25, 1, NAN);
    const double bad[] = {0, -1.1, NAN, INFINITY, 1e5, 8e-4};
    (void)state;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        struct mw_oil scaled;
        check_fails(mw_oil_scaled(&oil, bad[i], &scaled), MW_ERR_VISCOSITY,
                    scaled.line.a);
        assert_true(isnan(scaled.t_low) && isnan(scaled.density));
        const double away = log(bad[i]);
        check_fails(mw_oil_moved(&oil, &away, 0, &scaled), MW_ERR_VISCOSITY,
                    scaled.line.a);
    }
}

static void check_no_oil(enum mw_family family, const struct mw_point *points,
                         size_t count, double density, enum mw_status status)
{
    struct mw_oil oil;
    check_fails(mw_oil_make(family, points, count, density, &oil), status,
                oil.line.a);
    assert_true(isnan(oil.line.b) && isnan(oil.residual) && isnan(oil.t_low) &&
                isnan(oil.t_high) && isnan(oil.density));
    assert_false(oil.has_line);
}

static void bottles_that_make_no_oil(void **state)
{
    struct mw_point many[MW_POINTS_MAX + 1];
    const struct mw_point bad_v[] = {{0.2, 25}, {2.1e7, 25}, {NAN, 25}};
    const struct mw_point bad_t[] = {{238.5, -274}, {238.5, 341}, {238.5, NAN}};
    const struct mw_point same[2] = {{46, 40}, {45, 40}};
    const struct mw_point rising[2] = {{46, 40}, {47, 100}};
    const double densities[] = {0, 970, -0.97, INFINITY};
    (void)state;
    for (size_t i = 0; i <= MW_POINTS_MAX; i++) {
        many[i] = (struct mw_point){238.5 / (double)(i + 1), (double)i};
    }
    for (size_t i = 0; i < 3; i++) {
        check_no_oil(MW_SILICONE, &bad_v[i], 1, NAN, MW_ERR_VISCOSITY);
        check_no_oil(MW_SILICONE, &bad_t[i], 1, NAN, MW_ERR_TEMPERATURE);
    }
    for (size_t i = 0; i < 4; i++) {
        check_no_oil(MW_SILICONE, &rating25, 1, densities[i], MW_ERR_DENSITY);
    }
    check_no_oil(MW_MINERAL, many, MW_POINTS_MAX + 1, NAN, MW_ERR_POINTS);
    check_no_oil(MW_MINERAL, many, 0, NAN, MW_ERR_POINTS);
    check_no_oil(MW_MINERAL, same, 2, NAN, MW_ERR_POINTS);
    check_no_oil(MW_MINERAL, rising, 2, NAN, MW_ERR_NOT_DECREASING);
    check_no_oil((enum mw_family)2, two, 2, NAN, MW_ERR_FAMILY);
}

static void an_index_makes_a_mineral_oil(void **state)
{
    struct mw_oil oil;
    double index;
    (void)state;
    check_ok(mw_oil_from_index(46, 150, 0.86, &oil));
    assert_int_equal(oil.family, MW_MINERAL);
    check_near(oil.points[0].viscosity, 46, 0);
    check_near(oil.points[0].temperature, 40, 0);
    check_near(oil.points[1].temperature, 100, 0);
    check_ok(mw_viscosity_index(46, oil.points[1].viscosity, &index));
    check_near(index, 150, 1e-9);
    check_fails(mw_oil_from_index(46, NAN, 0.86, &oil), MW_ERR_INDEX,
                oil.density);
    check_fails(mw_oil_from_index(46, 150, 860, &oil), MW_ERR_DENSITY,
                oil.density);
}

static void where_no_viscosity_is_known(void **state)
{
    const struct mw_oil law = make(MW_SILICONE, &rating25, 1, NAN);
    const struct mw_oil line = make(MW_MINERAL, two, 2, NAN);
    double v;
    (void)state;
    check_fails(mw_oil_viscosity(&law, 100.1, &v), MW_ERR_LAW_RANGE, v);
    check_fails(mw_oil_viscosity(&law, NAN, &v), MW_ERR_LAW_RANGE, v);
    check_fails(mw_oil_viscosity(&line, 340.1, &v), MW_ERR_TEMPERATURE, v);
    check_fails(mw_oil_viscosity(&line, NAN, &v), MW_ERR_TEMPERATURE, v);
    check_fails(mw_oil_viscosity(&line, -150, &v), MW_ERR_VISCOSITY, v);
}

static void densities(void **state)
{
    struct mw_oil silicone = make(MW_SILICONE, &rating25, 1, NAN);
    struct mw_oil mineral = make(MW_MINERAL, two, 2, NAN);
    double density, expected;
    unsigned warnings = 0;
    (void)state;
    check_ok(mw_oil_density(&silicone, 40, &density, &warnings));
    check_ok(mw_silicone_density(238.5, 40, &expected, NULL));
    check_near(density, expected, 0);
    assert_int_equal(warnings, 0);
    check_ok(mw_oil_density(&mineral, 40, &density, &warnings));
    check_near(density, 0.88 * (1 - 7.2e-4 * 25), 1e-15);
    assert_int_equal(warnings, MW_WARN_DENSITY);
    silicone.density = 0.9385;
    mineral.density = 0.8385;
    warnings = 0;
    check_ok(mw_oil_density(&silicone, 25, &density, &warnings));
    check_near(density, 0.9385, 0);
    check_ok(mw_oil_density(&mineral, 15, &density, &warnings));
    check_near(density, 0.8385, 0);
    assert_int_equal(warnings, 0);
    check_fails(mw_oil_density(&silicone, 101, &density, NULL),
                MW_ERR_LAW_RANGE, density);
    check_fails(mw_oil_density(&mineral, 341, &density, NULL),
                MW_ERR_TEMPERATURE, density);
}

/* a line that leaves the range before 25 C: the rating is used instead */
static void the_rating_stands_in_for_25(void **state)
{
    const struct mw_point steep[2] = {{1e6, 80}, {1e3, 95}};
    const struct mw_oil oil = make(MW_SILICONE, steep, 2, NAN);
    double density, expected, v;
    (void)state;
    check_fails(mw_oil_viscosity(&oil, 25, &v), MW_ERR_VISCOSITY, v);
    check_ok(mw_oil_density(&oil, 85, &density, NULL));
    check_ok(mw_silicone_density(1e6, 85, &expected, NULL));
    check_near(density, expected, 0);
}

static void warnings_of_an_oil(void **state)
{
    const struct mw_point thin = {49.9, 25}, usual = {50, 25};
    const struct mw_oil thin_oil = make(MW_SILICONE, &thin, 1, 0.96);
    const struct mw_oil oil = make(MW_SILICONE, &usual, 1, 0.96);
    const struct mw_oil line = make(MW_MINERAL, two, 2, 0.87);
    const struct {
        const struct mw_oil *oil;
        double t;
        unsigned warnings;
    } cases[] = {
        {&oil, 25, 0},
        {&oil, 0, 0},
        {&oil, 60, 0},
        {&oil, -0.1, MW_WARN_TEMPERATURE},
        {&oil, 60.1, MW_WARN_TEMPERATURE},
        {&thin_oil, 25, MW_WARN_THIN_SILICONE},
        {&thin_oil, 90, MW_WARN_THIN_SILICONE | MW_WARN_TEMPERATURE},
        {&line, 40, 0},
        {&line, 100, 0},
        {&line, 39.9, MW_WARN_EXTRAPOLATED},
        {&line, 100.1, MW_WARN_EXTRAPOLATED},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct mw_oil_state at;
        check_ok(mw_oil_at(cases[i].oil, cases[i].t, &at));
        assert_int_equal(at.warnings, cases[i].warnings);
    }
}

/* a temperature that was converted to kelvin and back counts as the same */
static void rounding_is_no_extrapolation(void **state)
{
    (void)state;
    for (double t = -19.9; t < 99; t += 0.7) {
        double kelvin, back;
        const struct mw_point points[2] = {{46, t}, {6.9, t + 60}};
        const struct mw_oil oil = make(MW_MINERAL, points, 2, 0.87);
        check_ok(mw_from_celsius(t, MW_KELVIN, &kelvin));
        check_ok(mw_celsius(kelvin, MW_KELVIN, &back));
        assert_int_equal(mw_oil_warnings(&oil, back), 0);
        assert_int_equal(mw_oil_warnings(&oil, t - 1e-5), MW_WARN_EXTRAPOLATED);
        assert_int_equal(mw_oil_warnings(&oil, t + 60 + 1e-7), 0);
        assert_int_equal(mw_oil_warnings(&oil, t + 60 + 1e-5),
                         MW_WARN_EXTRAPOLATED);
    }
}

static void dynamic_viscosity_there_and_back(void **state)
{
    const double known[] = {NAN, 0.9385};
    (void)state;
    for (size_t i = 0; i < 2; i++) {
        for (double v = 0.5; v < 1e6; v *= 2.385) {
            const struct mw_point silicone = {v, 25}, mineral = {v, 40};
            const struct mw_oil oils[2] = {
                make(MW_SILICONE, &silicone, 1, known[i]),
                make(MW_MINERAL, &mineral, 1, known[i])};
            for (size_t j = 0; j < 2; j++) {
                double t = oils[j].points[0].temperature, back;
                struct mw_oil_state at;
                check_ok(mw_oil_at(&oils[j], t, &at));
                check_ok(mw_oil_from_dynamic(oils[j].family, at.dynamic, t,
                                             known[i], &back));
                check_part(back, v, 1e-13);
            }
        }
    }
}

static void silicone_from_dynamic_at_any_temperature(void **state)
{
    const struct mw_oil oil = make(MW_SILICONE, &rating25, 1, NAN);
    (void)state;
    for (double t = -20; t <= 100; t += 7.5) {
        struct mw_oil_state at;
        double back;
        check_ok(mw_oil_at(&oil, t, &at));
        check_ok(mw_oil_from_dynamic(MW_SILICONE, at.dynamic, t, NAN, &back));
        check_part(back, at.viscosity, 1e-13);
    }
}

static void no_dynamic_viscosity(void **state)
{
    const double bad[] = {0, -238.5, NAN, INFINITY, 1e9, 1e-3};
    double v;
    (void)state;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        for (int f = MW_SILICONE; f <= MW_MINERAL; f++) {
            enum mw_family family = (enum mw_family)f;
            check_fails(mw_oil_from_dynamic(family, bad[i], 25, NAN, &v),
                        MW_ERR_VISCOSITY, v);
            check_fails(mw_oil_from_dynamic(family, bad[i], 25, 0.9385, &v),
                        MW_ERR_VISCOSITY, v);
        }
    }
    check_fails(mw_oil_from_dynamic(MW_SILICONE, 238.5, 101, NAN, &v),
                MW_ERR_LAW_RANGE, v);
    check_fails(mw_oil_from_dynamic(MW_SILICONE, 238.5, 101, 0.9385, &v),
                MW_ERR_LAW_RANGE, v);
    check_fails(mw_oil_from_dynamic(MW_MINERAL, 238.5, 341, NAN, &v),
                MW_ERR_TEMPERATURE, v);
    check_fails(mw_oil_from_dynamic(MW_MINERAL, 238.5, 25, 938.5, &v),
                MW_ERR_DENSITY, v);
}

/* beyond the activation energy of the law: by hand, 1 kJ/mol is 120.27236 K */
static void an_activation_energy_of_its_own(void **state)
{
    const struct mw_point rating = {350, 25}, thick = {1.9e7, 25};
    const double none = 0, moved = 0.02385;
    struct mw_oil oil, other;
    struct mw_oil_state by_law, at;
    double v;
    (void)state;
    check_ok(mw_oil_make(MW_SILICONE, &rating, 1, NAN, &oil));
    check_ok(mw_oil_moved(&oil, &moved, 1, &other));
    check_ok(mw_oil_at(&oil, 12, &by_law));
    check_ok(mw_oil_at(&other, 12, &at));
    check_near(log(at.viscosity / by_law.viscosity),
               0.02385 + 120.27236 * (1 / 285.15 - 1 / 298.15), 1e-9);
    check_part(at.slope - by_law.slope, -120.27236 / (285.15 * 285.15), 1e-6);
    /* scaling keeps it, and it may carry an oil out of range */
    check_ok(mw_oil_scaled(&other, 1.385, &oil));
    check_near(oil.energy, 1, 0);
    check_ok(mw_oil_make(MW_SILICONE, &thick, 1, NAN, &oil));
    check_ok(mw_oil_moved(&oil, &none, 800, &other));
    check_fails(mw_oil_viscosity(&other, 24.5, &v), MW_ERR_VISCOSITY, v);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(families_have_names_and_defaults),
        cmocka_unit_test(oils_are_compared_where_all_are_rated),
        cmocka_unit_test(an_oil_is_its_rating_at_its_rating),
        cmocka_unit_test(one_point_of_silicone_follows_the_law),
        cmocka_unit_test(two_points_follow_their_line),
        cmocka_unit_test(one_point_of_mineral_oil_is_known_there_only),
        cmocka_unit_test(more_points_are_fitted),
        cmocka_unit_test(a_scaled_oil),
        cmocka_unit_test(no_scaled_oil),
        cmocka_unit_test(an_activation_energy_of_its_own),
        cmocka_unit_test(bottles_that_make_no_oil),
        cmocka_unit_test(an_index_makes_a_mineral_oil),
        cmocka_unit_test(where_no_viscosity_is_known),
        cmocka_unit_test(densities),
        cmocka_unit_test(the_rating_stands_in_for_25),
        cmocka_unit_test(warnings_of_an_oil),
        cmocka_unit_test(rounding_is_no_extrapolation),
        cmocka_unit_test(dynamic_viscosity_there_and_back),
        cmocka_unit_test(silicone_from_dynamic_at_any_temperature),
        cmocka_unit_test(no_dynamic_viscosity),
    };
    return cmocka_run_group_tests_name("oil", tests, NULL, NULL);
}
