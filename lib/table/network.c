/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "table/network.h"

#include <math.h>
#include <stdlib.h>

#include "table/network_internal.h"

/* -- Making --------------------------------------------------------------- */

enum mw_status mw_network_make(const struct mw_network_bottle *bottles,
                               size_t n,
                               const struct mw_network_reading *readings,
                               size_t m, struct mw_network **network)
{
    *network = NULL;
    struct mw_network *made = calloc(1, sizeof *made);
    if (!made) {
        return MW_ERR_MEMORY;
    }
    made->bottles = bottles;
    made->n = n;
    made->readings = readings;
    made->m = m;
    enum mw_status status = mw_network_lay_out(made);
    if (status == MW_OK) {
        status = mw_adjustment_make(made->unknowns, made->count, made->rows,
                                    made->m, &made->adjustment);
    }
    if (status == MW_OK) {
        status = mw_network_settle(made);
    }
    if (status != MW_OK) {
        mw_network_free(made);
        return status;
    }
    *network = made;
    return MW_OK;
}

void mw_network_free(struct mw_network *network)
{
    if (!network) {
        return;
    }
    for (size_t i = 0; network->params && i < network->m; i++) {
        free(network->params[i].list);
    }
    mw_adjustment_free(network->adjustment);
    free(network->places);
    free(network->unknowns);
    free(network->owners);
    free(network->scratch);
    free(network->pairs);
    free(network->instruments);
    free(network->days);
    free(network->rows);
    free(network->params);
    free(network);
}

enum mw_agreement mw_network_label(const struct mw_network *network,
                                   size_t bottle)
{
    return network->places[bottle].agreement;
}

enum mw_agreement mw_network_reading(const struct mw_network *network,
                                     size_t reading)
{
    return network->params[reading].agreement;
}

const double *mw_network_estimates(const struct mw_network *network)
{
    return mw_adjustment_estimates(network->adjustment);
}

/* -- K -------------------------------------------------------------------- */

/* the sum of up to three unknowns that K is made of */
static void add_up(const struct mw_network *network, bool thin, size_t pair,
                   struct mw_excess *excess)
{
    size_t unknowns[3] = {network->excess}, count = 1;
    const double ones[3] = {1, 1, 1};
    const double *x = mw_network_estimates(network);
    double fresh = pair == MW_NO_UNKNOWN ? MW_EXCESS_PAIR : 0;
    if (thin) {
        unknowns[count++] = network->thin;
    }
    if (pair != MW_NO_UNKNOWN) {
        unknowns[count++] = pair;
    }
    excess->value = 0;
    for (size_t i = 0; i < count; i++) {
        excess->value += x[unknowns[i]];
    }
    const struct mw_gradient gradient = {count, unknowns, ones};
    excess->uncertainty = sqrt(
        mw_adjustment_form(network->adjustment, &gradient) + fresh * fresh);
}

void mw_network_usual_excess(const struct mw_network *network, double v,
                             struct mw_excess *excess)
{
    add_up(network, v < MW_EXCESS_GRADE, MW_NO_UNKNOWN, excess);
}

void mw_network_excess(const struct mw_network *network, size_t first,
                       size_t second, struct mw_excess *excess)
{
    *excess = (struct mw_excess){0, 0};
    if (network->bottles[first].label.family == MW_SILICONE) {
        add_up(network, mw_network_is_thin(network, first, second),
               mw_network_pair(network, first, second), excess);
    }
}

/* -- For a mix job -------------------------------------------------------- */

/* the place of a bottle among the bases, where it is one */
static size_t base_of(const struct mw_composition *all, size_t bottle)
{
    size_t i = 0;
    while (all->bottles[i] != bottle) {
        i++;
    }
    return i;
}

enum mw_status mw_network_bases(const struct mw_network *network,
                                const size_t *bottles, size_t count,
                                struct mw_network_bases *bases)
{
    const double *x = mw_network_estimates(network);
    struct mw_composition all = {0}, one;
    for (size_t i = 0; i < count; i++) {
        mw_network_compose(network, x, bottles[i], 1, 0, &all);
    }
    if (all.broken) {
        return MW_ERR_BUDGET;
    }
    for (size_t j = 0; j < all.count; j++) {
        mw_network_oil_at(network, x, all.bottles[j], &bases->oils[j]);
    }
    for (size_t i = 0; i < count; i++) {
        double *made = bases->made + i * all.count;
        one = (struct mw_composition){0};
        mw_network_compose(network, x, bottles[i], 1, 0, &one);
        for (size_t j = 0; j < all.count; j++) {
            made[j] = 0;
        }
        for (size_t j = 0; j < one.count; j++) {
            made[base_of(&all, one.bottles[j])] = one.shares[j];
        }
    }
    for (size_t i = 0; i < all.count; i++) {
        for (size_t j = 0; j < all.count; j++) {
            bases->excess[i * all.count + j] = mw_network_excess_of(
                network, x, all.bottles[i], all.bottles[j]);
        }
    }
    bases->bases = (struct mw_mix_bases){all.count, bases->oils, bases->made,
                                         bases->excess};
    return MW_OK;
}
