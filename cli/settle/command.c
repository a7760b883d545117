/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "settle/settle.h"

#include <math.h>

#include "command/options.h"
#include "parse/damper.h"
#include "parse/number.h"
#include "parse/viscosity.h"
#include "settle/command.h"

enum { DEPTH, BUBBLE, AT, PRESSURE, GAUGE, FAMILY, DENSITY };

static const struct command_option options[] = {
    OPTION(DEPTH, "depth", "L",
           "Let bubbles rise through this depth, such as 20mm"),
    OPTION(BUBBLE, "bubble", "D",
           "Wait for bubbles of this diameter and larger (default 0.3mm, an "
           "assumption)"),
    OPTION(AT, "at", "T",
           "Take the oil at this temperature (default: where it is rated)"),
    OPTION(PRESSURE, "pressure", "P",
           "Draw a vacuum of this absolute pressure: 10kPa, 0.1bar"),
    OPTION(GAUGE, "gauge", "P",
           "Draw a vacuum by its gauge, below zero: -90kPa, -0.9bar"),
    OPTION(FAMILY, "family", "FAMILY", "Take the oil as silicone or mineral"),
    OPTION(DENSITY, "density", "D",
           "Take this density in g/ml, for an oil given in mPa.s"),
    {0},
};

static enum exit_code read_oil(const struct args *args,
                               struct settle_request *request,
                               struct error *error)
{
    struct oil_defaults defaults;
    struct stock_handle handle = {.file = args->stock};
    enum exit_code code = parse_oil_defaults(
        args->value[FAMILY], args->value[DENSITY], &defaults, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (args->count == 0) {
        return refuse(error,
                      "which oil? try midweight settle 450 --depth 20mm");
    }
    if (args->count > 1) {
        return refuse(error, "one oil at a time; \"%.*s\" is one too many",
                      QUOTED, args->argument[1]);
    }
    code = oil_ref_find(&handle, args->argument[0], &defaults, &request->ref,
                        error);
    stock_handle_close(&handle);
    request->temperature = request->ref.oil.points[0].temperature;
    return code == EXIT_DONE && args->value[AT]
               ? parse_temperature(args->value[AT], &request->temperature,
                                   error)
               : code;
}

static enum exit_code read_sizes(const struct args *args,
                                 struct settle_request *request,
                                 struct error *error)
{
    enum exit_code code = EXIT_DONE;
    if (!args->value[DEPTH]) {
        return refuse(error, "how deep is the oil? give --depth 20mm");
    }
    request->bubble = MW_USUAL_BUBBLE;
    request->assumed = !args->value[BUBBLE];
    request->explain = args->explain;
    if ((code = parse_size(args->value[DEPTH], &request->depth, error)) ==
            EXIT_DONE &&
        args->value[BUBBLE]) {
        code = parse_size(args->value[BUBBLE], &request->bubble, error);
    }
    return code;
}

static enum exit_code read_pressure(const struct args *args,
                                    struct settle_request *request,
                                    struct error *error)
{
    const char *absolute = args->value[PRESSURE];
    const char *gauge = args->value[GAUGE];
    if (absolute && gauge) {
        return refuse(error,
                      "--pressure is absolute and --gauge is against the air; "
                      "give one of them");
    }
    request->has_pressure = absolute || gauge;
    request->by_gauge = gauge != NULL;
    request->pressure = MW_STANDARD_ATMOSPHERE_KPA;
    if (absolute) {
        return parse_pressure(absolute, &request->pressure, error);
    }
    return gauge ? parse_gauge(gauge, &request->pressure, error) : EXIT_DONE;
}

/* -- The answer -------------------------------------------------------- */

static enum mw_status settle_at(const struct settle_request *request,
                                double viscosity, double pressure,
                                struct mw_settle *settle)
{
    return mw_settle(viscosity, request->bubble, request->depth, pressure,
                     settle);
}

/* a warmer oil, where it is known there */
static void find_warm(const struct settle_request *request,
                      struct settle_answer *answer)
{
    double viscosity, t = request->temperature + SETTLE_WARMING;
    bool known = mw_oil_viscosity(&request->ref.oil, t, &viscosity) == MW_OK &&
                 settle_at(request, viscosity, MW_STANDARD_ATMOSPHERE_KPA,
                           &answer->warm) == MW_OK;
    answer->warm_t = known ? t : NAN;
    if (!known) {
        answer->warm = (struct mw_settle){.seconds = NAN};
    }
}

static enum settle_advice advise(const struct settle_answer *answer)
{
    return answer->still.seconds <= SETTLE_PATIENCE    ? ADVICE_STAND
           : answer->warm.seconds <= SETTLE_PATIENCE   ? ADVICE_WARM
           : answer->pumped.seconds <= SETTLE_PATIENCE ? ADVICE_PUMP
                                                       : ADVICE_WAIT;
}

static enum exit_code solve(const struct settle_request *request,
                            struct settle_answer *answer, struct error *error)
{
    const struct oil_ref *ref = &request->ref;
    enum exit_code code = oil_viscosity_at(
        ref->name, &ref->oil, request->temperature, &answer->viscosity, error);
    if (code != EXIT_DONE) {
        return code;
    }
    bool vacuum =
        request->has_pressure && request->pressure < MW_STANDARD_ATMOSPHERE_KPA;
    answer->pumped_kpa = vacuum ? request->pressure : SETTLE_PUMPED;
    enum mw_status status = settle_at(request, answer->viscosity,
                                      request->pressure, &answer->asked);
    if (status == MW_OK) {
        status = settle_at(request, answer->viscosity,
                           MW_STANDARD_ATMOSPHERE_KPA, &answer->still);
    }
    if (status == MW_OK) {
        status = settle_at(request, answer->viscosity, answer->pumped_kpa,
                           &answer->pumped);
    }
    if (status != MW_OK) {
        return refuse(error, "the bubble: %s", mw_status_text(status));
    }
    find_warm(request, answer);
    answer->advice = advise(answer);
    answer->vacuum = vacuum || answer->still.seconds > SETTLE_PATIENCE;
    answer->warnings = answer->asked.warnings |
                       mw_oil_warnings(&ref->oil, request->temperature);
    return EXIT_DONE;
}

static enum exit_code run(const struct args *args, struct error *error)
{
    struct settle_request request = {0};
    struct settle_answer answer = {0};
    enum exit_code code;
    if ((code = read_oil(args, &request, error)) != EXIT_DONE ||
        (code = read_sizes(args, &request, error)) != EXIT_DONE ||
        (code = read_pressure(args, &request, error)) != EXIT_DONE ||
        (code = solve(&request, &answer, error)) != EXIT_DONE) {
        return code;
    }
    if (args->json) {
        return settle_print_json(&request, &answer, error);
    }
    settle_print(&request, &answer);
    return EXIT_DONE;
}

const struct command command_settle = {
    .name = "settle",
    .summary = "how long the bubbles in an oil take to rise",
    .examples =
        "  midweight settle 450 --depth 20mm               standing still\n"
        "  midweight settle 450 --depth 20mm --at 12C      on a cold morning\n"
        "  midweight settle 10k --depth 30mm --bubble 0.5mm\n"
        "  midweight settle 450 --depth 20mm --pressure 10kPa   absolute\n"
        "  midweight settle 450 --depth 20mm --gauge -90kPa  below the air\n",
    .arguments = "OIL",
    .notes = "A pressure is absolute (--pressure) or relative to the "
             "air outside, as a vacuum gauge shows it (--gauge). Sizes "
             "and pressures need a unit. Small bubbles leave last: "
             "half the diameter takes four times as long.",
    .options = options,
    .run = run,
};
