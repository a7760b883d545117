/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/shared.h"

#include <stdlib.h>

#include "store/recipe.h"
#include "util/xalloc.h"

enum {
    CHAIN_MAX = 12 /* mixes of mixes; a hostile file may be circular */
};

static enum exit_code find(struct stock *stock, const struct bottle *bottle,
                           int depth, struct mw_shared *shared,
                           struct error *error);

/* the parents of a mix: what they are, and the parts of their errors */
struct parents {
    struct mw_oil oils[MW_MIX_OILS_MAX];
    double u[MW_MIX_OILS_MAX], volumes[MW_MIX_OILS_MAX];
    double shares[MW_MIX_OILS_MAX], swings[MW_MIX_OILS_MAX];
    struct mw_shared shared[MW_MIX_OILS_MAX];
    bool damaged; /* one of them: nothing is known of the rest */
};

/* NOLINTNEXTLINE(misc-no-recursion): CHAIN_MAX ends it */
static enum exit_code load_parents(struct stock *stock,
                                   const struct recipe *recipe, int depth,
                                   struct parents *parents, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    for (size_t i = 0;
         i < recipe->count && code == EXIT_DONE && !parents->damaged; i++) {
        struct bottle parent;
        code = bottle_load_id(stock, recipe->parts[i].parent, &parent, error);
        parents->damaged = parent.damaged;
        if (code == EXIT_DONE && !parent.damaged) {
            parents->oils[i] = parent.best.oil;
            parents->u[i] = parent.best.uncertainty;
            parents->volumes[i] = recipe->parts[i].volume_ml;
            code = find(stock, &parent, depth + 1, &parents->shared[i], error);
        }
        bottle_free(&parent);
    }
    return code;
}

/* what the errors of its parents are in a mix */
static void add_mix(const struct bottle *bottle, const struct recipe *recipe,
                    struct parents *parents, struct mw_shared *shared)
{
    struct mw_method method;
    if (!parents->damaged && recipe->count > 0 &&
        mw_method_default(parents->oils, recipe->count, &method) == MW_OK &&
        mw_dose_shares(parents->volumes, recipe->count, parents->shares,
                       NULL) == MW_OK &&
        mw_mixture_swings(parents->oils, parents->shares, recipe->count,
                          recipe->temperature, &method, parents->u,
                          parents->swings) == MW_OK) {
        mw_shared_add_mix(
            shared, parents->shared, parents->swings, recipe->count,
            mw_label_weight(bottle->tolerance, bottle->best.uncertainty));
    }
}

/* NOLINTNEXTLINE(misc-no-recursion): CHAIN_MAX ends it */
static enum exit_code add_parents(struct stock *stock,
                                  const struct bottle *bottle, int depth,
                                  struct mw_shared *shared, struct error *error)
{
    struct recipe recipe;
    struct parents *parents = xcalloc(1, sizeof *parents);
    enum exit_code code = recipe_load(stock, bottle->id, &recipe, error);
    if (code == EXIT_DONE) {
        code = load_parents(stock, &recipe, depth, parents, error);
    }
    if (code == EXIT_DONE) {
        add_mix(bottle, &recipe, parents, shared);
    }
    recipe_free(&recipe);
    free(parents);
    return code;
}

/* NOLINTNEXTLINE(misc-no-recursion): CHAIN_MAX ends it */
static enum exit_code find(struct stock *stock, const struct bottle *bottle,
                           int depth, struct mw_shared *shared,
                           struct error *error)
{
    enum exit_code code = EXIT_DONE;
    *shared = (struct mw_shared){0};
    mw_shared_add(shared, bottle->id, 0); /* room for its own */
    if (bottle->mixed && depth < CHAIN_MAX) {
        code = add_parents(stock, bottle, depth, shared, error);
    }
    mw_shared_complete(shared, bottle->id, bottle->best.uncertainty);
    return code;
}

enum exit_code shared_find(struct stock *stock, const struct bottle *bottle,
                           struct mw_shared *shared, struct error *error)
{
    return find(stock, bottle, 0, shared, error);
}
