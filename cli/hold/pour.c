/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "hold/hold.h"
#include "oils/best.h"
#include "oils/pair_mix.h"
#include "store/bottle.h"
#include "util/xalloc.h"

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
    return oil->family == request->ref.oil.family && bottle->left_ml != 0 &&
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
        best->name = xstrdup(best->name); /* it outlives the records */
    }
}

/* the answer that mix gives of them */
static void mix_them(const struct bottle *const pair[2],
                     struct stock_network *network, double thermometer,
                     struct hold_answer *answer)
{
    struct error error = {0};
    struct pair_mix mix;
    size_t nodes[2];
    for (size_t i = 0; i < 2; i++) {
        nodes[i] = bottle_node(network, pair[i]);
    }
    if (stock_network_solve(network, &error) == EXIT_DONE &&
        pair_mix_find(network, nodes, &answer->wanted, thermometer, NULL,
                      &mix) == MW_OK) {
        answer->mix.uncertainty = mix.uncertainty;
        answer->mix.share = mix.share;
        answer->mix.names[0] = xstrdup(pair[0]->name);
        answer->mix.names[1] = xstrdup(pair[1]->name);
    }
}

/* the two that make it best, chosen as mix does where no oil is named */
static void find_mix(const struct hold_request *request,
                     const struct bottles *bottles,
                     struct stock_network *network, struct hold_answer *answer)
{
    struct mw_excess excess;
    struct mw_choice choices[MW_CHOICES];
    size_t count;
    mw_network_usual_excess(network->network, answer->wanted.viscosity,
                            &excess);
    struct mw_candidate *candidates =
        xcalloc(bottles->count, sizeof candidates[0]);
    count = bottles_candidates(bottles, request->ref.oil.family, candidates);
    const struct mw_wish wish = {.target = answer->wanted.viscosity,
                                 .temperature = answer->wanted.temperature,
                                 .excess = excess};
    enum mw_status status =
        mw_choose(candidates, count, &wish, choices, &count);
    free(candidates);
    if (status != MW_OK) {
        return; /* no two bottles have it between them */
    }
    const struct bottle *pair[2] = {&bottles->list[choices[0].thin],
                                    &bottles->list[choices[0].thick]};
    mix_them(pair, network, request->thermometer, answer);
}

static void find_pour(const struct hold_request *request,
                      const struct bottles *bottles,
                      struct stock_network *network, struct hold_answer *answer)
{
    answer->has_stock = bottles->count > 0;
    find_bottle(request, bottles, answer);
    if (bottles->count > 1) {
        find_mix(request, bottles, network, answer);
    }
}

enum exit_code hold_pour(const struct hold_request *request,
                         struct hold_answer *answer, struct error *error)
{
    struct error other_error = {0};
    struct stock stock;
    struct bottles bottles = {0};
    struct stock_network network = {0};
    enum exit_code code = stock_open(&stock, request->stock, &other_error);
    if (code == EXIT_DONE &&
        (code = bottles_load_best(&stock, &bottles, &network, &other_error)) ==
            EXIT_DONE) {
        find_pour(request, &bottles, &network, answer);
    }
    stock_network_free(&network);
    bottles_free(&bottles);
    stock_close(&stock);
    if (code == EXIT_DONE) {
        return EXIT_DONE;
    }
    /* a stock that was not asked for takes no answer away */
    if (!request->stock) {
        snprintf(answer->stock_trouble, sizeof answer->stock_trouble, "%s",
                 other_error.text);
        return EXIT_DONE;
    }
    return error_set(error, code, "%s", other_error.text);
}

void hold_answer_free(struct hold_answer *answer)
{
    free(answer->bottle.name);
    free(answer->mix.names[0]);
    free(answer->mix.names[1]);
}
