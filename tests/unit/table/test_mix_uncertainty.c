/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <gsl/gsl_cdf.h>
#include <string.h>

#include "base/range.h"
#include "check.h"
#include "fluid/oil_internal.h"
#include "fluid/walther.h"
#include "monte_carlo.h"
#include "rule_blend.h"
#include "table/mix_uncertainty.h"

/* J/(mol K), SI brochure; and the slope of the law in 1/T, 5.892 x 298.15 K */
#define R     8.31446261815324
#define LAW_K (5.892 * 298.15)

/* labels of +-5 % and K within +-0.1, both rectangular (GUM 4.3.7) */
#define LABEL (0.05 / sqrt(3))
#define BAND  (0.1 / sqrt(3))

enum { OILS = 5 };

/* A mix and its inputs, without the modules under test. The z are drawn with
 * a standard deviation of 1, and scaled to the distribution and the
 * uncertainty of each input; an input with an uncertainty of 0 does not
 * vary. */
struct model {
    size_t n;
    double v[OILS];     /* mm2/s where each is rated */
    double rated[OILS]; /* degC */
    double ratio[OILS]; /* v at 40 C over v at 100 C, mixed by Wright; else 0 */
    double share[OILS];
    double t, k;
    double oils[OILS], doses[OILS]; /* standard uncertainties */
    double excess, thermometer, energy;
    double z_oil[OILS], z_dose[OILS], z_excess, z_temperature, z_energy;
};

/* a rectangular variable with the standard deviation of the normal one */
static double even(double z)
{
    return sqrt(3) * (2 * gsl_cdf_ugaussian_P(z) - 1);
}

static double ln_v_of(const void *measurement)
{
    const struct model *w = measurement;
    double v[OILS], shares[OILS], sum = 0, mix;
    double t = w->t + w->thermometer * even(w->z_temperature);
    double slope = LAW_K + 1000 * w->energy * even(w->z_energy) / R;
    struct mw_line lines[OILS];
    for (size_t i = 0; i < w->n; i++) {
        v[i] = w->v[i] * exp(w->oils[i] * even(w->z_oil[i]));
        const struct mw_point p = {v[i], 40}, q = {v[i] / w->ratio[i], 100};
        if (w->ratio[i] > 0) {
            mw_line_through(&p, &q, &lines[i]);
        } else {
            v[i] *=
                exp(slope * (1 / (t + 273.15) - 1 / (w->rated[i] + 273.15)));
        }
        shares[i] = w->share[i] + w->doses[i] * even(w->z_dose[i]);
        sum += shares[i];
    }
    for (size_t i = 0; i < w->n; i++) {
        shares[i] /= sum;
    }
    if (w->ratio[0] > 0) {
        double x;
        mw_chart_x(t, &x);
        rule_blend(MW_RULE_WRIGHT, v, lines, shares, w->n, x, 0, &mix);
        return log(mix);
    }
    rule_blend(MW_RULE_ASTM, v, NULL, shares, w->n, NAN,
               w->k + w->excess * even(w->z_excess), &mix);
    return log(mix);
}

/* the standard deviation of ln v with all inputs drawn */
static double drawn(struct model w)
{
    struct uncertain inputs[2 * OILS + 3];
    size_t count = 0;
    for (size_t i = 0; i < w.n; i++) {
        inputs[count++] = (struct uncertain){&w.z_oil[i], w.oils[i] > 0};
        inputs[count++] = (struct uncertain){&w.z_dose[i], w.doses[i] > 0};
    }
    inputs[count++] = (struct uncertain){&w.z_excess, w.excess > 0};
    inputs[count++] = (struct uncertain){&w.z_temperature, w.thermometer > 0};
    inputs[count++] = (struct uncertain){&w.z_energy, w.energy > 0};
    return monte_carlo(ln_v_of, &w, inputs, count).deviation;
}

static struct mw_oil oil_of(const struct model *w, size_t i)
{
    const struct mw_point points[2] = {{w->v[i], w->rated[i]},
                                       {w->v[i] / w->ratio[i], 100}};
    bool lined = w->ratio[i] > 0;
    struct mw_oil oil;
    check_ok(mw_oil_make(lined ? MW_MINERAL : MW_SILICONE, points,
                         lined ? 2 : 1, NAN, &oil));
    return oil;
}

/* the budget of a model, by the module under test */
static enum mw_status try_budget(const struct model *w,
                                 struct mw_budget *budget)
{
    struct mw_oil oils[OILS];
    const struct mw_method method = {
        w->ratio[0] > 0 ? MW_RULE_WRIGHT : MW_RULE_ASTM, w->k};
    const struct mw_mix_inputs inputs = {w->oils, w->excess,
                                         w->thermometer * sqrt(3), w->doses};
    for (size_t i = 0; i < w->n; i++) {
        oils[i] = oil_of(w, i);
    }
    return mw_mixture_uncertainty(oils, w->share, w->n, w->t, &method, &inputs,
                                  budget);
}

static struct mw_budget budget_of(const struct model *w)
{
    struct mw_budget budget;
    check_ok(try_budget(w, &budget));
    return budget;
}

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

static void check_budget_is_drawn(const struct model *w)
{
    struct mw_budget budget = budget_of(w);
    check_part(mw_budget_combined(&budget), drawn(*w), 0.03);
}

/* 350 and 500, half and half, with exact inputs */
static struct model usual_mix(double t)
{
    return (struct model){.n = 2,
                          .v = {350, 500},
                          .rated = {25, 25},
                          .share = {0.5, 0.5},
                          .t = t,
                          .k = 0.2};
}

/* the same with the usual uncertainties: away from 25 C also those of the
 * thermometer and of the law, whose activation energy is uncertain by 0.97
 * kJ/mol */
static struct model uncertain_mix(double t)
{
    struct model w = usual_mix(t);
    w.oils[0] = w.oils[1] = LABEL;
    w.excess = BAND;
    if (t != 25) {
        w.thermometer = 1 / sqrt(3);
        w.energy = 0.97;
    }
    return w;
}

static void the_usual_excess_is_its_band(void **state)
{
    (void)state;
    /* 0.10 to 0.30: half the width over sqrt 3 */
    check_near(mw_usual_excess_uncertainty(), 0.0577350269, 1e-10);
}

static enum mw_status budget_of_one(const struct mw_oil *oil, double t,
                                    struct mw_budget *budget)
{
    const struct mw_method plain = {MW_RULE_ASTM, 0};
    const double whole = 1, label = LABEL;
    const struct mw_mix_inputs inputs = {&label, 0, MW_THERMOMETER, NULL};
    return mw_mixture_uncertainty(oil, &whole, 1, t, &plain, &inputs, budget);
}

static void a_label_counts_as_it_is(void **state)
{
    const struct model w = {.n = 1, .v = {350}, .rated = {25}};
    const struct mw_oil oil = oil_of(&w, 0);
    struct mw_budget budget;
    (void)state;
    /* at its rating only the label is uncertain: 0.05/sqrt 3 */
    check_ok(budget_of_one(&oil, 25, &budget));
    assert_int_equal(budget.count, 1);
    assert_string_equal(budget.parts[0].name, MW_FROM_OILS);
    check_near(mw_budget_combined(&budget), 0.0288675135, 1e-10);
}

static void a_cold_oil_by_hand(void **state)
{
    const struct model w = {.n = 1, .v = {350}, .rated = {25}};
    const struct mw_oil oil = oil_of(&w, 0);
    struct mw_budget budget;
    (void)state;
    check_ok(budget_of_one(&oil, 12, &budget));
    assert_int_equal(budget.count, 3);
    assert_string_equal(budget.parts[0].name, MW_FROM_OILS);
    assert_string_equal(budget.parts[1].name, MW_FROM_TEMPERATURE);
    assert_string_equal(budget.parts[2].name, MW_FROM_LAW);
    check_near(line_of(&budget, MW_FROM_OILS), 0.0288675, 1e-7);
    /* 5.892 x 298.15/285.15^2 = 0.0216048 a degree; 1 K/sqrt 3 = 0.577350 K */
    check_near(line_of(&budget, MW_FROM_TEMPERATURE), 0.0124736, 1e-6);
    /* 0.97 kJ/mol over R is 116.6642 K; 1/285.15 - 1/298.15 = 1.529099e-4 per
     * K */
    check_near(line_of(&budget, MW_FROM_LAW), 0.0178391, 1e-7);
    /* sqrt(0.0288675^2 + 0.0124736^2 + 0.0178391^2) */
    check_near(mw_budget_combined(&budget), 0.0361546, 1e-6);
}

static void a_mix_by_hand(void **state)
{
    struct model w = uncertain_mix(25);
    double at[3], slope[3];
    (void)state;
    w.doses[0] = w.doses[1] = 0.01;
    struct mw_budget budget = budget_of(&w);
    assert_int_equal(budget.count, 3);
    assert_string_equal(budget.parts[1].name, MW_FROM_EXCESS);
    assert_string_equal(budget.parts[2].name, MW_FROM_DOSING);
    /* f1 f2 (ln 500/350)^2 = 0.25 x 0.3566749^2 = 0.03180426; x 0.05773503 */
    check_near(line_of(&budget, MW_FROM_EXCESS), 0.00183622, 1e-8);
    /* d ln v/d ln v_i = f_i s/s_i, s being d ln v/dW at the plain mix and at
     * the oil, and +-2 K f1 f2 ln 500/350 = +-0.03566749 from the excess */
    check_ok(rule_blend(MW_RULE_ASTM, w.v, NULL, w.share, 2, NAN, 0, &at[2]));
    at[0] = w.v[0];
    at[1] = w.v[1];
    for (size_t i = 0; i < 3; i++) {
        check_ok(mw_walther_slope(at[i], &slope[i]));
    }
    check_part(line_of(&budget, MW_FROM_OILS),
               LABEL * hypot(0.5 * slope[2] / slope[0] - 0.03566749,
                             0.5 * slope[2] / slope[1] + 0.03566749),
               1e-4);
    /* x more of one oil raises its share by (1 - f) x = x/2; the excess is
     * stationary at half and half. Two doses, hence sqrt 2. */
    double w_of[2];
    check_ok(mw_walther_w(350, &w_of[0]));
    check_ok(mw_walther_w(500, &w_of[1]));
    check_part(line_of(&budget, MW_FROM_DOSING),
               0.01 * sqrt(2) / 2 * slope[2] * (w_of[1] - w_of[0]), 1e-3);
}

static void a_mix_at_its_rating(void **state)
{
    const struct model w = uncertain_mix(25);
    (void)state;
    check_budget_is_drawn(&w);
}

/* each line alone, and all together */
static void a_mix_in_the_cold(void **state)
{
    struct model all = uncertain_mix(12);
    const char *const names[] = {MW_FROM_OILS, MW_FROM_EXCESS,
                                 MW_FROM_TEMPERATURE, MW_FROM_LAW,
                                 MW_FROM_DOSING};
    (void)state;
    all.share[0] = 0.3;
    all.share[1] = 0.7;
    all.doses[0] = 0.02;
    all.doses[1] = 0.03;
    struct mw_budget budget = budget_of(&all);
    assert_int_equal(budget.count, 5);
    for (size_t i = 0; i < 5; i++) {
        struct model one = usual_mix(12);
        memcpy(one.share, all.share, sizeof one.share);
        assert_string_equal(budget.parts[i].name, names[i]);
        memcpy(one.oils, all.oils, (i == 0) * sizeof one.oils);
        one.excess = i == 1 ? all.excess : 0;
        one.thermometer = i == 2 ? all.thermometer : 0;
        one.energy = i == 3 ? all.energy : 0;
        memcpy(one.doses, all.doses, (i == 4) * sizeof one.doses);
        check_part(line_of(&budget, names[i]), drawn(one), 0.01);
    }
    check_budget_is_drawn(&all);
}

static void a_measured_pair(void **state)
{
    struct model w = uncertain_mix(25);
    (void)state;
    w.oils[0] = 0.003;
    w.oils[1] = 0.0045;
    check_budget_is_drawn(&w);
}

static void far_apart_the_excess_dominates(void **state)
{
    struct model w = uncertain_mix(25);
    (void)state;
    w.v[0] = 100;
    w.v[1] = 10000;
    w.oils[1] *= 2;
    struct mw_budget budget = budget_of(&w);
    assert_string_equal(mw_budget_dominant(&budget), MW_FROM_EXCESS);
    check_budget_is_drawn(&w);
}

static void five_oils(void **state)
{
    const struct model w = {.n = 5,
                            .v = {100, 200, 350, 500, 1000},
                            .rated = {25, 25, 25, 40, 25},
                            .share = {0.1, 0.15, 0.2, 0.25, 0.3},
                            .t = 33,
                            .k = 0.2,
                            .oils = {LABEL, LABEL, 0.01, LABEL, LABEL},
                            .doses = {0.01, 0, 0.02, 0.01, 0.005},
                            .excess = BAND,
                            .thermometer = 0.5,
                            .energy = 0.97};
    (void)state;
    check_budget_is_drawn(&w);
}

static void mineral_oils_by_wright(void **state)
{
    struct model w = {.n = 2,
                      .v = {30, 490},
                      .rated = {40, 40},
                      .ratio = {6, 15.3},
                      .share = {0.6, 0.4},
                      .t = 40,
                      .oils = {LABEL, LABEL},
                      .doses = {0.01, 0.01}};
    (void)state;
    check_budget_is_drawn(&w);
    w.t = 63;
    w.thermometer = 1 / sqrt(3);
    check_budget_is_drawn(&w);
    struct mw_budget budget = budget_of(&w);
    assert_int_equal(budget.count, 3); /* no law is in it */
}

static void what_is_exact_has_no_line(void **state)
{
    struct model w = usual_mix(12);
    (void)state;
    struct mw_budget budget = budget_of(&w);
    assert_int_equal(budget.count, 1);
    assert_string_equal(budget.parts[0].name, MW_FROM_LAW);
    w.t = 25;
    budget = budget_of(&w);
    assert_int_equal(budget.count, 0);
    assert_true(mw_budget_combined(&budget) == 0);
    /* one exact oil, one uncertain */
    w.oils[1] = LABEL;
    w.doses[0] = 0.01;
    budget = budget_of(&w);
    assert_int_equal(budget.count, 2);
    check_part(mw_budget_combined(&budget), drawn(w), 0.03);
}

/* the temperature of a rating is exact by definition, another one is read */
static void no_thermometer_at_a_rating(void **state)
{
    struct model w = usual_mix(25);
    (void)state;
    w.thermometer = 1 / sqrt(3);
    struct mw_budget budget = budget_of(&w);
    assert_int_equal(budget.count, 0);
    /* the oil of 500 at 40 C is converted to 25 C by the law */
    w.rated[1] = 40;
    budget = budget_of(&w);
    assert_int_equal(budget.count, 1);
    assert_string_equal(budget.parts[0].name, MW_FROM_LAW);
    w.t = 33;
    budget = budget_of(&w);
    assert_string_equal(budget.parts[0].name, MW_FROM_TEMPERATURE);
}

/* a mineral oil with one point has no viscosity one degree away */
static void one_point_of_mineral_oil(void **state)
{
    const struct mw_point one = {46, 40}, two[2] = {{6.9, 100}, {68, 40}};
    const struct mw_method astm = {MW_RULE_ASTM, 0};
    const double u[2] = {LABEL, LABEL}, shares[2] = {0.4, 0.6};
    const struct mw_mix_inputs inputs = {u, 0, MW_THERMOMETER, NULL};
    struct mw_oil oils[2];
    struct mw_budget budget;
    (void)state;
    check_ok(mw_oil_make(MW_MINERAL, &one, 1, NAN, &oils[0]));
    check_ok(mw_oil_make(MW_MINERAL, two, 2, NAN, &oils[1]));
    check_ok(
        mw_mixture_uncertainty(oils, shares, 2, 40, &astm, &inputs, &budget));
    assert_int_equal(budget.count, 1);
    assert_int_equal(
        mw_mixture_uncertainty(oils, shares, 2, 41, &astm, &inputs, &budget),
        MW_ERR_ONE_POINT);
    assert_int_equal(budget.count, 0);
}

/* at the ends of the law v exists on one side only; the sensitivity is the
 * same */
static void at_the_ends_of_the_law(void **state)
{
    const double ends[] = {-20, 100}, inside[] = {-18, 98};
    (void)state;
    for (size_t i = 0; i < 2; i++) {
        struct model w = uncertain_mix(ends[i]),
                     near = uncertain_mix(inside[i]);
        struct mw_budget budget = budget_of(&w), beside = budget_of(&near);
        assert_int_equal(budget.count, 4);
        check_part(line_of(&budget, MW_FROM_TEMPERATURE),
                   line_of(&beside, MW_FROM_TEMPERATURE), 0.03);
    }
}

static void a_thousand_to_one(void **state)
{
    struct model w = uncertain_mix(25);
    (void)state;
    w.v[0] = 1000;
    w.v[1] = 1e6;
    check_budget_is_drawn(&w);
    struct mw_budget budget = budget_of(&w);
    w.v[0] = 1001;
    struct mw_budget beside = budget_of(&w);
    check_part(line_of(&budget, MW_FROM_OILS), line_of(&beside, MW_FROM_OILS),
               0.01);
}

static void the_thinnest_and_the_thickest_oil(void **state)
{
    struct model w = {
        .n = 1, .rated = {25}, .share = {1}, .t = 25, .oils = {LABEL}};
    (void)state;
    for (size_t i = 0; i < 2; i++) {
        w.v[0] = i == 0 ? MW_VISCOSITY_MIN : MW_VISCOSITY_MAX;
        struct mw_budget budget = budget_of(&w);
        check_near(mw_budget_combined(&budget), LABEL, 1e-12);
    }
}

/* a small share of the second oil, dosed with far too coarse a tool */
static void a_dose_smaller_than_a_mark(void **state)
{
    struct model w = usual_mix(25);
    (void)state;
    w.share[0] = 0.995;
    w.share[1] = 0.005;
    w.doses[1] = 0.01;
    struct mw_budget budget = budget_of(&w);
    const double full[2] = {0.995 / 1.01, 0.015 / 1.01};
    double mix[2];
    for (size_t i = 0; i < 2; i++) {
        const double *shares = i == 0 ? w.share : full;
        check_ok(
            rule_blend(MW_RULE_ASTM, w.v, NULL, shares, 2, NAN, 0.2, &mix[i]));
    }
    check_part(mw_budget_combined(&budget), log(mix[1] / mix[0]), 1e-9);
}

static void check_no_budget(const struct model *w, enum mw_status status)
{
    struct mw_budget budget = {.count = 3};
    check_status_at("budget", try_budget(w, &budget), status, __FILE__,
                    __LINE__);
    assert_int_equal(budget.count, 0);
}

static void no_budget(void **state)
{
    const double bad[] = {-0.01, NAN, INFINITY};
    const struct model good = uncertain_mix(12);
    (void)state;
    for (size_t i = 0; i < 3; i++) {
        struct model w = good;
        w.oils[1] = bad[i];
        check_no_budget(&w, MW_ERR_UNCERTAINTY);
        w = good;
        w.doses[1] = bad[i];
        check_no_budget(&w, MW_ERR_UNCERTAINTY);
        w = good;
        w.excess = bad[i];
        check_no_budget(&w, MW_ERR_UNCERTAINTY);
        w = good;
        w.thermometer = bad[i];
        check_no_budget(&w, MW_ERR_UNCERTAINTY);
        w.t = 25; /* also where no temperature is read */
        check_no_budget(&w, MW_ERR_UNCERTAINTY);
    }
    struct model w = good;
    w.oils[1] = 20; /* e^20 times thicker or thinner is out of range */
    check_no_budget(&w, MW_ERR_UNCERTAINTY);
    w = good;
    w.share[1] = 0.6;
    check_no_budget(&w, MW_ERR_SHARES);
    w.n = 0;
    check_no_budget(&w, MW_ERR_SHARES);
    w = good;
    w.t = -20.5;
    check_no_budget(&w, MW_ERR_LAW_RANGE);
    w.t = NAN;
    check_no_budget(&w, MW_ERR_TEMPERATURE);
}

static void as_many_oils_as_are_allowed(void **state)
{
    struct mw_oil oils[MW_MIX_OILS_MAX + 1];
    double shares[MW_MIX_OILS_MAX + 1], u[MW_MIX_OILS_MAX + 1];
    const struct mw_method usual = {MW_RULE_ASTM, 0.2};
    const struct mw_mix_inputs inputs = {u, 0, 0, NULL};
    const struct model w = usual_mix(25);
    struct mw_budget budget;
    (void)state;
    for (size_t i = 0; i <= MW_MIX_OILS_MAX; i++) {
        oils[i] = oil_of(&w, 0);
        shares[i] = 1.0 / MW_MIX_OILS_MAX;
        u[i] = LABEL;
    }
    check_ok(mw_mixture_uncertainty(oils, shares, MW_MIX_OILS_MAX, 25, &usual,
                                    &inputs, &budget));
    /* 64 equal shares of one label: 1/sqrt 64 of it */
    check_near(mw_budget_combined(&budget), LABEL / 8, 1e-5);
    assert_int_equal(mw_mixture_uncertainty(oils, shares, MW_MIX_OILS_MAX + 1,
                                            25, &usual, &inputs, &budget),
                     MW_ERR_BUDGET);
    assert_int_equal(budget.count, 0);
}

/* 0.2 ml marks in 23.85 ml: 0.1/23.85/sqrt 3 (GUM 4.3.7) */
static void half_a_mark_each_way(void **state)
{
    double u;
    (void)state;
    check_ok(mw_dose_uncertainty(0.2, 23.85, &u));
    check_part(u, 0.1 / 23.85 / sqrt(3), 1e-15);
    check_ok(mw_dose_uncertainty(0, 23.85, &u));
    check_near(u, 0, 0);
    check_fails(mw_dose_uncertainty(-0.2, 23.85, &u), MW_ERR_AMOUNT, u);
    check_fails(mw_dose_uncertainty(NAN, 23.85, &u), MW_ERR_AMOUNT, u);
    check_fails(mw_dose_uncertainty(0.2, 0, &u), MW_ERR_AMOUNT, u);
    check_fails(mw_dose_uncertainty(0.2, NAN, &u), MW_ERR_AMOUNT, u);
    check_fails(mw_dose_uncertainty(1e300, 1e-300, &u), MW_ERR_AMOUNT, u);
}

/* a job that was solved has the budget of its shares, with what its tool adds:
 * a dose of two draws has sqrt 2 of one */
static void the_budget_of_a_job(void **state)
{
    const struct mw_point points[2] = {{352.5, 25}, {498.5, 25}};
    const double u[2] = {0.029, 0.031};
    const struct mw_mix_inputs inputs = {u, 0.0577, MW_THERMOMETER, NULL};
    static const struct mw_mix_part parts[2];
    struct mw_mix_job job = {.count = 2,
                             .parts = parts,
                             .temperature = 25,
                             .target = 420,
                             .method = {MW_RULE_ASTM, 0.2},
                             .batch_ml = 12.385,
                             .batch_g = NAN,
                             .tools = {.graduation_ml = 0.2, .capacity_ml = 5}};
    struct mw_oil oils[2];
    struct mw_mix mix;
    struct mw_budget budget, expected;
    double doses[2];
    (void)state;
    for (size_t i = 0; i < 2; i++) {
        check_ok(mw_oil_make(MW_SILICONE, &points[i], 1, NAN, &oils[i]));
    }
    job.oils = oils;
    check_ok(mw_mix_solve(&job, &mix));
    mw_mix_doses(&mix, 2, doses);
    for (size_t i = 0; i < 2; i++) {
        assert_true(mix.volumes[i] > 5 && mix.volumes[i] < 10);
        check_part(doses[i], 0.1 / sqrt(3) / 12.385 * sqrt(2), 1e-12);
    }
    struct mw_mix_inputs all = inputs;
    all.doses = doses;
    check_ok(mw_mix_uncertainty(&job, &mix, &inputs, &budget));
    check_ok(mw_mixture_uncertainty(oils, mix.shares, 2, 25, &job.method, &all,
                                    &expected));
    check_near(mw_budget_combined(&budget), mw_budget_combined(&expected), 0);
    job.tools = (struct mw_tools){0};
    check_ok(mw_mix_solve(&job, &mix));
    mw_mix_doses(&mix, 2, doses);
    check_part(doses[0], 0.01 * fmin(mix.shares[0], mix.shares[1]), 1e-14);
    check_near(doses[0] - doses[1], 0, 0);
    /* what is not poured has no error */
    mix.shares[0] = 0;
    mix.shares[1] = 1;
    mw_mix_doses(&mix, 2, doses);
    check_near(doses[0], 0, 0);
    check_near(doses[1], 0.01, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_usual_excess_is_its_band),
        cmocka_unit_test(a_label_counts_as_it_is),
        cmocka_unit_test(a_cold_oil_by_hand),
        cmocka_unit_test(a_mix_by_hand),
        cmocka_unit_test(a_mix_at_its_rating),
        cmocka_unit_test(a_mix_in_the_cold),
        cmocka_unit_test(a_measured_pair),
        cmocka_unit_test(far_apart_the_excess_dominates),
        cmocka_unit_test(five_oils),
        cmocka_unit_test(mineral_oils_by_wright),
        cmocka_unit_test(what_is_exact_has_no_line),
        cmocka_unit_test(no_thermometer_at_a_rating),
        cmocka_unit_test(one_point_of_mineral_oil),
        cmocka_unit_test(at_the_ends_of_the_law),
        cmocka_unit_test(a_thousand_to_one),
        cmocka_unit_test(the_thinnest_and_the_thickest_oil),
        cmocka_unit_test(a_dose_smaller_than_a_mark),
        cmocka_unit_test(half_a_mark_each_way),
        cmocka_unit_test(no_budget),
        cmocka_unit_test(the_budget_of_a_job),
        cmocka_unit_test(as_many_oils_as_are_allowed),
    };
    return cmocka_run_group_tests_name("mix_uncertainty", tests, NULL, NULL);
}
