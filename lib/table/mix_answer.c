/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "table/mix_answer.h"

#include <math.h>
#include <string.h>

#include "base/range.h"
#include "damper/bubble.h"
#include "table/dosing.h"

/* -- What is known ------------------------------------------------------- */

static enum mw_status find_oils(struct mw_mix_oils *oils)
{
    enum mw_status status = MW_OK;
    for (size_t i = 0; i < oils->count && status == MW_OK; i++) {
        status = mw_network_oil(oils->network, oils->nodes[i], &oils->oils[i],
                                &oils->uncertainty[i]);
    }
    return status;
}

/* the usual method of the family, with K of the first two oils */
static enum mw_status find_method(struct mw_mix_oils *oils)
{
    struct mw_excess excess = {0, 0};
    enum mw_status status =
        mw_method_default(oils->oils, oils->count, &oils->method);
    if (status == MW_OK && oils->count > 1 &&
        oils->oils[0].family == MW_SILICONE) {
        mw_network_excess(oils->network, oils->nodes[0], oils->nodes[1],
                          &excess);
        oils->method.excess = excess.value;
    }
    oils->excess_uncertainty = excess.uncertainty;
    return status;
}

enum mw_status mw_mix_gather(const struct mw_network *network,
                             const size_t *nodes, size_t count,
                             const struct mw_method *method,
                             struct mw_mix_oils *oils)
{
    if (count == 0 || count > MW_MIX_OILS_MAX) {
        return MW_ERR_BUDGET;
    }
    oils->network = network;
    oils->count = count;
    oils->exact = method;
    memcpy(oils->nodes, nodes, count * sizeof nodes[0]);
    enum mw_status status = find_oils(oils);
    if (status == MW_OK) {
        status = find_method(oils);
    }
    if (status == MW_OK) {
        status = mw_network_bases(network, nodes, count, &oils->bases);
    }
    if (status == MW_OK && method) {
        oils->method = *method;
        oils->excess_uncertainty = 0;
        oils->bases.bases.excess = NULL;
    }
    return status;
}

/* -- What comes of it ---------------------------------------------------- */

static size_t count_poured(const struct mw_mix_job *job)
{
    return job->count - job->in_cup;
}

/* Nothing makes up for what is in the cup already: the recipe as without it,
 * and what becomes of that. */
static enum mw_status pour_all_the_same(const struct mw_mix_job *job,
                                        struct mw_mix *mix)
{
    struct mw_mix_part parts[MW_MIX_OILS_MAX];
    struct mw_mix_job poured = *job, whole = *job;
    double left_ml = 0, left_g = 0;
    poured.count = count_poured(job);
    for (size_t i = poured.count; i < job->count; i++) {
        parts[i] = job->parts[i];
        left_ml += parts[i].amount;
        left_g += parts[i].amount * mix->states[i].density;
    }
    poured.batch_ml -= left_ml;
    poured.batch_g -= left_g;
    enum mw_status status = mw_mix_solve(&poured, mix);
    for (size_t i = 0; i < poured.count; i++) {
        parts[i] = (struct mw_mix_part){MW_AMOUNT_ML, mix->volumes[i], NAN};
    }
    whole.parts = parts;
    whole.target = whole.batch_ml = whole.batch_g = NAN;
    return status == MW_OK ? mw_mix_solve(&whole, mix) : status;
}

/* the shares of what is poured, without what is in the cup already */
static void set_poured(const struct mw_mix_job *job, const struct mw_mix *mix,
                       double shares[])
{
    double poured = 0;
    for (size_t i = 0; i < count_poured(job); i++) {
        poured += mix->shares[i];
    }
    for (size_t i = 0; i < count_poured(job); i++) {
        shares[i] = mix->shares[i] / poured;
    }
}

/* what the standard alone would pour */
static void find_plain(const struct mw_mix_job *job,
                       struct mw_mix_answer *answer)
{
    struct mw_mix_job plain = *job;
    struct mw_mix mix;
    if (isnan(job->target) || job->method.excess == 0) {
        memcpy(answer->plain_shares, answer->shares, sizeof answer->shares);
        return;
    }
    plain.method.excess = 0;
    mw_mix_solve(&plain, &mix);
    set_poured(job, &mix, answer->plain_shares);
}

/* mm2/s of what is poured */
static double viscosity_of_poured(const struct mw_mix_job *job,
                                  const struct mw_mix_answer *answer)
{
    struct mw_mix_part parts[MW_MIX_OILS_MAX];
    struct mw_mix_job poured = *job;
    struct mw_mix mix;
    if (job->in_cup == 0) {
        return answer->mix.viscosity;
    }
    poured.count = count_poured(job);
    for (size_t i = 0; i < poured.count; i++) {
        parts[i] =
            (struct mw_mix_part){MW_AMOUNT_SHARE, answer->shares[i], NAN};
    }
    poured.in_cup = 0;
    poured.parts = parts;
    poured.target = poured.batch_ml = poured.batch_g = NAN;
    mw_mix_solve(&poured, &mix);
    return mix.viscosity;
}

static size_t count_open(const struct mw_mix_job *job)
{
    size_t open = 0;
    for (size_t i = 0; i < job->count; i++) {
        open += job->parts[i].kind == MW_AMOUNT_OPEN;
    }
    return open;
}

static enum mw_status solve(const struct mw_mix_job *job,
                            struct mw_mix_answer *answer)
{
    struct mw_mix *mix = &answer->mix;
    enum mw_status status = mw_mix_solve(job, mix);
    if (status == MW_ERR_TARGET && job->in_cup > 0 && count_open(job) == 2) {
        answer->left_shifts = true;
        status = pour_all_the_same(job, mix);
    }
    if (status == MW_OK) {
        answer->tops_up = !isnan(job->target) && count_open(job) == 1 &&
                          isfinite(mix->total_ml) && isnan(job->batch_ml) &&
                          isnan(job->batch_g);
        answer->warnings = mix->warnings;
        set_poured(job, mix, answer->shares);
        find_plain(job, answer);
        answer->poured_viscosity = viscosity_of_poured(job, answer);
    }
    return status;
}

/* -- How sure it is ------------------------------------------------------ */

struct mw_network_mix mw_mix_question(const struct mw_mix_oils *oils,
                                      const struct mw_mix_job *job,
                                      const struct mw_mix *mix, double *doses)
{
    mw_mix_doses(mix, oils->count, doses);
    return (struct mw_network_mix){oils->count,
                                   oils->nodes,
                                   mix->shares,
                                   job->temperature,
                                   job->thermometer,
                                   doses,
                                   oils->exact ? &oils->method : NULL,
                                   job->read};
}

static enum mw_status find_uncertainty(const struct mw_mix_oils *oils,
                                       const struct mw_mix_job *job,
                                       struct mw_mix_answer *answer)
{
    double doses[MW_MIX_OILS_MAX], v;
    const struct mw_network_mix question =
        mw_mix_question(oils, job, &answer->mix, doses);
    enum mw_status status = mw_network_mix(oils->network, &question, &v,
                                           &answer->budget, &answer->sources);
    if (status == MW_OK) {
        answer->uncertainty = mw_budget_combined(&answer->budget);
        mw_budget_band(&answer->budget, answer->mix.viscosity, &answer->low,
                       &answer->high);
    }
    return status;
}

/* -- What is poured ------------------------------------------------------ */

/* whether there is anything to round */
static bool can_be_rounded(const struct mw_mix_job *job,
                           const struct mw_mix *mix)
{
    const struct mw_tools *tools = &job->tools;
    bool free = false;
    for (size_t i = 0; i < count_poured(job); i++) {
        enum mw_amount_kind kind = job->parts[i].kind;
        free = free || kind == MW_AMOUNT_OPEN || kind == MW_AMOUNT_SHARE ||
               kind == MW_AMOUNT_PARTS;
    }
    return free && isfinite(mix->total_ml) &&
           (tools->graduation_ml > 0 || tools->resolution_g > 0 ||
            tools->drop_ml > 0);
}

static enum mw_status round_it(const struct mw_mix_job *job,
                               struct mw_mix_answer *answer)
{
    if (!can_be_rounded(job, &answer->mix)) {
        return MW_OK;
    }
    enum mw_status status = mw_recipe(
        job, &answer->mix, MW_COVERAGE * answer->uncertainty, &answer->recipe);
    answer->has_recipe = status == MW_OK;
    if (status == MW_OK) {
        answer->warnings |= answer->recipe.warnings;
    }
    return status;
}

/* NaN where the batch is not known */
static void find_settling(struct mw_mix_answer *answer)
{
    struct mw_settle settle;
    mw_batch_depth(answer->mix.total_ml, &answer->settle_depth);
    mw_settle(answer->mix.viscosity, MW_USUAL_BUBBLE, answer->settle_depth,
              MW_STANDARD_ATMOSPHERE_KPA, &settle);
    answer->settle_s = settle.still_seconds;
}

/* -- All ------------------------------------------------------------------ */

static void clear(struct mw_mix_answer *answer)
{
    answer->left_shifts = answer->has_recipe = answer->tops_up = false;
    answer->poured_viscosity = answer->uncertainty = NAN;
    answer->low = answer->high = answer->settle_s = answer->settle_depth = NAN;
    answer->recipe.works = NAN;
    answer->budget.count = answer->sources.count = 0;
    answer->warnings = 0;
    for (size_t i = 0; i < MW_MIX_OILS_MAX; i++) {
        answer->shares[i] = answer->plain_shares[i] = NAN;
    }
}

enum mw_status mw_mix_answer(const struct mw_mix_oils *oils,
                             const struct mw_mix_job *job,
                             struct mw_mix_answer *answer)
{
    struct mw_mix_job whole = *job;
    enum mw_status status;
    clear(answer);
    if (job->count != oils->count || job->in_cup >= job->count) {
        answer->mix.fault = job->count;
        return MW_ERR_UNKNOWNS;
    }
    whole.oils = oils->oils;
    whole.bases = &oils->bases.bases;
    whole.method = oils->method;
    if ((status = solve(&whole, answer)) != MW_OK ||
        (status = find_uncertainty(oils, &whole, answer)) != MW_OK ||
        (status = round_it(&whole, answer)) != MW_OK) {
        return status;
    }
    find_settling(answer);
    return MW_OK;
}

/* -- Its label ------------------------------------------------------------ */

/* a second temperature at which all oils are known; NaN: there is none */
static double second_t(const struct mw_mix_oils *oils, double t)
{
    const struct mw_point *points = oils->oils[0].points;
    for (size_t i = 0; i < oils->count; i++) {
        if (!oils->oils[i].has_line) {
            return NAN;
        }
    }
    return points[mw_same_temperature(points[0].temperature, t) ? 1 : 0]
        .temperature;
}

enum mw_status mw_mix_label(const struct mw_mix_oils *oils,
                            const struct mw_mix_job *job,
                            const struct mw_mix_answer *answer,
                            struct mw_oil *label)
{
    struct mw_point points[2] = {
        {answer->has_recipe ? answer->recipe.viscosity : answer->mix.viscosity,
         job->temperature},
        {NAN, second_t(oils, job->temperature)}};
    size_t count = isnan(points[1].temperature) ? 1 : 2;
    double density;
    enum mw_status status = MW_OK;
    if (count == 2) {
        status = mw_mixture(oils->oils, answer->shares, oils->count,
                            points[1].temperature, &oils->method,
                            &points[1].viscosity, NULL);
    }
    if (status == MW_OK) {
        status = mw_mixture_density(oils->oils, answer->shares, oils->count,
                                    &density);
    }
    return status == MW_OK ? mw_oil_make(oils->oils[0].family, points, count,
                                         density, label)
                           : status;
}
