/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include <gsl/gsl_cdf.h>
#include <stdlib.h>
#include <string.h>

#include "advice/next_reading.h"
#include "base/range.h"
#include "check.h"
#include "fluid/walther.h"
#include "monte_carlo.h"
#include "rule_blend.h"
#include "table/dosing.h"
#include "table/mix_answer.h"
#include "table/networks.h"

/* J/(mol K), SI brochure; and the slope of the law in 1/T, 5.892 x 298.15 K */
#define R     8.31446261815324
#define LAW_K (5.892 * 298.15)

/* labels of +-5 %, rectangular (GUM 4.3.7); K within +-0.1, that of thin oils
 * by 0.08 and that of a pair by 0.03 more */
#define LABEL (0.05 / sqrt(3))
#define BAND  sqrt(0.1 * 0.1 / 3 + 0.08 * 0.08 + 0.03 * 0.03)

/* the batch, and graduations of the syringe, in ml */
#define BATCH 12.385
#define MARK  0.5

static const struct mw_mix_part two_open[2] = {{MW_AMOUNT_OPEN, NAN, NAN},
                                               {MW_AMOUNT_OPEN, NAN, NAN}};

/* -- As it is drawn ------------------------------------------------------- */

/* Two oils in fixed shares, without the modules under test. The z are drawn
 * with a standard deviation of 1, and scaled to the distribution and the
 * uncertainty of each input. */
struct model {
    double v[2];    /* mm2/s at 25 C, or at 40 C of petroleum oils */
    double v100[2]; /* of petroleum oils, which are mixed by Wright; else 0 */
    double share[2];
    double t, thermometer; /* degC; K, standard */
    double dose;           /* of parts of the batch, standard */
    double z_oil[2], z_point[2], z_far[2], z_dose[2], z_energy[2];
    double z_excess, z_temperature;
};

/* a rectangular variable with the standard deviation of the normal one */
static double even(double z)
{
    return sqrt(3) * (2 * gsl_cdf_ugaussian_P(z) - 1);
}

/* by its label, and the silicone law of its own */
static double silicone_of(const struct model *w, size_t i, double t)
{
    double slope = LAW_K + 970 * even(w->z_energy[i]) / R;
    return w->v[i] * exp(LABEL * even(w->z_oil[i])) *
           exp(slope * (1 / (t + 273.15) - 1 / 298.15));
}

/* a quarter of the variance of its points is common to both */
static double petroleum_of(const struct model *w, size_t i, double t,
                           struct mw_line *line)
{
    const double common = w->z_oil[i] / 2, own = sqrt(3) / 2;
    const struct mw_point p = {
        w->v[i] * exp(LABEL * (common + own * w->z_point[i])), 40};
    const struct mw_point q = {
        w->v100[i] * exp(LABEL * (common + own * w->z_far[i])), 100};
    double v;
    mw_line_through(&p, &q, line);
    mw_line_at(line, t, &v);
    return v;
}

static double ln_v_of(const void *measurement)
{
    const struct model *w = measurement;
    double v[2], shares[2], x, mix;
    double t = w->t + w->thermometer * even(w->z_temperature);
    bool petroleum = w->v100[0] > 0;
    struct mw_line lines[2];
    double one = w->share[0] + w->dose * even(w->z_dose[0]);
    double two = w->share[1] + w->dose * even(w->z_dose[1]);
    shares[0] = one / (one + two);
    shares[1] = two / (one + two);
    for (size_t i = 0; i < 2; i++) {
        v[i] =
            petroleum ? petroleum_of(w, i, t, &lines[i]) : silicone_of(w, i, t);
    }
    if (petroleum) {
        mw_chart_x(t, &x);
        rule_blend(MW_RULE_WRIGHT, v, lines, shares, 2, x, 0, &mix);
    } else {
        double k = 0.2 + BAND * even(w->z_excess);
        rule_blend(MW_RULE_ASTM, v, NULL, shares, 2, NAN, k, &mix);
    }
    return log(mix);
}

/* the standard deviation of ln v with all inputs drawn */
static double drawn(struct model w)
{
    bool petroleum = w.v100[0] > 0;
    const struct uncertain inputs[] = {{&w.z_oil[0], 1},
                                       {&w.z_oil[1], 1},
                                       {&w.z_point[0], petroleum},
                                       {&w.z_point[1], petroleum},
                                       {&w.z_far[0], petroleum},
                                       {&w.z_far[1], petroleum},
                                       {&w.z_dose[0], 1},
                                       {&w.z_dose[1], 1},
                                       {&w.z_energy[0], !petroleum},
                                       {&w.z_energy[1], !petroleum},
                                       {&w.z_excess, !petroleum},
                                       {&w.z_temperature, 1}};
    return monte_carlo(ln_v_of, &w, inputs, sizeof inputs / sizeof inputs[0])
        .deviation;
}

/* a job of two oils with these amounts */
static struct mw_mix_job job_of(const struct mw_mix_part *parts, double t)
{
    return (struct mw_mix_job){.count = 2,
                               .parts = parts,
                               .temperature = t,
                               .target = NAN,
                               .batch_ml = NAN,
                               .batch_g = NAN};
}

/* the answer of the module under test */
static void check_is_drawn(const struct model *w)
{
    const bool petroleum_oils = w->v100[0] > 0;
    const struct mw_mix_part parts[2] = {{MW_AMOUNT_SHARE, w->share[0], NAN},
                                         {MW_AMOUNT_SHARE, w->share[1], NAN}};
    struct mw_network_bottle bottles[2];
    const size_t nodes[2] = {0, 1};
    struct mw_mix_job job = job_of(parts, w->t);
    struct mw_mix_oils oils;
    struct mw_mix_answer answer;
    struct model same = *w;
    for (size_t i = 0; i < 2; i++) {
        bottles[i] =
            petroleum_oils ? petroleum(w->v[i], w->v100[i]) : silicone(w->v[i]);
    }
    struct mw_network *network = network_of(bottles, 2, NULL, 0);
    job.thermometer = w->thermometer * sqrt(3);
    job.batch_ml = BATCH;
    job.tools.graduation_ml = MARK;
    same.dose = MARK / 2 / sqrt(3) / BATCH;
    check_ok(mw_mix_gather(network, nodes, 2, NULL, &oils));
    check_ok(mw_mix_answer(&oils, &job, &answer));
    check_part(log(answer.mix.viscosity), ln_v_of(&same), 1e-12);
    check_part(answer.uncertainty, drawn(same), 0.03);
    check_part(answer.low, answer.mix.viscosity * exp(-2 * answer.uncertainty),
               1e-12);
    check_part(answer.high, answer.mix.viscosity * exp(2 * answer.uncertainty),
               1e-12);
    mw_network_free(network);
}

static void a_mix_is_as_sure_as_it_is_drawn(void **state)
{
    (void)state;
    /* at a rating the thermometer plays no part */
    check_is_drawn(
        &(struct model){.v = {350, 500}, .share = {0.5, 0.5}, .t = 25});
    check_is_drawn(&(struct model){.v = {350, 500},
                                   .share = {0.3, 0.7},
                                   .t = 12,
                                   .thermometer = 1 / sqrt(3)});
    check_is_drawn(&(struct model){
        .v = {100, 2385}, .share = {0.6, 0.4}, .t = 38.5, .thermometer = 0.5});
    check_is_drawn(&(struct model){.v = {30, 490},
                                   .v100 = {5, 32},
                                   .share = {0.6, 0.4},
                                   .t = 63,
                                   .thermometer = 1 / sqrt(3)});
}

/* -- By hand -------------------------------------------------------------- */

static double line_of(const struct mw_budget *budget, const char *name)
{
    for (size_t i = 0; i < budget->count; i++) {
        if (strcmp(budget->parts[i].name, name) == 0) {
            return fabs(budget->parts[i].uncertainty *
                        budget->parts[i].sensitivity);
        }
    }
    return 0;
}

/* what these bottles are known to be; network_free() what is returned */
static struct mw_network *gather(const struct mw_network_bottle *bottles,
                                 size_t count, struct mw_mix_oils *oils)
{
    size_t nodes[MW_MIX_OILS_MAX];
    struct mw_network *network = network_of(bottles, count, NULL, 0);
    for (size_t i = 0; i < count; i++) {
        nodes[i] = i;
    }
    check_ok(mw_mix_gather(network, nodes, count, NULL, oils));
    return network;
}

static void a_cold_oil(void **state)
{
    const struct mw_network_bottle bottle = silicone(350);
    const struct mw_mix_part all = {MW_AMOUNT_SHARE, 1, NAN};
    struct mw_mix_job job = job_of(&all, 12);
    struct mw_mix_oils oils;
    struct mw_mix_answer answer;
    struct mw_network *network = gather(&bottle, 1, &oils);
    (void)state;
    job.count = 1;
    job.thermometer = MW_THERMOMETER;
    check_ok(mw_mix_answer(&oils, &job, &answer));
    check_near(line_of(&answer.budget, MW_FROM_OILS), 0.0288675, 1e-7);
    /* 5.892 x 298.15/285.15^2 = 0.0216048 a degree; 1 K/sqrt 3 = 0.577350 K */
    check_near(line_of(&answer.budget, MW_FROM_TEMPERATURE), 0.0124736, 1e-6);
    /* 0.97 kJ/mol over R is 116.6642 K; 1/285.15 - 1/298.15 = 1.529099e-4 per
     * K */
    check_near(line_of(&answer.budget, MW_FROM_LAW), 0.0178391, 1e-7);
    /* sqrt(0.0288675^2 + 0.0124736^2 + 0.0178391^2) */
    check_near(answer.uncertainty, 0.0361546, 1e-6);
    assert_true(!answer.has_recipe && !answer.tops_up && !answer.left_shifts);
    check_near(answer.shares[0], 1, 0);
    assert_true(isnan(answer.settle_s));
    mw_network_free(network);
}

/* -- What is poured ------------------------------------------------------- */

static void a_target_and_a_tool(void **state)
{
    const struct mw_network_bottle bottles[2] = {silicone(352.5),
                                                 silicone(498.5)};
    struct mw_mix_job job = job_of(two_open, 25);
    struct mw_mix_oils oils;
    struct mw_mix_answer answer;
    struct mw_mix plain;
    struct mw_network *network = gather(bottles, 2, &oils);
    (void)state;
    check_part(oils.method.excess, 0.20, 1e-12);
    check_part(oils.excess_uncertainty, BAND, 1e-12);
    check_near(oils.uncertainty[1], LABEL, 1e-12);
    job.target = 420;
    check_ok(mw_mix_answer(&oils, &job, &answer));
    assert_true(!answer.has_recipe); /* no tool */
    job.tools.graduation_ml = 0.2;
    check_ok(mw_mix_answer(&oils, &job, &answer));
    assert_true(!answer.has_recipe); /* no batch */
    job.batch_ml = BATCH;
    check_ok(mw_mix_answer(&oils, &job, &answer));
    assert_true(answer.has_recipe);
    check_near(answer.mix.viscosity, 420, 1e-9);
    assert_true(answer.recipe.total_ml >= BATCH);
    check_near(remainder(answer.recipe.doses[0].volume_ml, 0.2), 0, 1e-12);
    assert_true(answer.settle_s > 60 && answer.settle_depth > 0.01);
    /* the standard alone needs more of the thick one */
    job.oils = oils.oils;
    job.method = (struct mw_method){MW_RULE_ASTM, 0};
    check_ok(mw_mix_solve(&job, &plain));
    check_near(answer.plain_shares[1], plain.shares[1], 1e-12);
    assert_true(plain.shares[1] > answer.shares[1] + 0.001);
    check_near(answer.poured_viscosity, answer.mix.viscosity, 0);
    for (int drops = 0; drops < 2; drops++) {
        job.tools = drops ? (struct mw_tools){.drop_ml = 0.0125}
                          : (struct mw_tools){.resolution_g = 0.05};
        check_ok(mw_mix_answer(&oils, &job, &answer));
        assert_true(answer.has_recipe);
    }
    mw_network_free(network);
}

static void amounts_that_leave_nothing_to_round(void **state)
{
    const struct mw_mix_part given[2] = {{MW_AMOUNT_ML, 4.385, NAN},
                                         {MW_AMOUNT_G, 5.25, NAN}};
    const struct mw_mix_part parts[2] = {{MW_AMOUNT_PARTS, 2, NAN},
                                         {MW_AMOUNT_PARTS, 3, NAN}};
    const struct mw_mix_part top_up[2] = {{MW_AMOUNT_ML, 10, NAN},
                                          {MW_AMOUNT_OPEN, NAN, NAN}};
    const struct mw_network_bottle bottles[2] = {silicone(380), silicone(300)};
    struct mw_mix_job job = job_of(given, 25);
    struct mw_mix_oils oils;
    struct mw_mix_answer answer;
    struct mw_network *network = gather(bottles, 2, &oils);
    (void)state;
    job.tools.graduation_ml = 0.1;
    check_ok(mw_mix_answer(&oils, &job, &answer));
    assert_true(!answer.has_recipe && !answer.tops_up);
    check_near(answer.plain_shares[0], answer.shares[0], 0); /* no target */
    job.parts = parts;
    job.batch_ml = BATCH;
    check_ok(mw_mix_answer(&oils, &job, &answer));
    assert_true(answer.has_recipe);
    job.parts = top_up;
    job.batch_ml = NAN;
    job.target = 350;
    check_ok(mw_mix_answer(&oils, &job, &answer));
    assert_true(answer.has_recipe && answer.tops_up);
    assert_int_equal(answer.mix.open[0], 1);
    check_near(remainder(answer.recipe.doses[1].volume_ml, 0.1), 0, 1e-12);
    mw_network_free(network);
}

/* parts beside an open oil are no top-up where the batch is given */
static void parts_of_a_batch(void **state)
{
    const struct mw_mix_part parts[2] = {{MW_AMOUNT_PARTS, 2, NAN},
                                         {MW_AMOUNT_OPEN, NAN, NAN}};
    const struct mw_network_bottle bottles[2] = {silicone(380), silicone(300)};
    struct mw_mix_job job = job_of(parts, 25);
    struct mw_mix_oils oils;
    struct mw_mix_answer answer;
    struct mw_network *network = gather(bottles, 2, &oils);
    (void)state;
    job.target = 350;
    check_ok(mw_mix_answer(&oils, &job, &answer));
    assert_true(!answer.tops_up);
    job.batch_ml = 12.385;
    check_ok(mw_mix_answer(&oils, &job, &answer));
    assert_true(!answer.tops_up);
    check_part(answer.mix.total_ml, 12.385, 1e-12);
    job.batch_ml = NAN;
    job.batch_g = 12.385;
    check_ok(mw_mix_answer(&oils, &job, &answer));
    assert_true(!answer.tops_up);
    mw_network_free(network);
}

/* what no tool can measure is no answer */
static void a_tool_that_is_too_coarse(void **state)
{
    const struct mw_network_bottle bottles[2] = {silicone(350), silicone(500)};
    const double left[2] = {0.15, NAN};
    struct mw_mix_job job = job_of(two_open, 25);
    struct mw_mix_oils oils;
    struct mw_mix_answer answer;
    struct mw_network *network = gather(bottles, 2, &oils);
    (void)state;
    job.target = 420;
    job.batch_ml = 5.385;
    job.left_ml = left;
    job.tools.graduation_ml = 0.2;
    assert_int_equal(mw_mix_answer(&oils, &job, &answer), MW_ERR_TOOL);
    assert_true(!answer.has_recipe && answer.mix.shortest == 0);
    mw_network_free(network);
}

/* -- What is in the cup already ------------------------------------------- */

static void what_is_left_is_an_oil_of_the_mix(void **state)
{
    const struct mw_mix_part parts[3] = {{MW_AMOUNT_ML, 5, NAN},
                                         {MW_AMOUNT_ML, 5, NAN},
                                         {MW_AMOUNT_ML, 2.5, NAN}};
    const struct mw_network_bottle bottles[3] = {silicone(350), silicone(500),
                                                 silicone(30000)};
    struct mw_mix_job job = job_of(parts, 25);
    struct mw_mix_oils oils;
    struct mw_mix_answer named, left;
    struct mw_network *network = gather(bottles, 3, &oils);
    (void)state;
    job.count = 3;
    check_ok(mw_mix_answer(&oils, &job, &named));
    job.in_cup = 1;
    check_ok(mw_mix_answer(&oils, &job, &left));
    check_near(left.mix.viscosity, named.mix.viscosity, 0);
    check_near(left.uncertainty, named.uncertainty, 0);
    check_near(left.mix.plain_viscosity, named.mix.plain_viscosity, 0);
    check_part(left.shares[0], 0.5, 1e-12);
    check_part(named.shares[0], 0.4, 1e-12);
    assert_true(left.poured_viscosity > 400 && left.poured_viscosity < 440);
    mw_network_free(network);
}

/* too much of it for the target: the recipe as without it */
static void what_cannot_be_made_up_for(void **state)
{
    const struct mw_mix_part parts[3] = {{MW_AMOUNT_OPEN, NAN, NAN},
                                         {MW_AMOUNT_OPEN, NAN, NAN},
                                         {MW_AMOUNT_ML, 2.5, NAN}};
    const struct mw_network_bottle bottles[3] = {silicone(350), silicone(500),
                                                 silicone(10000)};
    struct mw_mix_job job = job_of(parts, 25);
    struct mw_mix_oils oils;
    struct mw_mix_answer answer;
    struct mw_network *network = gather(bottles, 3, &oils);
    (void)state;
    job.count = 3;
    job.in_cup = 1;
    job.target = 420;
    job.batch_ml = 12.5;
    check_ok(mw_mix_answer(&oils, &job, &answer));
    assert_true(answer.left_shifts && answer.mix.viscosity > 500);
    check_near(answer.mix.volumes[0] + answer.mix.volumes[1], 10, 1e-9);
    check_near(answer.poured_viscosity, 420, 1e-6);
    job.batch_ml = NAN;
    job.batch_g = 12.5;
    check_ok(mw_mix_answer(&oils, &job, &answer));
    check_near(answer.poured_viscosity, 420, 1e-6);
    /* beside more of the others there is no need to; and where there is no
     * recipe without it there is none at all */
    job.target = 450;
    job.batch_g = NAN;
    job.batch_ml = 250;
    check_ok(mw_mix_answer(&oils, &job, &answer));
    assert_true(!answer.left_shifts);
    job.target = 200;
    assert_int_equal(mw_mix_answer(&oils, &job, &answer), MW_ERR_TARGET);
    /* a top-up has nothing to fall back on */
    const struct mw_mix_part top_up[3] = {{MW_AMOUNT_ML, 10, NAN},
                                          {MW_AMOUNT_OPEN, NAN, NAN},
                                          {MW_AMOUNT_ML, 2.5, NAN}};
    job.parts = top_up;
    job.batch_ml = NAN;
    assert_int_equal(mw_mix_answer(&oils, &job, &answer), MW_ERR_TARGET);
    assert_true(!answer.left_shifts);
    mw_network_free(network);
}

/* -- Labels --------------------------------------------------------------- */

static void the_label_of_a_mix(void **state)
{
    const struct mw_network_bottle bottles[2] = {silicone(350), silicone(500)};
    struct mw_mix_job job = job_of(two_open, 25);
    struct mw_mix_oils oils;
    struct mw_mix_answer answer;
    struct mw_oil label;
    struct mw_network *network = gather(bottles, 2, &oils);
    (void)state;
    job.target = 420;
    job.batch_ml = 7;
    job.tools.graduation_ml = 0.5;
    check_ok(mw_mix_answer(&oils, &job, &answer));
    check_ok(mw_mix_label(&oils, &job, &answer, &label));
    assert_int_equal(label.count, 1);
    check_near(label.points[0].viscosity, answer.recipe.viscosity, 0);
    assert_true(label.points[0].viscosity != 420);
    mw_network_free(network);
}

static void the_label_of_petroleum_oils(void **state)
{
    struct mw_network_bottle bottles[2] = {petroleum(30, 5),
                                           petroleum(490, 32)};
    struct mw_mix_job job = job_of(two_open, 40);
    struct mw_mix_oils oils;
    struct mw_mix_answer answer;
    struct mw_oil label;
    double v;
    struct mw_network *network = gather(bottles, 2, &oils);
    (void)state;
    job.target = 100;
    check_ok(mw_mix_answer(&oils, &job, &answer));
    check_ok(mw_mix_label(&oils, &job, &answer, &label));
    assert_int_equal(label.count, 2);
    check_near(label.points[0].viscosity, 100, 1e-9);
    check_near(label.points[1].temperature, 100, 0);
    check_ok(
        mw_mixture(oils.oils, answer.shares, 2, 100, &oils.method, &v, NULL));
    check_near(label.points[1].viscosity, v, 0);
    /* at another temperature than both ratings the first one is the second */
    job.temperature = 55;
    job.target = 60;
    check_ok(mw_mix_answer(&oils, &job, &answer));
    check_ok(mw_mix_label(&oils, &job, &answer, &label));
    check_near(label.points[1].temperature, 40, 0);
    answer.shares[0] = 0.7; /* no whole: by hand, or by mistake */
    assert_int_equal(mw_mix_label(&oils, &job, &answer, &label), MW_ERR_SHARES);
    oils.oils[1].has_line = false;
    assert_int_equal(mw_mix_label(&oils, &job, &answer, &label), MW_ERR_SHARES);
    mw_network_free(network);
}

/* -- Questions ------------------------------------------------------------ */

static void a_method_that_was_given(void **state)
{
    const struct mw_network_bottle bottles[2] = {silicone(350), silicone(500)};
    const struct mw_method plain = {MW_RULE_ASTM, 0};
    const size_t nodes[2] = {0, 1};
    struct mw_mix_job job = job_of(two_open, 25);
    struct mw_mix_oils oils;
    struct mw_mix_answer answer;
    struct mw_network *network = network_of(bottles, 2, NULL, 0);
    (void)state;
    check_ok(mw_mix_gather(network, nodes, 2, &plain, &oils));
    assert_true(oils.exact && oils.excess_uncertainty == 0);
    job.target = 420;
    check_ok(mw_mix_answer(&oils, &job, &answer));
    check_near(line_of(&answer.budget, MW_FROM_EXCESS), 0, 0);
    check_near(answer.plain_shares[1], answer.shares[1], 0);
    mw_network_free(network);
}

static void a_question_to_the_network(void **state)
{
    const struct mw_network_bottle bottles[2] = {silicone(350), silicone(500)};
    struct mw_mix_job job = job_of(two_open, 25);
    struct mw_mix_oils oils;
    struct mw_mix_answer answer;
    struct mw_budget budget;
    double doses[MW_MIX_OILS_MAX], v;
    struct mw_network *network = gather(bottles, 2, &oils);
    (void)state;
    job.target = 420;
    check_ok(mw_mix_answer(&oils, &job, &answer));
    const struct mw_network_mix question =
        mw_mix_question(&oils, &job, &answer.mix, doses);
    check_ok(mw_network_mix(network, &question, &v, &budget, NULL));
    check_near(mw_budget_combined(&budget), answer.uncertainty, 0);
    check_part(v, 420, 1e-9);
    check_part(doses[0],
               MW_DOSE_UNKNOWN * fmin(answer.shares[0], answer.shares[1]),
               1e-12);
    mw_network_free(network);
}

static void no_answer(void **state)
{
    const struct mw_network_bottle bottles[] = {silicone(350), silicone(500),
                                                petroleum(32, 5.4)};
    const size_t nodes[] = {0, 1}, families[] = {0, 2};
    struct mw_mix_job job = job_of(two_open, 25);
    struct mw_mix_oils oils;
    struct mw_mix_answer answer;
    struct mw_network *network = network_of(bottles, 3, NULL, 0);
    (void)state;
    assert_int_equal(mw_mix_gather(network, nodes, 0, NULL, &oils),
                     MW_ERR_BUDGET);
    assert_int_equal(
        mw_mix_gather(network, nodes, MW_MIX_OILS_MAX + 1, NULL, &oils),
        MW_ERR_BUDGET);
    assert_int_equal(mw_mix_gather(network, families, 2, NULL, &oils),
                     MW_ERR_FAMILY);
    check_ok(mw_mix_gather(network, nodes, 2, NULL, &oils));
    assert_int_equal(mw_mix_answer(&oils, &job, &answer), MW_ERR_UNKNOWNS);
    job.target = 900;
    assert_int_equal(mw_mix_answer(&oils, &job, &answer), MW_ERR_TARGET);
    job.target = 420;
    job.count = 1;
    assert_int_equal(mw_mix_answer(&oils, &job, &answer), MW_ERR_UNKNOWNS);
    job.count = job.in_cup = 2;
    assert_int_equal(mw_mix_answer(&oils, &job, &answer), MW_ERR_UNKNOWNS);
    job.in_cup = 0;
    job.thermometer = -1;
    assert_int_equal(mw_mix_answer(&oils, &job, &answer), MW_ERR_UNCERTAINTY);
    assert_true(isnan(answer.low) && isnan(answer.uncertainty));
    mw_network_free(network);
}

/* a mix of two mixes of forty bottles each */
static void too_many_bottles(void **state)
{
    enum { MANY = 40 };
    static struct mw_network_bottle many[2 * MANY + 3];
    static struct mw_network_part parts[2][MANY];
    static const struct mw_network_part both[2] = {{2 * MANY, 5},
                                                   {2 * MANY + 1, 5}};
    const size_t nodes[2] = {2 * MANY + 2, 0};
    struct mw_mix_oils oils;
    (void)state;
    for (size_t i = 0; i < 2 * (size_t)MANY; i++) {
        many[i] = silicone(202.5 + (double)i);
        parts[i / MANY][i % MANY] = (struct mw_network_part){i, 2.385};
    }
    many[2 * MANY] = mix_of(parts[0], MANY);
    many[2 * MANY + 1] = mix_of(parts[1], MANY);
    many[nodes[0]] = mix_of(both, 2);
    struct mw_network *network = network_of(many, nodes[0] + 1, NULL, 0);
    assert_int_equal(mw_mix_gather(network, nodes, 2, NULL, &oils),
                     MW_ERR_BUDGET);
    mw_network_free(network);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_mix_is_as_sure_as_it_is_drawn),
        cmocka_unit_test(a_cold_oil),
        cmocka_unit_test(a_target_and_a_tool),
        cmocka_unit_test(amounts_that_leave_nothing_to_round),
        cmocka_unit_test(parts_of_a_batch),
        cmocka_unit_test(a_tool_that_is_too_coarse),
        cmocka_unit_test(what_is_left_is_an_oil_of_the_mix),
        cmocka_unit_test(what_cannot_be_made_up_for),
        cmocka_unit_test(the_label_of_a_mix),
        cmocka_unit_test(the_label_of_petroleum_oils),
        cmocka_unit_test(a_method_that_was_given),
        cmocka_unit_test(a_question_to_the_network),
        cmocka_unit_test(no_answer),
        cmocka_unit_test(too_many_bottles),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
