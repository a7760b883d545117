/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>

#include "bottles.h"
#include "hold.h"
#include "memory.h"

/* what a bottle makes of the damping; false where it cannot be poured */
static bool try_bottle(const struct hold_request *request,
                       const struct hold_answer *answer,
                       const struct bottle *bottle, struct hold_bottle *tried)
{
    const struct mw_oil *oil = &bottle->best.oil;
    *tried = (struct hold_bottle){.name = bottle->name,
                                  .rating = oil->points[0],
                                  .uncertainty = bottle->best.uncertainty,
                                  .left_ml = bottle->left_ml};
    return oil->family == request->source.oil.family && bottle->left_ml != 0 &&
           mw_oil_viscosity(oil, request->t_to, &tried->viscosity) == MW_OK &&
           mw_hold_with(oil, request->t_to, answer->hold.wanted, &tried->change,
                        &tried->miss) == MW_OK;
}

static void find_bottle(const struct hold_request *request,
                        const struct bottles *bottles,
                        struct hold_answer *answer)
{
    struct hold_bottle tried, *best = &answer->bottle;
    for (size_t i = 0; i < bottles->count; i++) {
        if (try_bottle(request, answer, &bottles->list[i], &tried) &&
            (!best->name || fabs(tried.miss) < fabs(best->miss))) {
            *best = tried;
        }
    }
    if (best->name) {
        best->name = need_copy(best->name); /* it outlives the records */
    }
}

/* Everything that may be poured is looked for here. */
static void find_pour(const struct hold_request *request,
                      const struct bottles *bottles, struct hold_answer *answer)
{
    answer->has_stock = bottles->count > 0;
    find_bottle(request, bottles, answer);
}

enum outcome hold_pour(const struct hold_request *request,
                       struct hold_answer *answer, struct problem *problem)
{
    struct problem trouble = {0};
    struct stock stock;
    struct bottles bottles = {0};
    if (stock_open(&stock, request->stock, &trouble) == OUTCOME_DONE &&
        bottles_load(&stock, &bottles) == OUTCOME_DONE) {
        find_pour(request, &bottles, answer);
    }
    bottles_free(&bottles);
    stock_close(&stock);
    if (trouble.outcome == OUTCOME_DONE) {
        return OUTCOME_DONE;
    }
    /* a stock that was not asked for takes no answer away */
    if (!request->stock) {
        snprintf(answer->stock_trouble, sizeof answer->stock_trouble, "%s",
                 trouble.text);
        return OUTCOME_DONE;
    }
    return problem_set(problem, trouble.outcome, "%s", trouble.text);
}
