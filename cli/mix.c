/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "mix.h"

#include <math.h>
#include <string.h>

#include "commands.h"
#include "number.h"
#include "options.h"
#include "report.h"

enum { TARGET, MAKE, WASTE, AT, EXCESS, RULE, FAMILY, DENSITY };

static const struct argp_option options[] = {
    OPTION(TARGET, "target", "V[@T]", "The viscosity wanted, in mm2/s, at T"),
    OPTION(MAKE, "make", "AMOUNT", "The batch wanted: 20ml, 20g or 4x2.5ml"),
    OPTION(WASTE, "waste", "PERCENT",
           "What is lost on the way, on top of the batch"),
    OPTION(AT, "at", "T",
           "The temperature to compare at, where no target names one"),
    OPTION(EXCESS, "excess", "K",
           "Excess over D7152 (silicone 0.20, mineral 0)"),
    OPTION(RULE, "rule", "RULE", "Plain D7152: astm or wright"),
    OPTION(FAMILY, "family", "FAMILY",
           "What the oils are: silicone or mineral"),
    OPTION(DENSITY, "density", "D",
           "Density of the oils in g/ml (silicone at 25 C, mineral at 15 C)"),
    {0},
};

/* OIL or OIL=AMOUNT */
static enum outcome read_oil(char *word, const struct oil_habits *habits,
                             struct mix_request *request,
                             struct problem *problem)
{
    size_t i = request->count++;
    char *equals = strrchr(word, '=');
    if (equals) {
        *equals = '\0';
        request->has_amount[i] = true;
        if (parse_amount(equals + 1, &request->amounts[i], problem) !=
            OUTCOME_DONE) {
            return problem->outcome;
        }
    }
    request->names[i] = word;
    return parse_oil(word, habits, &request->oils[i], problem);
}

/* where nothing says otherwise, oils are compared where they are all rated, or
 * else where their family is rated */
static double usual_temperature(const struct mix_request *request)
{
    double first = request->oils[0].points[0].temperature;
    for (size_t i = 1; i < request->count; i++) {
        if (request->oils[i].points[0].temperature != first) {
            return mw_family_rating_t(request->oils[0].family);
        }
    }
    return first;
}

static enum outcome read_target(const struct words *words, double density,
                                struct mix_request *request,
                                struct problem *problem)
{
    struct viscosity target;
    request->temperature = usual_temperature(request);
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
        resolve_viscosity(&target, request->oils[0].family, density,
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

static enum outcome read_method(const struct words *words,
                                struct mix_request *request,
                                struct problem *problem)
{
    struct mw_method *method = &request->method;
    if (words->value[RULE] && words->value[EXCESS]) {
        return REFUSE("--rule is the plain standard and --excess is not; give "
                      "one of them");
    }
    if (words->value[RULE]) {
        method->excess = 0;
        return mw_rule_from_name(words->value[RULE], &method->rule) == MW_OK
                   ? OUTCOME_DONE
                   : REFUSE("\"%.*s\" is not a rule; write astm or wright",
                            QUOTED, words->value[RULE]);
    }
    /* oils of two families are told apart later, with a better answer */
    mw_method_default(request->oils, request->count, method);
    return words->value[EXCESS]
               ? parse_number(words->value[EXCESS], &method->excess, problem)
               : OUTCOME_DONE;
}

static enum outcome read_request(const struct words *words,
                                 struct mix_request *request,
                                 struct problem *problem)
{
    struct oil_habits habits;
    if (parse_habits(words->value[FAMILY], words->value[DENSITY], &habits,
                     problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (words->count < 2) {
        return REFUSE("a mix needs two oils or more; try midweight mix 350 500 "
                      "--target 420");
    }
    if (words->count > MIX_OILS_MAX) {
        return REFUSE("a mix has at most %d oils", (int)MIX_OILS_MAX);
    }
    for (size_t i = 0; i < words->count; i++) {
        /* argv belongs to the program, which may write to it (C11 5.1.2.2.1) */
        if (read_oil((char *)words->argument[i], &habits, request, problem) !=
            OUTCOME_DONE) {
            return problem->outcome;
        }
    }
    if (read_target(words, habits.density, request, problem) != OUTCOME_DONE ||
        read_make(words, request, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    return read_method(words, request, problem);
}

static enum outcome run(const struct command *command, int argc, char **argv,
                        struct problem *problem)
{
    struct words words;
    struct mix_request request = {0};
    struct mix_answer answer = {0};
    if (options_read(command, options, argc, argv, &words, problem) !=
            OUTCOME_DONE ||
        words.helped) {
        return problem->outcome;
    }
    if (read_request(&words, &request, problem) != OUTCOME_DONE ||
        mix_solve(&request, &answer, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (words.json) {
        return mix_print_json(&request, &answer, problem);
    }
    mix_print(&request, &answer);
    return OUTCOME_DONE;
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
        "  midweight mix 30@40C/5@100C 490@40C/32@100C --family mineral \\\n"
        "                --target 100@40C\n",
    .arguments = "OIL[=AMOUNT] OIL[=AMOUNT]...",
    .notes = "\vAn OIL is 350, 350@40C, 32@40C/5.4@100C or 46@40C/VI150. An "
             "AMOUNT is 10ml, 10g or parts such as 2. What is left out is what "
             "is solved for. Numbers are estimates: measure what matters.",
    .run = run,
};
