/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * shared_internal - not installed: for the library and its tests alone.
 */
#ifndef MIDWEIGHT_TABLE_SHARED_INTERNAL_H
#define MIDWEIGHT_TABLE_SHARED_INTERNAL_H

#include "table/shared.h"

/**
 * The standard uncertainty that the oils of a mix bring to it.
 *
 * Given:     shared  n oils
 *            swings  n: how ln v of the mix moves with ln v of each
 *            n       1 or more
 * Returned:  the root of the sum, over bottles, of the square of what each does
 *            to the mix through all oils that it is in
 */
double mw_shared_combined(const struct mw_shared *shared, const double *swings,
                          size_t n);

#endif
