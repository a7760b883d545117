/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "settle/settle.h"

#include <math.h>

#include "command/options.h"
#include "parse/damper.h"
#include "parse/number.h"
#include "parse/viscosity.h"
#include "settle/command.h"

enum { DEPTH, BUBBLE, AT, PRESSURE, GAUGE, FAMILY, DENSITY };

static const struct argp_option options[] = {
    OPTION(DEPTH, "depth", "L", "How deep the oil stands, such as 20mm"),
    OPTION(BUBBLE, "bubble", "D",
           "The smallest bubble that has to go (else 0.3mm, our assumption)"),
    OPTION(AT, "at", "T",
           "The temperature of the oil (else where it is rated)"),
    OPTION(PRESSURE, "pressure", "P",
           "Absolute pressure in the vessel: 10kPa, 0.1bar"),
    OPTION(GAUGE, "gauge", "P",
           "What a vacuum gauge shows, below zero: -90kPa, -0.9bar"),
    OPTION(FAMILY, "family", "FAMILY", "What the oil is: silicone or mineral"),
    OPTION(DENSITY, "density", "D",
           "Density in g/ml, for an oil given in mPa.s"),
    {0},
};

static enum outcome read_oil(const struct words *words,
                             struct settle_request *request,
                             struct problem *problem)
{
    struct oil_habits habits;
    struct shelf shelf = {.file = words->stock};
    if (parse_habits(words->value[FAMILY], words->value[DENSITY], &habits,
                     problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (words->count == 0) {
        return REFUSE("which oil? try midweight settle 450 --depth 20mm");
    }
    if (words->count > 1) {
        return REFUSE("one oil at a time; \"%.*s\" is one too many", QUOTED,
                      words->argument[1]);
    }
    source_find(&shelf, words->argument[0], &habits, &request->source, problem);
    shelf_close(&shelf);
    request->temperature = request->source.oil.points[0].temperature;
    return problem->outcome == OUTCOME_DONE && words->value[AT]
               ? parse_temperature(words->value[AT], &request->temperature,
                                   problem)
               : problem->outcome;
}

static enum outcome read_sizes(const struct words *words,
                               struct settle_request *request,
                               struct problem *problem)
{
    if (!words->value[DEPTH]) {
        return REFUSE("how deep is the oil? give --depth 20mm");
    }
    request->bubble = MW_USUAL_BUBBLE;
    request->assumed = !words->value[BUBBLE];
    if (parse_size(words->value[DEPTH], &request->depth, problem) ==
            OUTCOME_DONE &&
        words->value[BUBBLE]) {
        parse_size(words->value[BUBBLE], &request->bubble, problem);
    }
    return problem->outcome;
}

static enum outcome read_pressure(const struct words *words,
                                  struct settle_request *request,
                                  struct problem *problem)
{
    const char *absolute = words->value[PRESSURE];
    const char *gauge = words->value[GAUGE];
    if (absolute && gauge) {
        return REFUSE("--pressure is absolute and --gauge is against the air; "
                      "give one of them");
    }
    request->has_pressure = absolute || gauge;
    request->by_gauge = gauge != NULL;
    request->pressure = MW_PRESSURE;
    if (absolute) {
        return parse_pressure(absolute, &request->pressure, problem);
    }
    return gauge ? parse_gauge(gauge, &request->pressure, problem)
                 : OUTCOME_DONE;
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
    bool known =
        mw_oil_viscosity(&request->source.oil, t, &viscosity) == MW_OK &&
        settle_at(request, viscosity, MW_PRESSURE, &answer->warm) == MW_OK;
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

static enum outcome solve(const struct settle_request *request,
                          struct settle_answer *answer, struct problem *problem)
{
    const struct source *source = &request->source;
    enum mw_status status = mw_oil_viscosity(&source->oil, request->temperature,
                                             &answer->viscosity);
    if (status != MW_OK) {
        return explain_oil_status(source->name, &source->oil,
                                  request->temperature, status, problem);
    }
    bool vacuum = request->has_pressure && request->pressure < MW_PRESSURE;
    answer->pumped_kpa = vacuum ? request->pressure : SETTLE_PUMPED;
    status = settle_at(request, answer->viscosity, request->pressure,
                       &answer->asked);
    if (status == MW_OK) {
        status =
            settle_at(request, answer->viscosity, MW_PRESSURE, &answer->still);
    }
    if (status == MW_OK) {
        status = settle_at(request, answer->viscosity, answer->pumped_kpa,
                           &answer->pumped);
    }
    if (status != MW_OK) {
        return REFUSE("the bubble: %s", mw_status_text(status));
    }
    find_warm(request, answer);
    answer->advice = advise(answer);
    answer->vacuum = vacuum || answer->still.seconds > SETTLE_PATIENCE;
    answer->notes =
        answer->asked.notes | mw_oil_notes(&source->oil, request->temperature);
    return OUTCOME_DONE;
}

static enum outcome run(const struct command *command, int argc, char **argv,
                        struct problem *problem)
{
    struct words words;
    struct settle_request request = {0};
    struct settle_answer answer = {0};
    if (options_read(command, options, argc, argv, &words, problem) !=
            OUTCOME_DONE ||
        words.helped) {
        return problem->outcome;
    }
    if (read_oil(&words, &request, problem) != OUTCOME_DONE ||
        read_sizes(&words, &request, problem) != OUTCOME_DONE ||
        read_pressure(&words, &request, problem) != OUTCOME_DONE ||
        solve(&request, &answer, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (words.json) {
        return settle_print_json(&request, &answer, problem);
    }
    settle_print(&request, &answer);
    return OUTCOME_DONE;
}

const struct command command_settle = {
    .name = "settle",
    .summary = "how long until the bubbles are out of an oil",
    .examples =
        "  midweight settle 450 --depth 20mm               standing still\n"
        "  midweight settle 450 --depth 20mm --at 12C      on a cold morning\n"
        "  midweight settle 10k --depth 30mm --bubble 0.5mm\n"
        "  midweight settle 450 --depth 20mm --pressure 10kPa   absolute\n"
        "  midweight settle 450 --depth 20mm --gauge -90kPa  below the air\n",
    .arguments = "OIL",
    .notes = "\vA pressure is absolute (--pressure) or what a vacuum gauge "
             "shows against the air outside (--gauge); neither is guessed "
             "from the other. Sizes and pressures need a unit. Small bubbles "
             "go last: half the size takes four times as long.",
    .run = run,
};
