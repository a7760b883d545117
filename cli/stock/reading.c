/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* stock reading: add a measurement of a bottle, or delete one */
#include <math.h>
#include <stdio.h>

#include "oils/best.h"
#include "oils/bottle_json.h"
#include "oils/reading.h"
#include "parse/amount.h"
#include "parse/number.h"
#include "parse/viscosity.h"
#include "stock/commands.h"
#include "store/stock.h"

enum { UNCERTAINTY, METHOD, DATE, DELETE, FORCE };

/* standard uncertainty of a careful stopwatch reading; our own assumption,
 * stated where it is used */
#define USUAL_UNCERTAINTY 0.03

static const struct command_option options[] = {
    OPTION(UNCERTAINTY, "uncertainty", "PERCENT",
           "Give the reading this standard uncertainty (default 3 %)"),
    OPTION(METHOD, "method", "TEXT", "Keep how it was measured"),
    OPTION(DATE, "date", "YYYY-MM-DD", "Keep this date (default: today)"),
    OPTION(DELETE, "delete", "K",
           "Delete reading K instead, as midweight stock show numbers them"),
    OPTION(FORCE, "force", NULL,
           "Add it although it is far from all other readings"),
    {0},
};

static enum exit_code read_value(const struct args *args,
                                 const struct bottle *bottle,
                                 struct mw_reading *reading,
                                 struct error *error)
{
    struct viscosity viscosity;
    struct mw_point point;
    reading->uncertainty = USUAL_UNCERTAINTY;
    enum exit_code code = parse_viscosity(args->argument[1], &viscosity, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (!viscosity.has_temperature) {
        return refuse(error, "%.*s: at which temperature? write %.*s@22C",
                      QUOTED, args->argument[1], QUOTED, args->argument[1]);
    }
    code = resolve_viscosity(&viscosity, bottle->label.family,
                             bottle->label.density, viscosity.temperature,
                             &point, error);
    if (code != EXIT_DONE) {
        return code;
    }
    reading->viscosity = point.viscosity;
    reading->temperature = point.temperature;
    if (args->value[UNCERTAINTY] &&
        (code = parse_percent(args->value[UNCERTAINTY], &reading->uncertainty,
                              error)) != EXIT_DONE) {
        return code;
    }
    return reading->uncertainty >= UNCERTAINTY_MIN
               ? EXIT_DONE
               : refuse(error,
                        "no reading is exact; give an uncertainty above zero");
}

/* the reading at the end of the bottle's list */
static enum exit_code read_reading(const struct args *args,
                                   struct bottle *bottle, struct error *error)
{
    const char *method = args->value[METHOD];
    struct mw_reading value;
    enum exit_code code = read_value(args, bottle, &value, error);
    return code == EXIT_DONE
               ? bottle_take_reading(bottle, &value, NULL, method ? method : "",
                                     args->value[DATE], error)
               : code;
}

static enum exit_code take_reading(const struct args *args, struct stock *stock,
                                   struct bottle *bottle, struct error *error)
{
    enum exit_code code;
    if ((code = bottle_load(stock, args->argument[0], bottle, error)) !=
            EXIT_DONE ||
        (code = read_reading(args, bottle, error)) != EXIT_DONE) {
        return code;
    }
    return bottle_save_reading(stock, bottle, args->value[FORCE] != NULL,
                               error);
}

/* which reading to delete; its number begins with 1 */
static enum exit_code find_number(const char *text, const struct bottle *bottle,
                                  size_t *which, struct error *error)
{
    double number;
    enum exit_code code = parse_number(text, &number, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (!(number >= 1 && number <= (double)bottle->reading_count &&
          number == floor(number))) {
        return refuse(error,
                      "%.*s has %zu reading%s; midweight stock show %.*s "
                      "numbers them",
                      QUOTED, bottle->name, bottle->reading_count,
                      bottle->reading_count == 1 ? "" : "s", QUOTED,
                      bottle->name);
    }
    *which = (size_t)number - 1;
    return EXIT_DONE;
}

/* the bottle is left without it */
static enum exit_code delete_reading(const struct args *args,
                                     struct stock *stock, struct bottle *bottle,
                                     struct error *error)
{
    size_t which = 0;
    enum exit_code code;
    char what[QUOTED * 4];
    if ((code = bottle_load(stock, args->argument[0], bottle, error)) !=
            EXIT_DONE ||
        (code = find_number(args->value[DELETE], bottle, &which, error)) !=
            EXIT_DONE ||
        (code = bottle_delete_reading(stock, &bottle->readings[which],
                                      error)) != EXIT_DONE) {
        return code;
    }
    bottle_forget_reading(bottle, which);
    if ((code = bottle_estimate(bottle, error)) != EXIT_DONE ||
        (code = bottle_adjust(stock, bottle, error)) != EXIT_DONE) {
        return code;
    }
    snprintf(what, sizeof what, "delete reading %s of %s", args->value[DELETE],
             bottle->name);
    return stock_commit(stock, what, error);
}

static enum exit_code run(const struct args *args, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct bottle bottle = {0};
    struct stock stock;
    bool deleting = args->value[DELETE] != NULL;
    if (args->count != (deleting ? 1 : 2)) {
        return deleting
                   ? refuse(error, "--delete wants a bottle and nothing else, "
                                   "such as midweight stock reading Elm "
                                   "--delete 2")
                   : refuse(error, "a bottle and a viscosity are wanted, such "
                                   "as midweight stock reading Elm 341@22C");
    }
    if ((code = stock_begin_existing(&stock, args->stock, error)) ==
        EXIT_DONE) {
        code = deleting ? delete_reading(args, &stock, &bottle, error)
                        : take_reading(args, &stock, &bottle, error);
    }
    stock_close(&stock);
    if (code == EXIT_DONE && args->json) {
        code =
            print_change_json("changed", bottle.name, &bottle, NAN, NAN, error);
    } else if (code == EXIT_DONE) {
        print_best(&bottle);
    }
    bottle_free(&bottle);
    return code;
}

const struct command command_stock_reading = {
    .name = "stock reading",
    .summary = "add a measurement of a bottle, or delete one",
    .examples = "  midweight stock reading Elm 341@22C\n"
                "  midweight stock reading Elm 341@22C --uncertainty 2% "
                "--method 'ISO4 cup'\n"
                "  midweight stock reading Elm --delete 2\n",
    .arguments = "NAME V@T",
    .options = options,
    .run = run,
};
