/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include <gsl/gsl_rng.h>
#include <stdbool.h>
#include <string.h>

#include "advice/plan.h"
#include "check.h"

enum { MOST = 12 };

/* a set of bottles and the band of viscosities that it should cover */
struct box {
    double v[MOST + 1];
    size_t n;
    double low, high;
};

static struct mw_plan plan_of(const struct box *box)
{
    struct mw_plan plan;
    check_ok(mw_plan(box->v, box->n, box->low, box->high, &plan));
    return plan;
}

/* the gap around x, by a search over all bottles */
static double gap_at(const struct box *box, double x)
{
    double below = 0, above = INFINITY;
    for (size_t i = 0; i < box->n; i++) {
        if (box->v[i] <= x) {
            below = fmax(below, box->v[i]);
        }
        if (box->v[i] >= x) {
            above = fmin(above, box->v[i]);
        }
    }
    return (isinf(above) ? box->high : above) / (below == 0 ? box->low : below);
}

/* The widest gap, by trying between all neighbouring bottles and edges. */
static double widest_by_force(const struct box *box)
{
    double marks[MOST + 3], widest = 1;
    size_t count = 0;
    marks[count++] = box->low;
    for (size_t i = 0; i < box->n; i++) {
        if (box->v[i] > box->low && box->v[i] < box->high) {
            marks[count++] = box->v[i];
        }
    }
    marks[count++] = box->high;
    for (size_t i = 1; i < count; i++) {
        if (marks[i] > marks[i - 1]) {
            widest = fmax(widest, gap_at(box, sqrt(marks[i] * marks[i - 1])));
        }
    }
    return widest;
}

static struct box with(const struct box *box, double v)
{
    struct box more = *box;
    size_t i = more.n++;
    for (; i > 0 && more.v[i - 1] > v; i--) {
        more.v[i] = more.v[i - 1];
    }
    more.v[i] = v;
    return more;
}

static struct box without(const struct box *box, size_t i)
{
    struct box less = *box;
    memmove(&less.v[i], &less.v[i + 1], (--less.n - i) * sizeof less.v[0]);
    return less;
}

/* whether two boxes reach the same of their band */
static bool same_reach(const struct box *a, const struct box *b)
{
    double low[2], high[2];
    const struct box *const boxes[2] = {a, b};
    for (size_t i = 0; i < 2; i++) {
        low[i] = fmax(boxes[i]->v[0], a->low);
        high[i] = fmin(boxes[i]->v[boxes[i]->n - 1], a->high);
    }
    return (low[0] > high[0] && low[1] > high[1]) ||
           (low[0] == low[1] && high[0] == high[1]);
}

static void check_spare(const struct box *box, const struct mw_plan *plan)
{
    double least = INFINITY;
    for (size_t i = 0; box->n > 1 && i < box->n; i++) {
        struct box less = without(box, i);
        if (same_reach(box, &less)) {
            least = fmin(least, widest_by_force(&less));
        }
    }
    assert_int_equal(plan->spare == MW_PLAN_EDGE, isinf(least));
    if (plan->spare == MW_PLAN_EDGE) {
        assert_true(isnan(plan->spare_ratio));
        return;
    }
    struct box less = without(box, plan->spare);
    assert_true(same_reach(box, &less));
    check_part(plan->spare_ratio, least, 1e-12);
    check_part(widest_by_force(&less), least, 1e-12);
}

static void check_addition(const struct box *box, const struct mw_plan *plan)
{
    struct box more = with(box, plan->addition);
    assert_true(plan->addition >= box->low && plan->addition <= box->high);
    check_part(plan->addition_ratio, widest_by_force(&more), 1e-12);
    if (plan->widest.thin == MW_PLAN_EDGE ||
        plan->widest.thick == MW_PLAN_EDGE) {
        return; /* it extends the reach before it narrows a gap */
    }
    for (double v = box->low / 3; v < box->high * 3; v *= 1.01) {
        more = with(box, v);
        assert_true(widest_by_force(&more) >=
                    plan->addition_ratio * (1 - 1e-12));
    }
}

static struct box random_box(gsl_rng *rng)
{
    struct box box = {.n = 0, .low = 200 * (1 + gsl_rng_uniform(rng))};
    size_t n = 1 + gsl_rng_uniform_int(rng, MOST - 1);
    double wide = gsl_rng_uniform(rng) < 0.5 ? 2 : 6;
    box.high = box.low * exp(3 * gsl_rng_uniform_pos(rng));
    while (box.n < n) {
        double v = 400 * exp(wide * (gsl_rng_uniform(rng) - 0.5));
        box = with(&box, v);
        if (box.n < n && gsl_rng_uniform(rng) < 0.2) {
            box = with(&box, gsl_rng_uniform(rng) < 0.5 ? v : box.low);
        }
    }
    return box;
}

static void plans_match_brute_force(void **state)
{
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    int spares = 0, edges = 0, unreached = 0;
    (void)state;
    gsl_rng_set(rng, 2385);
    for (int i = 0; i < 3000; i++) {
        struct box box = random_box(rng);
        struct mw_plan plan = plan_of(&box);
        check_part(plan.widest.ratio, widest_by_force(&box), 1e-12);
        check_part(plan.widest.ratio, plan.widest.high / plan.widest.low,
                   1e-15);
        check_spare(&box, &plan);
        check_addition(&box, &plan);
        spares += plan.spare != MW_PLAN_EDGE;
        edges += plan.widest.thin == MW_PLAN_EDGE;
        unreached += isnan(plan.reach_low);
    }
    gsl_rng_free(rng);
    assert_in_range(spares, 500, 2900);
    assert_in_range(edges, 100, 2900);
    assert_in_range(unreached, 20, 1500);
}

static void a_box_by_hand(void **state)
{
    /* The band from 200 to 900 with 100, 300, 500, 1000: gaps 3, 5/3 and 2.
     * A bottle at sqrt(100 x 300) = 173.2 would be below the band, so 200 is
     * proposed, which leaves 2. Without 500 the gap is 1000/300 = 3.33,
     * without 300 it is 5; 100 and 1000 are needed for the reach. */
    const struct box box = {{100, 300, 500, 1000}, 4, 200, 900};
    struct mw_plan plan = plan_of(&box);
    (void)state;
    check_near(plan.reach_low, 200, 0);
    check_near(plan.reach_high, 900, 0);
    assert_int_equal(plan.widest.thin, 0);
    assert_int_equal(plan.widest.thick, 1);
    check_near(plan.widest.low, 100, 0);
    check_near(plan.widest.high, 300, 0);
    check_near(plan.widest.ratio, 3, 1e-15);
    check_near(plan.addition, 200, 0);
    check_near(plan.addition_ratio, 2, 1e-15);
    assert_int_equal(plan.spare, 2);
    check_near(plan.spare_ratio, 1000.0 / 300, 1e-14);
}

static void a_gap_is_halved_on_a_logarithmic_scale(void **state)
{
    const struct box box = {{100, 200, 800, 1000}, 4, 100, 1000};
    struct mw_plan plan = plan_of(&box);
    (void)state;
    assert_int_equal(plan.widest.thin, 1);
    check_near(plan.widest.ratio, 4, 1e-15);
    check_near(plan.addition, 400, 1e-12);
    check_near(plan.addition_ratio, 2, 1e-15);
}

/* The band lies between two bottles that are far outside: the geometric mean
 * of the bottles is outside the band, so an end of the band is proposed. */
static void a_band_in_one_gap(void **state)
{
    struct box box = {{100, 10000}, 2, 300, 400};
    struct mw_plan plan = plan_of(&box);
    (void)state;
    check_near(plan.reach_low, 300, 0);
    check_near(plan.reach_high, 400, 0);
    check_near(plan.widest.ratio, 100, 1e-12);
    check_near(plan.addition, 400, 0);
    check_near(plan.addition_ratio, 4, 1e-15);
    assert_int_equal(plan.spare, MW_PLAN_EDGE);
    box.v[0] = 10;
    box.v[1] = 1000; /* the geometric mean is 100, so 300 */
    plan = plan_of(&box);
    check_near(plan.addition, 300, 0);
    check_near(plan.addition_ratio, 1000.0 / 300, 1e-14);
}

static void one_bottle(void **state)
{
    const struct box inside = {{350}, 1, 200, 1000};
    const struct box below = {{150}, 1, 200, 1000};
    const struct box above = {{1500}, 1, 200, 1000};
    (void)state;
    struct mw_plan plan = plan_of(&inside);
    check_near(plan.reach_low, 350, 0);
    check_near(plan.reach_high, 350, 0);
    assert_int_equal(plan.widest.thin, 0);
    assert_int_equal(plan.widest.thick, MW_PLAN_EDGE);
    check_near(plan.widest.ratio, 1000.0 / 350, 1e-14);
    check_near(plan.addition, 1000, 0);
    check_near(plan.addition_ratio, 1000.0 / 350, 1e-14);
    assert_int_equal(plan.spare, MW_PLAN_EDGE);
    assert_true(isnan(plan.spare_ratio));
    plan = plan_of(&below);
    assert_true(isnan(plan.reach_low) && isnan(plan.reach_high));
    check_near(plan.addition, 1000, 0);
    check_near(plan.widest.ratio, 1000.0 / 150, 1e-14);
    plan = plan_of(&above);
    assert_true(isnan(plan.reach_low) && isnan(plan.reach_high));
    check_near(plan.addition, 200, 0);
    check_near(plan.widest.ratio, 7.5, 1e-14);
}

static void bottles_at_the_edges(void **state)
{
    const struct box box = {{200, 1000}, 2, 200, 1000};
    struct mw_plan plan = plan_of(&box);
    (void)state;
    check_near(plan.reach_low, 200, 0);
    check_near(plan.reach_high, 1000, 0);
    assert_int_equal(plan.widest.thin, 0);
    assert_int_equal(plan.widest.thick, 1);
    check_near(plan.addition, sqrt(200000), 1e-12);
}

static void equal_bottles(void **state)
{
    const struct box box = {{200, 350, 350, 600}, 4, 200, 600};
    const struct box ends = {{200, 200, 600}, 3, 200, 600};
    const struct box crowd = {{200, 350, 350, 600, 620, 640}, 6, 200, 640};
    const struct box all = {{350, 350, 350}, 3, 200, 600};
    (void)state;
    struct mw_plan plan = plan_of(&box);
    assert_int_equal(plan.spare, 1);
    check_near(plan.spare_ratio, 1.75, 1e-15);
    assert_int_equal(plan_of(&ends).spare, 0);
    /* a second bottle of 350 is needed less than the one of 620 */
    assert_int_equal(plan_of(&crowd).spare, 1);
    plan = plan_of(&all);
    assert_int_equal(plan.spare, 0);
    check_near(plan.spare_ratio, 1.75, 1e-15);
}

/* Where the widest gap does not change, the gap that is left decides:
 * without 800 it is 300 to 810, without 300 it is 100 to 800, so 800 is
 * needed less. */
static void the_least_useful_bottle(void **state)
{
    const struct box box = {{100, 300, 800, 810, 9000}, 5, 100, 9000};
    const struct box far = {{100, 150, 220, 400, 5000}, 5, 100, 300};
    struct mw_plan plan = plan_of(&box);
    (void)state;
    assert_int_equal(plan.spare, 2);
    check_near(plan.spare_ratio, 9000.0 / 810, 1e-14);
    /* a bottle of no use for the band is needed least */
    plan = plan_of(&far);
    assert_int_equal(plan.spare, 4);
    check_near(plan.spare_ratio, 400.0 / 220, 1e-15);
}

static void check_no_plan(const double *v, size_t n, double low, double high,
                          enum mw_status status)
{
    struct mw_plan plan;
    check_fails(mw_plan(v, n, low, high, &plan), status, plan.widest.ratio);
    assert_true(isnan(plan.reach_low) && isnan(plan.reach_high));
    assert_true(isnan(plan.widest.low) && isnan(plan.widest.high));
    assert_true(isnan(plan.addition) && isnan(plan.addition_ratio));
    assert_true(isnan(plan.spare_ratio));
    assert_true(plan.spare == MW_PLAN_EDGE &&
                plan.widest.thin == MW_PLAN_EDGE &&
                plan.widest.thick == MW_PLAN_EDGE);
}

static void no_plan(void **state)
{
    const double good[] = {238.5, 538.2}, falling[] = {538.2, 238.5};
    const double bad[] = {0.2, 2.1e7, NAN, INFINITY, -238.5, 0};
    (void)state;
    check_no_plan(NULL, 0, 200, 600, MW_ERR_POINTS);
    check_no_plan(falling, 2, 200, 600, MW_ERR_NOT_DECREASING);
    check_no_plan(good, 2, 600, 200, MW_ERR_VISCOSITY);
    check_no_plan(good, 2, 200, 200, MW_ERR_VISCOSITY);
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        const double one[] = {238.5, bad[i]};
        check_no_plan(one, 2, 200, 600, MW_ERR_VISCOSITY);
        check_no_plan(&bad[i], 1, 200, 600, MW_ERR_VISCOSITY);
        check_no_plan(good, 2, bad[i], 600, MW_ERR_VISCOSITY);
        check_no_plan(good, 2, 200, bad[i], MW_ERR_VISCOSITY);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(plans_match_brute_force),
        cmocka_unit_test(a_box_by_hand),
        cmocka_unit_test(a_gap_is_halved_on_a_logarithmic_scale),
        cmocka_unit_test(a_band_in_one_gap),
        cmocka_unit_test(one_bottle),
        cmocka_unit_test(bottles_at_the_edges),
        cmocka_unit_test(equal_bottles),
        cmocka_unit_test(the_least_useful_bottle),
        cmocka_unit_test(no_plan),
    };
    return cmocka_run_group_tests_name("plan", tests, NULL, NULL);
}
