/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * choose - the best two bottles of a stock for a target.
 *
 * The least uncertain pair is the best. Pairs within MW_CHOICE_EQUAL of it are
 * as good as equal: of these the ones whose oils are closest to each other are
 * taken (again within MW_CHOICE_EQUAL, of ln v1/v2), and of these the one with
 * the fewest parts to count out.
 */
#ifndef MIDWEIGHT_ADVICE_CHOOSE_H
#define MIDWEIGHT_ADVICE_CHOOSE_H

#include <stddef.h>

#include "base/status.h"
#include "fluid/oil.h"
#include "table/network.h"

#ifdef __cplusplus
extern "C" {
#endif

/* what is within this part of the best is as good; our own choice */
#define MW_CHOICE_EQUAL 0.1

/** A bottle that may take part. */
struct mw_candidate {
    size_t id; /* the caller's */
    const struct mw_oil *oil;
    double uncertainty; /* standard, of ln v */
    double left;        /* ml; NaN: not known, taken as enough */
};

/** What a pair is wanted for. */
struct mw_wish {
    double target;           /* mm2/s */
    double temperature;      /* degC */
    double batch;            /* ml; 0: not known */
    struct mw_excess excess; /* of silicone oils, and its uncertainty */
};

/** A pair of bottles. */
struct mw_choice {
    size_t thin, thick; /* ids */
    double share;       /* volume fraction of the thick one */
    double uncertainty; /* standard, of ln v of the mix */
};

enum {
    MW_CHOICES = 2 /* the best pair and its runner-up */
};

/**
 * The best pair, and the runner-up.
 *
 * Given:     candidates  n bottles of one family. One that is not known at the
 *                    temperature, is the target itself or empty takes no part;
 *                    nor does one whose uncertainty is negative or no number.
 *            n       any number
 *            wish    what is wanted
 * Returned:  choices the best pair first
 *            count   how many there are, 0 to MW_CHOICES
 * Failures:  MW_ERR_VISCOSITY  the target
 *            MW_ERR_TEMPERATURE
 *            MW_ERR_AMOUNT     the batch
 *            MW_ERR_UNCERTAINTY  of K
 *            MW_ERR_EXCESS  K is not finite, or so large that no mix of a pair
 *                    thickens steadily
 *            MW_ERR_TARGET  no pair reaches the target
 *            MW_ERR_INSUFFICIENT_STOCK  some do, but none with what is left
 * Notes:     a pair is mixed by mw_method_default(). On either side of the
 *            target those looked at are the eight nearest, and in each of ten
 *            bands of |ln v/target| the best known that holds some of, a
 *            quarter, half or all of the batch: the time is that of one pass
 *            over the bottles. A pair more than MW_RATIO_MAX to 1 apart takes
 *            no part.
 */
MW_API enum mw_status mw_choose(const struct mw_candidate *candidates, size_t n,
                                const struct mw_wish *wish,
                                struct mw_choice choices[MW_CHOICES],
                                size_t *count);

/* of the expanded uncertainty of a bottle: what is nearer to the target than
 * this is not worth mixing; our own choice */
#define MW_ALONE 0.25

/**
 * The bottle that is the target already.
 *
 * Given:     candidates, n, wish  as for mw_choose()
 * Returned:  the index of the nearest of those within MW_ALONE of their
 *            expanded uncertainty that hold all of the batch; n where there is
 *            none
 */
MW_API size_t mw_choose_alone(const struct mw_candidate *candidates, size_t n,
                              const struct mw_wish *wish);

#ifdef __cplusplus
}
#endif

#endif
