/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/measurement.h"

#include <math.h>
#include <string.h>

#include "oils/best.h"
#include "oils/network.h"
#include "oils/reading.h"
#include "output/cautions.h"
#include "output/json.h"
#include "output/text.h"
#include "parse/number.h"
#include "parse/oil_spec.h"
#include "parse/viscosity.h"

enum exit_code measure_refuse(enum mw_status status, struct error *error)
{
    switch (status) {
    case MW_OK:
        return EXIT_DONE;
    case MW_ERR_VISCOSITY:
        return error_set(error, EXIT_NO_ANSWER, "the result is %s",
                         mw_status_text(status));
    case MW_ERR_LAW_RANGE:
        return error_set(error, EXIT_NO_ANSWER,
                         "%s (other oil: --family mineral)",
                         mw_status_text(status));
    default:
        return refuse(error, "%s", mw_status_text(status));
    }
}

enum exit_code measure_time(const struct times *times, struct timing *timing,
                            struct error *error)
{
    timing->count = times->count;
    return measure_refuse(mw_hand_time(times->list, times->count, &timing->mean,
                                       &timing->uncertainty),
                          error);
}

static enum exit_code read_temperature(const struct args *args, double usual_t,
                                       struct toleranced *temperature,
                                       struct error *error)
{
    *temperature = (struct toleranced){usual_t, NAN};
    if (!args->value[MEASURE_AT] && isnan(usual_t)) {
        return refuse(error, "at which temperature? measure it in the oil and "
                             "add it, such as --at 22C");
    }
    return parse_thermometer(args->value[MEASURE_AT],
                             args->value[MEASURE_THERMOMETER], temperature,
                             error);
}

static enum exit_code load_bottle(const struct args *args,
                                  struct measurement *measurement,
                                  struct error *error)
{
    const char *name = args->value[MEASURE_SAVE];
    struct stock *stock = &measurement->stock;
    enum exit_code code = stock_begin_existing(stock, args->stock, error);
    if (code != EXIT_DONE) {
        return code;
    }
    sqlite3_int64 id = 0;
    if (stock->db && (code = bottle_id(stock, name, &id, error)) != EXIT_DONE) {
        return code;
    }
    if (id == 0) {
        return refuse(error,
                      "no bottle \"%.*s\" to save to; add it first: midweight "
                      "stock add NAME 350",
                      QUOTED, name);
    }
    code = bottle_load(stock, name, &measurement->bottle, error);
    return code == EXIT_DONE ? bottle_adjust(stock, &measurement->bottle, error)
                             : code;
}

enum exit_code measure_begin(const struct args *args, double usual_t,
                             enum mw_family usual,
                             struct measurement *measurement,
                             struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct oil_defaults defaults;
    measurement->reynolds = measurement->known = NAN;
    if ((code = parse_oil_defaults(args->value[MEASURE_FAMILY], NULL, &defaults,
                                   error)) != EXIT_DONE ||
        (code = read_temperature(args, usual_t, &measurement->temperature,
                                 error)) != EXIT_DONE) {
        return code;
    }
    measurement->family = defaults.has_family ? defaults.family : usual;
    if (!args->value[MEASURE_SAVE]) {
        return EXIT_DONE;
    }
    measurement->saving = true;
    measurement->force = args->value[MEASURE_FORCE] != NULL;
    code = load_bottle(args, measurement, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (defaults.has_family &&
        defaults.family != measurement->bottle.label.family) {
        return refuse(error, "\"%.*s\" is %s; leave --family out", QUOTED,
                      measurement->bottle.name,
                      mw_family_name(measurement->bottle.label.family));
    }
    measurement->family = measurement->bottle.label.family;
    return EXIT_DONE;
}

enum exit_code measure_wanted(const struct args *args, const char *oil,
                              struct oil_ref *ref, struct mw_point *point,
                              struct error *error)
{
    struct oil_defaults defaults;
    struct stock_handle handle = {.file = args->stock};
    struct toleranced temperature;
    if (args->value[MEASURE_SAVE]) {
        return refuse(error,
                      "nothing is measured with --for; leave --save out");
    }
    enum exit_code code =
        parse_oil_defaults(args->value[MEASURE_FAMILY], NULL, &defaults, error);
    if (code != EXIT_DONE) {
        return code;
    }
    code = oil_ref_find(&handle, oil, &defaults, ref, error);
    stock_handle_close(&handle);
    if (code != EXIT_DONE ||
        (code = read_temperature(args, ref->oil.points[0].temperature,
                                 &temperature, error)) != EXIT_DONE) {
        return code;
    }
    point->temperature = temperature.value;
    return oil_viscosity_at(ref->name, &ref->oil, point->temperature,
                            &point->viscosity, error);
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

enum exit_code measure_add_temperature(struct measurement *measurement,
                                       struct error *error)
{
    double u, slope;
    enum mw_status status =
        mw_rectangular(thermometer_of(&measurement->temperature), &u);
    if (status == MW_OK) {
        status = find_slope(measurement, &slope);
    }
    if (status == MW_OK) {
        status = mw_budget_add(&measurement->budget, "temperature", u, slope);
    }
    return measure_refuse(status, error);
}

/* how a line of a budget counts for other readings */
enum part { PART_RANDOM, PART_SYSTEMATIC, PART_THERMOMETER, PART_REFERENCE };

static enum part part_of(const struct measurement *measurement,
                         const char *line)
{
    static const char *const random[] = {"time", "time of the known oil",
                                         "temperature between the runs"};
    for (size_t i = 0; i < sizeof random / sizeof random[0]; i++) {
        if (strcmp(line, random[i]) == 0) {
            return PART_RANDOM;
        }
    }
    if (strcmp(line, "temperature") == 0) {
        return PART_THERMOMETER;
    }
    return strcmp(line, "known oil") == 0 && measurement->reference != 0
               ? PART_REFERENCE
               : PART_SYSTEMATIC;
}

/* the budget in parts; readings that are exact are kept as nearly so */
static struct reading_source split(const struct measurement *measurement)
{
    struct mw_budget parts[2] = {{0}, {0}};
    double thermometer = 0;
    for (size_t i = 0; i < measurement->budget.count; i++) {
        const struct mw_contribution *line = &measurement->budget.parts[i];
        enum part part = part_of(measurement, line->name);
        if (part == PART_RANDOM || part == PART_SYSTEMATIC) {
            mw_budget_add(&parts[part], line->name, line->uncertainty,
                          line->sensitivity);
        } else if (part == PART_THERMOMETER) {
            thermometer = thermometer_of(&measurement->temperature);
        }
    }
    return (struct reading_source){
        .known = true,
        .instrument = (char *)measurement->instrument,
        .random = fmax(mw_budget_combined(&parts[PART_RANDOM]), 1e-6),
        .systematic = mw_budget_combined(&parts[PART_SYSTEMATIC]),
        .thermometer = fmin(thermometer, THERMOMETER_MAX),
        .reference = measurement->reference,
        .reference_viscosity = measurement->reference_viscosity};
}

/* the result as a reading of its bottle */
static enum exit_code save_reading(struct measurement *measurement,
                                   struct error *error)
{
    const struct mw_reading reading = {
        measurement->viscosity, measurement->temperature.value,
        mw_budget_combined(&measurement->budget)};
    if (!(reading.uncertainty < 1)) {
        return refuse(error,
                      "so uncertain a result is no reading; take more times, "
                      "or a longer one");
    }
    const struct reading_source source = split(measurement);
    enum exit_code code =
        bottle_take_reading(&measurement->bottle, &reading, &source,
                            measurement->method, NULL, error);
    return code == EXIT_DONE
               ? bottle_save_reading(&measurement->stock, &measurement->bottle,
                                     measurement->force, error)
               : code;
}

/* a band that is not a number is not printed */
static enum exit_code check_band(const struct measurement *measurement,
                                 struct error *error)
{
    double low, high;
    return mw_budget_band(&measurement->budget, measurement->viscosity, &low,
                          &high) == MW_ERR_UNCERTAINTY
               ? refuse(error,
                        "so uncertain a result says nothing; take more times, "
                        "or longer ones")
               : EXIT_DONE;
}

enum exit_code measure_finish(const struct args *args,
                              struct measurement *measurement,
                              struct error *error)
{
    enum exit_code code = EXIT_DONE;
    if (code == EXIT_DONE) {
        code = check_band(measurement, error);
    }
    if (code == EXIT_DONE && measurement->saving) {
        code = save_reading(measurement, error);
        stock_close(&measurement->stock);
    }
    if (code != EXIT_DONE) {
        return code;
    }
    if (args->json) {
        return print_json("measure", measure_json(measurement), error);
    }
    measure_print(measurement, args->explain);
    if (isfinite(measurement->known)) {
        double u = mw_budget_combined(&measurement->budget);
        print_wrapped("One known oil in this cup (measure against): "
                      "+-%.1f %% becomes +-%.1f %%.",
                      100 * MW_COVERAGE * u,
                      100 * MW_COVERAGE * measurement->known);
    }
    if (measurement->hint) {
        print_wrapped("%s", measurement->hint);
    }
    if (measurement->saving) {
        print_best(&measurement->bottle);
    }
    print_wrapped("%s", CAUTION_MEASURE);
    return code;
}

void measure_end(struct measurement *measurement)
{
    bottle_free(&measurement->bottle);
    if (measurement->saving) {
        stock_close(&measurement->stock);
    }
}
