/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Every status and every warning is provoked here once. The tables grow with
 * the lists in status.h: a status without its provoke_ function does not
 * compile.
 */
#include <string.h>

#include "base/root.h"
#include "check.h"
#include "fail_calloc.h"
#include "midweight.h"
#include "uncertainty/adjustment.h"

/* what a call returned, and what it left behind */
struct provoked {
    enum mw_status status;
    double left;
};

#define PROVOKE(name) static struct provoked provoke_##name(void)

#include "damper/bubble_internal.h"
#include "fluid/shear.h"
#include "fluid/silicone.h"
#include "fluid/units_internal.h"
#include "fluid/viscosity_index.h"
#include "fluid/walther.h"
#include "provoke_measuring.h"

PROVOKE(MW_OK)
{
    struct provoked o = {.left = 0};
    o.status = mw_walther_w(2.385, &o.left);
    return o;
}

PROVOKE(MW_ERR_VISCOSITY)
{
    struct provoked o = {.left = 0};
    o.status = mw_walther_w(0.2099, &o.left);
    return o;
}

PROVOKE(MW_ERR_TEMPERATURE)
{
    struct provoked o = {.left = 0};
    o.status = mw_chart_x(340.01, &o.left);
    return o;
}

PROVOKE(MW_ERR_LAW_RANGE)
{
    struct provoked o = {.left = 0};
    o.status = mw_silicone_factor(-20.01, &o.left);
    return o;
}

PROVOKE(MW_ERR_DENSITY)
{
    struct provoked o = {.left = 0};
    o.status = mw_dose_volume(23.85, 970, &o.left);
    return o;
}

PROVOKE(MW_ERR_POINTS)
{
    const struct mw_point p = {238.5, 40};
    struct mw_line line = {0, 0};
    enum mw_status status = mw_line_through(&p, &p, &line);
    return (struct provoked){status, line.a + line.b};
}

PROVOKE(MW_ERR_NOT_DECREASING)
{
    const struct mw_point p = {23.85, 40}, q = {238.5, 100};
    struct mw_line line = {0, 0};
    enum mw_status status = mw_line_through(&p, &q, &line);
    return (struct provoked){status, line.a + line.b};
}

PROVOKE(MW_ERR_ONE_POINT)
{
    const struct mw_point p = {23.85, 40};
    struct provoked o = {.left = 0};
    struct mw_oil oil;
    mw_oil_make(MW_MINERAL, &p, 1, NAN, &oil);
    o.status = mw_oil_viscosity(&oil, 41, &o.left);
    return o;
}

PROVOKE(MW_ERR_INDEX)
{
    struct provoked o = {.left = 0};
    o.status = mw_viscosity_index(2.385, 1.99, &o.left);
    return o;
}

PROVOKE(MW_ERR_SHARES)
{
    const double shares[2] = {0.385, 0.385};
    const struct mw_point points[2] = {{238.5, 25}, {538.2, 25}};
    struct mw_oil oils[2];
    struct provoked o = {.left = 0};
    mw_oil_make(MW_SILICONE, &points[0], 1, NAN, &oils[0]);
    mw_oil_make(MW_SILICONE, &points[1], 1, NAN, &oils[1]);
    o.status = mw_mixture_density(oils, shares, 2, &o.left);
    return o;
}

PROVOKE(MW_ERR_AMOUNT)
{
    struct provoked o = {.left = 0};
    o.status = mw_dose_volume(-0.01, 0.97, &o.left);
    return o;
}

/* two oils with one point each, for a mix */
static void two_oils(double v1, double v2, enum mw_family family2,
                     struct mw_oil pair[2])
{
    const struct mw_point p = {v1, 25}, q = {v2, 25};
    assert_int_equal(mw_oil_make(MW_SILICONE, &p, 1, NAN, &pair[0]), MW_OK);
    assert_int_equal(mw_oil_make(family2, &q, 1, NAN, &pair[1]), MW_OK);
}

static struct provoked share_of(double v1, double v2, enum mw_family family2,
                                enum mw_rule rule, double excess, double target)
{
    const struct mw_method method = {rule, excess};
    struct mw_oil pair[2];
    struct provoked o = {.left = 0};
    two_oils(v1, v2, family2, pair);
    o.status = mw_mixture_share(pair, target, 25, &method, &o.left, NULL);
    return o;
}

PROVOKE(MW_ERR_FAMILY)
{
    return share_of(238.5, 385.2, MW_MINERAL, MW_RULE_ASTM, 0, 300);
}

PROVOKE(MW_ERR_NO_FAMILY)
{
    const struct mw_point p[] = {{238.5, 25}, {235.5, 26}};
    enum mw_family family;
    return (struct provoked){mw_family_from_points(p, 2, &family), NAN};
}

PROVOKE(MW_ERR_RATIO)
{
    return share_of(238.5, 238501, MW_SILICONE, MW_RULE_ASTM, 0, 300);
}

PROVOKE(MW_ERR_TARGET)
{
    return share_of(238.5, 385.2, MW_SILICONE, MW_RULE_ASTM, 0, 385.3);
}

PROVOKE(MW_ERR_EQUAL_VISCOSITY)
{
    return share_of(238.5, 238.5, MW_SILICONE, MW_RULE_ASTM, 0, 238.5);
}

PROVOKE(MW_ERR_NO_LINE)
{
    return share_of(238.5, 385.2, MW_SILICONE, MW_RULE_WRIGHT, 0, 300);
}

PROVOKE(MW_ERR_EXCESS)
{
    return share_of(238.5, 23850, MW_SILICONE, MW_RULE_ASTM, 0.9, 300);
}

PROVOKE(MW_ERR_QUANTITY)
{
    struct provoked o = {.left = 0};
    o.status = mw_damping_ratio(67.7, -2385, 0.42, &o.left);
    return o;
}

PROVOKE(MW_ERR_NO_LAW)
{
    const struct mw_point p = {23.85, 40};
    struct provoked o = {.left = 0};
    struct mw_oil oil;
    mw_oil_make(MW_MINERAL, &p, 1, NAN, &oil);
    o.status = mw_hold_rating(&oil, 38.52, 40, 40, &o.left);
    return o;
}

PROVOKE(MW_ERR_PRESSURE)
{
    struct provoked o = {.left = 0};
    o.status = mw_bubble_growth(-91.3, &o.left);
    return o;
}

/* 300 and 400 mm2/s to 330 with a syringe */
static enum mw_status recipe_for(double batch, double graduation,
                                 double expanded, struct mw_recipe *recipe)
{
    static const struct mw_mix_part parts[2];
    const struct mw_point points[2] = {{300, 25}, {400, 25}};
    struct mw_oil oils[2];
    struct mw_mix mix;
    check_ok(mw_oil_make(MW_SILICONE, &points[0], 1, NAN, &oils[0]));
    check_ok(mw_oil_make(MW_SILICONE, &points[1], 1, NAN, &oils[1]));
    const struct mw_mix_job job = {.count = 2,
                                   .oils = oils,
                                   .parts = parts,
                                   .temperature = 25,
                                   .target = 330,
                                   .method = {MW_RULE_ASTM, 0.2},
                                   .batch_ml = batch,
                                   .batch_g = NAN,
                                   .tools = {.graduation_ml = graduation}};
    check_ok(mw_mix_solve(&job, &mix));
    return mw_recipe(&job, &mix, expanded, recipe);
}

PROVOKE(MW_ERR_TOOL)
{
    struct mw_recipe recipe;
    enum mw_status status = recipe_for(10, 1e-5, 0.05, &recipe);
    return (struct provoked){status, recipe.total_ml};
}

PROVOKE(MW_ERR_MEMORY)
{
    const struct mw_unknown unknown = {0.385, 1, 0};
    struct mw_adjustment *adjustment;
    failing_calloc = 1;
    enum mw_status status =
        mw_adjustment_make(&unknown, 1, NULL, 0, &adjustment);
    failing_calloc = 0;
    return (struct provoked){status, adjustment ? 0 : (double)NAN};
}

PROVOKE(MW_ERR_GRADE)
{
    int vg = 1;
    enum mw_status status = mw_iso_vg(12.385, &vg);
    return (struct provoked){status, vg == 0 ? (double)NAN : vg};
}

PROVOKE(MW_ERR_UNIT)
{
    struct provoked o = {.left = 0};
    o.status = mw_sus(1.80, 40, &o.left);
    return o;
}

/* an enumerator cannot be NaN: it stays unchanged */
PROVOKE(MW_ERR_NAME)
{
    enum mw_rule rule = MW_RULE_WRIGHT;
    enum mw_status status = mw_rule_from_name("wrong", &rule);
    return (struct provoked){status, rule == MW_RULE_WRIGHT ? (double)NAN : 0};
}

PROVOKE(MW_ERR_INSUFFICIENT_STOCK)
{
    const struct mw_point points[2] = {{238.5, 25}, {538.2, 25}};
    struct mw_oil oils[2];
    mw_oil_make(MW_SILICONE, &points[0], 1, NAN, &oils[0]);
    mw_oil_make(MW_SILICONE, &points[1], 1, NAN, &oils[1]);
    const struct mw_candidate candidates[2] = {{0, &oils[0], 0.02385, 1},
                                               {1, &oils[1], 0.02385, 1}};
    const struct mw_wish wish = {385.2, 25, 23.85, {0.2, 0.0577}};
    struct mw_choice choices[MW_CHOICES];
    size_t count = 2385;
    enum mw_status status = mw_choose(candidates, 2, &wish, choices, &count);
    return (struct provoked){status, count == 0 ? (double)NAN : 0};
}

/* two silicone oils, of which the first has an amount */
static struct provoked mix_of(struct mw_mix_part first, double target)
{
    const struct mw_point points[2] = {{238.5, 25}, {538.2, 25}};
    const struct mw_mix_part parts[2] = {first, {MW_AMOUNT_OPEN, NAN, NAN}};
    struct mw_oil oils[2];
    mw_oil_make(MW_SILICONE, &points[0], 1, NAN, &oils[0]);
    mw_oil_make(MW_SILICONE, &points[1], 1, NAN, &oils[1]);
    const struct mw_mix_job job = {.count = 2,
                                   .oils = oils,
                                   .parts = parts,
                                   .temperature = 25,
                                   .target = target,
                                   .method = {MW_RULE_ASTM, 0.2},
                                   .batch_ml = 23.85,
                                   .batch_g = NAN};
    struct mw_mix mix;
    enum mw_status status = mw_mix_solve(&job, &mix);
    return (struct provoked){status, mix.viscosity};
}

PROVOKE(MW_ERR_UNKNOWNS)
{
    return mix_of((struct mw_mix_part){MW_AMOUNT_ML, 2.385, NAN}, 385.2);
}

PROVOKE(MW_ERR_DROP)
{
    return mix_of((struct mw_mix_part){MW_AMOUNT_DROPS, 23, NAN}, 385.2);
}

static double never_zero(double x, void *params)
{
    (void)params;
    return 2.385 + x * x;
}

PROVOKE(MW_ERR_ROOT)
{
    struct provoked o = {.left = 0};
    o.status = mw_root(never_zero, NULL, -2.385, 2.385, &o.left);
    return o;
}

static const struct {
    enum mw_status status;
    struct provoked (*provoke)(void);
} provocations[] = {
#define PROVOCATION(name, text) {name, provoke_##name},
    MW_STATUS_LIST(PROVOCATION)
#undef PROVOCATION
};

enum { STATUSES = sizeof provocations / sizeof provocations[0] };

static void every_status_is_provoked(void **state)
{
    (void)state;
    for (size_t i = 0; i < STATUSES; i++) {
        struct provoked o = provocations[i].provoke();
        assert_string_equal(mw_status_name(o.status),
                            mw_status_name(provocations[i].status));
        assert_true((o.status == MW_OK) == !isnan(o.left));
    }
}

/* the warnings of a silicone pair mixed half and half */
static unsigned mix_warnings(double v1, double v2, double t, enum mw_rule rule)
{
    const struct mw_method method = {rule, 0};
    const double halves[2] = {0.5, 0.5};
    double v, ratings[2] = {v1, v2};
    unsigned warnings = 0;
    struct mw_oil pair[2];
    for (size_t i = 0; i < 2; i++) {
        const struct mw_point points[2] = {{ratings[i], 25},
                                           {ratings[i] / 2.385, 90}};
        mw_oil_make(MW_SILICONE, points, rule == MW_RULE_WRIGHT ? 2 : 1, NAN,
                    &pair[i]);
    }
    check_ok(mw_mixture(pair, halves, 2, t, &method, &v, &warnings));
    return warnings;
}

PROVOKE(MW_WARN_EXTRAPOLATED)
{
    return (struct provoked){
        .left = mix_warnings(238.5, 385.2, 24, MW_RULE_WRIGHT)};
}

PROVOKE(MW_WARN_THIN_SILICONE)
{
    return (struct provoked){.left =
                                 mix_warnings(23.85, 38.52, 25, MW_RULE_ASTM)};
}

PROVOKE(MW_WARN_TEMPERATURE)
{
    return (struct provoked){.left =
                                 mix_warnings(238.5, 385.2, 61, MW_RULE_ASTM)};
}

PROVOKE(MW_WARN_DENSITY)
{
    unsigned warnings = 0;
    double density;
    check_ok(mw_silicone_density(238500, 25, &density, &warnings));
    return (struct provoked){.left = warnings};
}

PROVOKE(MW_WARN_WIDE)
{
    return (struct provoked){.left =
                                 mix_warnings(238.5, 716, 25, MW_RULE_ASTM)};
}

PROVOKE(MW_WARN_WRIGHT_SILICONE)
{
    return (struct provoked){
        .left = mix_warnings(238.5, 385.2, 26, MW_RULE_WRIGHT)};
}

PROVOKE(MW_WARN_SHEAR)
{
    const struct mw_point point = {23850, 25};
    struct mw_oil oil;
    check_ok(mw_oil_make(MW_SILICONE, &point, 1, NAN, &oil));
    return (struct provoked){.left = mw_shear_warnings(&oil, 24, 238.5)};
}

static unsigned damper_warnings(double thickness, double dynamic)
{
    const struct mw_damper damper = {{3, 1.2e-3, thickness}, 12e-3, 3e-3, 0};
    struct mw_damper_state at;
    check_ok(mw_damper_at(&damper, dynamic, 0.97, 0.2385, &at));
    return at.warnings;
}

PROVOKE(MW_WARN_KINETIC)
{
    return (struct provoked){.left = damper_warnings(2e-3, 238.5)};
}

PROVOKE(MW_WARN_TURBULENT)
{
    return (struct provoked){.left = damper_warnings(2.385, 2.385)};
}

PROVOKE(MW_WARN_ENDS)
{
    const struct mw_piston from = {3, 1.2e-3, NAN}, to = {2, 1.4e-3, NAN};
    unsigned warnings = 0;
    double factor;
    check_ok(mw_hold_piston(&from, &to, &factor, &warnings));
    return (struct provoked){.left = warnings};
}

PROVOKE(MW_WARN_FAST_BUBBLE)
{
    struct mw_settle settle;
    check_ok(mw_settle(23.85, 1e-3, 0.05, MW_STANDARD_ATMOSPHERE_KPA, &settle));
    return (struct provoked){.left = settle.warnings};
}

PROVOKE(MW_WARN_LOW_PRESSURE)
{
    struct mw_settle settle;
    check_ok(mw_settle(2385, 0.2e-3, 0.05, 4.99, &settle));
    return (struct provoked){.left = settle.warnings};
}

PROVOKE(MW_WARN_FEW_STEPS)
{
    struct mw_recipe recipe;
    check_ok(recipe_for(2.385, 0.385, 0.5, &recipe));
    return (struct provoked){.left = recipe.warnings};
}

PROVOKE(MW_WARN_COARSE)
{
    struct mw_recipe recipe;
    check_ok(recipe_for(10, 0.2, 0.0001, &recipe));
    return (struct provoked){.left = recipe.warnings};
}

/* each provocation raises its own warning and no other; except that
 * EXTRAPOLATED needs lines, with which silicone also raises the one for
 * Wright's rule */
static void every_warning_is_provoked(void **state)
{
    static const struct {
        unsigned bit;
        struct provoked (*provoke)(void);
    } warnings[] = {
#define PROVOCATION(name, bit, code, text) {bit, provoke_##name},
        MW_WARN_LIST(PROVOCATION)
#undef PROVOCATION
    };
    (void)state;
    for (size_t i = 0; i < sizeof warnings / sizeof warnings[0]; i++) {
        unsigned raised = (unsigned)warnings[i].provoke().left;
        unsigned besides = warnings[i].bit == MW_WARN_EXTRAPOLATED
                               ? MW_WARN_WRIGHT_SILICONE
                               : 0;
        assert_int_equal(raised, warnings[i].bit | besides);
    }
}

static void warnings_are_one_bit_each(void **state)
{
    unsigned seen = 0;
    (void)state;
#define ONE_BIT(name, bit, code, text)                                         \
    assert_true((bit) != 0 && ((bit) & ((bit)-1)) == 0 && !(seen & (bit)));    \
    assert_string_equal(mw_warning_name(name), code);                          \
    assert_string_equal(mw_warning_text(name), text);                          \
    seen |= (bit);
    MW_WARN_LIST(ONE_BIT)
#undef ONE_BIT
    assert_string_equal(mw_warning_text((enum mw_warning)(seen + 1)),
                        "an unknown warning");
    assert_string_equal(mw_warning_name((enum mw_warning)(seen + 1)), "?");
}

static void every_status_has_a_name_and_words_of_its_own(void **state)
{
    (void)state;
    for (size_t i = 0; i < STATUSES; i++) {
        enum mw_status status = provocations[i].status;
        assert_string_not_equal(mw_status_name(status), "MW_ERR_?");
        assert_true(strlen(mw_status_text(status)) > 3);
        for (size_t j = 0; j < i; j++) {
            enum mw_status other = provocations[j].status;
            assert_string_not_equal(mw_status_name(status),
                                    mw_status_name(other));
            assert_string_not_equal(mw_status_text(status),
                                    mw_status_text(other));
        }
    }
}

static void unknown_numbers_and_names(void **state)
{
    (void)state;
    assert_string_equal(mw_status_name((enum mw_status)STATUSES), "MW_ERR_?");
    assert_string_equal(mw_status_name((enum mw_status) - 1), "MW_ERR_?");
    assert_string_equal(mw_status_text((enum mw_status)STATUSES),
                        "an unknown status");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_status_is_provoked),
        cmocka_unit_test(every_warning_is_provoked),
        cmocka_unit_test(warnings_are_one_bit_each),
        cmocka_unit_test(every_status_has_a_name_and_words_of_its_own),
        cmocka_unit_test(unknown_numbers_and_names),
    };
    return cmocka_run_group_tests_name("status", tests, NULL, NULL);
}
