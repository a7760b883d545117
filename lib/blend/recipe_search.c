/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "blend/recipe_search.h"

#include <math.h>
#include <stdbool.h>

#include "blend/mix_blend.h"

static double step_of(const struct mw_recipe_search *search, size_t i)
{
    return search->mix->tools[i].step_ml;
}

double mw_recipe_weight(const struct mw_recipe_search *search, size_t i)
{
    return isfinite(search->job->batch_g) ? search->mix->states[i].density : 1;
}

static void set_steps(struct mw_recipe_search *search, size_t i, double steps)
{
    search->steps[i] = (int)steps;
    search->volumes[i] = steps * step_of(search, i);
}

/* the most steps that a bottle holds */
static double steps_left(const struct mw_recipe_search *search, size_t i)
{
    const double *left = search->job->left_ml;
    double steps = left && isfinite(left[i])
                       ? floor(left[i] / step_of(search, i) + MW_STEPS_SLACK)
                       : MW_STEPS_MAX;
    return fmin(steps, MW_STEPS_MAX);
}

double mw_recipe_nearest(const struct mw_recipe_search *search, size_t i,
                         double ml)
{
    double steps = fmax(round(ml / step_of(search, i)), 1);
    return fmin(steps, steps_left(search, i));
}

/* -- Two oils ------------------------------------------------------------ */

static bool is_better(const struct mw_recipe_search *search, double batch,
                      double miss)
{
    bool good = fabs(miss) <= search->good;
    bool best_good = fabs(search->best_miss) <= search->good;
    if (good != best_good) {
        return good;
    }
    if (good && fabs(batch - search->best_batch) > MW_STEPS_SLACK * batch) {
        return batch < search->best_batch;
    }
    /* of equal ones the first, which is the smallest of its ratio */
    return fabs(search->best_miss) - fabs(miss) > MW_STEPS_SLACK;
}

/* with so much of the second oil beside base ml of all others */
struct beside {
    struct mw_recipe_search *search;
    struct mw_path path; /* from the others to the second oil */
    double base;         /* ml */
    double batch;        /* the same, ml or g */
};

static double miss_of(const struct beside *beside, double steps)
{
    const struct mw_recipe_search *search = beside->search;
    double volume = steps * step_of(search, search->second);
    return mw_path_ln_v(&beside->path, volume / (beside->base + volume)) -
           search->goal;
}

static void consider(const struct beside *beside, double steps)
{
    struct mw_recipe_search *search = beside->search;
    size_t second = search->second;
    double batch = beside->batch + steps * step_of(search, second) *
                                       mw_recipe_weight(search, second);
    double miss = miss_of(beside, steps);
    if (!is_better(search, batch, miss)) {
        return;
    }
    set_steps(search, second, steps);
    search->best_batch = batch;
    search->best_miss = miss;
    for (size_t i = 0; i < search->job->count; i++) {
        search->best[i] = search->steps[i];
    }
}

/* the fewest steps from low to high that miss by little enough, and the
 * fewer ones next to them: ln v is steady in them */
static void consider_range(const struct beside *beside, double low, double high)
{
    double good = beside->search->good;
    double miss = miss_of(beside, low);
    double side = miss < 0 ? -1 : 1;
    consider(beside, low);
    if (fabs(miss) <= good || low == high) {
        return;
    }
    while (high - low > 1) {
        double middle = floor((low + high) / 2);
        *(side * miss_of(beside, middle) > good ? &low : &high) = middle;
    }
    consider(beside, low);
    consider(beside, high);
}

/* the oils are those of a mix that was solved, so that nothing can fail */
static void set_path(struct beside *beside)
{
    const struct mw_recipe_search *search = beside->search;
    const struct mw_mix_job *job = search->job;
    double ends[2][MW_MIX_OILS_MAX] = {{0}, {0}};
    double base = beside->base;
    for (size_t i = 0; i < job->count; i++) {
        bool second = i == search->second;
        ends[0][i] = base > 0 && !second ? search->volumes[i] / base
                                         : (double)(base == 0 && second);
        ends[1][i] = second;
    }
    mw_mix_path(job, ends, &beside->path);
}

/* all numbers of steps of the second oil beside what the others are now */
static void search_second(struct mw_recipe_search *search)
{
    size_t second = search->second;
    double step = step_of(search, second) * mw_recipe_weight(search, second);
    struct beside beside = {.search = search};
    for (size_t i = 0; i < search->job->count; i++) {
        double volume = i == second ? 0 : search->volumes[i];
        beside.base += volume;
        beside.batch += volume * mw_recipe_weight(search, i);
    }
    double low =
        fmax(ceil((search->least - beside.batch) / step - MW_STEPS_SLACK), 1);
    double high = floor((search->most - beside.batch) / step + MW_STEPS_SLACK);
    high = fmin(high, steps_left(search, second));
    if (low <= high) {
        set_path(&beside);
        consider_range(&beside, low, high);
    }
}

/* the oils beside the two, in proportion to the first */
static bool set_others(struct mw_recipe_search *search, double steps)
{
    const struct mw_mix *mix = search->mix;
    size_t first = search->first;
    set_steps(search, first, steps);
    double part = search->volumes[first] / mix->volumes[first];
    for (size_t i = 0; i < search->job->count; i++) {
        if (search->rounded[i] && i != first && i != search->second) {
            double other = mw_recipe_nearest(search, i, part * mix->volumes[i]);
            if (other < 1) {
                return false;
            }
            set_steps(search, i, other);
        }
    }
    return true;
}

bool mw_recipe_search(struct mw_recipe_search *search)
{
    size_t first = search->first;
    double step = step_of(search, first) * mw_recipe_weight(search, first);
    double most = fmin(search->most / step, steps_left(search, first));
    search->best_miss = search->best_batch = INFINITY;
    if (first == search->second) {
        search_second(search);
        most = 0;
    }
    for (double steps = 1; steps <= most; steps++) {
        if (set_others(search, steps)) {
            search_second(search);
        }
    }
    return isfinite(search->best_miss);
}
