/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/excess.h"

#include <stdlib.h>

#include "store/bottle.h"
#include "store/recipe.h"
#include "util/xalloc.h"

/* what the recipes are asked for, one after the other */
struct fitting {
    struct stock *stock;
    struct mw_excess *list;
    size_t count;
};

/* the parents of a mix at their best values; false unless all are silicone */
static bool load_parents(struct stock *stock, const struct recipe *recipe,
                         struct mw_oil oils[], double uncertainty[],
                         double volumes[])
{
    bool silicone = recipe->count > 1;
    for (size_t i = 0; i < recipe->count; i++) {
        struct bottle parent;
        bottle_load_id(stock, recipe->parts[i].parent, &parent);
        oils[i] = parent.best.oil;
        uncertainty[i] = parent.best.uncertainty;
        volumes[i] = recipe->parts[i].volume_ml;
        silicone = silicone && !parent.damaged && oils[i].family == MW_SILICONE;
        bottle_free(&parent);
    }
    return silicone && stock->error->exit_code == EXIT_DONE;
}

/* what the readings of the mixed bottle say at the recipe's temperature */
static bool load_measured(struct stock *stock, const struct recipe *recipe,
                          struct mw_estimate *measured)
{
    struct mw_reading readings[MW_READINGS_MAX];
    struct bottle mixed;
    bottle_load_id(stock, recipe->bottle, &mixed);
    size_t count = mixed.reading_count;
    for (size_t i = 0; i < count && i < MW_READINGS_MAX; i++) {
        readings[i] = mixed.readings[i].value;
    }
    bool known = !mixed.damaged &&
                 mw_bottle_measured(&mixed.label, readings, count,
                                    recipe->temperature, measured) == MW_OK;
    bottle_free(&mixed);
    return known;
}

static void take(struct recipe *recipe, void *context)
{
    struct fitting *fitting = context;
    struct mw_oil oils[MW_MIX_OILS_MAX];
    double uncertainty[MW_MIX_OILS_MAX], volumes[MW_MIX_OILS_MAX];
    double shares[MW_MIX_OILS_MAX];
    struct mw_estimate measured;
    struct mw_excess excess;
    if (!load_measured(fitting->stock, recipe, &measured) ||
        !load_parents(fitting->stock, recipe, oils, uncertainty, volumes) ||
        mw_dose_shares(volumes, recipe->count, shares, NULL) != MW_OK) {
        return;
    }
    const struct mw_trial_mix trial_mix = {oils,
                                           uncertainty,
                                           shares,
                                           recipe->count,
                                           recipe->temperature,
                                           measured.viscosity,
                                           measured.uncertainty};
    /* a mix that teaches nothing is passed over */
    if (mw_trial_mix_excess(&trial_mix, MW_RULE_ASTM, &excess) == MW_OK) {
        fitting->list = xreallocarray(fitting->list, fitting->count + 1,
                                      sizeof fitting->list[0]);
        fitting->list[fitting->count++] = excess;
    }
}

enum exit_code stock_excess(struct stock *stock, struct mw_excess *excess,
                            size_t *trial_mixes)
{
    const struct mw_excess prior = {MW_SILICONE_EXCESS,
                                    mw_usual_excess_uncertainty()};
    struct fitting fitting = {.stock = stock};
    *trial_mixes = 0;
    *excess = prior;
    if (recipes_each(stock, take, &fitting) == EXIT_DONE &&
        mw_fit_excess(&prior, fitting.list, fitting.count, excess) == MW_OK) {
        *trial_mixes = fitting.count;
    } else {
        *excess = prior;
    }
    free(fitting.list);
    return stock->error->exit_code;
}
