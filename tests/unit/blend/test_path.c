/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "blend/path.h"
#include "check.h"

/* a path of one oil to another by plain ASTM and an excess */
static struct mw_path path_of(double v1, double v2, double excess)
{
    const struct mw_rule_entry *rule = mw_rule_entry(MW_RULE_ASTM);
    const double v[2] = {v1, v2};
    struct mw_sums ends[2] = {{0}};
    for (size_t i = 0; i < 2; i++) {
        mw_sums_to_rule(&ends[i], rule->scale(v[i]), 1, 1);
        mw_sums_to_excess(&ends[i], v[i], 1);
    }
    return mw_path_of(rule, excess, ends);
}

static void ends_are_the_oils(void **state)
{
    (void)state;
    const struct mw_path path = path_of(238.5, 954, 0.2);
    double half = log(238.5) + log(954);
    check_near(mw_path_ln_v(&path, 0), log(238.5), 1e-14);
    check_near(mw_path_ln_v(&path, 1), log(954), 1e-14);
    assert_true(mw_path_ln_v(&path, 0.5) < half / 2 + 0.2 * 0.25 * 1.922);
}

static void one_place_of_a_steady_path(void **state)
{
    (void)state;
    const double targets[] = {238.5, 238.6, 419.5, 953.9, 954};
    double roots[MW_PATH_ROOTS];
    size_t count;
    for (int turn = 0; turn < 2; turn++) {
        const struct mw_path path =
            turn ? path_of(954, 238.5, 0.2) : path_of(238.5, 954, 0.2);
        for (size_t i = 0; i < 5; i++) {
            check_ok(mw_path_roots(&path, targets[i], roots, &count));
            assert_int_equal(count, 1);
            check_near(mw_path_ln_v(&path, roots[0]), log(targets[i]), 1e-15);
        }
        check_ok(mw_path_roots(&path, 238.4, roots, &count));
        assert_int_equal(count, 0);
        check_ok(mw_path_roots(&path, 954.1, roots, &count));
        assert_int_equal(count, 0);
    }
}

/* K = 3, far above that of any oil: up over the thicker oil and back */
static void two_places_of_a_path_with_a_summit(void **state)
{
    (void)state;
    const struct mw_path path = path_of(238.5, 954, 3);
    double roots[MW_PATH_ROOTS], low = 0.2, high = 0.9;
    size_t count;
    check_ok(mw_path_roots(&path, 1000, roots, &count));
    assert_int_equal(count, 2);
    assert_true(roots[0] < roots[1]);
    check_near(mw_path_ln_v(&path, roots[0]), log(1000), 1e-14);
    check_near(mw_path_ln_v(&path, roots[1]), log(1000), 1e-14);
    /* the summit by thirds: there the two places meet */
    for (int i = 0; i < 200; i++) {
        double a = (2 * low + high) / 3, b = (low + 2 * high) / 3;
        if (mw_path_ln_v(&path, a) < mw_path_ln_v(&path, b)) {
            low = a;
        } else {
            high = b;
        }
    }
    double summit = mw_path_ln_v(&path, low);
    check_ok(mw_path_roots(&path, exp(summit - 1e-10), roots, &count));
    assert_int_equal(count, 2);
    check_near(roots[0], low, 1e-4);
    check_near(roots[1], low, 1e-4);
    check_ok(mw_path_roots(&path, exp(summit + 1e-10), roots, &count));
    assert_int_equal(count, 0);
    check_ok(mw_path_roots(&path, exp(summit), roots, &count));
    assert_in_range(count, 0, 1); /* as rounding has it */
}

/* a valley, by an excess below zero */
static void a_path_with_a_valley(void **state)
{
    (void)state;
    const struct mw_path path = path_of(954, 238.5, -3);
    double roots[MW_PATH_ROOTS];
    size_t count;
    check_ok(mw_path_roots(&path, 230, roots, &count));
    assert_int_equal(count, 2);
    check_near(mw_path_ln_v(&path, roots[0]), log(230), 1e-14);
    check_near(mw_path_ln_v(&path, roots[1]), log(230), 1e-14);
}

/* ln v of oils that differ in their last digits still has its one place */
static void nearly_alike(void **state)
{
    (void)state;
    double roots[MW_PATH_ROOTS];
    size_t count;
    const struct mw_path path = path_of(350, 350 * (1 + 1e-13), 0.2);
    check_ok(mw_path_roots(&path, 350 * (1 + 5e-14), roots, &count));
    assert_int_equal(count, 1);
}

static void no_path(void **state)
{
    (void)state;
    double roots[MW_PATH_ROOTS];
    size_t count = 3;
    struct mw_path path = path_of(350, 350, 0.2);
    assert_int_equal(mw_path_roots(&path, 350, roots, &count),
                     MW_ERR_EQUAL_VISCOSITY);
    assert_int_equal(count, 0);
    path.y2 = 2.385;
    assert_int_equal(mw_path_roots(&path, 350, roots, &count),
                     MW_ERR_VISCOSITY);
    path = path_of(238.5, 954, 0.2);
    assert_int_equal(mw_path_roots(&path, NAN, roots, &count),
                     MW_ERR_VISCOSITY);
    path.y1 = NAN;
    assert_int_equal(mw_path_roots(&path, 350, roots, &count),
                     MW_ERR_VISCOSITY);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ends_are_the_oils),
        cmocka_unit_test(one_place_of_a_steady_path),
        cmocka_unit_test(two_places_of_a_path_with_a_summit),
        cmocka_unit_test(a_path_with_a_valley),
        cmocka_unit_test(nearly_alike),
        cmocka_unit_test(no_path),
    };
    return cmocka_run_group_tests_name("path", tests, NULL, NULL);
}
