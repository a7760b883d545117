/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** pair_mix - what two oils of the stock give together. */
#ifndef OILS_PAIR_MIX_H
#define OILS_PAIR_MIX_H

#include "midweight.h"
#include "oils/network.h"

/** A mix of two: what else there is to say of it takes the command mix. */
struct pair_mix {
    double share;       /* volume fraction of the second */
    double uncertainty; /* standard, of ln v */
};

/**
 * Mix two oils.
 *
 * Given:    network  solved
 *           nodes    theirs
 *           target   mm2/s at degC
 *           thermometer  K, limits of how that temperature is known
 *           method   a rule and K to take as exact; NULL: by all that is known
 * Returned: mix; those of mw_mix_answer()
 */
enum mw_status pair_mix_find(const struct stock_network *network,
                             const size_t nodes[2],
                             const struct mw_point *target, double thermometer,
                             const struct mw_method *method,
                             struct pair_mix *mix);

#endif
