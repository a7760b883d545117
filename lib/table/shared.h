/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * shared - errors that oils have in common, because one bottle is in several of
 * them.
 *
 * The error of ln v of an oil is a sum of independent parts, one for each
 * bottle it comes from. Parts of one bottle in two oils add up with their
 * signs, which is more than independent errors would make.
 *
 * Reference: JCGM 100:2008 (GUM), 5.2: correlated input quantities
 */
#ifndef MIDWEIGHT_TABLE_SHARED_H
#define MIDWEIGHT_TABLE_SHARED_H

#include <stddef.h>

#include "base/status.h"

#ifdef __cplusplus
extern "C" {
#endif

enum {
    MW_SHARED_MAX = 32 /* bottles whose parts are kept apart; our own limit */
};

/** The parts of an oil's error; starts as all zero. */
struct mw_shared {
    size_t count;
    struct {
        long long bottle; /* any number that names it */
        double part;      /* of ln v, for one standard deviation of its error */
    } list[MW_SHARED_MAX];
};

/**
 * Add a part.
 *
 * Given:     shared  starts as all zero
 *            bottle  what it comes from
 *            part    of ln v; a part of the same bottle is added to it
 * Returned:  shared  with the part; unchanged where there is no room for one
 *                    more bottle, whose part mw_shared_complete() counts
 */
MW_API void mw_shared_add(struct mw_shared *shared, long long bottle,
                          double part);

/**
 * Add the parts of the oils that an oil was mixed from.
 *
 * Given:     shared  starts as all zero
 *            oils    n oils with their parts
 *            swings  n: how ln v of the mix moves with ln v of each
 *            n       how many
 *            weight  how much of what was calculated is left, 0 to 1
 * Returned:  shared  with their parts
 */
MW_API void mw_shared_add_mix(struct mw_shared *shared,
                              const struct mw_shared *oils,
                              const double *swings, size_t n, double weight);

/**
 * How much of what a label says is left in the best value of a bottle.
 *
 * Given:     tolerance  of the label, a fraction, rectangular limits
 *            u       standard uncertainty of ln v of the best value
 * Returned:  (u/u_label)^2, as in a weighted mean, 1 at most; NaN where the
 *            tolerance is not above zero
 */
MW_API double mw_label_weight(double tolerance, double u);

/**
 * Bring the parts to the uncertainty of the oil.
 *
 * Given:     shared  parts of other bottles
 *            bottle  the oil's own
 *            u       standard uncertainty of its ln v, zero or more
 * Returned:  shared  with a part of its own, so that all together are u; where
 *                    they are more than u already, they are brought down to it
 */
MW_API void mw_shared_complete(struct mw_shared *shared, long long bottle,
                               double u);

#ifdef __cplusplus
}
#endif

#endif
