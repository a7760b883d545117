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

/* the parents of a mix at their best values */
struct parents {
    struct mw_oil oils[MW_MIX_OILS_MAX];
    double uncertainty[MW_MIX_OILS_MAX], volumes[MW_MIX_OILS_MAX];
    bool silicone; /* all of them, and at least two */
};

static enum exit_code load_parents(struct stock *stock,
                                   const struct recipe *recipe,
                                   struct parents *parents, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    parents->silicone = recipe->count > 1;
    for (size_t i = 0; i < recipe->count && code == EXIT_DONE; i++) {
        struct bottle parent;
        code = bottle_load_id(stock, recipe->parts[i].parent, &parent, error);
        parents->oils[i] = parent.best.oil;
        parents->uncertainty[i] = parent.best.uncertainty;
        parents->volumes[i] = recipe->parts[i].volume_ml;
        parents->silicone = parents->silicone && !parent.damaged &&
                            parent.best.oil.family == MW_SILICONE;
        bottle_free(&parent);
    }
    return code;
}

/* what the readings of the mixed bottle say at the recipe's temperature, if
 * there are any */
static enum exit_code load_measured(struct stock *stock,
                                    const struct recipe *recipe,
                                    struct mw_estimate *measured, bool *known,
                                    struct error *error)
{
    struct mw_reading readings[MW_READINGS_MAX];
    struct bottle mixed;
    enum exit_code code = bottle_load_id(stock, recipe->bottle, &mixed, error);
    size_t count = mixed.reading_count;
    for (size_t i = 0; i < count && i < MW_READINGS_MAX; i++) {
        readings[i] = mixed.readings[i].value;
    }
    *known = !mixed.damaged &&
             mw_bottle_measured(&mixed.label, readings, count,
                                recipe->temperature, measured) == MW_OK;
    bottle_free(&mixed);
    return code;
}

/* the excess that a trial mix shows; one that shows none is passed over */
static void add_trial_mix(struct fitting *fitting, const struct recipe *recipe,
                          const struct parents *parents,
                          const struct mw_estimate *measured)
{
    double shares[MW_MIX_OILS_MAX];
    struct mw_excess excess;
    const struct mw_trial_mix trial_mix = {
        parents->oils,        parents->uncertainty, shares,
        recipe->count,        recipe->temperature,  measured->viscosity,
        measured->uncertainty};
    if (mw_dose_shares(parents->volumes, recipe->count, shares, NULL) ==
            MW_OK &&
        mw_trial_mix_excess(&trial_mix, MW_RULE_ASTM, &excess) == MW_OK) {
        fitting->list = xreallocarray(fitting->list, fitting->count + 1,
                                      sizeof fitting->list[0]);
        fitting->list[fitting->count++] = excess;
    }
}

static enum exit_code take(struct recipe *recipe, void *context,
                           struct error *error)
{
    struct fitting *fitting = context;
    struct parents parents;
    struct mw_estimate measured;
    bool known;
    enum exit_code code =
        load_measured(fitting->stock, recipe, &measured, &known, error);
    if (code == EXIT_DONE && known) {
        code = load_parents(fitting->stock, recipe, &parents, error);
        if (code == EXIT_DONE && parents.silicone) {
            add_trial_mix(fitting, recipe, &parents, &measured);
        }
    }
    return code;
}

enum exit_code stock_excess(struct stock *stock, struct mw_excess *excess,
                            size_t *trial_mixes, struct error *error)
{
    const struct mw_excess prior = {MW_SILICONE_EXCESS,
                                    mw_usual_excess_uncertainty()};
    struct fitting fitting = {.stock = stock};
    *trial_mixes = 0;
    *excess = prior;
    enum exit_code code = recipes_each(stock, take, &fitting, error);
    if (code == EXIT_DONE &&
        mw_fit_excess(&prior, fitting.list, fitting.count, excess) == MW_OK) {
        *trial_mixes = fitting.count;
    } else {
        *excess = prior;
    }
    free(fitting.list);
    return code;
}
