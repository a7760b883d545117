/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "blend/recipe.h"

#include <math.h>
#include <stdbool.h>

#include "base/positive.h"
#include "blend/dose.h"

/* rounding: a batch of just 60 marks may come out as 59.999... */
#define SLACK 1e-9

struct search {
    const struct mw_order *order;
    mw_ln_mix *ln_v;
    void *params;
    double target;      /* ln v */
    double least, most; /* ml of a batch */
    struct mw_recipe best;
};

static bool is_better(const struct mw_recipe *one, const struct mw_recipe *best,
                      double batch)
{
    double miss = fmax(fabs(one->miss), MW_RECIPE_ENOUGH);
    double least = fmax(fabs(best->miss), MW_RECIPE_ENOUGH);
    if (fabs(miss - least) > SLACK) {
        return miss < least;
    }
    return fabs(one->batch - batch) < fabs(best->batch - batch);
}

static void consider(struct search *search, double first, double second)
{
    const double *mark = search->order->mark;
    struct mw_recipe one = {
        .marks = {(int)first, (int)second},
        .volumes = {first * mark[0], second * mark[1]},
    };
    one.batch = one.volumes[0] + one.volumes[1];
    one.share = one.volumes[1] / one.batch;
    one.miss = search->ln_v(one.share, search->params) - search->target;
    bool found = search->best.marks[0] > 0;
    if (isfinite(one.miss) &&
        (!found || is_better(&one, &search->best, search->order->batch))) {
        search->best = one;
    }
}

/* with so many marks of the first oil, the two numbers of the second around
 * the share, moved into the batch where they lie outside */
static void consider_first(struct search *search, double first)
{
    const double *mark = search->order->mark;
    double share = search->order->share;
    double volume = first * mark[0];
    double low = ceil((search->least - volume) / mark[1] - SLACK);
    double high = floor((search->most - volume) / mark[1] + SLACK);
    double wanted = floor(volume * share / ((1 - share) * mark[1]));
    low = fmax(low, 1);
    if (low > high) {
        return;
    }
    double below = fmin(fmax(wanted, low), high);
    double above = fmin(fmax(wanted + 1, low), high);
    consider(search, first, below);
    if (above > below) {
        consider(search, first, above);
    }
}

static enum mw_status check_order(const struct mw_order *order)
{
    if (!(order->share > 0 && order->share < 1)) {
        return MW_ERR_SHARES;
    }
    if (!mw_is_positive(order->batch) || !mw_is_positive(order->mark[0]) ||
        !mw_is_positive(order->mark[1]) ||
        !(order->tolerance >= 0 && order->tolerance < 1)) {
        return MW_ERR_AMOUNT;
    }
    double most = order->batch * (1 + order->tolerance);
    return most / fmin(order->mark[0], order->mark[1]) <= MW_MARKS_MAX
               ? MW_OK
               : MW_ERR_TOOL;
}

static unsigned notes_of(const struct mw_recipe *recipe)
{
    unsigned warnings = 0;
    if (recipe->marks[0] < MW_MARKS_FEW || recipe->marks[1] < MW_MARKS_FEW) {
        warnings |= MW_WARN_FEW_MARKS;
    }
    if (fabs(recipe->miss) > MW_RECIPE_COARSE) {
        warnings |= MW_WARN_COARSE;
    }
    return warnings;
}

enum mw_status mw_recipe(const struct mw_order *order, mw_ln_mix *ln_v,
                         void *params, struct mw_recipe *recipe)
{
    const struct mw_recipe nothing = {{0, 0}, {NAN, NAN}, NAN, NAN, NAN, 0};
    *recipe = nothing;
    enum mw_status status = check_order(order);
    if (status != MW_OK) {
        return status;
    }
    struct search search = {.order = order,
                            .ln_v = ln_v,
                            .params = params,
                            .target = ln_v(order->share, params),
                            .least = order->batch * (1 - order->tolerance),
                            .most = order->batch * (1 + order->tolerance),
                            .best = nothing};
    if (!isfinite(search.target)) {
        return MW_ERR_VISCOSITY;
    }
    for (int first = 1; first * order->mark[0] < search.most; first++) {
        consider_first(&search, first);
    }
    if (search.best.marks[0] == 0) {
        return MW_ERR_TOOL;
    }
    *recipe = search.best;
    recipe->warnings = notes_of(recipe);
    return MW_OK;
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
