/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "blend/recipe.h"

#include <math.h>
#include <stdbool.h>

#include "base/positive.h"
#include "blend/dose.h"
#include "blend/mix_blend.h"
#include "blend/recipe_search.h"

enum {
    SMALLER = 20 /* batches that are tried where nothing fits */
};

static double step_of(const struct mw_recipe_search *search, size_t i)
{
    return search->mix->tools[i].step_ml;
}

/* -- What is rounded ----------------------------------------------------- */

static bool is_given(const struct mw_mix_part *part)
{
    return part->kind == MW_AMOUNT_ML || part->kind == MW_AMOUNT_G ||
           part->kind == MW_AMOUNT_DROPS;
}

static enum mw_status find_rounded(struct mw_recipe_search *search)
{
    const struct mw_mix_job *job = search->job;
    for (size_t i = 0; i < job->count; i++) {
        double volume = search->mix->volumes[i];
        if (!isfinite(volume)) {
            return MW_ERR_AMOUNT;
        }
        search->volumes[i] = is_given(&job->parts[i]) ? volume : 0;
        search->rounded[i] = volume > 0 && !is_given(&job->parts[i]);
        if (search->rounded[i] && !mw_is_positive(step_of(search, i))) {
            return MW_ERR_TOOL;
        }
    }
    return MW_OK;
}

static double distance(const struct mw_recipe_search *search, size_t i,
                       size_t j)
{
    const struct mw_oil_state *states = search->mix->states;
    return fabs(log(states[i].viscosity / states[j].viscosity));
}

/* the two that are searched: those that were solved for, or else the thinnest
 * and the one farthest from it; one alone is both */
static void find_searched(struct mw_recipe_search *search)
{
    size_t count = search->job->count, thinnest = count, far;
    const struct mw_mix *mix = search->mix;
    for (size_t i = 0; i < count; i++) {
        bool thinner = thinnest == count || mix->states[i].viscosity <
                                                mix->states[thinnest].viscosity;
        thinnest = search->rounded[i] && thinner ? i : thinnest;
    }
    size_t open = mix->open[0];
    search->second = open < count && search->rounded[open] ? open : thinnest;
    far = search->second;
    for (size_t i = 0; i < count; i++) {
        bool farther = distance(search, i, search->second) >
                       distance(search, far, search->second);
        bool other = far == search->second && i != far;
        far = search->rounded[i] && (other || farther) ? i : far;
    }
    open = mix->open[1];
    search->first = open < count && search->rounded[open] ? open : far;
}

/* the batch that is asked for, ml or g */
static double batch_of(const struct mw_recipe_search *search)
{
    const struct mw_mix_job *job = search->job;
    return isfinite(job->batch_g) ? job->batch_g : search->mix->total_ml;
}

static bool is_countable(const struct mw_recipe_search *search)
{
    for (size_t i = 0; i < search->job->count; i++) {
        if (search->rounded[i] &&
            !(search->most / step_of(search, i) <= MW_STEPS_MAX)) {
            return false;
        }
    }
    return true;
}

static void set_limits(struct mw_recipe_search *search, double batch)
{
    double steps = 0;
    for (size_t i = 0; i < search->job->count; i++) {
        double weight = mw_recipe_weight(search, i);
        steps += search->rounded[i] ? weight * step_of(search, i) : 0;
    }
    search->least = batch;
    search->most = fmax((1 + MW_RECIPE_EXCESS) * batch, batch + steps);
}

/* without a batch: the nearest steps of each */
static bool round_each(struct mw_recipe_search *search)
{
    bool fits = true;
    for (size_t i = 0; i < search->job->count; i++) {
        if (search->rounded[i]) {
            double steps =
                mw_recipe_nearest(search, i, search->mix->volumes[i]);
            search->best[i] = (int)steps;
            fits = fits && steps >= 1;
        }
    }
    return fits;
}

/* -- The recipe ----------------------------------------------------------- */

static enum mw_status keep(const struct mw_recipe_search *search,
                           struct mw_recipe *recipe)
{
    const struct mw_mix_job *job = search->job;
    double volumes[MW_MIX_OILS_MAX];
    for (size_t i = 0; i < job->count; i++) {
        int steps = search->rounded[i] ? search->best[i] : 0;
        double draw = search->mix->tools[i].draw_ml;
        volumes[i] = search->rounded[i] ? steps * step_of(search, i)
                                        : search->mix->volumes[i];
        double draws = fmax(ceil(volumes[i] / draw - MW_STEPS_SLACK), 1);
        double full = draws > 1 ? (draws - 1) * draw : 0;
        recipe->doses[i] =
            (struct mw_dose){steps, volumes[i], (int)draws, volumes[i] - full};
        if (search->rounded[i] && steps < MW_STEPS_FEW) {
            recipe->warnings |= MW_WARN_FEW_STEPS;
        }
    }
    mw_dose_shares(volumes, job->count, recipe->shares, &recipe->total_ml);
    enum mw_status status =
        mw_mix_blend(job, recipe->shares, &recipe->viscosity, NULL);
    recipe->miss = log(recipe->viscosity) - search->goal;
    if (!(fabs(recipe->miss) <= search->good + MW_STEPS_SLACK)) {
        recipe->warnings |= MW_WARN_COARSE;
    }
    return status;
}

/* of a batch that the bottles cannot give only a recipe that is good counts */
static enum mw_status search_batch(struct mw_recipe_search *search,
                                   double batch)
{
    const struct mw_mix *mix = search->mix;
    double whole = batch_of(search);
    bool is_short =
        mix->total_ml * batch / whole > mix->largest_ml * (1 + MW_STEPS_SLACK);
    set_limits(search, batch);
    if (!is_countable(search) || !mw_recipe_search(search) ||
        (is_short && fabs(search->best_miss) > search->good)) {
        return MW_ERR_TOOL;
    }
    return MW_OK;
}

/* a smaller batch that works, of two digits; NaN: none */
static double find_smaller(struct mw_recipe_search *search, double batch)
{
    for (int i = 1; i < SMALLER; i++) {
        double smaller = batch * (1 - (double)i / SMALLER);
        double digit = pow(10, floor(log10(smaller)) - 1);
        smaller = floor(smaller / digit) * digit;
        if (search_batch(search, smaller) == MW_OK) {
            return smaller;
        }
    }
    return NAN;
}

/* of batches as small as the best one the one that misses least */
static void refine(struct mw_recipe_search *search)
{
    double good = search->good;
    if (fabs(search->best_miss) <= good) {
        search->most =
            fmin(search->most, search->best_batch * (1 + MW_RECIPE_SAME));
        search->good = 0;
        mw_recipe_search(search);
        search->good = good;
    }
}

static enum mw_status find(struct mw_recipe_search *search,
                           struct mw_recipe *recipe)
{
    const struct mw_mix_job *job = search->job;
    bool sized = isfinite(job->batch_g) || isfinite(job->batch_ml);
    enum mw_status status = find_rounded(search);
    if (status != MW_OK) {
        return status;
    }
    if (sized) {
        find_searched(search);
        status = search_batch(search, batch_of(search));
        if (status == MW_OK) {
            refine(search);
        }
    } else if (!round_each(search)) {
        status = MW_ERR_TOOL;
    }
    if (status == MW_ERR_TOOL && sized && is_countable(search)) {
        recipe->works = find_smaller(search, batch_of(search));
    }
    return status == MW_OK ? keep(search, recipe) : status;
}

static void clear(struct mw_recipe *recipe)
{
    *recipe = (struct mw_recipe){
        .total_ml = NAN, .viscosity = NAN, .miss = NAN, .works = recipe->works};
    for (size_t i = 0; i < MW_MIX_OILS_MAX; i++) {
        recipe->shares[i] = recipe->doses[i].volume_ml = NAN;
    }
}

enum mw_status mw_recipe(const struct mw_mix_job *job, const struct mw_mix *mix,
                         double expanded, struct mw_recipe *recipe)
{
    struct mw_recipe_search search = {
        .job = job,
        .mix = mix,
        .goal = log(mix->viscosity),
        .good = isfinite(expanded) ? MW_RECIPE_MISS * expanded : 0};
    recipe->works = NAN;
    clear(recipe);
    enum mw_status status = find(&search, recipe);
    if (status != MW_OK) {
        clear(recipe);
    }
    return status;
}

enum mw_status mw_drop_volume(double count, double mass, double density,
                              double *volume)
{
    *volume = NAN;
    if (!mw_is_positive(count) || !mw_is_positive(mass / count)) {
        return MW_ERR_AMOUNT;
    }
    return mw_dose_volume(mass / count, density, volume);
}
