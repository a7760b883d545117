/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* measure ball: the time a ball takes to fall */
#include <math.h>
#include <stdio.h>

#include "measure/fall.h"
#include "parse/number.h"

static const struct command_option options[] = {
    MEASURE_OPTIONS(THERMOMETER_HELP("at")),
    OPTION(FALL_DIAMETER, "diameter", "L",
           "Drop a ball of this diameter, such as 3mm"),
    OPTION(FALL_TUBE, "tube", "L",
           "Drop it in a tube of this inner diameter, or none"),
    OPTION(FALL_TRAVEL, "travel", "L",
           "Time it over this travel, from mark to mark"),
    OPTION(FALL_TIME, "time", "TIME",
           "Take this time from mark to mark; join repeated ones with /"),
    OPTION(FALL_BALL_DENSITY, "ball-density", "D",
           "Take a ball of this density, in g/ml"),
    OPTION(FALL_OIL_DENSITY, "oil-density", "D",
           "Take this density of the oil at its temperature, in g/ml (default: "
           "usual for "
           "the oil)"),
    OPTION(FALL_DEPTH, "depth", "L",
           "Fill to this depth, with the marks in the middle"),
    OPTION(FALL_GRAVITY, "gravity", "G",
           "Take this local gravity, in m/s2 (default 9.80665)"),
    OPTION(FALL_FOR, "for", "OIL", "Choose a ball and travel for this oil"),
    {0},
};

static enum exit_code read_times(const struct args *args, struct timing *timing,
                                 struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct times times = {0};
    if (args->value[FALL_TIME]) {
        code = parse_times(args->value[FALL_TIME], &times, error);
    }
    for (size_t i = 0; i < args->count && code == EXIT_DONE; i++) {
        code = parse_times(args->argument[i], &times, error);
    }
    if (code == EXIT_DONE && times.count == 0) {
        return refuse(error, "a fall needs --time, such as --time 12.9s");
    }
    return code == EXIT_DONE ? measure_time(&times, timing, error) : code;
}

static enum mw_status choose_density(const struct measurement *measurement,
                                     struct mw_ball_run *run)
{
    double t = measurement->temperature.value;
    if (!isnan(run->density)) {
        return MW_OK;
    }
    if (measurement->saving) {
        return mw_oil_density(&measurement->bottle.best.oil, t, &run->density,
                              NULL);
    }
    return mw_bench_density(run, measurement->family, t, &run->density);
}

/* limits that were written take the place of the usual ones */
static void use_limit(const struct toleranced *toleranced, double *u)
{
    if (!isnan(toleranced->limit)) {
        mw_rectangular(toleranced->limit, u);
    }
}

static struct mw_ball_uncertainty uncertainties(const struct fall *fall,
                                                const struct mw_ball_run *run,
                                                const struct timing *time)
{
    struct mw_ball_uncertainty u = mw_bench_fall(run, time->uncertainty);
    use_limit(&fall->diameter, &u.diameter);
    use_limit(&fall->tube, &u.tube);
    use_limit(&fall->travel, &u.travel);
    use_limit(&fall->ball_density, &u.ball_density);
    use_limit(&fall->density, &u.density);
    return u;
}

/* what the oil does at the ball, where that is more than it bears */
static const char *hint_of(const struct measurement *measurement, double rate)
{
    const struct mw_point point = {measurement->viscosity,
                                   measurement->temperature.value};
    struct mw_oil oil;
    return mw_oil_make(measurement->family, &point, 1, NAN, &oil) == MW_OK &&
                   mw_shear_warnings(&oil, point.temperature, rate) != 0
               ? "At this speed of the ball the oil thins (an estimate, good "
                 "to "
                 "a factor of 3): at rest it is thicker. A smaller or lighter "
                 "ball is slower."
               : NULL;
}

static enum exit_code let_fall(const struct fall *fall,
                               struct measurement *measurement,
                               struct error *error)
{
    struct mw_ball_run run = fall_run(fall, measurement->time.mean);
    struct mw_ball_result result;
    enum mw_status status = choose_density(measurement, &run);
    if (status == MW_OK) {
        status = mw_ball_viscosity(&run, &result);
    }
    if (status == MW_OK) {
        const struct mw_ball_uncertainty u =
            uncertainties(fall, &run, &measurement->time);
        measurement->viscosity = result.viscosity;
        measurement->reynolds = result.reynolds;
        measurement->warnings |= result.warnings;
        measurement->hint = hint_of(measurement, result.rate);
        status = mw_ball_budget(&run, &u, &measurement->budget);
    }
    snprintf(measurement->instrument, METHOD_LENGTH, "falling ball");
    snprintf(measurement->method, METHOD_LENGTH,
             "ball of %.4g mm, %.4g g/ml, over %.4g mm", 1000 * run.diameter,
             run.ball_density, 1000 * run.travel);
    return fall_refuse(&run, status, error);
}

static enum exit_code measure(const struct args *args,
                              struct measurement *measurement,
                              struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct fall fall;
    if ((code = fall_read(args, true, &fall, error)) != EXIT_DONE ||
        (code = read_times(args, &measurement->time, error)) != EXIT_DONE ||
        (code = measure_begin(args, NAN, MW_SILICONE, measurement, error)) !=
            EXIT_DONE ||
        (code = let_fall(&fall, measurement, error)) != EXIT_DONE ||
        (code = measure_add_temperature(measurement, error)) != EXIT_DONE) {
        return code;
    }
    return measure_finish(args, measurement, error);
}

static enum exit_code run(const struct args *args, struct error *error)
{
    struct measurement measurement = {0};
    if (args->value[FALL_FOR]) {
        return balls_for(args, args->value[FALL_FOR], error);
    }
    enum exit_code code = measure(args, &measurement, error);
    measure_end(&measurement);
    return code;
}

const struct command command_measure_ball = {
    .name = "measure ball",
    .summary = "by the time a ball takes to fall",
    .examples =
        "  midweight measure ball --diameter 3mm --tube 38mm --travel 200mm "
        "\\\n"
        "      --ball-density 1.41 --time 31.2s/30.9s --at 22C\n"
        "  midweight measure ball --for 350 --tube 38mm   which ball to take\n",
    .arguments = "[TIME...]",
    .notes = "Lengths need a unit: 1.2mm, 7.5cm, 0.3m. A TIME is "
             "64.5s, 3min or 1:04.5; several are averaged. Limits that "
             "are better known than the defaults follow the value: "
             "--diameter 3mm+-0.005mm, --at 22C+-0.5C.",
    .options = options,
    .run = run,
};
