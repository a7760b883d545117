/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/excess.h"

#include <stdlib.h>

#include "store/bottle.h"
#include "store/recipe.h"
#include "util/xalloc.h"

/* what the recipes are asked for, one after the other */
struct learning {
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
    return silicone && stock->problem->outcome == OUTCOME_DONE;
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
    struct learning *learning = context;
    struct mw_oil oils[MW_DOUBT_OILS_MAX];
    double uncertainty[MW_DOUBT_OILS_MAX], volumes[MW_DOUBT_OILS_MAX];
    double shares[MW_DOUBT_OILS_MAX];
    struct mw_estimate measured;
    struct mw_excess excess;
    if (!load_measured(learning->stock, recipe, &measured) ||
        !load_parents(learning->stock, recipe, oils, uncertainty, volumes) ||
        mw_dose_shares(volumes, recipe->count, shares, NULL) != MW_OK) {
        return;
    }
    const struct mw_lesson lesson = {oils,
                                     uncertainty,
                                     shares,
                                     recipe->count,
                                     recipe->temperature,
                                     measured.viscosity,
                                     measured.uncertainty};
    /* a mix that teaches nothing is passed over */
    if (mw_lesson_excess(&lesson, MW_RULE_ASTM, &excess) == MW_OK) {
        learning->list = need_resized(learning->list, learning->count + 1,
                                      sizeof learning->list[0]);
        learning->list[learning->count++] = excess;
    }
}

enum outcome learned_excess(struct stock *stock, struct mw_excess *excess,
                            size_t *lessons)
{
    const struct mw_excess prior = {MW_SILICONE_EXCESS,
                                    mw_doubt_usual_excess()};
    struct learning learning = {.stock = stock};
    *lessons = 0;
    *excess = prior;
    if (recipes_each(stock, take, &learning) == OUTCOME_DONE &&
        mw_learn(&prior, learning.list, learning.count, excess) == MW_OK) {
        *lessons = learning.count;
    } else {
        *excess = prior;
    }
    free(learning.list);
    return stock->problem->outcome;
}
