/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheets/model/recipe_rows.h"

#include <math.h>
#include <stdlib.h>

#include "parse/number.h"
#include "util/xalloc.h"

/* of a viscosity, or of a step: what rounding makes of a number */
#define SLACK 1e-9

/* -- Which ------------------------------------------------------------- */

static enum outcome add_rung(struct rungs *rungs, double target,
                             struct problem *problem)
{
    if (rungs->count == RUNGS_MAX) {
        return REFUSE("more than %d recipes; take a larger --step",
                      (int)RUNGS_MAX);
    }
    rungs->list[rungs->count++] = (struct rung){.target = target};
    return OUTCOME_DONE;
}

/* the first of the steps above the thinner oil, where no beginning is named */
static double first_step(const struct blend_pair *pair,
                         const struct ladder *ladder)
{
    return ladder->has_from
               ? ladder->from
               : (floor(pair->thin / ladder->step) + 1) * ladder->step;
}

static enum outcome add_steps(const struct blend_pair *pair,
                              const struct ladder *ladder, double to,
                              struct rungs *rungs, struct problem *problem)
{
    double first = first_step(pair, ladder);
    /* a step may miss the end by rounding; the oil alone is no recipe, unless
     * it is asked for */
    double last = to + (ladder->has_to ? SLACK : -SLACK) * ladder->step;
    for (double i = 0; first + i * ladder->step <= last; i++) {
        double v = fmin(first + i * ladder->step, to);
        if (add_rung(rungs, v, problem) != OUTCOME_DONE) {
            break;
        }
    }
    return problem->outcome;
}

static enum outcome add_ticks(const struct blend_pair *pair,
                              const struct ticks *ticks, double from, double to,
                              struct rungs *rungs, struct problem *problem)
{
    for (size_t i = 0; i < ticks->count; i++) {
        const struct tick *tick = &ticks->list[i];
        /* an oil alone is no recipe, nor is what rounding makes of it */
        bool between = tick->value > pair->thin * (1 + SLACK) &&
                       tick->value < pair->thick * (1 - SLACK);
        if (tick->labelled && between && tick->value >= from &&
            tick->value <= to) {
            add_rung(rungs, tick->value, problem);
        }
    }
    return problem->outcome;
}

static enum outcome choose(const struct blend_pair *pair,
                           const struct ladder *ladder,
                           const struct ticks *ticks, struct rungs *rungs,
                           struct problem *problem)
{
    double from = ladder->has_from ? ladder->from : pair->thin;
    double to = ladder->has_to ? ladder->to : pair->thick;
    if (pair_check_target(pair, from, problem) != OUTCOME_DONE ||
        pair_check_target(pair, to, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (!(to >= from)) {
        return REFUSE("--to is below --from");
    }
    if (ladder->has_step) {
        add_steps(pair, ladder, to, rungs, problem);
    } else {
        add_ticks(pair, ticks, from, to, rungs, problem);
    }
    return rungs->count > 0
               ? problem->outcome
               : REFUSE("no recipe lies on these steps; take a smaller --step");
}

/* -- Recipes ----------------------------------------------------------- */

/* a rung as the command mix is asked for it */
static void ask(const struct blend_pair *pair, const struct dosing *dosing,
                double target, struct mix_request *request)
{
    *request = (struct mix_request){
        .has_target = true,
        .target = {target, pair->temperature},
        .temperature = pair->temperature,
        .has_make = dosing->count > 0,
        .make_count = dosing->count,
        .make_each = dosing->each,
        .method = pair->method,
        .excess_uncertainty = pair->excess_uncertainty,
        .thermometer = MW_THERMOMETER,
        .tool = dosing->tool,
        .step = dosing->step,
    };
    for (size_t i = 0; i < 2; i++) {
        const struct source source = {.name = pair->names[i],
                                      .oil = pair->oils[i],
                                      .uncertainty = pair->uncertainty[i],
                                      .left_ml = NAN,
                                      .drop_ml = NAN};
        mix_add_source(request, &source);
    }
}

/* what is measured out of oil i: ml, g or drops */
static double dose_of(const struct dosing *dosing,
                      const struct mix_answer *answer, size_t i)
{
    bool rounded = answer->has_dosed;
    switch (dosing->tool) {
    case TOOL_SCALE:
        return rounded ? answer->dosed.marks[i] * dosing->step
                       : answer->masses[i];
    case TOOL_DROP:
        return rounded ? answer->dosed.marks[i]
                       : answer->volumes[i] / dosing->step;
    default:
        return rounded ? answer->dosed.volumes[i] : answer->volumes[i];
    }
}

static void keep(const struct dosing *dosing, const struct mix_answer *answer,
                 struct rung *rung, struct rungs *rungs)
{
    rung->share = answer->shares[1];
    rung->low = answer->low;
    rung->high = answer->high;
    rung->ratio_viscosity = answer->has_ratio ? answer->ratio_viscosity : NAN;
    for (size_t i = 0; i < 2; i++) {
        rung->ratio[i] = answer->ratio[i];
        rung->doses[i] = dose_of(dosing, answer, i);
    }
    rungs->notes |= answer->notes;
    if (answer->has_dosed) {
        rungs->worst_miss = fmax(rungs->worst_miss, fabs(answer->dosed.miss));
    }
}

/* each recipe is what the command mix answers */
static enum outcome solve(const struct blend_pair *pair,
                          const struct dosing *dosing, struct rungs *rungs,
                          struct problem *problem)
{
    struct mix_request *request = need_zeroed(1, sizeof *request);
    for (size_t i = 0; i < rungs->count; i++) {
        struct mix_answer answer = {0};
        ask(pair, dosing, rungs->list[i].target, request);
        if (mix_solve(request, &answer, problem) == OUTCOME_DONE) {
            keep(dosing, &answer, &rungs->list[i], rungs);
        }
        mix_request_free(request);
        if (problem->outcome != OUTCOME_DONE) {
            break;
        }
    }
    free(request);
    return problem->outcome;
}

enum outcome rungs_make(const struct blend_pair *pair,
                        const struct ladder *ladder, const struct ticks *ticks,
                        const struct dosing *dosing, struct rungs *rungs,
                        struct problem *problem)
{
    *rungs = (struct rungs){.notes = pair->notes};
    return choose(pair, ladder, ticks, rungs, problem) == OUTCOME_DONE
               ? solve(pair, dosing, rungs, problem)
               : problem->outcome;
}

const char *dose_unit(const struct dosing *dosing)
{
    if (dosing->tool == TOOL_DROP) {
        return "drops";
    }
    return dosing->tool == TOOL_SCALE ? "g" : "ml";
}
