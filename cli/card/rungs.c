/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rungs.h"

#include <math.h>

#include "mix_doubt.h"
#include "number.h"
#include "report.h"

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

static double ln_viscosity(double share, void *params)
{
    const struct blend_pair *pair = params;
    return log(pair_viscosity(pair, share, &pair->method));
}

/* ml of the batch */
static enum mw_status batch_of(const struct blend_pair *pair,
                               const struct dosing *dosing, double share,
                               double *batch)
{
    const double shares[2] = {1 - share, share};
    const double densities[2] = {pair->states[0].density,
                                 pair->states[1].density};
    double density;
    enum mw_status status =
        mw_dose_batch(dosing->count, dosing->each.value, 0, batch);
    if (status == MW_OK && dosing->each.kind == AMOUNT_G) {
        status = mw_dose_density(densities, shares, 2, &density);
        if (status == MW_OK) {
            status = mw_dose_volume(*batch, density, batch);
        }
    }
    return status;
}

/* exact amounts: ml, or g where grams are made or weighed */
static void dose_exactly(const struct blend_pair *pair,
                         const struct dosing *dosing, double batch,
                         struct rung *rung)
{
    const double shares[2] = {1 - rung->share, rung->share};
    for (size_t i = 0; i < 2; i++) {
        double volume = batch * shares[i];
        rung->doses[i] = volume;
        if (dosing->tool == TOOL_SCALE) {
            mw_dose_mass(volume, pair->states[i].density, &rung->doses[i]);
        } else if (dosing->tool == TOOL_DROP) {
            rung->doses[i] = volume / dosing->step;
        }
    }
}

static enum mw_status dose_in_marks(const struct blend_pair *pair,
                                    const struct dosing *dosing, double batch,
                                    struct rung *rung, struct rungs *rungs)
{
    struct mw_order order = {.share = rung->share,
                             .batch = batch,
                             .tolerance = MW_RECIPE_TOLERANCE,
                             .mark = {dosing->step, dosing->step}};
    struct blend_pair params = *pair;
    struct mw_recipe recipe;
    for (size_t i = 0; dosing->tool == TOOL_SCALE && i < 2; i++) {
        mw_dose_volume(dosing->step, pair->states[i].density, &order.mark[i]);
    }
    enum mw_status status = mw_recipe(&order, ln_viscosity, &params, &recipe);
    for (size_t i = 0; i < 2; i++) {
        rung->doses[i] = dosing->tool == TOOL_DROP
                             ? recipe.marks[i]
                             : recipe.marks[i] * dosing->step;
    }
    rungs->notes |= recipe.notes;
    rungs->worst_miss = fmax(rungs->worst_miss, fabs(recipe.miss));
    return status;
}

static enum mw_status find_doses(const struct blend_pair *pair,
                                 const struct dosing *dosing, struct rung *rung,
                                 struct rungs *rungs)
{
    double batch;
    rung->doses[0] = rung->doses[1] = NAN;
    if (dosing->count == 0) {
        return MW_OK;
    }
    enum mw_status status = batch_of(pair, dosing, rung->share, &batch);
    if (status != MW_OK) {
        return status;
    }
    /* an oil alone needs no whole marks */
    bool alone = rung->share == 0 || rung->share == 1;
    if (dosing->tool == TOOL_NONE || alone) {
        dose_exactly(pair, dosing, batch, rung);
        return MW_OK;
    }
    return dose_in_marks(pair, dosing, batch, rung, rungs);
}

static enum mw_status find_ratio(const struct blend_pair *pair,
                                 struct rung *rung)
{
    enum mw_status status = mw_dose_ratio(rung->share, RATIO_MOST,
                                          &rung->ratio[0], &rung->ratio[1]);
    double parts[2] = {rung->ratio[0], rung->ratio[1]}, shares[2];
    rung->ratio_viscosity = NAN;
    if (status == MW_OK && parts[0] > 0 && parts[1] > 0) {
        mw_dose_shares(parts, 2, shares, NULL);
        rung->ratio_viscosity = pair_viscosity(pair, shares[1], &pair->method);
    }
    return status;
}

static enum outcome solve(const struct blend_pair *pair,
                          const struct dosing *dosing, struct rung *rung,
                          struct rungs *rungs, struct problem *problem)
{
    char target[FIGURES_LENGTH];
    enum mw_status status =
        mw_mixture_share(pair->oils, rung->target, pair->temperature,
                         &pair->method, &rung->share, NULL);
    if (status == MW_OK) {
        status = find_ratio(pair, rung);
    }
    if (status == MW_OK) {
        status = find_doses(pair, dosing, rung, rungs);
    }
    mix_doubt(pair, rung->share, &rung->low, &rung->high);
    return status == MW_OK
               ? OUTCOME_DONE
               : problem_set(problem, OUTCOME_NO_ANSWER, "%s mm2/s: %s",
                             as_given(rung->target, target),
                             mw_status_text(status));
}

enum outcome rungs_make(const struct blend_pair *pair,
                        const struct ladder *ladder, const struct ticks *ticks,
                        const struct dosing *dosing, struct rungs *rungs,
                        struct problem *problem)
{
    *rungs = (struct rungs){.notes = pair->notes};
    choose(pair, ladder, ticks, rungs, problem);
    for (size_t i = 0; i < rungs->count && problem->outcome == OUTCOME_DONE;
         i++) {
        solve(pair, dosing, &rungs->list[i], rungs, problem);
    }
    return problem->outcome;
}

const char *dose_unit(const struct dosing *dosing)
{
    if (dosing->tool == TOOL_DROP) {
        return "drops";
    }
    return dosing->tool == TOOL_SCALE ? "g" : "ml";
}
