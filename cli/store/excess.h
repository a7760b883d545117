/* SPDX-License-Identifier: GPL-3.0-or-later */
/** excess - the excess term fitted to the trial mixes of the stock. */
#ifndef STORE_EXCESS_H
#define STORE_EXCESS_H

#include <stddef.h>

#include "midweight.h"
#include "store/stock.h"

/**
 * The excess of silicone from the usual one and all recorded mixes that were
 * measured since.
 *
 * Returned: excess   the usual one where there is no such mix, or no stock
 *           trial_mixes  how many mixes the fit rests on
 */
enum exit_code stock_excess(struct stock *stock, struct mw_excess *excess,
                            size_t *trial_mixes, struct error *error);

#endif
