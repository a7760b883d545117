/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench/ball_choice.h"
#include "bench/slope.h"
#include "bench/timing.h"
#include "check.h"

/* a measuring cylinder with 200 mm between marks */
static struct mw_ball_run cylinder(void)
{
    return (struct mw_ball_run){.tube = 0.0385,
                                .travel = 0.2,
                                .ball_density = NAN,
                                .density = 0.969,
                                .gravity = MW_GRAVITY};
}

/* the travel is a multiple of a step and takes about the target time, unless
 * the tube is too short or the marks would be too close */
static void check_cut(const struct mw_ball_choice *choice, double room)
{
    double slack = MW_CHOICE_STEP / 2 * choice->time / choice->travel + 1e-9;
    if (choice->travel < room) {
        assert_true(choice->time >= MW_CHOICE_TIME_AIM - slack);
        check_near(remainder(choice->travel, MW_CHOICE_STEP), 0, 1e-12);
    }
    if (choice->travel > MW_CHOICE_TRAVEL_MIN) {
        assert_true(choice->time <= MW_CHOICE_TIME_AIM + slack);
    }
}

/* every proposed ball, measured as proposed, returns the viscosity of the
 * oil */
static void choices_measure_the_oil(void **state)
{
    const double oils[] = {52.385, 350, 10000, 238500};
    (void)state;
    for (size_t i = 0; i < sizeof oils / sizeof oils[0]; i++) {
        struct mw_ball_choice choices[MW_CHOICES_MAX];
        size_t count;
        const struct mw_ball_run fall = cylinder();
        check_ok(mw_ball_choose(&fall, oils[i], choices, &count));
        assert_true(count >= 1 && count <= MW_CHOICES_MAX);
        for (size_t j = 0; j < count; j++) {
            const struct mw_ball_choice *choice = &choices[j];
            struct mw_ball_run run = fall;
            struct mw_ball_result result;
            struct mw_budget budget = {0};
            run.diameter = choice->diameter;
            run.travel = choice->travel;
            run.ball_density = choice->ball_density;
            run.time = choice->time;
            run.depth = NAN;
            check_ok(mw_ball_viscosity(&run, &result));
            check_part(result.viscosity, oils[i], 1e-9);
            assert_int_equal(result.warnings, 0);
            check_near(result.reynolds, choice->reynolds, 1e-12);
            assert_true(choice->time >= MW_SHORT_TIME &&
                        choice->time <= MW_CHOICE_TIME_MAX);
            assert_true(choice->travel <= fall.travel &&
                        choice->travel >= MW_CHOICE_TRAVEL_MIN);
            check_cut(choice, fall.travel);
            const struct mw_ball_uncertainty u =
                mw_bench_fall(&run, MW_STOPWATCH);
            check_ok(mw_ball_budget(&run, &u, &budget));
            check_part(choice->uncertainty, mw_budget_combined(&budget), 1e-12);
            assert_true(j == 0 ||
                        choice->uncertainty >= choices[j - 1].uncertainty);
        }
    }
}

static void a_ball_of_ones_own(void **state)
{
    struct mw_ball_choice choices[MW_CHOICES_MAX];
    struct mw_ball_run fall = cylinder();
    size_t count;
    (void)state;
    fall.ball_density = 1.3775;
    fall.tube = INFINITY;
    check_ok(mw_ball_choose(&fall, 350, choices, &count));
    for (size_t j = 0; j < count; j++) {
        assert_string_equal(choices[j].material, "ball");
        check_near(choices[j].ball_density, 1.3775, 0);
    }
}

static void check_no_choice(struct mw_ball_run fall, double v,
                            enum mw_status why)
{
    struct mw_ball_choice choices[MW_CHOICES_MAX];
    size_t count = 23;
    assert_int_equal(mw_ball_choose(&fall, v, choices, &count), why);
    assert_int_equal(count, 0);
}

static void no_ball_will_do(void **state)
{
    struct mw_ball_run fall = cylinder();
    (void)state;
    check_no_choice(fall, 1.0, MW_ERR_CHOICE);
    check_no_choice(fall, NAN, MW_ERR_VISCOSITY);
    fall.tube = 0.0023; /* room for no ball */
    check_no_choice(fall, 350, MW_ERR_CHOICE);
    fall.tube = NAN;
    check_no_choice(fall, 350, MW_ERR_LENGTH);
    fall = cylinder();
    fall.travel = 0.0123;
    check_no_choice(fall, 350, MW_ERR_LENGTH);
    fall = cylinder();
    fall.travel = 10.23;
    check_no_choice(fall, 350, MW_ERR_LENGTH);
    fall = cylinder();
    fall.ball_density = 0.95;
    check_no_choice(fall, 350, MW_ERR_BALL);
    fall.ball_density = 23.85;
    check_no_choice(fall, 350, MW_ERR_BALL);
    fall = cylinder();
    fall.density = 969;
    check_no_choice(fall, 350, MW_ERR_DENSITY);
}

/* a single ball is an answer: the tube widens until one fits */
static void one_ball_will_do(void **state)
{
    struct mw_ball_run fall = cylinder();
    struct mw_ball_choice choices[MW_CHOICES_MAX];
    size_t count = 0;
    (void)state;
    fall.ball_density = 1.3775;
    for (fall.tube = 0.0023; count == 0 && fall.tube < 0.0385;) {
        fall.tube *= 1.01;
        enum mw_status status = mw_ball_choose(&fall, 52.385, choices, &count);
        assert_int_equal(status, count > 0 ? MW_OK : MW_ERR_CHOICE);
    }
    assert_int_equal(count, 1);
}

/* a tube so high that balls fall long enough, but too fast */
static void no_ball_is_fast(void **state)
{
    struct mw_ball_run fall = cylinder();
    struct mw_ball_choice choices[MW_CHOICES_MAX];
    size_t count;
    (void)state;
    fall.tube = INFINITY;
    fall.travel = 9.83;
    check_ok(mw_ball_choose(&fall, 123.5, choices, &count));
    for (size_t j = 0; j < count; j++) {
        assert_true(choices[j].reynolds <= MW_BALL_RE_TESTED);
    }
}

/* denser than the oil by less than the uncertainty of either density */
static void a_ball_that_may_float(void **state)
{
    struct mw_ball_run fall = cylinder();
    (void)state;
    fall.tube = INFINITY;
    fall.ball_density = fall.density + 0.0023;
    check_no_choice(fall, 2.385, MW_ERR_CHOICE);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(choices_measure_the_oil),
        cmocka_unit_test(a_ball_of_ones_own),
        cmocka_unit_test(no_ball_will_do),
        cmocka_unit_test(one_ball_will_do),
        cmocka_unit_test(no_ball_is_fast),
        cmocka_unit_test(a_ball_that_may_float),
    };
    return cmocka_run_group_tests_name("ball_choice", tests, NULL, NULL);
}
