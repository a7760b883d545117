/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "oils/best.h"

#include <math.h>
#include <stdlib.h>

#include "oils/outlier.h"
#include "util/xalloc.h"

static size_t count_set_aside(const struct stock_network *network, size_t index,
                              const struct bottle *bottle)
{
    size_t count = 0;
    for (size_t i = 0; i < bottle->reading_count; i++) {
        size_t reading = stock_network_reading(network, index, i);
        count += reading == network->reading_count ||
                 mw_network_reading(network->network, reading) == MW_SET_ASIDE;
    }
    return count;
}

static void adjust(const struct stock_network *network, struct bottle *bottle)
{
    size_t index = stock_network_find(network, bottle->id);
    struct mw_oil oil;
    double u;
    if (index < network->bottles.count &&
        mw_network_oil(network->network, index, &oil, &u) == MW_OK) {
        bottle->best.oil = oil;
        bottle->best.uncertainty = u;
        bottle->best.outlier = mw_network_outlier(network->network, index);
    }
}

double bottle_uncertainty_at(const struct stock_network *network,
                             const struct bottle *bottle, double t)
{
    const double whole = 1;
    size_t index = stock_network_find(network, bottle->id), first = 0;
    const struct mw_network_bottle label = {
        .label = bottle->label, .tolerance = bottle->tolerance, .dose_ml = NAN};
    struct mw_network *alone = NULL;
    struct mw_budget budget = {0};
    double v;
    bool known = index < network->bottles.count;
    enum mw_status status =
        known ? MW_OK : mw_network_make(&label, 1, NULL, 0, &alone);
    if (status == MW_OK) {
        const struct mw_network_mix it = {
            1, known ? &index : &first, &whole, t, 0, NULL, NULL, false};
        status = mw_network_mix(known ? network->network : alone, &it, &v,
                                &budget, NULL);
    }
    mw_network_free(alone);
    return status == MW_OK ? mw_budget_combined(&budget) : (double)NAN;
}

/* what all of the stock says */
static enum exit_code load(struct stock *stock, struct stock_network *network,
                           struct error *error)
{
    enum exit_code code = stock_network_load(stock, network, error);
    return code == EXIT_DONE ? stock_network_solve(network, error) : code;
}

void bottle_adjust_by(const struct stock_network *network,
                      struct bottle *bottle, struct error *error)
{
    size_t index = stock_network_find(network, bottle->id);
    adjust(network, bottle);
    bottle->set_aside = index < network->bottles.count
                            ? count_set_aside(network, index, bottle)
                            : 0;
    outlier_remark(network, index, error);
}

enum exit_code bottle_adjust(struct stock *stock, struct bottle *bottle,
                             struct error *error)
{
    struct stock_network network;
    enum exit_code code = load(stock, &network, error);
    if (code == EXIT_DONE) {
        bottle_adjust_by(&network, bottle, error);
    }
    stock_network_free(&network);
    return code;
}

static int by_id(const void *left, const void *right)
{
    const struct bottle *a = left, *b = right;
    return (a->id > b->id) - (a->id < b->id);
}

/* the bottles of a network that are there, to a list that owns them then */
static void lend_bottles(struct stock_network *network, struct bottles *bottles)
{
    size_t count = network->bottles.count;
    bottles->list = xreallocarray(bottles->list, bottles->count + count + 1,
                                  sizeof bottles->list[0]);
    for (size_t i = 0; i < count; i++) {
        struct bottle *bottle = &network->bottles.list[i];
        if (!bottle->retired) {
            adjust(network, bottle);
            bottles->list[bottles->count++] = *bottle;
        }
    }
    network->lent = true;
    qsort(bottles->list, bottles->count, sizeof bottles->list[0], by_id);
}

enum exit_code bottles_load_best(struct stock *stock, struct bottles *bottles,
                                 struct stock_network *network,
                                 struct error *error)
{
    *network = (struct stock_network){0};
    enum exit_code code = bottles_load_labels(stock, bottles, error);
    if (code == EXIT_DONE) {
        code = load(stock, network, error);
    }
    if (code == EXIT_DONE) {
        lend_bottles(network, bottles);
    }
    return code;
}
