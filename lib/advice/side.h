/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * side - which bottles on either side of a target are looked at for a pair.
 * Internal to the library.
 *
 * The nearest, and in each band of |ln v/target| the best known of those that
 * hold some of, a quarter, half or all of the batch. The nearest alone miss a
 * pair in a third of the stocks with bottles that are nearly empty or alike;
 * with the bands none was missed (tried).
 */
#ifndef MIDWEIGHT_ADVICE_SIDE_H
#define MIDWEIGHT_ADVICE_SIDE_H

#include <stddef.h>

#include "advice/choose.h"

enum {
    MW_SIDE_NEAREST = 8,
    MW_SIDE_BANDS = 10,
    MW_SIDE_LEVELS = 4,
    MW_SIDE_MAX = MW_SIDE_NEAREST + MW_SIDE_BANDS * MW_SIDE_LEVELS
};

/** A bottle that is looked at. */
struct mw_seen {
    const struct mw_candidate *candidate;
    double v;    /* mm2/s at the temperature */
    double away; /* |ln v/target| */
};

/** One side of the target; starts as all zero. */
struct mw_side {
    struct mw_seen nearest[MW_SIDE_NEAREST];
    size_t count;
    struct mw_seen best[MW_SIDE_BANDS][MW_SIDE_LEVELS];
};

/**
 * Given:     candidates  n bottles
 *            n       any number
 *            wish    what is wanted
 * Returned:  sides   those thinner than the target, and those thicker
 */
void mw_sides_fill(const struct mw_candidate *candidates, size_t n,
                   const struct mw_wish *wish, struct mw_side sides[2]);

/**
 * Given:     side    of mw_sides_fill()
 * Returned:  list    each of its bottles once
 *            how many
 */
size_t mw_side_list(const struct mw_side *side,
                    struct mw_seen list[MW_SIDE_MAX]);

#endif
