/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** uncertainty - how sure an answer is that rests on all that is known. */
#ifndef OILS_UNCERTAINTY_H
#define OILS_UNCERTAINTY_H

#include <jansson.h>

#include "midweight.h"
#include "oils/network.h"

struct oils_uncertainty {
    double standard;  /* of ln v */
    double low, high; /* mm2/s, expanded; NaN beyond the range of viscosities */
    struct mw_sources sources;
    struct mw_next_reading next; /* after is NaN where none is advised */
};

/**
 * Find it.
 *
 * Given:    network  solved
 *           mix      of its nodes
 *           v        mm2/s, what the answer is
 * Returned: those of mw_network_mix(); all but the advice
 */
enum mw_status oils_find_uncertainty(const struct stock_network *network,
                                     const struct mw_network_mix *mix, double v,
                                     struct oils_uncertainty *uncertainty);

/** Find what to measure next for it. */
void oils_find_advice(const struct stock_network *network,
                      const struct mw_network_mix *mix,
                      struct oils_uncertainty *uncertainty);

/** Print what contributes most, and what would shrink it. */
void oils_print_uncertainty(const struct stock_network *network,
                            const struct oils_uncertainty *uncertainty);

/** Print all contributions that are worth naming. */
void oils_print_budget(const struct stock_network *network,
                       const struct oils_uncertainty *uncertainty);

/** {k, standard_percent, expanded_percent, low, high, budget}. */
json_t *oils_json_uncertainty(const struct stock_network *network,
                              const struct oils_uncertainty *uncertainty);

/** {name, expanded_percent}, of the answer after it; or null. */
json_t *oils_json_advice(const struct stock_network *network,
                         const struct oils_uncertainty *uncertainty);

#endif
