/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdbool.h>
#include <stdlib.h>

#include "blend/recipe.h"
#include "check.h"

/* a question about silicone oils at 25 C, and its answer */
struct question {
    struct mw_oil oils[MW_MIX_OILS_MAX];
    struct mw_mix_part parts[MW_MIX_OILS_MAX];
    double left[MW_MIX_OILS_MAX];
    struct mw_mix_job job;
    struct mw_mix mix;
};

static void ask(struct question *question, const double *v, size_t count,
                double target, double batch, struct mw_tools tools)
{
    for (size_t i = 0; i < count; i++) {
        const struct mw_point point = {v[i], 25};
        check_ok(mw_oil_make(MW_SILICONE, &point, 1, NAN, &question->oils[i]));
        question->parts[i] = (struct mw_mix_part){MW_AMOUNT_OPEN, NAN, NAN};
        question->left[i] = NAN;
    }
    question->job = (struct mw_mix_job){
        .count = count,
        .oils = question->oils,
        .parts = question->parts,
        .temperature = 25,
        .target = target,
        .method = {MW_RULE_ASTM, MW_SILICONE_EXCESS},
        .batch_ml = batch,
        .batch_g = NAN,
        .tools = tools,
        .left_ml = question->left,
    };
}

static void solve(struct question *question)
{
    check_ok(mw_mix_solve(&question->job, &question->mix));
}

static enum mw_status recipe_of(struct question *question, double expanded,
                                struct mw_recipe *recipe)
{
    solve(question);
    return mw_recipe(&question->job, &question->mix, expanded, recipe);
}

static double ln_mix(const struct question *question, const double *volumes)
{
    double shares[MW_MIX_OILS_MAX], total = 0, v;
    for (size_t i = 0; i < question->job.count; i++) {
        total += volumes[i];
    }
    for (size_t i = 0; i < question->job.count; i++) {
        shares[i] = volumes[i] / total;
    }
    check_ok(mw_mixture(question->oils, shares, question->job.count, 25,
                        &question->job.method, &v, NULL));
    return log(v);
}

/* what a recipe says of itself is so */
static void check_recipe(const struct question *question,
                         const struct mw_recipe *recipe)
{
    double total = 0, volumes[MW_MIX_OILS_MAX];
    for (size_t i = 0; i < question->job.count; i++) {
        const struct mw_dose *dose = &recipe->doses[i];
        volumes[i] = dose->volume_ml;
        total += volumes[i];
        if (dose->steps > 0) {
            check_part(dose->volume_ml,
                       dose->steps * question->mix.tools[i].step_ml, 1e-14);
        }
    }
    check_part(recipe->total_ml, total, 1e-14);
    check_near(log(recipe->viscosity), ln_mix(question, volumes), 1e-12);
    check_near(recipe->miss,
               ln_mix(question, volumes) - log(question->mix.viscosity), 1e-12);
}

/* -- The search ----------------------------------------------------------- */

static double draw(void)
{
    return rand() / (RAND_MAX + 1.0);
}

static double pick(const double *list, size_t count)
{
    return list[(size_t)(draw() * (double)count)];
}

/* a syringe of 0.1 to 1 ml, a scale of 0.01 to 0.1 g, or drops of 0.02 ml */
static struct mw_tools any_tools(void)
{
    static const double graduations[] = {0.1, 0.2, 0.25, 0.5, 1};
    static const double resolutions[] = {0.01, 0.02, 0.05, 0.1};
    switch (rand() % 3) {
    case 0:
        return (struct mw_tools){.graduation_ml = pick(graduations, 5)};
    case 1:
        return (struct mw_tools){.resolution_g = pick(resolutions, 4)};
    default:
        return (struct mw_tools){.drop_ml = 0.02};
    }
}

static void draw_question(struct question *question)
{
    double v[2] = {50 * exp(5 * draw()), 0};
    v[1] = v[0] * exp(0.05 + 3 * draw());
    if (rand() % 2) {
        double other = v[0];
        v[0] = v[1];
        v[1] = other;
    }
    double f = 0.02 + 0.96 * draw();
    struct mw_tools tools = any_tools();
    double step = tools.graduation_ml + tools.resolution_g + tools.drop_ml;
    ask(question, v, 2, exp((1 - f) * log(v[0]) + f * log(v[1])),
        step * (5 + 120 * draw()), tools);
    if (rand() % 4 == 0) {
        question->job.batch_g = question->job.batch_ml;
        question->job.batch_ml = NAN;
    }
    for (size_t i = 0; i < 2 && rand() % 3 == 0; i++) {
        question->left[i] = 100 * step * draw();
    }
}

/* the batch of two doses, in the unit in which it was asked for */
static double batch_of(const struct question *question, const double *volumes)
{
    const struct mw_oil_state *states = question->mix.states;
    return isfinite(question->job.batch_g)
               ? volumes[0] * states[0].density + volumes[1] * states[1].density
               : volumes[0] + volumes[1];
}

struct limits {
    double least, most; /* of the batch */
    double good;        /* of the miss */
};

static struct limits limits_of(const struct question *question, double expanded)
{
    const struct mw_dose_tool *tools = question->mix.tools;
    const double steps[2] = {tools[0].step_ml, tools[1].step_ml};
    double asked = isfinite(question->job.batch_g) ? question->job.batch_g
                                                   : question->job.batch_ml;
    return (struct limits){
        asked, fmax(1.15 * asked, asked + batch_of(question, steps)),
        expanded / 10};
}

/* the smallest batch that misses by little enough, and the least miss of all,
 * by trying all that can be poured */
static bool search_all(const struct question *question,
                       const struct limits *limits, double *smallest,
                       double *least_miss)
{
    const struct mw_dose_tool *tools = question->mix.tools;
    double most[2], volumes[2];
    *smallest = *least_miss = INFINITY;
    for (size_t i = 0; i < 2; i++) {
        most[i] = isfinite(question->left[i]) ? question->left[i] + 1e-9
                                              : 2 * limits->most;
    }
    for (int a = 1; (volumes[0] = a * tools[0].step_ml) <= most[0]; a++) {
        for (int b = 1; (volumes[1] = b * tools[1].step_ml) <= most[1]; b++) {
            double batch = batch_of(question, volumes);
            if (batch < limits->least - 1e-9 || batch > limits->most + 1e-9) {
                continue;
            }
            double miss =
                fabs(ln_mix(question, volumes) - log(question->mix.viscosity));
            *least_miss = fmin(*least_miss, miss);
            if (miss <= limits->good) {
                *smallest = fmin(*smallest, batch);
            }
        }
    }
    return isfinite(*least_miss);
}

static void check_against_all(struct question *question, double expanded)
{
    struct mw_recipe recipe;
    double smallest, least_miss;
    enum mw_status status = recipe_of(question, expanded, &recipe);
    const struct limits limits = limits_of(question, expanded);
    bool any = search_all(question, &limits, &smallest, &least_miss);
    /* where a bottle holds too little, only what meets the target counts */
    if (!any || (question->mix.shortest < 2 && isinf(smallest))) {
        assert_int_equal(status, MW_ERR_TOOL);
        return;
    }
    const double volumes[2] = {recipe.doses[0].volume_ml,
                               recipe.doses[1].volume_ml};
    check_ok(status);
    check_recipe(question, &recipe);
    assert_int_equal(!!(recipe.warnings & MW_WARN_COARSE),
                     isinf(smallest) ? 1 : 0);
    if (isfinite(smallest)) {
        const struct limits same = {limits.least,
                                    fmin(limits.most, 1.001 * smallest), 0};
        search_all(question, &same, &(double){0}, &least_miss);
        check_near(fabs(recipe.miss), least_miss, 2e-9);
        assert_true(fabs(recipe.miss) <= limits.good);
        assert_true(batch_of(question, volumes) <= same.most + 1e-9);
    } else {
        check_near(fabs(recipe.miss), least_miss, 2e-9);
    }
}

/* 2000 pairs, targets, batches and tools: never short, never over the rule */
static void no_other_recipe_is_better(void **state)
{
    (void)state;
    srand(2385);
    for (int i = 0; i < 2000; i++) {
        struct question question;
        draw_question(&question);
        check_against_all(&question, 0.2 * draw() * draw());
    }
}

static void four_dampers_with_a_fifth_ml(void **state)
{
    (void)state;
    const double v[] = {300, 400};
    struct question question;
    struct mw_recipe recipe;
    ask(&question, v, 2, 330, 10, (struct mw_tools){.graduation_ml = 0.2});
    check_ok(recipe_of(&question, 0.04385, &recipe));
    check_recipe(&question, &recipe);
    assert_int_equal(recipe.doses[0].steps, 34);
    assert_int_equal(recipe.doses[1].steps, 16);
    check_near(recipe.total_ml, 10, 1e-12);
    assert_int_equal(recipe.warnings, 0);
    /* a recipe that must be exact takes more */
    check_ok(recipe_of(&question, NAN, &recipe));
    assert_true(recipe.total_ml > 10.1 && recipe.total_ml <= 11.5 + 1e-9);
    assert_int_equal(recipe.warnings, MW_WARN_COARSE);
}

/* -- More oils, fewer oils ----------------------------------------------- */

static void three_oils_with_a_fixed_share(void **state)
{
    (void)state;
    const double v[] = {300, 400, 500};
    struct question question;
    struct mw_recipe recipe;
    ask(&question, v, 3, 420, 20, (struct mw_tools){.graduation_ml = 0.1});
    question.parts[0] = (struct mw_mix_part){MW_AMOUNT_SHARE, 0.2, NAN};
    check_ok(recipe_of(&question, 0.02385, &recipe));
    check_recipe(&question, &recipe);
    check_near(recipe.total_ml, 20, 0.2);
    assert_true(recipe.total_ml >= 20 - 1e-9);
    check_near(recipe.shares[0], 0.2, 0.1 / 20 + 0.005);
    assert_true(fabs(recipe.miss) <= 0.002385);
    /* the fixed oil runs out, and is followed no further than it goes */
    question.left[0] = 3.85;
    check_ok(recipe_of(&question, 0.2385, &recipe));
    assert_int_equal(recipe.doses[0].steps, 38);
    question.left[0] = 0.05;
    assert_int_equal(recipe_of(&question, 0.02385, &recipe), MW_ERR_TOOL);
    assert_true(isnan(recipe.works) && isnan(recipe.total_ml));
}

static void parts_of_many_oils(void **state)
{
    (void)state;
    const double v[] = {500, 300, 30000, 400};
    struct question question;
    struct mw_recipe recipe;
    ask(&question, v, 4, NAN, 23.85, (struct mw_tools){.graduation_ml = 0.25});
    for (size_t i = 0; i < 4; i++) {
        question.parts[i] =
            (struct mw_mix_part){MW_AMOUNT_PARTS, 1 + (double)i, NAN};
    }
    check_ok(recipe_of(&question, 0.2, &recipe));
    check_recipe(&question, &recipe);
    assert_true(recipe.total_ml >= 23.85 && recipe.total_ml < 23.85 + 1);
    assert_true(fabs(recipe.miss) <= 0.02);
    /* nothing of the thinnest: the others are rounded */
    question.parts[1].amount = 0;
    check_ok(recipe_of(&question, 0.2, &recipe));
    check_recipe(&question, &recipe);
    assert_int_equal(recipe.doses[1].steps, 0);
}

static void one_oil_alone(void **state)
{
    (void)state;
    const double v[] = {300, 400};
    struct question question;
    struct mw_recipe recipe;
    ask(&question, v, 2, 300, 9.9, (struct mw_tools){.graduation_ml = 0.385});
    check_ok(recipe_of(&question, 0.05, &recipe));
    assert_int_equal(recipe.doses[0].steps, 26);
    assert_int_equal(recipe.doses[1].steps, 0);
    check_near(recipe.miss, 0, 1e-15);
    question.job.target = 400;
    check_ok(recipe_of(&question, 0.05, &recipe));
    assert_int_equal(recipe.doses[0].steps, 0);
    assert_int_equal(recipe.doses[1].steps, 26);
}

/* amounts that are there stay, and so does what is left in the damper */
static void top_up_to_the_nearest_graduation(void **state)
{
    (void)state;
    const double v[] = {300, 400, 500};
    struct question question;
    struct mw_recipe recipe;
    ask(&question, v, 3, 420, NAN, (struct mw_tools){.graduation_ml = 0.2});
    question.parts[0] = (struct mw_mix_part){MW_AMOUNT_ML, 5, NAN};
    question.parts[1] = (struct mw_mix_part){MW_AMOUNT_ML, 5, NAN};
    check_ok(recipe_of(&question, 0.03, &recipe));
    check_recipe(&question, &recipe);
    check_near(question.mix.volumes[2], 10.448, 0.0005);
    assert_int_equal(recipe.doses[0].steps, 0);
    assert_int_equal(recipe.doses[2].steps, 52);
    check_near(recipe.total_ml, 20.4, 1e-12);
    question.left[2] = 10.3; /* never more than the bottle holds */
    check_ok(recipe_of(&question, 0.03, &recipe));
    assert_int_equal(recipe.doses[2].steps, 51);
    question.left[2] = 0.1;
    assert_int_equal(recipe_of(&question, 0.03, &recipe), MW_ERR_TOOL);
    /* never nothing */
    question.left[2] = NAN;
    question.job.target = 350;
    check_ok(recipe_of(&question, 0.03, &recipe));
    assert_int_equal(recipe.doses[2].steps, 1);
    assert_int_equal(recipe.warnings, MW_WARN_FEW_STEPS);
}

/* grams and drops that are there stay too; a fixed share beside them is
 * rounded, and must be there */
static void top_up_beside_grams_and_drops(void **state)
{
    (void)state;
    const double v[] = {300, 400, 350, 500};
    struct question question;
    struct mw_recipe recipe;
    ask(&question, v, 4, 420, NAN, (struct mw_tools){.graduation_ml = 0.2});
    question.parts[0] = (struct mw_mix_part){MW_AMOUNT_G, 5.385, NAN};
    question.parts[1] = (struct mw_mix_part){MW_AMOUNT_DROPS, 102, 0.02};
    question.parts[2] = (struct mw_mix_part){MW_AMOUNT_SHARE, 0.1385, NAN};
    check_ok(recipe_of(&question, 0.03, &recipe));
    check_recipe(&question, &recipe);
    assert_int_equal(recipe.doses[0].steps + recipe.doses[1].steps, 0);
    assert_true(recipe.doses[2].steps > 0 && recipe.doses[3].steps > 0);
    check_near(recipe.doses[1].volume_ml, 2.04, 1e-14);
    question.left[2] = 0.1;
    assert_int_equal(recipe_of(&question, 0.03, &recipe), MW_ERR_TOOL);
}

/* -- Tools ---------------------------------------------------------------- */

static void draws_of_a_syringe(void **state)
{
    (void)state;
    const double v[] = {300, 400};
    struct question question;
    struct mw_recipe recipe;
    /* 0.7 ml does not divide 5: a draw is 4.9 ml */
    ask(&question, v, 2, 330, 23.85,
        (struct mw_tools){.graduation_ml = 0.7, .capacity_ml = 5});
    check_ok(recipe_of(&question, 0.1, &recipe));
    check_recipe(&question, &recipe);
    for (size_t i = 0; i < 2; i++) {
        const struct mw_dose *dose = &recipe.doses[i];
        check_near(question.mix.tools[i].draw_ml, 4.9, 1e-12);
        assert_true(dose->last_draw_ml > 0.1 && dose->last_draw_ml < 5);
        check_near((dose->draws - 1) * 4.9 + dose->last_draw_ml,
                   dose->volume_ml, 1e-12);
    }
    assert_int_equal(recipe.doses[0].draws, 4);
    assert_int_equal(recipe.doses[1].draws, 2);
}

static void the_small_dose_is_weighed(void **state)
{
    (void)state;
    const double v[] = {100, 10000};
    struct question question;
    struct mw_recipe recipe;
    ask(&question, v, 2, 150, 10,
        (struct mw_tools){.graduation_ml = 0.2, .resolution_g = 0.01});
    check_ok(recipe_of(&question, 0.1, &recipe));
    check_recipe(&question, &recipe);
    assert_int_equal(question.mix.tools[0].tool, MW_TOOL_SYRINGE);
    assert_int_equal(question.mix.tools[1].tool, MW_TOOL_SCALE);
    check_part(question.mix.tools[1].step_ml,
               0.01 / question.mix.states[1].density, 1e-14);
    /* of a small batch both */
    question.job.batch_ml = 1.9;
    solve(&question);
    assert_int_equal(question.mix.tools[0].tool, MW_TOOL_SCALE);
    /* nothing is no dose */
    question.job.target = 100;
    question.job.batch_ml = 10;
    solve(&question);
    assert_int_equal(question.mix.tools[0].tool, MW_TOOL_SCALE);
}

static void every_oil_has_its_own_drop(void **state)
{
    (void)state;
    const double v[] = {300, 400};
    struct question question;
    struct mw_recipe recipe;
    ask(&question, v, 2, 330, 2.385, (struct mw_tools){.drop_ml = 0.02});
    question.parts[1].drop_ml = 0.0385;
    check_ok(recipe_of(&question, 0.1, &recipe));
    check_recipe(&question, &recipe);
    check_near(question.mix.tools[0].step_ml, 0.02, 0);
    check_near(question.mix.tools[1].step_ml, 0.0385, 0);
    assert_int_equal(question.mix.tools[1].tool, MW_TOOL_DROPS);
    assert_int_equal(recipe.doses[1].draws, 1);
}

/* -- What cannot be measured ---------------------------------------------- */

static void a_smaller_batch_works(void **state)
{
    (void)state;
    const double v[] = {300, 400};
    struct question question;
    struct mw_recipe recipe;
    ask(&question, v, 2, 330, 23.85, (struct mw_tools){.graduation_ml = 0.2});
    question.left[1] = 3.2385;
    assert_int_equal(recipe_of(&question, 0.0385, &recipe), MW_ERR_TOOL);
    assert_int_equal(question.mix.shortest, 1);
    assert_true(recipe.works > 8 && recipe.works < 11);
    question.job.batch_ml = recipe.works;
    check_ok(recipe_of(&question, 0.0385, &recipe));
    assert_true(isnan(recipe.works));
    check_recipe(&question, &recipe);
}

static void nothing_measurable(void **state)
{
    (void)state;
    const double v[] = {300, 400};
    struct question question;
    struct mw_recipe recipe;
    ask(&question, v, 2, 330, 10, (struct mw_tools){0});
    assert_int_equal(recipe_of(&question, 0.05, &recipe), MW_ERR_TOOL);
    assert_true(isnan(recipe.viscosity) && isnan(recipe.shares[0]));
    assert_true(isnan(recipe.doses[1].volume_ml) && isnan(recipe.miss));
    question.job.tools.graduation_ml = 1e-5; /* too many to count */
    assert_int_equal(recipe_of(&question, 0.05, &recipe), MW_ERR_TOOL);
    assert_true(isnan(recipe.works));
    question.job.tools.graduation_ml = 0.2;
    question.job.batch_ml = NAN; /* no batch */
    assert_int_equal(recipe_of(&question, 0.05, &recipe), MW_ERR_AMOUNT);
    assert_true(isnan(recipe.total_ml));
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
        cmocka_unit_test(no_other_recipe_is_better),
        cmocka_unit_test(four_dampers_with_a_fifth_ml),
        cmocka_unit_test(three_oils_with_a_fixed_share),
        cmocka_unit_test(parts_of_many_oils),
        cmocka_unit_test(one_oil_alone),
        cmocka_unit_test(top_up_to_the_nearest_graduation),
        cmocka_unit_test(top_up_beside_grams_and_drops),
        cmocka_unit_test(draws_of_a_syringe),
        cmocka_unit_test(the_small_dose_is_weighed),
        cmocka_unit_test(every_oil_has_its_own_drop),
        cmocka_unit_test(a_smaller_batch_works),
        cmocka_unit_test(nothing_measurable),
        cmocka_unit_test(drops),
    };
    return cmocka_run_group_tests_name("recipe", tests, NULL, NULL);
}
