/* SPDX-License-Identifier: GPL-3.0-or-later */
/* stock reading: what was measured of a bottle */
#include <stdio.h>

#include "bottles.h"
#include "memory.h"
#include "number.h"
#include "quantity.h"
#include "report.h"
#include "stock.h"
#include "stock_commands.h"

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
    size_t i = bottle->reading_count++;
    bottle->readings =
        need_resized(bottle->readings, i + 1, sizeof bottle->readings[0]);
    struct stock_reading *reading = &bottle->readings[i];
    *reading =
        (struct stock_reading){.method = need_copy(method ? method : "")};
    if (check_text(reading->method, problem) != OUTCOME_DONE ||
        read_value(words, bottle, &reading->value, problem) != OUTCOME_DONE ||
        parse_date(words->value[DATE], reading->taken, problem) !=
            OUTCOME_DONE) {
        return problem->outcome;
    }
    return bottle_estimate(bottle, problem);
}

static void print_reading(const struct bottle *bottle)
{
    const struct mw_oil *oil = &bottle->best.oil;
    const struct mw_point *rating = &oil->points[0];
    char text[FIGURES_LENGTH];
    paragraph("%s is now %s mm2/s at %.6g C, +-%.1f %%, from its label "
              "and %zu reading%s.",
              bottle->name, figures(rating->viscosity, 3, text),
              rating->temperature, 100 * MW_COVERAGE * bottle->best.uncertainty,
              bottle->reading_count, bottle->reading_count == 1 ? "" : "s");
    if (bottle->best.own_slope) {
        paragraph("The readings give it a slope of its own.");
    }
    print_odd(bottle);
}

void print_odd(const struct bottle *bottle)
{
    char text[FIGURES_LENGTH], name[SHORT_LENGTH];
    int odd = bottle->best.odd;
    shortened(bottle->name, QUOTED - 1, name);
    if (odd == MW_LABEL_ODD) {
        paragraph("Warning: the label of %s, %s mm2/s at %.6g C, disagrees "
                  "with the readings.",
                  name, as_given(bottle->label.points[0].viscosity, text),
                  bottle->label.points[0].temperature);
    } else if (odd != MW_NOTHING_ODD) {
        const struct stock_reading *reading = &bottle->readings[odd];
        paragraph("Warning: a reading of %s, %s mm2/s at %.6g C on %s, "
                  "disagrees with the rest.",
                  name, as_given(reading->value.viscosity, text),
                  reading->value.temperature, reading->taken);
    }
}

static enum outcome take_reading(const struct words *words, struct stock *stock,
                                 struct bottle *bottle)
{
    char what[QUOTED * 4];
    if (bottle_load(stock, words->argument[0], bottle) != OUTCOME_DONE ||
        read_reading(words, bottle, stock->problem) != OUTCOME_DONE ||
        bottle_add_reading(stock, bottle->id,
                           &bottle->readings[bottle->reading_count - 1]) !=
            OUTCOME_DONE) {
        return stock->problem->outcome;
    }
    print_reading(bottle);
    snprintf(what, sizeof what, "reading %s", bottle->name);
    return stock_commit(stock, what);
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
    if (stock_begin(&stock, words.stock, problem) == OUTCOME_DONE) {
        take_reading(&words, &stock, &bottle);
    }
    bottle_free(&bottle);
    stock_close(&stock);
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
