/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>

#include "mix.h"
#include "number.h"
#include "report.h"

enum {
    /* parts a person counts out with a syringe; common practice, no source */
    RATIO_MOST = 12
};

#define NO_ANSWER(...) problem_set(problem, OUTCOME_NO_ANSWER, __VA_ARGS__)

/* -- What cannot be answered, and the nearest that can ----------------- */

/* the oil that comes nearest to the target on its own, or "" */
static const char *nearest_alone(const struct mix_request *request,
                                 char text[200])
{
    size_t nearest;
    double v;
    char viscosity[FIGURES_LENGTH], name[SHORT_LENGTH];
    text[0] = '\0';
    if (request->has_target &&
        mw_mixture_nearest(request->oils, request->count,
                           request->target.viscosity, request->temperature,
                           &nearest, &v) == MW_OK) {
        snprintf(text, 200, "; the nearest is %s alone, %s mm2/s",
                 shortened(request->names[nearest], QUOTED - 1, name),
                 figures(v, 3, viscosity));
    }
    return text;
}

/* from the thinnest to the thickest of the oils, in words */
struct extremes {
    double thinnest, thickest; /* mm2/s */
    char thin[FIGURES_LENGTH], thick[FIGURES_LENGTH];
};

static struct extremes find_extremes(const struct mix_request *request,
                                     const struct mix_answer *answer)
{
    struct extremes found = {.thinnest = INFINITY};
    for (size_t i = 0; i < request->count; i++) {
        double v = answer->states[i].viscosity;
        found.thinnest = fmin(found.thinnest, v);
        found.thickest = fmax(found.thickest, v);
    }
    figures(found.thinnest, 3, found.thin);
    figures(found.thickest, 3, found.thick);
    return found;
}

static enum outcome refuse_ratio(const struct extremes *extremes,
                                 struct problem *problem)
{
    char between[FIGURES_LENGTH];
    double midway = mw_mixture_midway(extremes->thinnest, extremes->thickest);
    return NO_ANSWER("%s with %s mm2/s is wider than %g to 1, too far to "
                     "calculate; mix over an oil in between, near %s mm2/s",
                     extremes->thick, extremes->thin, MW_RATIO_MAX,
                     figures(midway, 2, between));
}

static enum outcome refuse_target(const struct mix_request *request,
                                  const struct extremes *extremes,
                                  const char *nearest, struct problem *problem)
{
    char target[FIGURES_LENGTH];
    return NO_ANSWER("%s mm2/s at %.6g C is not between these oils, %s to %s "
                     "there%s",
                     as_given(request->target.viscosity, target),
                     request->temperature, extremes->thin, extremes->thick,
                     nearest);
}

static enum outcome explain(const struct mix_request *request,
                            const struct mix_answer *answer,
                            enum mw_status status, struct problem *problem)
{
    char nearest[200];
    struct extremes extremes = find_extremes(request, answer);
    nearest_alone(request, nearest);
    switch (status) {
    case MW_ERR_TARGET:
        return refuse_target(request, &extremes, nearest, problem);
    case MW_ERR_RATIO:
        return refuse_ratio(&extremes, problem);
    case MW_ERR_FAMILY:
        return NO_ANSWER("silicone and mineral oil do not mix; take oils of "
                         "one family%s",
                         nearest);
    case MW_ERR_ALIKE:
        return NO_ANSWER("these oils are alike at %.6g C, and so is every mix "
                         "of them; use either",
                         request->temperature);
    case MW_ERR_EXCESS:
        return NO_ANSWER("with an excess of %g these oils do not thicken "
                         "steadily with the share; take oils that are closer, "
                         "or a smaller excess%s",
                         request->method.excess, nearest);
    case MW_ERR_NO_LINE:
        return REFUSE("%s; write 32@40C/5.4@100C, or --rule astm",
                      mw_status_text(status));
    default:
        return NO_ANSWER("%s", mw_status_text(status));
    }
}

/* -- The way to the answer --------------------------------------------- */

static enum outcome bring_to_temperature(const struct mix_request *request,
                                         struct mix_answer *answer,
                                         struct problem *problem)
{
    for (size_t i = 0; i < request->count; i++) {
        enum mw_status status = mw_oil_at(
            &request->oils[i], request->temperature, &answer->states[i]);
        if (explain_oil_status(request->names[i], &request->oils[i],
                               request->temperature, status,
                               problem) != OUTCOME_DONE) {
            return problem->outcome;
        }
    }
    return OUTCOME_DONE;
}

/* ml of an amount of oil i; parts stay what they are */
static double volume_of(const struct mix_answer *answer, size_t i,
                        const struct amount *amount)
{
    double volume = amount->value;
    if (amount->kind == AMOUNT_G) {
        mw_dose_volume(amount->value, answer->states[i].density, &volume);
    }
    return volume;
}

static void set_volumes(const struct mix_request *request,
                        struct mix_answer *answer, double total_ml)
{
    answer->total_ml = total_ml;
    for (size_t i = 0; i < request->count; i++) {
        answer->volumes[i] = answer->shares[i] * total_ml;
        mw_dose_mass(answer->volumes[i], answer->states[i].density,
                     &answer->masses[i]);
    }
}

static size_t count_amounts(const struct mix_request *request)
{
    size_t count = 0;
    for (size_t i = 0; i < request->count; i++) {
        count += request->has_amount[i];
    }
    return count;
}

/* amounts of all and no target: what was made */
static enum outcome solve_forward(const struct mix_request *request,
                                  struct mix_answer *answer,
                                  struct problem *problem)
{
    double amounts[MIX_OILS_MAX], total;
    bool parts = request->amounts[0].kind == AMOUNT_PARTS;
    for (size_t i = 0; i < request->count; i++) {
        if ((request->amounts[i].kind == AMOUNT_PARTS) != parts) {
            return REFUSE("parts do not go with ml or g; write one kind of "
                          "amount for all");
        }
        amounts[i] = volume_of(answer, i, &request->amounts[i]);
    }
    enum mw_status status =
        mw_dose_shares(amounts, request->count, answer->shares, &total);
    if (status != MW_OK) {
        return explain(request, answer, status, problem);
    }
    set_volumes(request, answer, parts ? NAN : total);
    return OUTCOME_DONE;
}

/* two oils and a target: the shares; one amount: how much of the other */
static enum outcome solve_backward(const struct mix_request *request,
                                   struct mix_answer *answer,
                                   struct problem *problem)
{
    double share, volume;
    enum mw_status status =
        mw_mixture_share(request->oils, request->target.viscosity,
                         request->temperature, &request->method, &share, NULL);
    if (status != MW_OK) {
        return explain(request, answer, status, problem);
    }
    answer->shares[0] = 1 - share;
    answer->shares[1] = share;
    if (count_amounts(request) == 0) {
        set_volumes(request, answer, NAN);
        return OUTCOME_DONE;
    }
    size_t present = request->has_amount[0] ? 0 : 1;
    answer->tops_up = true;
    answer->added = 1 - present;
    if (request->amounts[present].kind == AMOUNT_PARTS) {
        return REFUSE("how much is there? write %.*s=12ml or =12g", QUOTED,
                      request->names[present]);
    }
    double there = volume_of(answer, present, &request->amounts[present]);
    status = mw_dose_top_up(there, answer->shares[answer->added], &volume);
    if (status != MW_OK) {
        return NO_ANSWER("no amount of %.*s is enough; use it alone", QUOTED,
                         request->names[answer->added]);
    }
    set_volumes(request, answer, there + volume);
    return OUTCOME_DONE;
}

static enum outcome size_batch(const struct mix_request *request,
                               struct mix_answer *answer,
                               struct problem *problem)
{
    double densities[MIX_OILS_MAX], batch, density;
    if (!request->has_make) {
        return OUTCOME_DONE;
    }
    if (answer->tops_up) {
        return REFUSE("--make and an amount both size the batch; leave one "
                      "out");
    }
    enum mw_status status = mw_dose_batch(
        request->make_count, request->make_each.value, request->waste, &batch);
    if (status == MW_OK && request->make_each.kind == AMOUNT_G) {
        for (size_t i = 0; i < request->count; i++) {
            densities[i] = answer->states[i].density;
        }
        mw_dose_density(densities, answer->shares, request->count, &density);
        status = mw_dose_volume(batch, density, &batch);
    }
    if (status != MW_OK) {
        return explain(request, answer, status, problem);
    }
    set_volumes(request, answer, batch);
    return OUTCOME_DONE;
}

/* the whole-number ratio that a syringe counts out */
static void find_ratio(const struct mix_request *request,
                       struct mix_answer *answer)
{
    double parts[2], shares[2];
    if (request->count != 2 ||
        mw_dose_ratio(answer->shares[1], RATIO_MOST, &answer->ratio[0],
                      &answer->ratio[1]) != MW_OK) {
        return;
    }
    parts[0] = answer->ratio[0];
    parts[1] = answer->ratio[1];
    answer->has_ratio =
        parts[0] > 0 && parts[1] > 0 &&
        mw_dose_shares(parts, 2, shares, NULL) == MW_OK &&
        mw_mixture(request->oils, shares, 2, request->temperature,
                   &request->method, &answer->ratio_viscosity, NULL) == MW_OK;
}

/* what the standard alone says, and how far apart the rules are */
static void compare_rules(const struct mix_request *request,
                          struct mix_answer *answer)
{
    const struct mw_method plain = {request->method.rule, 0};
    mw_mixture(request->oils, answer->shares, request->count,
               request->temperature, &plain, &answer->plain_viscosity, NULL);
    mw_mixture_spread(request->oils, answer->shares, request->count,
                      request->temperature, &request->method, &answer->spread);
    for (size_t i = 0; i < request->count; i++) {
        answer->plain_shares[i] = answer->shares[i];
    }
    if (request->has_target) {
        mw_mixture_share(request->oils, request->target.viscosity,
                         request->temperature, &plain, &answer->plain_shares[1],
                         NULL);
        answer->plain_shares[0] = 1 - answer->plain_shares[1];
    }
}

static enum outcome check_question(const struct mix_request *request,
                                   struct problem *problem)
{
    size_t amounts = count_amounts(request);
    if (request->has_target && request->count != 2) {
        return REFUSE("a target goes with two oils; mix two of them first, or "
                      "give all amounts and no target");
    }
    if (request->has_target && amounts == 2) {
        return REFUSE("two amounts and a target leave nothing to solve for; "
                      "leave one of them out");
    }
    if (!request->has_target && amounts < request->count) {
        return REFUSE("what is wanted? give --target V, or an amount for each "
                      "oil");
    }
    return OUTCOME_DONE;
}

enum outcome mix_solve(const struct mix_request *request,
                       struct mix_answer *answer, struct problem *problem)
{
    struct mw_method ignored;
    if (check_question(request, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (mw_method_default(request->oils, request->count, &ignored) != MW_OK) {
        return explain(request, answer, MW_ERR_FAMILY, problem);
    }
    if (bring_to_temperature(request, answer, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    enum outcome outcome = request->has_target
                               ? solve_backward(request, answer, problem)
                               : solve_forward(request, answer, problem);
    if (outcome != OUTCOME_DONE ||
        size_batch(request, answer, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    enum mw_status status = mw_mixture(
        request->oils, answer->shares, request->count, request->temperature,
        &request->method, &answer->viscosity, &answer->notes);
    if (status != MW_OK) {
        return explain(request, answer, status, problem);
    }
    find_ratio(request, answer);
    compare_rules(request, answer);
    return OUTCOME_DONE;
}
