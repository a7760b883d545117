/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include <ctype.h>
#include <math.h>
#include <string.h>

#include "midweight.h"
#include "oil/command.h"
#include "oil/compare.h"
#include "oil/print.h"
#include "oils/volume.h"
#include "parse/number.h"
#include "parse/toleranced.h"
#include "parse/viscosity.h"

enum { AT, TABLE, IN, AMOUNT, THERMOMETER, FAMILY, DENSITY, CSV };

static const struct command_option options[] = {
    OPTION(AT, "at", "T",
           "Ask at this temperature (default: where the oil is rated)"),
    OPTION(TABLE, "table", "FROM:TO:STEP", "Print a row for each temperature"),
    OPTION(IN, "in", "UNIT",
           "Print one number alone, in mm2/s, St, m2/s, mPa.s, "
           "Pa.s, P or SUS"),
    OPTION(AMOUNT, "amount", "AMOUNT",
           "Say what 0.3ml, 0.3g or 12drops of it are in ml, g and drops"),
    OPTION(THERMOMETER, "thermometer", "K", THERMOMETER_HELP("at")),
    OPTION(FAMILY, "family", "FAMILY", "Take the oil as silicone or mineral"),
    OPTION(DENSITY, "density", "D",
           "Take this density in g/ml (silicone at 25 C, mineral at 15 C)"),
    OPTION(CSV, "csv", NULL, "Print the table as CSV"),
    {0},
};

static enum exit_code read_unit(const char *text, struct oil_question *question,
                                struct error *error)
{
    if (question->table.rows > 0) {
        return refuse(error, "--in is for one number; leave --table out");
    }
    question->one_unit = true;
    if (mw_viscosity_unit_from_symbol(text, &question->unit) == MW_OK) {
        return EXIT_DONE;
    }
    return names_weight(text)
               ? refuse(error,
                        "\"%.*s\": weight numbers follow no common scale, so "
                        "none can be given",
                        QUOTED, text)
               : refuse(error,
                        "\"%.*s\" is not a unit; write mm2/s, St, m2/s, "
                        "mPa.s, Pa.s, P or SUS",
                        QUOTED, text);
}

/* what all that the stock knows says of the oil */
static enum exit_code join(struct stock *stock, struct oil_question *question,
                           struct error *error)
{
    struct stock_network *network = &question->network;
    enum exit_code code = stock_network_load(stock, network, error);
    if (code == EXIT_DONE) {
        question->node = oil_ref_node(network, &question->ref);
        code = stock_network_solve(network, error);
    }
    if (code == EXIT_DONE) {
        oil_ref_adjust(network, question->node, &question->ref, error);
    }
    return code;
}

/* the oil, and the fit of its points while its bottle is loaded */
static enum exit_code read_oil(const struct args *args,
                               struct oil_question *question, struct fit *fit,
                               struct error *error)
{
    struct oil_defaults defaults;
    struct stock_handle handle = {.file = args->stock};
    enum exit_code code = parse_oil_defaults(
        args->value[FAMILY], args->value[DENSITY], &defaults, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if ((code = oil_ref_find_own(&handle, args->argument[0], &defaults,
                                 &question->ref, error)) == EXIT_DONE &&
        (code = join(&handle.stock, question, error)) == EXIT_DONE) {
        fit_find(&question->network, question->node, &question->ref, fit);
    }
    stock_handle_close(&handle);
    return code;
}

static enum exit_code read_question(const struct args *args,
                                    struct oil_question *question,
                                    struct fit *fit, struct error *error)
{
    if (args->count == 0) {
        return refuse(error, "which oil? try midweight oil 450 --at 12C");
    }
    if (args->value[CSV] && !args->value[TABLE]) {
        return refuse(error, "--csv is for a table; add --table 0C:40C:5");
    }
    enum exit_code code = read_oil(args, question, fit, error);
    if (code != EXIT_DONE) {
        return code;
    }
    question->explain = args->explain;
    question->amount = args->value[AMOUNT];
    struct toleranced t = {question->ref.oil.points[0].temperature, NAN};
    if ((code = parse_thermometer(args->value[AT], args->value[THERMOMETER], &t,
                                  error)) != EXIT_DONE) {
        return code;
    }
    question->temperature = t.value;
    question->thermometer = thermometer_of(&t);
    question->read = args->value[AT] && isfinite(t.limit);
    question->fahrenheit = args->value[AT] && is_fahrenheit(args->value[AT]);
    if (args->value[TABLE] &&
        (code = parse_temperature_range(args->value[TABLE], &question->table,
                                        error)) != EXIT_DONE) {
        return code;
    }
    return args->value[IN] ? read_unit(args->value[IN], question, error)
                           : EXIT_DONE;
}

static enum exit_code state_at(const struct oil_question *question, double t,
                               struct mw_oil_state *state, struct error *error)
{
    return oil_at(question->ref.name, &question->ref.oil, t, state, error);
}

/* an answer is whole or refused: no table breaks off in the middle */
static enum exit_code check_table(const struct oil_question *question,
                                  struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct mw_oil_state state;
    for (unsigned row = 0; row < question->table.rows; row++) {
        if ((code = state_at(question, oil_row_temperature(question, row),
                             &state, error)) != EXIT_DONE) {
            break;
        }
    }
    return code;
}

static void find_uncertainty(const struct oil_question *question,
                             struct oil_answer *answer)
{
    const double whole = 1;
    const struct mw_network_mix alone = {1,
                                         &question->node,
                                         &whole,
                                         question->temperature,
                                         question->thermometer,
                                         NULL,
                                         NULL,
                                         question->read};
    if (oils_find_uncertainty(&question->network, &alone,
                              answer->state.viscosity,
                              &answer->uncertainty) == MW_OK) {
        oils_find_advice(&question->network, &alone, &answer->uncertainty);
    }
}

static enum exit_code solve(const struct oil_question *question,
                            struct oil_answer *answer, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    double v40, v100;
    const struct mw_oil *oil = &question->ref.oil;
    if ((code = state_at(question, question->temperature, &answer->state,
                         error)) != EXIT_DONE) {
        return code;
    }
    answer->ml = NAN;
    if (question->amount &&
        (code = read_volume(question->amount, &question->ref,
                            question->temperature, &answer->ml, error)) !=
            EXIT_DONE) {
        return code;
    }
    find_uncertainty(question, answer);
    mw_shear_onset(oil, question->temperature, &answer->shear);
    if (question->one_unit &&
        !oil_in_unit(&answer->state, question->unit, &answer->in_unit)) {
        return error_set(error, EXIT_NO_ANSWER,
                         "%.*s at %.6g C is outside the range of %s", QUOTED,
                         question->ref.name, question->temperature,
                         mw_viscosity_unit_symbol(question->unit));
    }
    /* a standard that does not reach the oil is left out */
    if (mw_oil_viscosity(oil, 40, &v40) == MW_OK) {
        mw_iso_vg(v40, &answer->iso_vg);
    }
    if (oil->family == MW_MINERAL &&
        mw_oil_viscosity(oil, 100, &v100) == MW_OK) {
        mw_sae_j300(v100, &answer->sae_j300);
    }
    return check_table(question, error);
}

static enum exit_code answer_question(const struct args *args,
                                      struct oil_question *question,
                                      struct error *error)
{
    struct oil_answer answer = {0};
    enum exit_code code;
    if ((code = read_question(args, question, &answer.fit, error)) !=
            EXIT_DONE ||
        (code = solve(question, &answer, error)) != EXIT_DONE) {
        return code;
    }
    if (args->json) {
        return oil_print_json(question, &answer, error);
    }
    if (args->value[CSV]) {
        oil_print_csv(question);
        return EXIT_DONE;
    }
    oil_print(question, &answer);
    if (question->one_unit) {
        warn_remarks(error);
    }
    return EXIT_DONE;
}

static enum exit_code compare(const struct args *args, struct error *error)
{
    struct oil_defaults defaults;
    struct toleranced t = {NAN, NAN};
    if (args->value[TABLE] || args->value[IN] || args->value[CSV] ||
        args->value[AMOUNT]) {
        return refuse(error,
                      "--table, --csv, --in and --amount are for one oil");
    }
    enum exit_code code = parse_oil_defaults(
        args->value[FAMILY], args->value[DENSITY], &defaults, error);
    if (code == EXIT_DONE) {
        code = parse_thermometer(args->value[AT], args->value[THERMOMETER], &t,
                                 error);
    }
    return code == EXIT_DONE ? oil_compare(args, &t, &defaults, error) : code;
}

static enum exit_code run(const struct args *args, struct error *error)
{
    struct oil_question question = {0};
    if (args->count > 1) {
        return compare(args, error);
    }
    enum exit_code code = answer_question(args, &question, error);
    stock_network_free(&question.network);
    return code;
}

const struct command command_oil = {
    .name = "oil",
    .summary = "an oil at a temperature, in every unit",
    .examples =
        "  midweight oil 450 --at 12C                 a cold morning\n"
        "  midweight oil 350@40C 350 --at 25C         side by side\n"
        "  midweight oil 450 --table 0C:40C:5         a table for the pit box\n"
        "  midweight oil 32@40C/5.4@100C --at 20C\n"
        "  midweight oil 46@40C/VI150 --at 10C        by its viscosity index\n"
        "  midweight oil 340mPa.s@20C --at 68F\n"
        "  midweight oil 200SUS@100F --in mm2/s       one number alone\n",
    .arguments = "OIL...",
    .notes = "An OIL is 350, 350@40C, 32@40C/5.4@100C, 46@40C/VI150 "
             "or the name of a bottle. One point is taken as silicone "
             "at 25 C unless --family is given; two points show the "
             "family, which the answer names. Results are estimates.",
    .options = options,
    .run = run,
};
