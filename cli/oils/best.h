/* SPDX-License-Identifier: GPL-3.0-or-later */
/** best - bottles at the best value that all readings give them. */
#ifndef OILS_BEST_H
#define OILS_BEST_H

#include "midweight.h"
#include "store/bottle.h"
#include "store/stock.h"

/** Bring a bottle to what all that the stock knows says of it; a remark where
 * something contradicts the rest. */
enum exit_code bottle_adjust(struct stock *stock, struct bottle *bottle,
                             struct error *error);

/** All bottles that are there, as bottles_load() does, each brought to what all
 * that the stock knows says of it. */
enum exit_code bottles_load_best(struct stock *stock, struct bottles *bottles,
                                 struct error *error);

/**
 * K of silicone oils that have not been mixed yet.
 *
 * Given:    thin  one of them is rated below MW_EXCESS_GRADE
 * Returned: excess  and its uncertainty
 *           trial_mixes  readings of recorded mixes that it rests on
 */
enum exit_code stock_excess(struct stock *stock, bool thin,
                            struct mw_excess *excess, size_t *trial_mixes,
                            struct error *error);

#endif
