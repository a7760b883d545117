/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * choose - which two bottles of many make a viscosity best.
 *
 * A pair has to reach the target with what is left of it. Of those, the least
 * uncertain wins; of pairs as good as equal in that, the one whose parts are
 * the smaller whole numbers (one without a part of an oil comes last).
 */
#ifndef MIDWEIGHT_ADVICE_CHOOSE_H
#define MIDWEIGHT_ADVICE_CHOOSE_H

#include <stddef.h>

#include "base/status.h"
#include "table/excess.h"

#ifdef __cplusplus
extern "C" {
#endif

/* uncertainties within this part of each other are as good as equal; our own
 * choice */
#define MW_CHOICE_EQUAL 0.05

/** A bottle that may take part. */
struct mw_candidate {
    size_t id;          /* the caller's: the order changes */
    double viscosity;   /* mm2/s at the target's temperature */
    double uncertainty; /* standard, of ln v there */
    double left;        /* ml; NaN: not known, taken as enough */
    /* filled in by mw_choose() */
    double w, slope, ln_v;
};

/** A pair of bottles. */
struct mw_choice {
    size_t thin, thick; /* ids */
    double share;       /* volume fraction of the thick one */
    double uncertainty; /* standard, of ln v of the mix */
    int parts[2];       /* of thin and thick, whole numbers; 1 and 0 where the
                           share of an oil is too small for them */
};

enum {
    MW_CHOICES = 2 /* the best pair and its runner-up */
};

/**
 * The best pair, and the runner-up.
 *
 * Given:     candidates  n bottles of one family, at one temperature; their
 *                    order and working fields are changed. One that is
 *                    out of range (0.21 to 2e7 mm2/s), the target itself or
 *                    empty takes no part; nor does one whose uncertainty is
 *                    negative or no number.
 *            n       any number
 *            target  mm2/s
 *            batch   ml wanted, or 0 where no batch is known
 *            excess  K by the ASTM rule, and its uncertainty
 * Returned:  choices the best pair first
 *            count   how many there are, 0 to MW_CHOICES
 * Failures:  MW_ERR_VISCOSITY  the target
 *            MW_ERR_AMOUNT     the batch
 *            MW_ERR_UNCERTAINTY  of K
 *            MW_ERR_EXCESS  K is not finite, or so large that no mix of a pair
 *                    thickens steadily
 *            MW_ERR_TARGET  no pair reaches the target
 *            MW_ERR_INSUFFICIENT_STOCK  some do, but none with what is left
 * Notes:     a pair more than MW_RATIO_MAX to 1 apart takes no part. Every pair
 *            is judged by an estimate of its uncertainty that needs no
 *            logarithm, good to 3 % up to 10 to 1 (computed). Of those that
 *            have enough left, the 64 best are solved, and the rules above
 *            decide among these.
 */
MW_API enum mw_status mw_choose(struct mw_candidate *candidates, size_t n,
                                double target, double batch,
                                const struct mw_excess *excess,
                                struct mw_choice choices[MW_CHOICES],
                                size_t *count);

#ifdef __cplusplus
}
#endif

#endif
