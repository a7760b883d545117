/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "mix/mix.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "command/options.h"
#include "mix/command.h"
#include "parse/number.h"
#include "util/xalloc.h"

static const struct command_option options[] = {
    OPTION_GROUP("What is wanted"),
    OPTION(MIX_TARGET, "target", "V[@T]",
           "Reach this viscosity, in mm2/s, at temperature T; 360:490:10 makes "
           "a table of recipes"),
    OPTION(MIX_AT, "at", "T",
           "Compare at this temperature, unless the target gives one"),
    OPTION(MIX_RESIDUE, "residue", "ML=OIL",
           "Allow for oil that stays on the walls: 0.3ml=350"),
    OPTION_GROUP("Amounts"),
    OPTION(MIX_MAKE, "make", "AMOUNT", "Make this batch: 20ml, 20g or 4x2.5ml"),
    OPTION(MIX_WASTE, "waste", "PERCENT", "Make more, to allow for losses"),
    OPTION(MIX_RECORD, "record", "NAME",
           "Record the mix: take the oils off their bottles and add this "
           "bottle, or top up the bottle of that name"),
    OPTION(MIX_DATE, "date", "YYYY-MM-DD", "Record this date (default: today)"),
    OPTION_GROUP("Tools"),
    OPTION(MIX_SYRINGE, "syringe", "ML[/ML]",
           "Round to the graduations of a syringe, and split by what it holds: "
           "0.2ml or 0.2/5ml"),
    OPTION(MIX_SCALE, "scale", "G",
           "Round to the resolution of a scale: 0.01g; with --syringe "
           "small doses are weighed"),
    OPTION(MIX_DROP, "drop", "ML",
           "Round to drops of this size, or of the bottle's own"),
    OPTION(MIX_THERMOMETER, "thermometer", "K", THERMOMETER_HELP("at")),
    OPTION_GROUP("Method"),
    OPTION(MIX_FAMILY, "family", "FAMILY",
           "Take the oils as silicone or mineral"),
    OPTION(MIX_DENSITY, "density", "D",
           "Take this density in g/ml (silicone at 25 C, mineral at 15 C); "
           "with --record it is that of the mix"),
    OPTION(MIX_EXCESS, "excess", "K",
           "Take this excess over ASTM D7152 (default: silicone 0.20 or fitted "
           "to recorded mixes, mineral 0)"),
    OPTION(MIX_RULE, "rule", "RULE",
           "Blend by ASTM D7152 without excess: astm or wright"),
    OPTION_GROUP("Output"),
    OPTION(MIX_CSV, "csv", NULL, "Print a table of recipes as CSV"),
    {0},
};

static enum exit_code answer_request(const struct args *args,
                                     struct stock_handle *handle,
                                     const struct mix_request *request,
                                     struct error *error)
{
    struct mix_answer answer = {0};
    char what[4 * QUOTED];
    enum exit_code code = mix_solve(request, &answer, error);
    if (code != EXIT_DONE) {
        return code;
    }
    mix_advise(request, &answer);
    if (request->record) {
        snprintf(what, sizeof what, "mix %s", request->record);
        if ((code = mix_record(request, &answer, &handle->stock, error)) !=
                EXIT_DONE ||
            (code = stock_commit(&handle->stock, what, error)) != EXIT_DONE) {
            return code;
        }
    }
    /* other commands need not wait for the reader of the answer */
    stock_handle_close(handle);
    if (args->json) {
        code = print_json("mix", mix_json(request, &answer), error);
    } else {
        mix_print(request, &answer);
    }
    return code;
}

static enum exit_code run(const struct args *args, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct mix_request *request = xcalloc(1, sizeof *request);
    struct stock_handle handle = {.file = args->stock};
    if (!args->value[MIX_RECORD] ||
        (code = stock_handle_begin(&handle, error)) == EXIT_DONE) {
        if ((code = mix_read(args, &handle, request, error)) == EXIT_DONE) {
            code = request->targets > 0
                       ? mix_answer_range(args, request, error)
                       : answer_request(args, &handle, request, error);
        }
    }
    stock_handle_close(&handle);
    mix_request_free(request);
    free(request);
    return code;
}

const struct command command_mix = {
    .name = "mix",
    .summary = "the oil in between: shares, amounts, top-up",
    .examples =
        "  midweight mix 350 500 --target 420               the shares\n"
        "  midweight mix 350 500 --target 550@12C           wanted at 12 C\n"
        "  midweight mix 350 500 --target 420 --make 20ml   the amounts\n"
        "  midweight mix 300=10ml 400=10ml                  what was made\n"
        "  midweight mix 380=12ml 300 --target 350          how much to add\n"
        "  midweight mix 300=20% 400 500 --target 420       a fixed share\n"
        "  midweight mix 350 500 --target 360:490:10        a table\n"
        "  midweight mix Elm Larch --target 420 --make 30ml --record hall\n"
        "  midweight mix --target 420                  best pair of the stock\n"
        "  midweight mix 30@40C/5@100C 490@40C/32@100C --family mineral \\\n"
        "                --target 100@40C\n",
    .arguments = "[OIL[=AMOUNT]...]",
    .notes =
        "An OIL is 350, 350@40C, 32@40C/5.4@100C, 46@40C/VI150 or the "
        "name of a bottle. An AMOUNT is 10ml, 10g, 12drops, 20% of the mix "
        "or parts such as 2. The amount you leave out is the one that is "
        "calculated. Results are estimates.",
    .options = options,
    .run = run,
};
