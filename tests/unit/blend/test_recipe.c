/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>

#include "blend/dose.h"
#include "blend/mixture.h"
#include "blend/recipe.h"
#include "check.h"

/* two silicone oils at 25 C */
struct mix {
    struct mw_oil oils[2];
    struct mw_method method;
    unsigned calls;
};

static struct mix mix_of(double first, double second)
{
    const struct mw_point points[] = {{first, 25}, {second, 25}};
    struct mix mix = {.calls = 0};
    mw_oil_make(MW_SILICONE, &points[0], 1, NAN, &mix.oils[0]);
    mw_oil_make(MW_SILICONE, &points[1], 1, NAN, &mix.oils[1]);
    check_ok(mw_method_default(mix.oils, 2, &mix.method));
    return mix;
}

static double ln_v(double share, void *params)
{
    struct mix *mix = params;
    const double shares[2] = {1 - share, share};
    double v;
    mix->calls++;
    mw_mixture(mix->oils, shares, 2, 25, &mix->method, &v, NULL);
    return log(v);
}

static double share_for(struct mix *mix, double target)
{
    double share;
    check_ok(
        mw_mixture_share(mix->oils, target, 25, &mix->method, &share, NULL));
    return share;
}

static struct mw_recipe found(const struct mw_order *order, struct mix *mix)
{
    struct mw_recipe recipe;
    check_ok(mw_recipe(order, ln_v, mix, &recipe));
    check_part(recipe.volumes[0], recipe.marks[0] * order->mark[0], 1e-14);
    check_part(recipe.volumes[1], recipe.marks[1] * order->mark[1], 1e-14);
    check_part(recipe.batch, recipe.volumes[0] + recipe.volumes[1], 1e-14);
    check_part(recipe.share, recipe.volumes[1] / recipe.batch, 1e-14);
    check_near(recipe.batch, order->batch,
               order->tolerance * order->batch + 1e-12 * order->batch);
    check_near(recipe.miss, ln_v(recipe.share, mix) - ln_v(order->share, mix),
               1e-14);
    return recipe;
}

static void syringe_of_a_fifth_ml(void **state)
{
    struct mix mix = mix_of(350, 500);
    struct mw_order order = {0.50063, 12, 0.15, {0.2, 0.2}};
    (void)state;
    check_near(share_for(&mix, 420), 0.50063, 0.5e-5);
    const struct mw_recipe recipe = found(&order, &mix);
    check_near(exp(ln_v(recipe.share, &mix)), 420, 0.005 * 420);
    assert_int_equal(recipe.marks[0], 30);
    assert_int_equal(recipe.marks[1], 30);
    check_near(recipe.batch, 12, 1e-12);
    assert_int_equal(recipe.warnings, 0);
}

static void scale_of_a_hundredth_gram(void **state)
{
    struct mix mix = mix_of(350, 500);
    struct mw_order order = {share_for(&mix, 420), 12, 0.15, {0, 0}};
    (void)state;
    for (int i = 0; i < 2; i++) {
        double density;
        check_ok(mw_oil_density(&mix.oils[i], 25, &density, NULL));
        check_ok(mw_dose_volume(0.01, density, &order.mark[i]));
    }
    const struct mw_recipe recipe = found(&order, &mix);
    check_near(exp(ln_v(recipe.share, &mix)), 420, 0.001 * 420);
    check_near(recipe.batch, 12, 0.02);
    assert_int_equal(recipe.warnings, 0);
}

/* a wide pair with a coarse syringe: the batch is changed to meet the target */
static void batch_gives_way(void **state)
{
    struct mix mix = mix_of(100, 1000);
    struct mw_order order = {share_for(&mix, 350), 12, 0, {1, 1}};
    (void)state;
    const struct mw_recipe stiff = found(&order, &mix);
    assert_int_equal(stiff.marks[1], 6);
    assert_int_equal(stiff.warnings, MW_WARN_FEW_MARKS | MW_WARN_COARSE);
    order.tolerance = 0.15;
    const struct mw_recipe free = found(&order, &mix);
    assert_true(fabs(free.miss) < fabs(stiff.miss));
    check_near(free.batch, 13, 1e-12);
    /* a tool with fine marks */
    order.mark[0] = order.mark[1] = 0.01;
    const struct mw_recipe fine = found(&order, &mix);
    assert_true(fabs(fine.miss) <= MW_RECIPE_ENOUGH);
    assert_int_equal(fine.warnings, 0);
}

static void equal_recipes_stay_near_the_batch(void **state)
{
    struct mix mix = mix_of(350, 500);
    /* every even number of marks from 52 to 68 is half and half */
    const struct mw_order order = {0.5, 12.3, 0.15, {0.2, 0.2}};
    (void)state;
    const struct mw_recipe recipe = found(&order, &mix);
    assert_int_equal(recipe.marks[0], 31);
    assert_int_equal(recipe.marks[1], 31);
    check_near(recipe.miss, 0, 1e-15);
}

/* with a tolerance of 0, tenths of a ml still add up to the batch, and the
 * best recipe is found */
static void rounding_loses_no_batch(void **state)
{
    struct mix mix = mix_of(350, 500);
    (void)state;
    for (int marks = 2; marks <= 240; marks++) {
        const struct mw_order order = {0.385, marks / 10.0, 0, {0.1, 0.1}};
        const struct mw_recipe recipe = found(&order, &mix);
        assert_int_equal(recipe.marks[0] + recipe.marks[1], marks);
        check_near(recipe.share, 0.385, 0.51 / marks);
    }
}

/* no pair of whole marks within the batch is better, unless this one misses
 * by less than MW_RECIPE_ENOUGH */
static void assert_best(const struct mw_order *order, struct mix *mix)
{
    const struct mw_recipe recipe = found(order, mix);
    const double target = ln_v(order->share, mix);
    const double limit = fmax(fabs(recipe.miss), MW_RECIPE_ENOUGH);
    for (int a = 1; a * order->mark[0] < 2 * order->batch; a++) {
        for (int b = 1; b * order->mark[1] < 2 * order->batch; b++) {
            double batch = a * order->mark[0] + b * order->mark[1];
            double share = b * order->mark[1] / batch;
            if (fabs(batch - order->batch) <=
                order->tolerance * order->batch * (1 - 1e-9)) {
                double miss = fabs(ln_v(share, mix) - target);
                assert_true(miss >= limit - 1e-9 || limit <= MW_RECIPE_ENOUGH);
            }
        }
    }
}

static void no_other_recipe_is_better(void **state)
{
    (void)state;
    srand(2385);
    for (int i = 0; i < 60; i++) {
        double draw[5];
        for (int j = 0; j < 5; j++) {
            draw[j] = rand() / (double)RAND_MAX;
        }
        struct mix mix = mix_of(100 * exp(3 * draw[0]), 100);
        const struct mw_order order = {0.02 + 0.96 * draw[1],
                                       4 + 8 * draw[2],
                                       0.15,
                                       {0.1 + draw[3], 0.1 + draw[4]}};
        assert_best(&order, &mix);
    }
}

/* a share so small that one mark is too much */
static void at_least_one_mark_of_each(void **state)
{
    struct mix mix = mix_of(350, 500);
    const struct mw_order low = {0.01, 12, 0.15, {1, 1}};
    const struct mw_order high = {0.99, 12, 0.15, {1, 1}};
    (void)state;
    assert_int_equal(found(&low, &mix).marks[1], 1);
    assert_int_equal(found(&low, &mix).marks[0], 12);
    assert_int_equal(found(&high, &mix).marks[0], 1);
    assert_int_equal(found(&high, &mix).marks[1], 12);
}

static void nothing_measurable(void **state)
{
    struct mix mix = mix_of(350, 500);
    static const struct {
        struct mw_order order;
        enum mw_status status;
    } rows[] = {
        {{0.5, 1.7, 0.15, {1, 1}}, MW_ERR_TOOL},
        {{0.5, 0.5, 0.15, {0.385, 0.385}}, MW_ERR_TOOL},
        {{0.5, 12, 0, {0.7, 0.7}}, MW_ERR_TOOL},
        {{0.5, 12, 0.15, {1e-5, 1e-5}}, MW_ERR_TOOL},
        {{0.5, 12, 0.15, {0.2, 1e-300}}, MW_ERR_TOOL},
        {{0, 12, 0.15, {0.2, 0.2}}, MW_ERR_SHARES},
        {{1, 12, 0.15, {0.2, 0.2}}, MW_ERR_SHARES},
        {{NAN, 12, 0.15, {0.2, 0.2}}, MW_ERR_SHARES},
        {{0.5, 0, 0.15, {0.2, 0.2}}, MW_ERR_AMOUNT},
        {{0.5, INFINITY, 0.15, {0.2, 0.2}}, MW_ERR_AMOUNT},
        {{0.5, 12, -0.15, {0.2, 0.2}}, MW_ERR_AMOUNT},
        {{0.5, 12, 1, {0.2, 0.2}}, MW_ERR_AMOUNT},
        {{0.5, 12, NAN, {0.2, 0.2}}, MW_ERR_AMOUNT},
        {{0.5, 12, 0.15, {0, 0.2}}, MW_ERR_AMOUNT},
        {{0.5, 12, 0.15, {0.2, NAN}}, MW_ERR_AMOUNT},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct mw_recipe recipe = {.warnings = 1, .marks = {3, 3}};
        assert_int_equal(mw_recipe(&rows[i].order, ln_v, &mix, &recipe),
                         rows[i].status);
        assert_int_equal(recipe.marks[0], 0);
        assert_true(isnan(recipe.volumes[1]));
        assert_true(isnan(recipe.miss));
        assert_int_equal(recipe.warnings, 0);
    }
}

/* known only up to a share of 0.6 */
static double half_known(double share, void *params)
{
    (void)params;
    return share <= 0.6 ? share : (double)NAN;
}

static void rule_without_an_answer(void **state)
{
    struct mw_order order = {0.599, 5, 0.15, {1, 1}};
    struct mw_recipe recipe;
    (void)state;
    check_ok(mw_recipe(&order, half_known, NULL, &recipe));
    assert_int_equal(recipe.marks[0], 2);
    assert_int_equal(recipe.marks[1], 3);
    /* one mark of the second with one or two of the first, both too much */
    order = (struct mw_order){0.599, 2, 0.15, {0.385, 1.5}};
    assert_int_equal(mw_recipe(&order, half_known, NULL, &recipe), MW_ERR_TOOL);
    order.share = 0.601;
    assert_int_equal(mw_recipe(&order, half_known, NULL, &recipe),
                     MW_ERR_VISCOSITY);
}

/* the finest tool that is allowed takes at most two calls for each mark */
static void work_is_bounded(void **state)
{
    struct mix mix = mix_of(350, 500);
    const struct mw_order order = {0.5, 12, 0.15, {1.3800001e-4, 1.3800001e-4}};
    struct mw_recipe recipe;
    (void)state;
    check_ok(mw_recipe(&order, ln_v, &mix, &recipe));
    assert_true(mix.calls <= 2 * MW_MARKS_MAX);
}

static void drops(void **state)
{
    double volume;
    (void)state;
    check_ok(mw_drop_volume(50, 0.62, 0.969, &volume));
    check_part(volume, 0.62 / 0.969 / 50, 1e-14);
    assert_int_equal(mw_drop_volume(0, 0.62, 0.969, &volume), MW_ERR_AMOUNT);
    assert_true(isnan(volume));
    assert_int_equal(mw_drop_volume(50, 0, 0.969, &volume), MW_ERR_AMOUNT);
    assert_int_equal(mw_drop_volume(NAN, 0.62, 0.969, &volume), MW_ERR_AMOUNT);
    assert_int_equal(mw_drop_volume(1, 1e308, 0.1, &volume), MW_ERR_AMOUNT);
    assert_int_equal(mw_drop_volume(1e300, 1e-300, 0.9, &volume),
                     MW_ERR_AMOUNT);
    assert_int_equal(mw_drop_volume(50, 0.62, 969, &volume), MW_ERR_DENSITY);
    assert_true(isnan(volume));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(syringe_of_a_fifth_ml),
        cmocka_unit_test(scale_of_a_hundredth_gram),
        cmocka_unit_test(batch_gives_way),
        cmocka_unit_test(equal_recipes_stay_near_the_batch),
        cmocka_unit_test(rounding_loses_no_batch),
        cmocka_unit_test(no_other_recipe_is_better),
        cmocka_unit_test(at_least_one_mark_of_each),
        cmocka_unit_test(nothing_measurable),
        cmocka_unit_test(rule_without_an_answer),
        cmocka_unit_test(work_is_bounded),
        cmocka_unit_test(drops),
    };
    return cmocka_run_group_tests_name("recipe", tests, NULL, NULL);
}
