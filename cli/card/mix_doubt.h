/* SPDX-License-Identifier: GPL-3.0-or-later */
/** mix_doubt - within which limits a mix of a pair lies. */
#ifndef CARD_MIX_DOUBT_H
#define CARD_MIX_DOUBT_H

#include "blend_pair.h"

/**
 * Given:     pair
 *            share  of the second oil
 * Returned:  low, high  mm2/s, k = 2; NaN where they cannot be told
 */
void mix_doubt(const struct blend_pair *pair, double share, double *low,
               double *high);

#endif
