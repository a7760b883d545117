/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* card mix: what is asked */
#include <math.h>

#include "parse/amount.h"
#include "parse/number.h"
#include "parse/viscosity.h"
#include "sheets/commands.h"
#include "sheets/mix_sheet.h"
#include "sheets/model/oil_list.h"

enum { FROM, TO, STEP, AT, MAKE, SYRINGE, SCALE, DROP, FAMILY, DENSITY };

static const struct command_option options[] = {
    OPTION(FROM, "from", "V", "Begin with this mix, in mm2/s"),
    OPTION(TO, "to", "V", "End with this mix"),
    OPTION(STEP, "step", "V", "Step from one mix to the next by this much"),
    OPTION(AT, "at", "T", "Compare all at this temperature"),
    OPTION(MAKE, "make", "AMOUNT", "Make batches of 20ml, 20g or 4x2.5ml"),
    OPTION(SYRINGE, "syringe", "ML", "Dose by syringe, graduated in ML"),
    OPTION(SCALE, "scale", "G", "Dose by scale, which resolves G"),
    OPTION(DROP, "drop", "ML", "Dose by drops of ML"),
    OPTION(FAMILY, "family", "FAMILY", "Take the oils as silicone or mineral"),
    OPTION(DENSITY, "density", "D",
           "Take this density in g/ml (silicone at 25 C, mineral at 15 C)"),
    SHEET_OPTIONS,
    {0},
};

static enum exit_code read_row_limit(const char *text,
                                     const struct blend_pair *pair, bool *has,
                                     double *v, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct viscosity viscosity;
    struct mw_point point;
    *has = text != NULL;
    if (!text ||
        (code = parse_viscosity(text, &viscosity, error)) != EXIT_DONE ||
        (code = resolve_viscosity(&viscosity, pair->known.oils[0].family,
                                  pair->known.oils[0].density,
                                  pair->temperature, &point, error)) !=
            EXIT_DONE) {
        return code;
    }
    if (!mw_same_temperature(point.temperature, pair->temperature)) {
        return refuse(error,
                      "all mixes of a card are at one temperature; name it "
                      "with --at");
    }
    *v = point.viscosity;
    return EXIT_DONE;
}

static enum exit_code read_row_range(const struct args *args,
                                     const struct blend_pair *pair,
                                     struct row_range *row_range,
                                     struct error *error)
{
    const char *step = args->value[STEP];
    *row_range = (struct row_range){.has_step = step != NULL};
    enum exit_code code = read_row_limit(
        args->value[FROM], pair, &row_range->has_from, &row_range->from, error);
    if (code == EXIT_DONE) {
        code = read_row_limit(args->value[TO], pair, &row_range->has_to,
                              &row_range->to, error);
    }
    if (code == EXIT_DONE && step &&
        (code = parse_number(step, &row_range->step, error)) == EXIT_DONE &&
        !(row_range->step > 0 && isfinite(row_range->step))) {
        return refuse(error, "--step is above zero, in mm2/s");
    }
    return code;
}

static enum exit_code read_tool(const struct args *args, struct dosing *dosing,
                                struct error *error)
{
    const struct tool_options tools = {args->value[SYRINGE], args->value[SCALE],
                                       args->value[DROP]};
    enum exit_code code = parse_tools(&tools, &dosing->tools, error);
    if (code == EXIT_DONE && tools.syringe && tools.scale) {
        return refuse(error, "a card has one unit for all doses; leave "
                             "--syringe or --scale out");
    }
    return code == EXIT_DONE && any_tool(&dosing->tools) && !args->value[MAKE]
               ? refuse(error,
                        "how much is made? add --make, such as --make 20ml")
               : code;
}

static enum exit_code read_dosing(const struct args *args,
                                  struct dosing *dosing, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    *dosing = (struct dosing){0};
    if (args->value[MAKE] &&
        (code = parse_batch(args->value[MAKE], &dosing->count, &dosing->each,
                            error)) != EXIT_DONE) {
        return code;
    }
    code = read_tool(args, dosing, error);
    return code == EXIT_DONE
               ? batch_in_ml(&dosing->each, dosing->tools.drop_ml, error)
               : code;
}

static enum exit_code make_sheet(const struct args *args,
                                 struct oil_list *oil_list, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct oil_defaults defaults;
    struct blend_pair pair;
    struct mix_question question = {.pair = &pair};
    if ((code = sheet_wanted(args, error)) != EXIT_DONE ||
        (code = parse_oil_defaults(args->value[FAMILY], args->value[DENSITY],
                                   &defaults, error)) != EXIT_DONE) {
        return code;
    }
    if (args->count != 2) {
        return refuse(error,
                      "a card is for two oils; name them, such as midweight "
                      "card mix 350 500 -o mix.pdf");
    }
    if ((code = oil_list_fill(args, &defaults, oil_list, error)) == EXIT_DONE &&
        (code = pair_make(oil_list, args->value[AT], &pair, error)) ==
            EXIT_DONE &&
        (code = read_row_range(args, &pair, &question.row_range, error)) ==
            EXIT_DONE &&
        (code = read_dosing(args, &question.dosing, error)) == EXIT_DONE) {
        code = mix_sheet_make(args, &question, error);
    }
    return code;
}

static enum exit_code run(const struct args *args, struct error *error)
{
    return oil_list_run(args, make_sheet, error);
}

const struct command command_card_mix = {
    .name = "card mix",
    .summary = "the recipes between two oils, beside a ruler",
    .examples =
        "  midweight card mix Elm Larch -o mix.pdf\n"
        "  midweight card mix 350 500 --make 20ml --syringe 0.2 -o mix.pdf\n"
        "  midweight card mix 350 500 --from 360 --to 480 --step 20 -o "
        "mix.svg\n",
    .arguments = "OIL OIL",
    .notes = "The ruler works without a computer: read the share of "
             "the second oil on its left and the viscosity of the mix "
             "on its right. Print at full size. Results are estimates.",
    .options = options,
    .run = run,
};
