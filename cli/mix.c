/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "mix.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "commands.h"
#include "learned.h"
#include "memory.h"
#include "number.h"
#include "options.h"
#include "report.h"

enum {
    TARGET,
    MAKE,
    WASTE,
    SYRINGE,
    SCALE,
    DROP,
    RESIDUE,
    RECORD,
    DATE,
    AT,
    EXCESS,
    RULE,
    THERMOMETER,
    FAMILY,
    DENSITY
};

static const struct argp_option options[] = {
    OPTION(TARGET, "target", "V[@T]", "The viscosity wanted, in mm2/s, at T"),
    OPTION(MAKE, "make", "AMOUNT", "The batch wanted: 20ml, 20g or 4x2.5ml"),
    OPTION(WASTE, "waste", "PERCENT",
           "What is lost on the way, on top of the batch"),
    OPTION(SYRINGE, "syringe", "ML", "Round to the marks of a syringe: 0.2ml"),
    OPTION(SCALE, "scale", "G", "Round to the last digit of a scale: 0.01g"),
    OPTION(DROP, "drop", "ML", "Round to drops of this size: 0.015ml"),
    OPTION(RESIDUE, "residue", "ML=OIL",
           "Make up for oil that stays on the walls: 0.3ml=350"),
    OPTION(RECORD, "record", "NAME",
           "Take the oils off their bottles, and add this one"),
    OPTION(DATE, "date", "YYYY-MM-DD", "When it was mixed (today)"),
    OPTION(AT, "at", "T",
           "The temperature to compare at, where no target names one"),
    OPTION(EXCESS, "excess", "K",
           "Excess over D7152 (silicone 0.20 or as learned, mineral 0)"),
    OPTION(RULE, "rule", "RULE", "Plain D7152: astm or wright"),
    OPTION(THERMOMETER, "thermometer", "K",
           "How far off the thermometer may be (1 degree)"),
    OPTION(FAMILY, "family", "FAMILY",
           "What the oils are: silicone or mineral"),
    OPTION(DENSITY, "density", "D",
           "Density of the oils in g/ml (silicone at 25 C, mineral at 15 C)"),
    {0},
};

/* OIL or OIL=AMOUNT */
static enum outcome read_oil(char *word, const struct oil_habits *habits,
                             struct shelf *shelf, struct mix_request *request,
                             struct problem *problem)
{
    size_t i = request->count;
    struct source source;
    char *equals = strrchr(word, '=');
    if (equals) {
        *equals = '\0';
        request->has_amount[i] = true;
        if (parse_amount(equals + 1, &request->amounts[i], problem) !=
            OUTCOME_DONE) {
            return problem->outcome;
        }
    }
    if (source_find(shelf, word, habits, &source, problem) == OUTCOME_DONE) {
        mix_add_source(request, &source);
    }
    return problem->outcome;
}

/* where nothing says otherwise, oils are compared where they are all rated, or
 * else where their family is rated */
static double usual_temperature(const struct mix_request *request,
                                enum mw_family family)
{
    if (request->count == 0) {
        return mw_family_rating_t(family);
    }
    double first = request->oils[0].points[0].temperature;
    for (size_t i = 1; i < request->count; i++) {
        if (request->oils[i].points[0].temperature != first) {
            return mw_family_rating_t(family);
        }
    }
    return first;
}

static enum outcome read_target(const struct words *words,
                                const struct oil_habits *habits,
                                struct mix_request *request,
                                struct problem *problem)
{
    struct viscosity target;
    enum mw_family family = request->count > 0   ? request->oils[0].family
                            : habits->has_family ? habits->family
                                                 : MW_SILICONE;
    request->temperature = usual_temperature(request, family);
    if (words->value[AT] &&
        parse_temperature(words->value[AT], &request->temperature, problem) !=
            OUTCOME_DONE) {
        return problem->outcome;
    }
    if (!words->value[TARGET]) {
        return OUTCOME_DONE;
    }
    if (parse_viscosity(words->value[TARGET], &target, problem) !=
            OUTCOME_DONE ||
        resolve_viscosity(&target, family, habits->density,
                          request->temperature, &request->target,
                          problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (words->value[AT] && target.has_temperature &&
        target.temperature != request->temperature) {
        return REFUSE("--at and --target name two temperatures; leave --at "
                      "out");
    }
    request->has_target = true;
    request->temperature = request->target.temperature;
    return OUTCOME_DONE;
}

static enum outcome read_make(const struct words *words,
                              struct mix_request *request,
                              struct problem *problem)
{
    if (words->value[WASTE] && !words->value[MAKE]) {
        return REFUSE("--waste goes with --make");
    }
    if (words->value[WASTE] &&
        parse_percent(words->value[WASTE], &request->waste, problem) !=
            OUTCOME_DONE) {
        return problem->outcome;
    }
    request->has_make = words->value[MAKE] != NULL;
    return words->value[MAKE]
               ? parse_batch(words->value[MAKE], &request->make_count,
                             &request->make_each, problem)
               : OUTCOME_DONE;
}

/* the step of the tool, of which there is one at most */
static enum outcome read_tool(const struct words *words,
                              struct mix_request *request,
                              struct problem *problem)
{
    static const struct {
        int option;
        enum mix_tool tool;
    } tools[] = {
        {SYRINGE, TOOL_SYRINGE}, {SCALE, TOOL_SCALE}, {DROP, TOOL_DROP}};
    for (size_t i = 0; i < sizeof tools / sizeof tools[0]; i++) {
        const char *text = words->value[tools[i].option];
        if (text && request->tool != TOOL_NONE) {
            return REFUSE("--syringe, --scale and --drop are three tools; "
                          "take one");
        }
        if (text) {
            request->tool = tools[i].tool;
            if ((tools[i].tool == TOOL_SCALE ? parse_g : parse_ml)(
                    text, &request->step, problem) != OUTCOME_DONE) {
                return problem->outcome;
            }
        }
    }
    return OUTCOME_DONE;
}

/* ML=OIL */
static enum outcome read_residue(const struct words *words,
                                 const struct oil_habits *habits,
                                 struct shelf *shelf,
                                 struct mix_request *request,
                                 struct problem *problem)
{
    /* argv belongs to the program, which may write to it (C11 5.1.2.2.1) */
    char *text = (char *)words->value[RESIDUE];
    char *equals = text ? strchr(text, '=') : NULL;
    if (!text) {
        return OUTCOME_DONE;
    }
    if (!equals) {
        return REFUSE("\"%.*s\" is not ML=OIL; write 0.3ml=350", QUOTED, text);
    }
    *equals = '\0';
    request->has_residue = true;
    return parse_ml(text, &request->residue_ml, problem) == OUTCOME_DONE
               ? source_find(shelf, equals + 1, habits, &request->residue,
                             problem)
               : problem->outcome;
}

/* the excess where the user names none: as learned, once the stock is open */
static enum outcome find_excess(struct shelf *shelf,
                                struct mix_request *request)
{
    struct mw_excess excess = {MW_SILICONE_EXCESS, mw_doubt_usual_excess()};
    enum outcome outcome = OUTCOME_DONE;
    if (shelf->opened) {
        outcome = learned_excess(&shelf->stock, &excess, &request->lessons);
    }
    request->method.excess = excess.value;
    request->excess_uncertainty = excess.uncertainty;
    return outcome;
}

static enum outcome read_method(const struct words *words, struct shelf *shelf,
                                const struct oil_habits *habits,
                                struct mix_request *request,
                                struct problem *problem)
{
    struct mw_method *method = &request->method;
    if (words->value[RULE] && words->value[EXCESS]) {
        return REFUSE("--rule is the plain standard and --excess is not; give "
                      "one of them");
    }
    if (words->value[RULE]) {
        return mw_rule_from_name(words->value[RULE], &method->rule) == MW_OK
                   ? OUTCOME_DONE
                   : REFUSE("\"%.*s\" is not a rule; write astm or wright",
                            QUOTED, words->value[RULE]);
    }
    bool silicone = !(habits->has_family && habits->family == MW_MINERAL);
    if (request->count > 0) {
        /* oils of two families are told apart later, with a better answer */
        mw_method_default(request->oils, request->count, method);
        silicone = request->oils[0].family == MW_SILICONE;
    }
    if (words->value[EXCESS]) {
        return parse_number(words->value[EXCESS], &method->excess, problem);
    }
    return silicone ? find_excess(shelf, request) : OUTCOME_DONE;
}

static enum outcome read_oils(const struct words *words,
                              const struct oil_habits *habits,
                              struct shelf *shelf, struct mix_request *request,
                              struct problem *problem)
{
    if (words->count == 1 || (words->count == 0 && !words->value[TARGET])) {
        return REFUSE("a mix needs two oils or more; try midweight mix 350 500 "
                      "--target 420");
    }
    if (words->count > MIX_OILS_MAX) {
        return REFUSE("a mix has at most %d oils", (int)MIX_OILS_MAX);
    }
    for (size_t i = 0; i < words->count; i++) {
        /* argv belongs to the program, which may write to it (C11 5.1.2.2.1) */
        if (read_oil((char *)words->argument[i], habits, shelf, request,
                     problem) != OUTCOME_DONE) {
            return problem->outcome;
        }
    }
    return words->count == 0 ? shelf_open(shelf, problem) : OUTCOME_DONE;
}

static enum outcome read_request(const struct words *words, struct shelf *shelf,
                                 struct mix_request *request,
                                 struct problem *problem)
{
    struct oil_habits habits;
    request->record = words->value[RECORD];
    request->date = words->value[DATE];
    if (words->value[DATE] && !words->value[RECORD]) {
        return REFUSE("--date goes with --record");
    }
    if (parse_habits(words->value[FAMILY], words->value[DENSITY], &habits,
                     problem) != OUTCOME_DONE ||
        read_oils(words, &habits, shelf, request, problem) != OUTCOME_DONE ||
        read_target(words, &habits, request, problem) != OUTCOME_DONE ||
        read_make(words, request, problem) != OUTCOME_DONE ||
        read_tool(words, request, problem) != OUTCOME_DONE ||
        read_residue(words, &habits, shelf, request, problem) != OUTCOME_DONE ||
        parse_thermometer(words->value[THERMOMETER], &request->thermometer,
                          problem) != OUTCOME_DONE ||
        read_method(words, shelf, &habits, request, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    return words->count == 0 ? mix_choose(request, shelf, &habits, problem)
                             : OUTCOME_DONE;
}

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
    if (request->record &&
        mix_record(request, &answer, &shelf->stock) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (words->json) {
        mix_print_json(request, &answer, problem);
    } else {
        mix_print(request, &answer);
    }
    if (!request->record) {
        return problem->outcome;
    }
    snprintf(what, sizeof what, "mix %s", request->record);
    return stock_commit(&shelf->stock, what);
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
    if (!words.value[RECORD] ||
        shelf_open_to_change(&shelf, problem) == OUTCOME_DONE) {
        if (read_request(&words, &shelf, request, problem) == OUTCOME_DONE) {
            answer_request(&words, &shelf, request, problem);
        }
    }
    shelf_close(&shelf);
    bottles_free(&request->bottles);
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
