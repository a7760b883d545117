/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "mix/mix.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "command/options.h"
#include "mix/command.h"
#include "parse/number.h"
#include "util/xalloc.h"

static const struct argp_option options[] = {
    OPTION(MIX_TARGET, "target", "V[@T]",
           "The viscosity wanted, in mm2/s, at T"),
    OPTION(MIX_MAKE, "make", "AMOUNT",
           "The batch wanted: 20ml, 20g or 4x2.5ml"),
    OPTION(MIX_WASTE, "waste", "PERCENT",
           "What is lost on the way, on top of the batch"),
    OPTION(MIX_SYRINGE, "syringe", "ML",
           "Round to the marks of a syringe: 0.2ml"),
    OPTION(MIX_SCALE, "scale", "G",
           "Round to the last digit of a scale: 0.01g"),
    OPTION(MIX_DROP, "drop", "ML", "Round to drops of this size: 0.015ml"),
    OPTION(MIX_RESIDUE, "residue", "ML=OIL",
           "Make up for oil that stays on the walls: 0.3ml=350"),
    OPTION(MIX_RECORD, "record", "NAME",
           "Take the oils off their bottles, and add this one"),
    OPTION(MIX_DATE, "date", "YYYY-MM-DD", "When it was mixed (today)"),
    OPTION(MIX_AT, "at", "T",
           "The temperature to compare at, where no target names one"),
    OPTION(MIX_EXCESS, "excess", "K",
           "Excess over D7152 (silicone 0.20 or as learned, mineral 0)"),
    OPTION(MIX_RULE, "rule", "RULE", "Plain D7152: astm or wright"),
    OPTION(MIX_THERMOMETER, "thermometer", "K",
           "How far off the thermometer may be (1 degree)"),
    OPTION(MIX_FAMILY, "family", "FAMILY",
           "What the oils are: silicone or mineral"),
    OPTION(MIX_DENSITY, "density", "D",
           "Density of the oils in g/ml (silicone at 25 C, mineral at 15 C)"),
    {0},
};

static enum outcome answer_request(const struct words *words,
                                   struct shelf *shelf,
                                   const struct mix_request *request,
                                   struct problem *problem)
{
    struct mix_answer answer = {0};
    char what[4 * QUOTED];
    if (mix_solve(request, &answer, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (request->record) {
        snprintf(what, sizeof what, "mix %s", request->record);
        if (mix_record(request, &answer, &shelf->stock) != OUTCOME_DONE ||
            stock_commit(&shelf->stock, what) != OUTCOME_DONE) {
            return problem->outcome;
        }
    }
    /* nobody waits for the reader of the answer */
    shelf_close(shelf);
    if (words->json) {
        mix_print_json(request, &answer, problem);
    } else {
        mix_print(request, &answer);
    }
    return problem->outcome;
}

static enum outcome run(const struct command *command, int argc, char **argv,
                        struct problem *problem)
{
    struct words words;
    if (options_read(command, options, argc, argv, &words, problem) !=
            OUTCOME_DONE ||
        words.helped) {
        return problem->outcome;
    }
    struct mix_request *request = need_zeroed(1, sizeof *request);
    struct shelf shelf = {.file = words.stock};
    if (!words.value[MIX_RECORD] ||
        shelf_open_to_change(&shelf, problem) == OUTCOME_DONE) {
        if (mix_read(&words, &shelf, request, problem) == OUTCOME_DONE) {
            answer_request(&words, &shelf, request, problem);
        }
    }
    shelf_close(&shelf);
    mix_request_free(request);
    free(request);
    return problem->outcome;
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
        "  midweight mix Elm Larch --target 420 --make 30ml --record hall\n"
        "  midweight mix --target 420                  best pair of the stock\n"
        "  midweight mix 30@40C/5@100C 490@40C/32@100C --family mineral \\\n"
        "                --target 100@40C\n",
    .arguments = "[OIL[=AMOUNT]...]",
    .notes = "\vAn OIL is 350, 350@40C, 32@40C/5.4@100C or 46@40C/VI150. An "
             "AMOUNT is 10ml, 10g or parts such as 2. What is left out is what "
             "is solved for. Numbers are estimates: measure what matters.",
    .run = run,
};
