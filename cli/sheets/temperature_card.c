/* SPDX-License-Identifier: GPL-3.0-or-later */
/* card temperature: what is asked */
#include "parse/number.h"
#include "parse/viscosity.h"
#include "sheets/commands.h"
#include "sheets/model/oil_list.h"
#include "sheets/temperature_sheet.h"

enum { FROM, TO, AT, FAMILY, DENSITY };

static const struct argp_option options[] = {
    OPTION(FROM, "from", "T", "The coldest temperature (5C)"),
    OPTION(TO, "to", "T", "The warmest temperature (35C)"),
    OPTION(AT, "at", "T", "The temperature whose feel is kept: today's (25C)"),
    OPTION(FAMILY, "family", "FAMILY",
           "What the oils are: silicone or mineral"),
    OPTION(DENSITY, "density", "D",
           "Density in g/ml (silicone at 25 C, mineral at 15 C)"),
    SHEET_OPTIONS,
    {0},
};

static enum outcome read_temperatures(const struct words *words,
                                      struct day *day, struct problem *problem)
{
    const struct {
        int option;
        double *t, usual;
    } parts[] = {{FROM, &day->from, 5},
                 {TO, &day->to, 35},
                 {AT, &day->tuned, MW_SILICONE_RATED}};
    for (size_t i = 0; i < 3; i++) {
        const char *text = words->value[parts[i].option];
        *parts[i].t = parts[i].usual;
        if (text &&
            parse_temperature(text, parts[i].t, problem) != OUTCOME_DONE) {
            return problem->outcome;
        }
    }
    return day->to >= day->from ? OUTCOME_DONE
                                : REFUSE("--to is colder than --from");
}

static enum outcome make_sheet(const struct words *words, struct bottles *rack,
                               struct problem *problem)
{
    struct oil_habits habits;
    struct day day;
    if (sheet_wanted(words, problem) != OUTCOME_DONE ||
        parse_habits(words->value[FAMILY], words->value[DENSITY], &habits,
                     problem) != OUTCOME_DONE ||
        read_temperatures(words, &day, problem) != OUTCOME_DONE ||
        rack_fill(words, &habits, rack, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    return temperature_sheet_make(words, rack, &day, problem);
}

static enum outcome run(const struct command *command, int argc, char **argv,
                        struct problem *problem)
{
    return rack_run(command, options, argc, argv, make_sheet, problem);
}

const struct command command_card_temperature = {
    .name = "card temperature",
    .summary = "what oils are over the day, and what to take instead",
    .examples = "  midweight card temperature 350 500 -o day.pdf\n"
                "  midweight card temperature --at 21C -o day.pdf   all "
                "bottles of the stock\n"
                "  midweight card temperature Elm --from 0C --to 40C "
                "--paper A5 -o elm.png\n",
    .arguments = "[OIL...]",
    .notes = "\vEach oil has two numbers at a temperature: what it is there, "
             "and the rating of the oil to take instead for the feel at --at. "
             "Numbers are estimates: measure what matters.",
    .run = run,
};
