/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/shared.h"

#include <stdlib.h>

#include "store/recipe.h"
#include "util/xalloc.h"

enum {
    CHAIN_MAX = 12 /* mixes of mixes; a stranger's recipes may go in circles */
};

static void find(struct stock *stock, const struct bottle *bottle, int depth,
                 struct mw_shared *shared);

/* the parents of a mix: what they are, and the parts of their errors */
struct parents {
    struct mw_oil oils[MW_MIX_OILS_MAX];
    double u[MW_MIX_OILS_MAX], volumes[MW_MIX_OILS_MAX];
    double shares[MW_MIX_OILS_MAX], swings[MW_MIX_OILS_MAX];
    struct mw_shared shared[MW_MIX_OILS_MAX];
};

/* NOLINTNEXTLINE(misc-no-recursion): CHAIN_MAX ends it */
static bool load_parents(struct stock *stock, const struct recipe *recipe,
                         int depth, struct parents *parents)
{
    bool good = true;
    for (size_t i = 0; i < recipe->count && good; i++) {
        struct bottle parent;
        bottle_load_id(stock, recipe->parts[i].parent, &parent);
        good = stock->error->exit_code == EXIT_DONE && !parent.damaged;
        if (good) {
            parents->oils[i] = parent.best.oil;
            parents->u[i] = parent.best.uncertainty;
            parents->volumes[i] = recipe->parts[i].volume_ml;
            find(stock, &parent, depth + 1, &parents->shared[i]);
        }
        bottle_free(&parent);
    }
    return good;
}

/* NOLINTNEXTLINE(misc-no-recursion): CHAIN_MAX ends it */
static void add_parents(struct stock *stock, const struct bottle *bottle,
                        int depth, struct mw_shared *shared)
{
    struct recipe recipe;
    struct mw_method method;
    struct parents *parents = xcalloc(1, sizeof *parents);
    if (recipe_load(stock, bottle->id, &recipe) == EXIT_DONE &&
        recipe.count > 0 && load_parents(stock, &recipe, depth, parents) &&
        mw_method_default(parents->oils, recipe.count, &method) == MW_OK &&
        mw_dose_shares(parents->volumes, recipe.count, parents->shares, NULL) ==
            MW_OK &&
        mw_mixture_swings(parents->oils, parents->shares, recipe.count,
                          recipe.temperature, &method, parents->u,
                          parents->swings) == MW_OK) {
        mw_shared_add_mix(
            shared, parents->shared, parents->swings, recipe.count,
            mw_label_weight(bottle->tolerance, bottle->best.uncertainty));
    }
    recipe_free(&recipe);
    free(parents);
}

/* NOLINTNEXTLINE(misc-no-recursion): CHAIN_MAX ends it */
static void find(struct stock *stock, const struct bottle *bottle, int depth,
                 struct mw_shared *shared)
{
    *shared = (struct mw_shared){0};
    mw_shared_add(shared, bottle->id, 0); /* room for its own */
    if (bottle->mixed && depth < CHAIN_MAX) {
        add_parents(stock, bottle, depth, shared);
    }
    mw_shared_complete(shared, bottle->id, bottle->best.uncertainty);
}

void shared_find(struct stock *stock, const struct bottle *bottle,
                 struct mw_shared *shared)
{
    find(stock, bottle, 0, shared);
}
