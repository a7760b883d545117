/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/measurement.h"

#include <math.h>

#include "output/cautions.h"
#include "output/json.h"
#include "output/text.h"
#include "parse/number.h"
#include "parse/oil_spec.h"
#include "parse/viscosity.h"
#include "store/reading.h"

enum outcome measure_refuse(enum mw_status status, struct problem *problem)
{
    switch (status) {
    case MW_OK:
        return problem->outcome;
    case MW_ERR_VISCOSITY:
        return problem_set(problem, OUTCOME_NO_ANSWER, "the result is %s",
                           mw_status_text(status));
    case MW_ERR_LAW_RANGE:
        return problem_set(problem, OUTCOME_NO_ANSWER,
                           "%s (other oil: --family mineral)",
                           mw_status_text(status));
    default:
        return REFUSE("%s", mw_status_text(status));
    }
}

enum outcome measure_time(const struct times *times, struct timing *timing,
                          struct problem *problem)
{
    timing->count = times->count;
    return measure_refuse(mw_hand_time(times->list, times->count, &timing->mean,
                                       &timing->uncertainty),
                          problem);
}

static enum outcome read_temperature(const struct words *words, double usual_t,
                                     struct within *temperature,
                                     struct problem *problem)
{
    *temperature = (struct within){usual_t, NAN};
    if (words->value[MEASURE_AT]) {
        return parse_temperature_within(words->value[MEASURE_AT], temperature,
                                        problem);
    }
    return isnan(usual_t) ? REFUSE("at which temperature? measure it in the "
                                   "oil and add it, such as --at 22C")
                          : OUTCOME_DONE;
}

static enum outcome load_bottle(const struct words *words,
                                struct measurement *measurement,
                                struct problem *problem)
{
    const char *name = words->value[MEASURE_SAVE];
    struct stock *stock = &measurement->stock;
    if (stock_begin_existing(stock, words->stock, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (!stock->db || bottle_id(stock, name) == 0) {
        return REFUSE("no bottle \"%.*s\" to save to; add it first: midweight "
                      "stock add NAME 350",
                      QUOTED, name);
    }
    return bottle_load(stock, name, &measurement->bottle);
}

enum outcome measure_begin(const struct words *words, double usual_t,
                           enum mw_family usual,
                           struct measurement *measurement,
                           struct problem *problem)
{
    struct oil_habits habits;
    measurement->reynolds = NAN;
    if (parse_habits(words->value[MEASURE_FAMILY], NULL, &habits, problem) !=
            OUTCOME_DONE ||
        read_temperature(words, usual_t, &measurement->temperature, problem) !=
            OUTCOME_DONE) {
        return problem->outcome;
    }
    measurement->family = habits.has_family ? habits.family : usual;
    if (!words->value[MEASURE_SAVE]) {
        return OUTCOME_DONE;
    }
    measurement->saving = true;
    if (load_bottle(words, measurement, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (habits.has_family &&
        habits.family != measurement->bottle.label.family) {
        return REFUSE("\"%.*s\" is %s; leave --family out", QUOTED,
                      measurement->bottle.name,
                      mw_family_name(measurement->bottle.label.family));
    }
    measurement->family = measurement->bottle.label.family;
    return OUTCOME_DONE;
}

enum outcome measure_wanted(const struct words *words, const char *oil,
                            struct source *source, struct mw_point *point,
                            struct problem *problem)
{
    struct oil_habits habits;
    struct shelf shelf = {.file = words->stock};
    struct within temperature;
    if (words->value[MEASURE_SAVE]) {
        return REFUSE("nothing is measured with --for; leave --save out");
    }
    if (parse_habits(words->value[MEASURE_FAMILY], NULL, &habits, problem) !=
        OUTCOME_DONE) {
        return problem->outcome;
    }
    source_find(&shelf, oil, &habits, source, problem);
    shelf_close(&shelf);
    if (problem->outcome != OUTCOME_DONE ||
        read_temperature(words, source->oil.points[0].temperature, &temperature,
                         problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    point->temperature = temperature.value;
    enum mw_status status =
        mw_oil_viscosity(&source->oil, point->temperature, &point->viscosity);
    return explain_oil_status(source->name, &source->oil, point->temperature,
                              status, problem);
}

/* the slope of the bottle where it has one, else the usual one */
static enum mw_status find_slope(const struct measurement *measurement,
                                 double *slope)
{
    struct mw_oil_state state;
    double t = measurement->temperature.value;
    if (measurement->saving &&
        mw_oil_at(&measurement->bottle.best.oil, t, &state) == MW_OK &&
        isfinite(state.slope)) {
        *slope = state.slope;
        return MW_OK;
    }
    return mw_bench_slope(measurement->family, t, slope);
}

enum outcome measure_add_temperature(struct measurement *measurement,
                                     struct problem *problem)
{
    double limit = measurement->temperature.limit, u, slope;
    enum mw_status status =
        mw_rectangular(isnan(limit) ? MW_THERMOMETER : limit, &u);
    if (status == MW_OK) {
        status = find_slope(measurement, &slope);
    }
    if (status == MW_OK) {
        status = mw_budget_add(&measurement->budget, "temperature", u, slope);
    }
    return measure_refuse(status, problem);
}

/* the result as a reading of its bottle */
static enum outcome save_reading(struct measurement *measurement,
                                 struct problem *problem)
{
    const struct mw_reading reading = {
        measurement->viscosity, measurement->temperature.value,
        mw_budget_combined(&measurement->budget)};
    if (!(reading.uncertainty < 1)) {
        return REFUSE("so uncertain a result is no reading; take more times, "
                      "or a longer one");
    }
    return bottle_take_reading(&measurement->bottle, &reading,
                               measurement->method, NULL,
                               problem) == OUTCOME_DONE
               ? bottle_save_reading(&measurement->stock, &measurement->bottle)
               : problem->outcome;
}

enum outcome measure_finish(const struct words *words,
                            struct measurement *measurement,
                            struct problem *problem)
{
    if (problem->outcome == OUTCOME_DONE && measurement->saving) {
        save_reading(measurement, problem);
        stock_close(&measurement->stock);
    }
    if (problem->outcome != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (words->json) {
        return print_json(measure_json(measurement), problem);
    }
    measure_print(measurement);
    if (measurement->saving) {
        print_best(&measurement->bottle);
    }
    paragraph("%s", CAUTION_MEASURE);
    return problem->outcome;
}

void measure_end(struct measurement *measurement)
{
    bottle_free(&measurement->bottle);
    if (measurement->saving) {
        stock_close(&measurement->stock);
    }
}
