/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* measure against: the same run with a known oil */
#include <math.h>
#include <stdio.h>

#include "measure/against_how.h"
#include "measure/measurement.h"
#include "oils/oil_ref.h"
#include "output/text.h"
#include "parse/number.h"
#include "util/format.h"

enum { BY = MEASURE_OWN, CONSTANTS, BALL_DENSITY, OIL_DENSITY, KNOWN_DENSITY };

/* the words in the other order; all three, so that --density alone stays too
 * short for any */
#define ALIAS(alias, option_index)                                             \
    {                                                                          \
        .name = (alias), .index = (option_index), .value = "D", .text = "",    \
        .hidden = true                                                         \
    }

static const struct command_option options[] = {
    MEASURE_OPTIONS("Allow for this difference of temperature between the runs "
                    "(default +-0.5 degrees); --at 22C+-0.3C says the same"),
    OPTION(BY, "by", "TOOL",
           "Time a cup, a syringe, a ball or a damper (default: a syringe)"),
    OPTION(CONSTANTS, "constants", "A:B",
           "Count the jet by the constants of the cup, v = A t - B/t"),
    OPTION(BALL_DENSITY, "ball-density", "D",
           "Take a ball of this density, in g/ml"),
    OPTION(OIL_DENSITY, "oil-density", "D",
           "Take this density of the oil, for a ball (default: usual for it)"),
    OPTION(KNOWN_DENSITY, "known-density", "D",
           "Take this density of the known oil, likewise"),
    ALIAS("density-ball", BALL_DENSITY),
    ALIAS("density-oil", OIL_DENSITY),
    ALIAS("density-known", KNOWN_DENSITY),
    {0},
};

/* two runs as they were written */
struct comparison {
    enum mw_against_how how;
    double jet, jet_uncertainty; /* mm2: B */
    struct oil_ref known;
    struct timing known_time, time;
    struct toleranced ball_density, density, known_density; /* NaN: not given */
};

static enum exit_code read_times(const char *text, struct timing *timing,
                                 struct error *error)
{
    struct times times = {0};
    enum exit_code code = parse_times(text, &times, error);
    return code == EXIT_DONE ? measure_time(&times, timing, error) : code;
}

static enum exit_code read_density(const char *text, struct toleranced *density,
                                   struct error *error)
{
    *density = (struct toleranced){NAN, NAN};
    return text ? parse_density_toleranced(text, density, error) : EXIT_DONE;
}

/* how the two were timed; a ball has a density */
static enum exit_code read_how(const struct args *args,
                               struct comparison *comparison,
                               struct error *error)
{
    const char *by = args->value[BY];
    comparison->how =
        args->value[BALL_DENSITY] ? MW_AGAINST_BALL : MW_AGAINST_SYRINGE;
    if (by && !against_how_find(by, &comparison->how)) {
        return refuse(error,
                      "\"%.*s\": write --by cup, syringe, ball or damper",
                      QUOTED, by);
    }
    if ((comparison->how == MW_AGAINST_BALL) !=
        (args->value[BALL_DENSITY] != NULL)) {
        return refuse(error, "a ball and --ball-density go together");
    }
    return EXIT_DONE;
}

static enum exit_code read_densities(const struct args *args,
                                     struct comparison *comparison,
                                     struct error *error)
{
    if (!args->value[BALL_DENSITY] &&
        (args->value[OIL_DENSITY] || args->value[KNOWN_DENSITY])) {
        return refuse(error, "densities of oils count for a ball only; add "
                             "--ball-density");
    }
    enum exit_code code;
    if ((code = read_density(args->value[BALL_DENSITY],
                             &comparison->ball_density, error)) != EXIT_DONE ||
        (code = read_density(args->value[OIL_DENSITY], &comparison->density,
                             error)) != EXIT_DONE) {
        return code;
    }
    return read_density(args->value[KNOWN_DENSITY], &comparison->known_density,
                        error);
}

static enum exit_code read_comparison(const struct args *args,
                                      struct comparison *comparison,
                                      struct error *error)
{
    struct oil_defaults defaults;
    struct stock_handle handle = {.file = args->stock};
    if (args->count != 3) {
        return refuse(error,
                      "a known oil, its time and that of the oil are wanted, "
                      "such as midweight measure against 350 18.0s 21.4s");
    }
    enum exit_code code =
        parse_oil_defaults(args->value[MEASURE_FAMILY], NULL, &defaults, error);
    if (code != EXIT_DONE) {
        return code;
    }
    code = oil_ref_find(&handle, args->argument[0], &defaults,
                        &comparison->known, error);
    stock_handle_close(&handle);
    if (code != EXIT_DONE ||
        (code = read_times(args->argument[1], &comparison->known_time,
                           error)) != EXIT_DONE ||
        (code = read_times(args->argument[2], &comparison->time, error)) !=
            EXIT_DONE ||
        (code = read_how(args, comparison, error)) != EXIT_DONE ||
        (code = against_how_jet(args->value[CONSTANTS], comparison->how,
                                &comparison->jet, &comparison->jet_uncertainty,
                                error)) != EXIT_DONE) {
        return code;
    }
    return read_densities(args, comparison, error);
}

/* the density that was given, else the usual one of an oil */
static enum mw_status choose_density(const struct toleranced *given,
                                     const struct mw_oil *oil, double t,
                                     double *density)
{
    *density = given->value;
    return isnan(given->value) ? mw_oil_density(oil, t, density, NULL) : MW_OK;
}

/* the oil that is measured: its bottle, or one of its family that is as thick
 * as the times alone say, which is good enough for its density */
static enum mw_status usual_oil(const struct measurement *measurement,
                                const struct mw_against_runs *runs,
                                struct mw_oil *oil)
{
    struct mw_against_runs alone = *runs;
    struct mw_point point = {NAN, measurement->temperature.value};
    if (measurement->saving) {
        *oil = measurement->bottle.best.oil;
        return MW_OK;
    }
    alone.how = MW_AGAINST_DAMPER;
    enum mw_status status =
        mw_against_viscosity(&alone, &point.viscosity, NULL);
    return status == MW_OK
               ? mw_oil_make(measurement->family, &point, 1, NAN, oil)
               : status;
}

static enum mw_status choose_densities(const struct comparison *comparison,
                                       const struct measurement *measurement,
                                       struct mw_against_runs *runs)
{
    double t = measurement->temperature.value;
    struct mw_oil oil;
    enum mw_status status = usual_oil(measurement, runs, &oil);
    runs->ball_density = comparison->ball_density.value;
    if (status == MW_OK) {
        status = choose_density(&comparison->density, &oil, t, &runs->density);
    }
    return status == MW_OK
               ? choose_density(&comparison->known_density,
                                &comparison->known.oil, t, &runs->known_density)
               : status;
}

/* the standard uncertainty of limits, or of the usual ones */
static double limits_or(const struct toleranced *toleranced, double usual)
{
    double u;
    mw_rectangular(isnan(toleranced->limit) ? usual : toleranced->limit, &u);
    return u;
}

static enum mw_status add_budget(const struct comparison *comparison,
                                 const struct mw_against_runs *runs,
                                 struct measurement *measurement)
{
    double drift, slope;
    const struct mw_against_uncertainty u = {
        .known = comparison->known.uncertainty,
        .known_time = comparison->known_time.uncertainty,
        .time = comparison->time.uncertainty,
        .jet = comparison->jet_uncertainty,
        .known_density =
            limits_or(&comparison->known_density, MW_BENCH_OIL_DENSITY),
        .density = limits_or(&comparison->density, MW_BENCH_OIL_DENSITY),
        .ball_density = limits_or(&comparison->ball_density,
                                  MW_BENCH_BALL_DENSITY * runs->ball_density)};
    enum mw_status status = mw_against_budget(runs, &u, &measurement->budget);
    if (status == MW_OK) {
        status = mw_bench_slope(measurement->family,
                                measurement->temperature.value, &slope);
    }
    if (status == MW_OK) {
        double limit = measurement->temperature.limit;
        mw_rectangular(isnan(limit) ? MW_BENCH_DRIFT : limit, &drift);
        status = mw_budget_add(&measurement->budget,
                               "temperature between the runs", drift, slope);
    }
    return status;
}

static enum exit_code compare(const struct comparison *comparison,
                              struct measurement *measurement,
                              struct error *error)
{
    enum exit_code code = EXIT_DONE;
    const struct oil_ref *known = &comparison->known;
    double t = measurement->temperature.value;
    struct mw_against_runs runs = {.how = comparison->how,
                                   .known_time = comparison->known_time.mean,
                                   .time = comparison->time.mean,
                                   .jet = comparison->jet};
    enum mw_status status = MW_OK;
    if ((code = oil_viscosity_at(known->name, &known->oil, t, &runs.known,
                                 error)) != EXIT_DONE) {
        return code;
    }
    if (comparison->how == MW_AGAINST_BALL) {
        status = choose_densities(comparison, measurement, &runs);
    }
    measurement->reference_viscosity = runs.known;
    measurement->warnings |= mw_oil_warnings(&known->oil, t);
    if (status == MW_OK) {
        status = mw_against_viscosity(&runs, &measurement->viscosity,
                                      &measurement->warnings);
    }
    if (status == MW_OK) {
        status = add_budget(comparison, &runs, measurement);
    }
    return measure_refuse(status, error);
}

/* a bottle cannot be measured against itself */
static enum exit_code check_other(const struct comparison *comparison,
                                  const struct measurement *measurement,
                                  struct error *error)
{
    return measurement->saving && comparison->known.id == measurement->bottle.id
               ? refuse(error, "\"%.*s\" cannot be measured against itself",
                        QUOTED, measurement->bottle.name)
               : EXIT_DONE;
}

static void describe(const struct comparison *comparison,
                     struct measurement *measurement)
{
    char name[TRUNCATED_LENGTH], text[FORMAT_LENGTH];
    measurement->time = comparison->time;
    const char *how = against_how_name(comparison->how);
    truncate_columns(comparison->known.name, 24, name);
    snprintf(measurement->method, METHOD_LENGTH, "%s against %s (%s s)", how,
             name, format_significant(comparison->known_time.mean, 3, text));
    snprintf(measurement->instrument, METHOD_LENGTH, "%s against %s", how,
             name);
    measurement->reference = comparison->known.id;
}

static enum exit_code run(const struct args *args, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct comparison comparison = {0};
    struct measurement measurement = {0};
    if ((code = read_comparison(args, &comparison, error)) == EXIT_DONE) {
        const struct mw_oil *known = &comparison.known.oil;
        if ((code = measure_begin(args, known->points[0].temperature,
                                  known->family, &measurement, error)) ==
                EXIT_DONE &&
            (code = check_other(&comparison, &measurement, error)) ==
                EXIT_DONE &&
            (code = compare(&comparison, &measurement, error)) == EXIT_DONE) {
            describe(&comparison, &measurement);
            code = measure_finish(args, &measurement, error);
        }
    }
    measure_end(&measurement);
    return code;
}

const struct command command_measure_against = {
    .name = "measure against",
    .summary = "by comparison with a known oil, in the same way",
    .examples =
        "  midweight measure against 350 18.0s 21.4s\n"
        "  midweight measure against Elm 18.0s/18.3s 21.4s/21.2s --at 20C\n"
        "  midweight measure against 350 42.1s 47.6s --by damper\n"
        "  midweight measure against 350 36.6s 61.0s --ball-density 2.2\n",
    .arguments = "OIL TIME TIME",
    .notes =
        "The first time is that of the known OIL, the second "
        "that of the oil to be measured; join repeated times with "
        "a slash. The jet of a cup or a syringe makes the ratio of the "
        "times wrong by a few tenths of a per cent, and is counted; a "
        "ball or a damper has none. Both are measured at the same temperature: "
        "without --at, the rating temperature of the known oil. "
        "--at 20C+-0.3C gives the largest difference in "
        "temperature between the two (default 0.5 C).",
    .options = options,
    .run = run,
};
