/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* the rows of a network: its readings, and what they depend on */
#include <math.h>
#include <stdlib.h>

#include "base/range.h"
#include "table/network_internal.h"

/* -- Rows ----------------------------------------------------------------- */

static enum mw_status check_references(const struct mw_network *network,
                                       const struct mw_network_reading *reading)
{
    bool range = mw_viscosity_in_range(reading->viscosity), there = true;
    for (size_t i = 0; i < reading->reference_count; i++) {
        const struct mw_network_reference *known = &reading->references[i];
        range = range && mw_viscosity_in_range(known->viscosity);
        there = there && known->bottle < network->n && isfinite(known->weight);
    }
    enum mw_status status = there ? MW_OK : MW_ERR_READINGS;
    return range ? status : MW_ERR_VISCOSITY;
}

static enum mw_status check_reading(const struct mw_network *network,
                                    const struct mw_network_reading *reading)
{
    enum mw_status status = check_references(network, reading);
    if (status != MW_OK) {
        return status;
    }
    bool sound = reading->random > 0 && isfinite(reading->random) &&
                 isfinite(reading->systematic) && reading->thermometer >= 0 &&
                 isfinite(reading->thermometer);
    if (!sound) {
        return MW_ERR_UNCERTAINTY;
    }
    return reading->bottle < network->n ? MW_OK : MW_ERR_READINGS;
}

static void depend_on_bottle(struct mw_network *network, size_t bottle,
                             struct mw_unknown_list *list)
{
    struct mw_composition composition;
    mw_network_depend(network, bottle, list);
    if (network->bottles[bottle].part_count == 0) {
        return;
    }
    composition = (struct mw_composition){0};
    mw_network_compose(network, network->scratch, bottle, 1, 0, &composition);
    mw_network_depend_excess(network, &composition, list);
}

static void depend(struct mw_network *network, size_t index,
                   struct mw_unknown_list *list)
{
    const struct mw_network_reading *reading = &network->readings[index];
    depend_on_bottle(network, reading->bottle, list);
    for (size_t i = 0; i < reading->reference_count; i++) {
        depend_on_bottle(network, reading->references[i].bottle, list);
    }
    for (size_t i = 0; i < network->instrument_count; i++) {
        if (network->instruments[i].number == reading->instrument) {
            mw_unknown_add(list, network->instruments[i].unknown);
        }
    }
    for (size_t i = 0; i < network->day_count; i++) {
        if (reading->thermometer > 0 &&
            network->days[i].number == reading->day) {
            mw_unknown_add(list, network->days[i].unknown);
            mw_unknown_add(list, network->thermometer);
        }
    }
}

/* why a reading has no value */
static enum mw_status why_not(struct mw_network *network,
                              const struct mw_network_reading *reading)
{
    struct mw_oil oil;
    double v;
    enum mw_status status = MW_ERR_READINGS;
    if (network->bottles[reading->bottle].part_count == 0) {
        status =
            mw_network_oil_at(network, network->scratch, reading->bottle, &oil);
    }
    if (status == MW_OK) {
        status = mw_oil_viscosity(&oil, reading->temperature, &v);
    }
    return status == MW_OK ? MW_ERR_READINGS : status;
}

static enum mw_status add_row(struct mw_network *network, size_t index)
{
    const struct mw_network_reading *reading = &network->readings[index];
    struct mw_unknown_list list;
    list.count = 0;
    list.full = false;
    depend(network, index, &list);
    if (list.full) {
        return MW_ERR_READINGS;
    }
    size_t *own = calloc(list.count, sizeof own[0]);
    if (!own) {
        return MW_ERR_MEMORY;
    }
    for (size_t i = 0; i < list.count; i++) {
        own[i] = list.items[i];
    }
    network->params[index].list = own;
    network->params[index].network = network;
    network->params[index].reading = index;
    double observed = log(reading->viscosity);
    for (size_t i = 0; i < reading->reference_count; i++) {
        observed -= reading->references[i].weight *
                    log(reading->references[i].viscosity);
    }
    network->rows[index] =
        (struct mw_row){mw_network_row, &network->params[index],
                        observed,       reading->random,
                        list.count,     own};
    return isfinite(mw_network_row(network->scratch, &network->params[index]))
               ? MW_OK
               : why_not(network, reading);
}

/* -- Blocks --------------------------------------------------------------- */

/* where the unknowns of a bottle end */
static size_t end_of(const struct mw_network *network, size_t bottle)
{
    return bottle + 1 < network->n ? network->places[bottle + 1].first
                                   : network->excess;
}

/* what stands in a row of another bottle is shared */
static void share(struct mw_network *network, const size_t *holders)
{
    for (size_t i = 0; i < network->m; i++) {
        const struct mw_row *row = &network->rows[i];
        size_t own = network->readings[i].bottle;
        for (size_t j = 0; j < row->count; j++) {
            size_t holder = holders[row->unknowns[j]];
            if (holder != own && holder < network->n) {
                network->places[holder].shared = true;
            }
        }
    }
}

/* a bottle that stands in a row with others is of block 0; each other one is a
 * block of its own */
static enum mw_status set_blocks(struct mw_network *network)
{
    size_t *holders = calloc(network->count + 1, sizeof holders[0]);
    if (!holders) {
        return MW_ERR_MEMORY;
    }
    for (size_t i = network->excess; i < network->count; i++) {
        holders[i] = network->n;
    }
    for (size_t i = 0; i < network->n; i++) {
        for (size_t j = network->places[i].first; j < end_of(network, i); j++) {
            holders[j] = i;
        }
    }
    share(network, holders);
    for (size_t i = 0; i < network->n; i++) {
        size_t size = end_of(network, i) - network->places[i].first;
        bool alone = !network->places[i].shared && size <= MW_BLOCK_MAX;
        for (size_t j = network->places[i].first; j < end_of(network, i); j++) {
            network->unknowns[j].block = alone ? i + 1 : 0;
        }
    }
    free(holders);
    return MW_OK;
}

/* -- All of it ------------------------------------------------------------ */

enum mw_status mw_network_check_readings(const struct mw_network *network)
{
    enum mw_status status = MW_OK;
    for (size_t i = 0; i < network->m && status == MW_OK; i++) {
        status = check_reading(network, &network->readings[i]);
    }
    return status;
}

enum mw_status mw_network_add_rows(struct mw_network *network)
{
    enum mw_status status = MW_OK;
    for (size_t i = 0; i < network->m && status == MW_OK; i++) {
        status = add_row(network, i);
    }
    return status == MW_OK ? set_blocks(network) : status;
}
