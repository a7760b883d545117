/* SPDX-License-Identifier: GPL-3.0-or-later */
/** learned - the excess that the mixes recorded in the stock have taught. */
#ifndef CLI_LEARNED_H
#define CLI_LEARNED_H

#include <stddef.h>

#include "midweight.h"
#include "store/stock.h"

/**
 * The excess of silicone from the usual one and all recorded mixes that were
 * measured since.
 *
 * Returned: excess   the usual one where there is no such mix, or no stock
 *           trial mixes  how many mixes taught something
 */
enum exit_code stock_excess(struct stock *stock, struct mw_excess *excess,
                            size_t *trial_mixes, struct error *error);

#endif
