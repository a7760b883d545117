/* SPDX-License-Identifier: GPL-3.0-or-later */
/* card mix: what is asked */
#include <math.h>

#include "parse/amount.h"
#include "parse/number.h"
#include "parse/viscosity.h"
#include "sheets/commands.h"
#include "sheets/mix_sheet.h"
#include "sheets/model/oil_list.h"

enum { FROM, TO, STEP, AT, MAKE, SYRINGE, SCALE, DROP, FAMILY, DENSITY };

static const struct argp_option options[] = {
    OPTION(FROM, "from", "V", "The thinnest mix, in mm2/s"),
    OPTION(TO, "to", "V", "The thickest mix"),
    OPTION(STEP, "step", "V", "From one mix to the next"),
    OPTION(AT, "at", "T", "The temperature of all these viscosities"),
    OPTION(MAKE, "make", "AMOUNT", "The batch: 20ml, 20g or 4x2.5ml"),
    OPTION(SYRINGE, "syringe", "ML", "Doses in whole marks of so many ml"),
    OPTION(SCALE, "scale", "G", "Doses in g, in whole steps of the scale"),
    OPTION(DROP, "drop", "ML", "Doses in drops of so many ml"),
    OPTION(FAMILY, "family", "FAMILY",
           "What the oils are: silicone or mineral"),
    OPTION(DENSITY, "density", "D",
           "Density in g/ml (silicone at 25 C, mineral at 15 C)"),
    SHEET_OPTIONS,
    {0},
};

static enum outcome read_rung(const char *text, const struct blend_pair *pair,
                              bool *has, double *v, struct problem *problem)
{
    struct viscosity viscosity;
    struct mw_point point;
    *has = text != NULL;
    if (!text || parse_viscosity(text, &viscosity, problem) != OUTCOME_DONE ||
        resolve_viscosity(&viscosity, pair->oils[0].family,
                          pair->oils[0].density, pair->temperature, &point,
                          problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (!mw_same_temperature(point.temperature, pair->temperature)) {
        return REFUSE("all mixes of a card are at one temperature; name it "
                      "with --at");
    }
    *v = point.viscosity;
    return OUTCOME_DONE;
}

static enum outcome read_ladder(const struct words *words,
                                const struct blend_pair *pair,
                                struct ladder *ladder, struct problem *problem)
{
    const char *step = words->value[STEP];
    *ladder = (struct ladder){.has_step = step != NULL};
    read_rung(words->value[FROM], pair, &ladder->has_from, &ladder->from,
              problem);
    read_rung(words->value[TO], pair, &ladder->has_to, &ladder->to, problem);
    if (step && parse_number(step, &ladder->step, problem) == OUTCOME_DONE &&
        !(ladder->step > 0 && isfinite(ladder->step))) {
        return REFUSE("--step is above zero, in mm2/s");
    }
    return problem->outcome;
}

static enum outcome read_tool(const struct words *words, struct dosing *dosing,
                              struct problem *problem)
{
    static const struct {
        int option;
        enum mix_tool tool;
        enum amount_kind kind;
    } tools[] = {{SYRINGE, TOOL_SYRINGE, AMOUNT_ML},
                 {SCALE, TOOL_SCALE, AMOUNT_G},
                 {DROP, TOOL_DROP, AMOUNT_ML}};
    for (size_t i = 0; i < 3; i++) {
        const char *text = words->value[tools[i].option];
        struct amount step;
        if (!text || parse_amount(text, &step, problem) != OUTCOME_DONE) {
            continue;
        }
        if (dosing->tool != TOOL_NONE) {
            return REFUSE("one of --syringe, --scale and --drop is enough");
        }
        if (step.kind != AMOUNT_PARTS && step.kind != tools[i].kind) {
            return REFUSE("a syringe and a drop are in ml, a scale is in g");
        }
        dosing->tool = tools[i].tool;
        dosing->step = step.value;
    }
    if (dosing->tool != TOOL_NONE && !words->value[MAKE]) {
        return REFUSE("how much is made? add --make, such as --make 20ml");
    }
    return problem->outcome;
}

static enum outcome read_dosing(const struct words *words,
                                struct dosing *dosing, struct problem *problem)
{
    *dosing = (struct dosing){0};
    if (words->value[MAKE] &&
        parse_batch(words->value[MAKE], &dosing->count, &dosing->each,
                    problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    return read_tool(words, dosing, problem);
}

static enum outcome make_sheet(const struct words *words, struct bottles *rack,
                               struct problem *problem)
{
    struct oil_habits habits;
    struct blend_pair pair;
    struct mw_excess excess;
    size_t lessons;
    struct mix_question question = {.pair = &pair};
    if (sheet_wanted(words, problem) != OUTCOME_DONE ||
        parse_habits(words->value[FAMILY], words->value[DENSITY], &habits,
                     problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (words->count != 2) {
        return REFUSE("a card is for two oils; name them, such as midweight "
                      "card mix 350 500 -o mix.pdf");
    }
    if (rack_fill(words, &habits, rack, problem) != OUTCOME_DONE ||
        rack_excess(words, &excess, &lessons, problem) != OUTCOME_DONE ||
        pair_make(rack, &excess, lessons, words->value[AT], &pair, problem) !=
            OUTCOME_DONE ||
        read_ladder(words, &pair, &question.ladder, problem) != OUTCOME_DONE ||
        read_dosing(words, &question.dosing, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    return mix_sheet_make(words, &question, problem);
}

static enum outcome run(const struct command *command, int argc, char **argv,
                        struct problem *problem)
{
    return rack_run(command, options, argc, argv, make_sheet, problem);
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
    .notes = "\vThe ruler is read without a computer: the share of the second "
             "oil on its left, the viscosity of the mix on its right. Print at "
             "full size. Numbers are estimates: measure what matters.",
    .run = run,
};
