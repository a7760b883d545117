/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* card temperature: what is asked */
#include <math.h>

#include "parse/number.h"
#include "parse/viscosity.h"
#include "sheets/commands.h"
#include "sheets/model/oil_list.h"
#include "sheets/temperature_sheet.h"

enum { FROM, TO, TUNED_AT, TODAY, FAMILY, DENSITY };

static const struct command_option options[] = {
    OPTION(FROM, "from", "T", "Coldest temperature (default 5C)"),
    OPTION(TO, "to", "T", "Warmest temperature (default 35C)"),
    OPTION(TUNED_AT, "tuned-at", "T",
           "Keep the feel that the damper has at this temperature (default "
           "25C)"),
    OPTION(TODAY, "today", "T", "Show today's temperature too, on grey"),
    /* what --tuned-at was called in 0.1.0 */
    {.name = "at", .index = TUNED_AT, .value = "T", .text = "", .hidden = true},
    OPTION(FAMILY, "family", "FAMILY", "Take the oils as silicone or mineral"),
    OPTION(DENSITY, "density", "D",
           "Take this density in g/ml (silicone at 25 C, mineral at 15 C)"),
    SHEET_OPTIONS,
    {0},
};

static enum exit_code read_temperatures(const struct args *args,
                                        struct day *day, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    const struct {
        int option;
        double *t, usual;
    } parts[] = {{FROM, &day->from, 5},
                 {TO, &day->to, 35},
                 {TUNED_AT, &day->tuned, mw_family_rating_t(MW_SILICONE)},
                 {TODAY, &day->today, NAN}};
    day->has_today = args->value[TODAY] != NULL;
    for (size_t i = 0; i < 4; i++) {
        const char *text = args->value[parts[i].option];
        *parts[i].t = parts[i].usual;
        if (text &&
            (code = parse_temperature(text, parts[i].t, error)) != EXIT_DONE) {
            return code;
        }
    }
    return day->to >= day->from ? EXIT_DONE
                                : refuse(error, "--to is colder than --from");
}

static enum exit_code make_sheet(const struct args *args,
                                 struct oil_list *oil_list, struct error *error)
{
    struct oil_defaults defaults;
    struct day day;
    enum exit_code code;
    if ((code = sheet_wanted(args, error)) != EXIT_DONE ||
        (code = parse_oil_defaults(args->value[FAMILY], args->value[DENSITY],
                                   &defaults, error)) != EXIT_DONE ||
        (code = read_temperatures(args, &day, error)) != EXIT_DONE ||
        (code = oil_list_fill(args, &defaults, oil_list, error)) != EXIT_DONE) {
        return code;
    }
    return temperature_sheet_make(args, &oil_list->bottles, &day, error);
}

static enum exit_code run(const struct args *args, struct error *error)
{
    return oil_list_run(args, make_sheet, error);
}

const struct command command_card_temperature = {
    .name = "card temperature",
    .summary = "oils over the temperatures of a day",
    .examples =
        "  midweight card temperature 350 500 -o day.pdf\n"
        "  midweight card temperature --tuned-at 21C --today 12C -o day.pdf\n"
        "  midweight card temperature Elm --from 0C --to 40C "
        "--paper A5 -o elm.png\n",
    .arguments = "[OIL...]",
    .notes = "For each oil and temperature the sheet gives two "
             "numbers: its viscosity, and the rating of the oil that "
             "keeps the damping of --tuned-at. Without names all bottles of "
             "the stock are shown. Results are estimates.",
    .options = options,
    .run = run,
};
