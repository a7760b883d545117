/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "mix/mix.h"
#include "parse/amount.h"
#include "parse/number.h"
#include "parse/viscosity.h"
#include "store/excess.h"

/* OIL or OIL=AMOUNT */
/* the same bottle a second time is more of the one part that it is */
static enum outcome merge_part(struct mix_request *request, size_t same,
                               struct problem *problem)
{
    size_t last = request->count;
    struct amount *first = &request->amounts[same];
    const struct amount *second = &request->amounts[last];
    if (request->has_amount[same] != request->has_amount[last] ||
        (request->has_amount[last] && first->kind != second->kind)) {
        return REFUSE("%.*s is named twice; give its amount once", QUOTED,
                      request->sources[same].name);
    }
    first->value += second->value;
    request->has_amount[last] = false;
    return OUTCOME_DONE;
}

/* the index of a part that is from the same bottle; count where there is none
 */
static size_t find_same(const struct mix_request *request,
                        const struct source *source)
{
    size_t i = 0;
    while (i < request->count &&
           (source->id == 0 || request->sources[i].id != source->id)) {
        i++;
    }
    return i;
}

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
    if (source_find(shelf, word, habits, &source, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    size_t same = find_same(request, &source);
    if (same < request->count) {
        merge_part(request, same, problem);
    } else {
        mix_add_source(request, &source);
        request->found_family =
            request->found_family ||
            (!habits->has_family && source.id == 0 && source.oil.count > 1);
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
    if (words->value[MIX_AT] &&
        parse_temperature(words->value[MIX_AT], &request->temperature,
                          problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (!words->value[MIX_TARGET]) {
        return OUTCOME_DONE;
    }
    if (parse_viscosity(words->value[MIX_TARGET], &target, problem) !=
            OUTCOME_DONE ||
        resolve_viscosity(&target, family, habits->density,
                          request->temperature, &request->target,
                          problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (words->value[MIX_AT] && target.has_temperature &&
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
    if (words->value[MIX_WASTE] && !words->value[MIX_MAKE]) {
        return REFUSE("--waste goes with --make");
    }
    if (words->value[MIX_WASTE] &&
        parse_percent(words->value[MIX_WASTE], &request->waste, problem) !=
            OUTCOME_DONE) {
        return problem->outcome;
    }
    request->has_make = words->value[MIX_MAKE] != NULL;
    return words->value[MIX_MAKE]
               ? parse_batch(words->value[MIX_MAKE], &request->make_count,
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
    } tools[] = {{MIX_SYRINGE, TOOL_SYRINGE},
                 {MIX_SCALE, TOOL_SCALE},
                 {MIX_DROP, TOOL_DROP}};
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
    char *text = (char *)words->value[MIX_RESIDUE];
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
    if (words->value[MIX_RULE] && words->value[MIX_EXCESS]) {
        return REFUSE("--rule is the plain standard and --excess is not; give "
                      "one of them");
    }
    if (words->value[MIX_RULE]) {
        return mw_rule_from_name(words->value[MIX_RULE], &method->rule) == MW_OK
                   ? OUTCOME_DONE
                   : REFUSE("\"%.*s\" is not a rule; write astm or wright",
                            QUOTED, words->value[MIX_RULE]);
    }
    bool silicone = !(habits->has_family && habits->family == MW_MINERAL);
    if (request->count > 0) {
        /* oils of two families are told apart later, with a better answer */
        mw_method_default(request->oils, request->count, method);
        silicone = request->oils[0].family == MW_SILICONE;
    }
    if (words->value[MIX_EXCESS]) {
        return parse_number(words->value[MIX_EXCESS], &method->excess, problem);
    }
    return silicone ? find_excess(shelf, request) : OUTCOME_DONE;
}

static enum outcome read_oils(const struct words *words,
                              const struct oil_habits *habits,
                              struct shelf *shelf, struct mix_request *request,
                              struct problem *problem)
{
    if (words->count == 1 || (words->count == 0 && !words->value[MIX_TARGET])) {
        return REFUSE("a mix needs two oils or more; try midweight mix 350 500 "
                      "--target 420");
    }
    if (words->count > MW_DOUBT_OILS_MAX) {
        return REFUSE("a mix has at most %d oils", (int)MW_DOUBT_OILS_MAX);
    }
    for (size_t i = 0; i < words->count; i++) {
        /* argv belongs to the program, which may write to it (C11 5.1.2.2.1) */
        if (read_oil((char *)words->argument[i], habits, shelf, request,
                     problem) != OUTCOME_DONE) {
            return problem->outcome;
        }
    }
    if (request->count == 1) {
        return REFUSE("a mix needs two oils, and this is %.*s alone", QUOTED,
                      request->sources[0].name);
    }
    return words->count == 0 ? shelf_open(shelf, problem) : OUTCOME_DONE;
}

enum outcome mix_read(const struct words *words, struct shelf *shelf,
                      struct mix_request *request, struct problem *problem)
{
    struct oil_habits habits;
    request->record = words->value[MIX_RECORD];
    request->date = words->value[MIX_DATE];
    if (words->value[MIX_DATE] && !words->value[MIX_RECORD]) {
        return REFUSE("--date goes with --record");
    }
    if (parse_habits(words->value[MIX_FAMILY], words->value[MIX_DENSITY],
                     &habits, problem) != OUTCOME_DONE ||
        read_oils(words, &habits, shelf, request, problem) != OUTCOME_DONE ||
        read_target(words, &habits, request, problem) != OUTCOME_DONE ||
        read_make(words, request, problem) != OUTCOME_DONE ||
        read_tool(words, request, problem) != OUTCOME_DONE ||
        read_residue(words, &habits, shelf, request, problem) != OUTCOME_DONE ||
        parse_thermometer(words->value[MIX_THERMOMETER], &request->thermometer,
                          problem) != OUTCOME_DONE ||
        read_method(words, shelf, &habits, request, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    return words->count == 0 ? mix_choose(request, shelf, &habits, problem)
                             : OUTCOME_DONE;
}
