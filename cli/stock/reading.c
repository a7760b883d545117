/* SPDX-License-Identifier: GPL-3.0-or-later */
/* stock reading: what was measured of a bottle */
#include "store/reading.h"
#include "parse/amount.h"
#include "parse/number.h"
#include "parse/viscosity.h"
#include "stock/commands.h"
#include "store/stock.h"

enum { UNCERTAINTY, METHOD, DATE };

/* what a careful stopwatch reading may be off by; our own assumption, told
 * where it is used */
#define USUAL_UNCERTAINTY 0.03

static const struct argp_option options[] = {
    OPTION(UNCERTAINTY, "uncertainty", "PERCENT",
           "Standard uncertainty of the reading (3 %)"),
    OPTION(METHOD, "method", "TEXT", "How it was measured"),
    OPTION(DATE, "date", "YYYY-MM-DD", "When (today)"),
    {0},
};

static enum outcome read_value(const struct words *words,
                               const struct bottle *bottle,
                               struct mw_reading *reading,
                               struct problem *problem)
{
    struct viscosity viscosity;
    struct mw_point point;
    reading->uncertainty = USUAL_UNCERTAINTY;
    if (parse_viscosity(words->argument[1], &viscosity, problem) !=
        OUTCOME_DONE) {
        return problem->outcome;
    }
    if (!viscosity.has_temperature) {
        return REFUSE("%.*s: at which temperature? write %.*s@22C", QUOTED,
                      words->argument[1], QUOTED, words->argument[1]);
    }
    if (resolve_viscosity(&viscosity, bottle->label.family,
                          bottle->label.density, viscosity.temperature, &point,
                          problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    reading->viscosity = point.viscosity;
    reading->temperature = point.temperature;
    if (words->value[UNCERTAINTY] &&
        parse_percent(words->value[UNCERTAINTY], &reading->uncertainty,
                      problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    return reading->uncertainty > 0
               ? OUTCOME_DONE
               : REFUSE("no reading is exact; give an uncertainty above zero");
}

/* the reading at the end of the bottle's list */
static enum outcome read_reading(const struct words *words,
                                 struct bottle *bottle, struct problem *problem)
{
    const char *method = words->value[METHOD];
    struct mw_reading value;
    return read_value(words, bottle, &value, problem) == OUTCOME_DONE
               ? bottle_take_reading(bottle, &value, method ? method : "",
                                     words->value[DATE], problem)
               : problem->outcome;
}

static enum outcome take_reading(const struct words *words, struct stock *stock,
                                 struct bottle *bottle)
{
    if (bottle_load(stock, words->argument[0], bottle) != OUTCOME_DONE ||
        read_reading(words, bottle, stock->problem) != OUTCOME_DONE) {
        return stock->problem->outcome;
    }
    return bottle_save_reading(stock, bottle);
}

static enum outcome run(const struct command *command, int argc, char **argv,
                        struct problem *problem)
{
    struct words words;
    struct bottle bottle = {0};
    struct stock stock;
    if (options_read(command, options, argc, argv, &words, problem) !=
            OUTCOME_DONE ||
        words.helped) {
        return problem->outcome;
    }
    if (words.count != 2) {
        return REFUSE("a bottle and a viscosity are wanted, such as midweight "
                      "stock reading Elm 341@22C");
    }
    if (stock_begin_existing(&stock, words.stock, problem) == OUTCOME_DONE) {
        take_reading(&words, &stock, &bottle);
    }
    stock_close(&stock);
    if (problem->outcome == OUTCOME_DONE) {
        print_best(&bottle);
    }
    bottle_free(&bottle);
    return problem->outcome;
}

const struct command command_stock_reading = {
    .name = "stock reading",
    .summary = "what was measured of a bottle",
    .examples = "  midweight stock reading Elm 341@22C\n"
                "  midweight stock reading Elm 341@22C --uncertainty 2% "
                "--method 'ISO4 cup'\n",
    .arguments = "NAME V@T",
    .run = run,
};
