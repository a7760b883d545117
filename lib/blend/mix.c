/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "blend/mix.h"

#include <math.h>

#include "base/positive.h"
#include "blend/dose.h"
#include "blend/dose_internal.h"
#include "blend/mix_amounts.h"
#include "blend/mix_blend.h"
#include "blend/mix_tools.h"
#include "blend/sums.h"

enum {
    PASSES = 12 /* for a batch by mass: each gains two digits or more */
};

static enum mw_status find_states(const struct mw_mix_job *job,
                                  struct mw_mix *mix)
{
    for (size_t i = 0; i < job->count; i++) {
        enum mw_status status =
            mw_oil_at(&job->oils[i], job->temperature, &mix->states[i]);
        if (status != MW_OK) {
            mix->fault = i;
            return status;
        }
    }
    return MW_OK;
}

/* -- Shares ------------------------------------------------------------- */

/* the fixed shares, and those of the known amounts, which share free */
static void set_known(const struct mw_mix_job *job,
                      const struct mw_mix_amounts *amounts, double free,
                      double shares[])
{
    for (size_t i = 0; i < job->count; i++) {
        shares[i] = job->parts[i].kind == MW_AMOUNT_SHARE ? job->parts[i].amount
                    : amounts->known > 0
                        ? free * amounts->volumes[i] / amounts->known
                        : 0;
    }
}

/* what was made */
static enum mw_status share_known(const struct mw_mix_job *job,
                                  const struct mw_mix_amounts *amounts,
                                  struct mw_mix *mix)
{
    double free = 1 - amounts->fixed;
    if (amounts->opens > 0) {
        return MW_ERR_UNKNOWNS;
    }
    if (!(amounts->known > 0 ? free > 0 : fabs(free) <= MW_SHARES_SLACK)) {
        return MW_ERR_AMOUNT;
    }
    set_known(job, amounts, free, mix->shares);
    mix->total_ml = amounts->others ? amounts->known / free : NAN;
    return MW_OK;
}

/* of ln v: what rounding parts from an end of a path is that end */
#define AT_AN_END 1e-12

static void take_end(const struct mw_path *path, double target,
                     double roots[MW_PATH_ROOTS], size_t *count)
{
    for (size_t end = 0; end < 2 && *count == 0; end++) {
        double away = mw_path_ln_v(path, (double)end) - log(target);
        if (fabs(away) <= AT_AN_END) {
            roots[(*count)++] = (double)end;
        }
    }
}

/* the path between two compositions, and where it meets the target */
static enum mw_status find_roots(const struct mw_mix_job *job,
                                 double ends[2][MW_MIX_OILS_MAX],
                                 double roots[MW_PATH_ROOTS], size_t *count)
{
    struct mw_path path;
    enum mw_status status = mw_mix_path(job, ends, &path);
    if (status != MW_OK) {
        return status;
    }
    status = mw_path_roots(&path, job->target, roots, count);
    if (status == MW_OK) {
        take_end(&path, job->target, roots, count);
    }
    return status == MW_OK && *count == 0 ? MW_ERR_TARGET : status;
}

static void set_between(const struct mw_mix_job *job,
                        double ends[2][MW_MIX_OILS_MAX], double f,
                        double shares[])
{
    for (size_t i = 0; i < job->count; i++) {
        shares[i] = (1 - f) * ends[0][i] + f * ends[1][i];
    }
}

static bool is_sized(const struct mw_mix_job *job)
{
    return isfinite(job->batch_ml) || isfinite(job->batch_g);
}

/* one open oil: from what is known to that oil alone beside the fixed shares */
static enum mw_status add_open(const struct mw_mix_job *job,
                               const struct mw_mix_amounts *amounts,
                               struct mw_mix *mix)
{
    double ends[2][MW_MIX_OILS_MAX], roots[MW_PATH_ROOTS];
    double free = 1 - amounts->fixed;
    size_t count, open = mix->open[0];
    if (!(free > 0)) {
        return MW_ERR_AMOUNT;
    }
    if (amounts->known == 0 || (amounts->others && is_sized(job))) {
        return MW_ERR_UNKNOWNS;
    }
    set_known(job, amounts, free, ends[0]);
    set_known(job, &(struct mw_mix_amounts){0}, free, ends[1]);
    ends[1][open] = free;
    enum mw_status status = find_roots(job, ends, roots, &count);
    if (status == MW_OK && roots[0] == 1) {
        status = MW_ERR_TARGET; /* no amount is enough */
    }
    if (status != MW_OK) {
        return status;
    }
    set_between(job, ends, roots[0], mix->shares);
    if (count > 1 && roots[1] < 1) {
        mix->other_share = free * roots[1];
        mix->other_ml = amounts->known * roots[1] / (1 - roots[1]);
    }
    if (amounts->parts) {
        mix->other_ml = NAN;
    } else {
        mix->total_ml = amounts->known / (free * (1 - roots[0]));
    }
    return MW_OK;
}

/* two open oils beside fixed shares: from all of the one to all of the other */
static enum mw_status share_two(const struct mw_mix_job *job,
                                const struct mw_mix_amounts *amounts,
                                double batch, struct mw_mix *mix)
{
    double ends[2][MW_MIX_OILS_MAX], roots[MW_PATH_ROOTS];
    size_t count;
    double part = amounts->known > 0 ? amounts->known / batch : 0;
    double free = 1 - amounts->fixed - part;
    if (amounts->parts || isnan(part)) {
        return MW_ERR_UNKNOWNS;
    }
    if (!(free > 0)) {
        return MW_ERR_AMOUNT;
    }
    set_known(job, amounts, part, ends[0]);
    set_known(job, amounts, part, ends[1]);
    ends[0][mix->open[0]] = free;
    ends[1][mix->open[1]] = free;
    enum mw_status status = find_roots(job, ends, roots, &count);
    if (status != MW_OK) {
        return status;
    }
    set_between(job, ends, roots[0], mix->shares);
    mix->other_share = count > 1 ? free * roots[1] : NAN;
    mix->total_ml = batch;
    return MW_OK;
}

/* -- The batch ---------------------------------------------------------- */

/* ml of the batch that was asked for, by the density of what it is made of */
static double batch_of(const struct mw_mix_job *job, const struct mw_mix *mix)
{
    double mass = 0; /* of 1 ml */
    for (size_t i = 0; i < job->count; i++) {
        mass += mix->shares[i] * mix->states[i].density;
    }
    return isfinite(job->batch_g) ? job->batch_g / mass : job->batch_ml;
}

/* a batch by mass and known volumes: the shares depend on the density of the
 * mix, and that on the shares, a little */
static enum mw_status share_two_by_mass(const struct mw_mix_job *job,
                                        const struct mw_mix_amounts *amounts,
                                        struct mw_mix *mix)
{
    double batch = job->batch_g / mix->states[mix->open[0]].density;
    enum mw_status status = MW_OK;
    for (int pass = 0; pass < PASSES && status == MW_OK; pass++) {
        status = share_two(job, amounts, batch, mix);
        batch = batch_of(job, mix);
    }
    return status;
}

static enum mw_status find_shares(const struct mw_mix_job *job,
                                  const struct mw_mix_amounts *amounts,
                                  struct mw_mix *mix)
{
    if (isnan(job->target)) {
        return share_known(job, amounts, mix);
    }
    switch (amounts->opens) {
    case 0:
        return MW_ERR_UNKNOWNS;
    case 1:
        return add_open(job, amounts, mix);
    default:
        return isfinite(job->batch_g)
                   ? share_two_by_mass(job, amounts, mix)
                   : share_two(job, amounts, job->batch_ml, mix);
    }
}

/* volumes that were given stay what they are, without rounding */
static void set_volumes(const struct mw_mix_job *job,
                        const struct mw_mix_amounts *amounts,
                        struct mw_mix *mix)
{
    bool sized = is_sized(job);
    if (sized) {
        mix->total_ml = batch_of(job, mix);
    }
    for (size_t i = 0; i < job->count; i++) {
        bool given = amounts->others && amounts->volumes[i] > 0 && !sized;
        mix->volumes[i] =
            given ? amounts->volumes[i] : mix->shares[i] * mix->total_ml;
        mix->masses[i] = mix->volumes[i] * mix->states[i].density;
    }
}

/* -- The job ------------------------------------------------------------ */

static enum mw_status check_job(const struct mw_mix_job *job)
{
    if (job->count == 0 || job->count > MW_MIX_OILS_MAX) {
        return MW_ERR_BUDGET;
    }
    if (!(isnan(job->batch_ml) || mw_is_positive(job->batch_ml)) ||
        !(isnan(job->batch_g) || mw_is_positive(job->batch_g))) {
        return MW_ERR_AMOUNT;
    }
    return isnan(job->target) || mw_is_positive(job->target) ? MW_OK
                                                             : MW_ERR_VISCOSITY;
}

/* all but the states of the oils */
static void clear(const struct mw_mix_job *job, struct mw_mix *mix)
{
    mix->total_ml = mix->viscosity = mix->plain_viscosity = mix->spread = NAN;
    mix->other_ml = mix->other_share = mix->ratio_viscosity = NAN;
    mix->ratio[0] = mix->ratio[1] = 0;
    mix->open[0] = mix->open[1] = mix->fault = mix->shortest = job->count;
    mix->largest_ml = NAN;
    mix->warnings = 0;
    for (size_t i = 0; i < MW_RULES; i++) {
        mix->by_rule[i] = NAN;
    }
    for (size_t i = 0; i < MW_MIX_OILS_MAX; i++) {
        mix->shares[i] = mix->volumes[i] = mix->masses[i] = NAN;
    }
}

static enum mw_status find_viscosity(const struct mw_mix_job *job,
                                     struct mw_mix *mix)
{
    enum mw_status status =
        mw_mix_blend(job, mix->shares, &mix->viscosity, &mix->warnings);
    if (status != MW_OK) {
        return status;
    }
    mw_mix_by_rule(job, mix->shares, mix->by_rule);
    mix->plain_viscosity = mix->by_rule[job->method.rule];
    double least = mix->viscosity, most = least;
    for (size_t i = 0; i < MW_RULES; i++) {
        least = fmin(least, mix->by_rule[i]);
        most = fmax(most, mix->by_rule[i]);
    }
    mix->spread = most / least - 1;
    return MW_OK;
}

/* the whole-number ratio that a syringe counts out */
static void find_ratio(const struct mw_mix_job *job, struct mw_mix *mix)
{
    int *parts = mix->ratio;
    if (job->count != 2) {
        return;
    }
    mw_dose_ratio(mix->shares[1], MW_PARTS_COUNTED, &parts[0], &parts[1]);
    if (parts[0] == 0 || parts[1] == 0) {
        parts[0] = parts[1] = 0;
        return;
    }
    double share = (double)parts[1] / (parts[0] + parts[1]);
    const double shares[2] = {1 - share, share};
    mw_mix_blend(job, shares, &mix->ratio_viscosity, NULL);
}

/* whether the bottles hold enough */
static void find_largest(const struct mw_mix_job *job, struct mw_mix *mix)
{
    double part;
    mix->largest_ml = mix->total_ml;
    if (job->left_ml && mw_dose_largest(mix->volumes, job->left_ml, job->count,
                                        &part, &mix->shortest) == MW_OK) {
        mix->largest_ml = part * mix->total_ml;
    }
}

static enum mw_status solve(const struct mw_mix_job *job, struct mw_mix *mix)
{
    struct mw_mix_amounts amounts;
    enum mw_status status;
    if ((status = check_job(job)) != MW_OK ||
        (status = find_states(job, mix)) != MW_OK ||
        (status = mw_mix_add_up(job, mix, &amounts)) != MW_OK ||
        (status = find_shares(job, &amounts, mix)) != MW_OK ||
        (status = find_viscosity(job, mix)) != MW_OK) {
        return status;
    }
    set_volumes(job, &amounts, mix);
    find_ratio(job, mix);
    mw_mix_set_tools(job, mix);
    find_largest(job, mix);
    return MW_OK;
}

enum mw_status mw_mix_solve(const struct mw_mix_job *job, struct mw_mix *mix)
{
    *mix = (struct mw_mix){0};
    clear(job, mix);
    enum mw_status status = solve(job, mix);
    if (status != MW_OK) {
        size_t fault = mix->fault;
        clear(job, mix);
        mix->fault = fault;
    }
    return status;
}
