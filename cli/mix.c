/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "mix.h"

#include <math.h>
#include <string.h>

#include "commands.h"
#include "number.h"
#include "options.h"
#include "report.h"

enum {
    KEY_TARGET = 256,
    KEY_AT,
    KEY_MAKE,
    KEY_WASTE,
    KEY_EXCESS,
    KEY_RULE,
    KEY_FAMILY,
    KEY_DENSITY
};

static const struct argp_option options[] = {
    {.name = "target",
     .key = KEY_TARGET,
     .arg = "V[@T]",
     .doc = "The viscosity wanted, in mm2/s, at T"},
    {.name = "make",
     .key = KEY_MAKE,
     .arg = "AMOUNT",
     .doc = "The batch wanted: 20ml, 20g or 4x2.5ml"},
    {.name = "waste",
     .key = KEY_WASTE,
     .arg = "PERCENT",
     .doc = "What is lost on the way, on top of the batch"},
    {.name = "at",
     .key = KEY_AT,
     .arg = "T",
     .doc = "The temperature to compare at, where no target names one"},
    {.name = "excess",
     .key = KEY_EXCESS,
     .arg = "K",
     .doc = "Excess over D7152 (silicone 0.20, mineral 0)"},
    {.name = "rule",
     .key = KEY_RULE,
     .arg = "RULE",
     .doc = "Plain D7152: astm or wright"},
    {.name = "family",
     .key = KEY_FAMILY,
     .arg = "FAMILY",
     .doc = "What the oils are: silicone or mineral"},
    {.name = "density",
     .key = KEY_DENSITY,
     .arg = "D",
     .doc = "Density of the oils in g/ml (silicone at 25 C, mineral at 15 C)"},
    {0},
};

/* the command line as text: an option may say what an earlier oil means */
struct words {
    size_t count;
    const char *oils[MIX_OILS_MAX];
    const char *target, *at, *make, *waste, *excess, *rule, *family, *density;
};

static enum outcome take(int key, const char *value, void *request,
                         struct problem *problem)
{
    struct words *words = request;
    switch (key) {
    case KEY_TARGET:
        words->target = value;
        break;
    case KEY_AT:
        words->at = value;
        break;
    case KEY_MAKE:
        words->make = value;
        break;
    case KEY_WASTE:
        words->waste = value;
        break;
    case KEY_EXCESS:
        words->excess = value;
        break;
    case KEY_RULE:
        words->rule = value;
        break;
    case KEY_FAMILY:
        words->family = value;
        break;
    case KEY_DENSITY:
        words->density = value;
        break;
    default:
        if (words->count == MIX_OILS_MAX) {
            return REFUSE("a mix has at most %d oils", (int)MIX_OILS_MAX);
        }
        words->oils[words->count++] = value;
    }
    return OUTCOME_DONE;
}

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
    if (words->at && parse_temperature(words->at, &request->temperature,
                                       problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (!words->target) {
        return OUTCOME_DONE;
    }
    if (parse_viscosity(words->target, &target, problem) != OUTCOME_DONE ||
        resolve_viscosity(&target, request->oils[0].family, density,
                          request->temperature, &request->target,
                          problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (words->at && target.has_temperature &&
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
    if (words->waste && !words->make) {
        return REFUSE("--waste goes with --make");
    }
    if (words->waste &&
        parse_percent(words->waste, &request->waste, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    request->has_make = words->make != NULL;
    return words->make ? parse_batch(words->make, &request->make_count,
                                     &request->make_each, problem)
                       : OUTCOME_DONE;
}

static enum outcome read_method(const struct words *words,
                                struct mix_request *request,
                                struct problem *problem)
{
    struct mw_method *method = &request->method;
    if (words->rule && words->excess) {
        return REFUSE("--rule is the plain standard and --excess is not; give "
                      "one of them");
    }
    if (words->rule) {
        method->excess = 0;
        return mw_rule_from_name(words->rule, &method->rule) == MW_OK
                   ? OUTCOME_DONE
                   : REFUSE("\"%.*s\" is not a rule; write astm or wright",
                            QUOTED, words->rule);
    }
    /* oils of two families are told apart later, with a better answer */
    mw_method_default(request->oils, request->count, method);
    return words->excess ? parse_number(words->excess, &method->excess, problem)
                         : OUTCOME_DONE;
}

static enum outcome read_request(const struct words *words,
                                 struct mix_request *request,
                                 struct problem *problem)
{
    struct oil_habits habits;
    if (parse_habits(words->family, words->density, &habits, problem) !=
        OUTCOME_DONE) {
        return problem->outcome;
    }
    if (words->count < 2) {
        return REFUSE("a mix needs two oils or more; try midweight mix 350 500 "
                      "--target 420");
    }
    for (size_t i = 0; i < words->count; i++) {
        /* argv belongs to the program, which may write to it (C11 5.1.2.2.1) */
        if (read_oil((char *)words->oils[i], &habits, request, problem) !=
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
    struct words words = {0};
    struct mix_request request = {0};
    struct mix_answer answer = {0};
    struct common_options common;
    if (options_read(command, options, take, &words, argc, argv, &common,
                     problem) != OUTCOME_DONE ||
        common.helped) {
        return problem->outcome;
    }
    if (read_request(&words, &request, problem) != OUTCOME_DONE ||
        mix_solve(&request, &answer, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (common.json) {
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
