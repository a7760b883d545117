/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * pairing - two bottles of a choice: what their mix is judged by, first by an
 * estimate that needs no logarithm, then solved. Internal to the library.
 */
#ifndef MIDWEIGHT_ADVICE_PAIRING_H
#define MIDWEIGHT_ADVICE_PAIRING_H

#include <math.h>

#include "advice/choose.h"

/** What is wanted of a pair. */
struct mw_wish {
    double target, ln_target; /* mm2/s */
    double w, slope;          /* of the target: W and d ln v/dW */
    double batch;             /* ml */
    struct mw_excess excess;
};

/** Two bottles that take part, on either side of the target. */
struct mw_pairing {
    const struct mw_candidate *thin, *thick;
    double estimate; /* of its variance */
    double share;    /* of the thick one */
    double variance; /* of ln v */
};

/** K (ln v1/v2)^2: ln v is lifted by lift f (1 - f) */
static inline double mw_pairing_lift(const struct mw_wish *wish,
                                     const struct mw_candidate *thin,
                                     const struct mw_candidate *thick)
{
    double ln_ratio = thick->ln_v - thin->ln_v;
    return wish->excess.value * ln_ratio * ln_ratio;
}

/**
 * With ln v = ln v_plain + K f1 f2 (ln v1/v2)^2, ln v moves with an oil by its
 * share times the ratio of slopes of the chart (of the plain mix and of the
 * oil), and by 2 K f1 f2 ln v1/v2; with K by f1 f2 (ln v1/v2)^2.
 */
static inline double mw_pairing_variance(const struct mw_excess *excess,
                                         double slope,
                                         const struct mw_candidate *thin,
                                         const struct mw_candidate *thick,
                                         double share)
{
    double ln_ratio = thick->ln_v - thin->ln_v;
    double spread = share * (1 - share) * ln_ratio;
    double bend = 2 * excess->value * spread;
    double by_thin =
        ((1 - share) * slope / thin->slope - bend) * thin->uncertainty;
    double by_thick =
        (share * slope / thick->slope + bend) * thick->uncertainty;
    double by_excess = spread * ln_ratio * excess->uncertainty;
    return by_thin * by_thin + by_thick * by_thick + by_excess * by_excess;
}

/**
 * The share where the chart is straight in ln v, with one slope s = d ln v/dW:
 * the root f of s (W(f) - W(target)) + lift f (1 - f). ln v is convex in W. So
 * with the slope at the target f is never less than the share, and with that of
 * the chord from the target to the oil on whose side the plain mix lies (the
 * thin one where the lift is up) never more.
 */
static inline double mw_straight_share(const struct mw_wish *wish, double slope,
                                       const struct mw_candidate *thin,
                                       const struct mw_candidate *thick)
{
    double lift = mw_pairing_lift(wish, thin, thick);
    double rise = slope * (thick->w - thin->w);
    double plain = slope * (wish->w - thin->w);
    double sum = rise + lift;
    return 2 * plain / (sum + sqrt(sum * sum - 4 * lift * plain));
}

/**
 * Solve a pair for the target.
 *
 * Given:     wish    what is wanted
 *            pairing its share by mw_straight_share() with the slope at the
 *                    target
 * Returned:  pairing its share and its variance as they are; on MW_OK only
 * Failures:  MW_ERR_TARGET  more than MW_RATIO_MAX to 1 apart
 *            MW_ERR_EXCESS  the mix would not thicken steadily with the share
 *            MW_ERR_INSUFFICIENT_STOCK    one of them holds too little
 */
enum mw_status mw_pairing_solve(const struct mw_wish *wish,
                                struct mw_pairing *pairing);

#endif
