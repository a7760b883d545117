/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** best - bottles at the best value that all readings give them. */
#ifndef OILS_BEST_H
#define OILS_BEST_H

#include "midweight.h"
#include "oils/network.h"
#include "store/bottle.h"
#include "store/stock.h"

/** Bring a bottle to what a solved network says of it; a remark where something
 * contradicts the rest. */
void bottle_adjust_by(const struct stock_network *network,
                      struct bottle *bottle, struct error *error);

/** Bring a bottle to what all that the stock knows says of it; a remark where
 * something contradicts the rest. */
enum exit_code bottle_adjust(struct stock *stock, struct bottle *bottle,
                             struct error *error);

/**
 * How sure a bottle that was adjusted is at a temperature that nobody read.
 *
 * Given:    network  solved
 *           t        degC
 * Returned: u        standard uncertainty of ln v; NaN where it is not known
 */
double bottle_uncertainty_at(const struct stock_network *network,
                             const struct bottle *bottle, double t);

/**
 * All bottles that are there, in the order they were added, each brought to
 * what all that the stock knows says of it.
 *
 * Returned: bottles  must outlive the network
 *           network  solved, of those that anything is known of but a label;
 *                    stock_network_free() it whatever the outcome
 */
enum exit_code bottles_load_best(struct stock *stock, struct bottles *bottles,
                                 struct stock_network *network,
                                 struct error *error);

#endif
