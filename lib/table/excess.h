/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * excess - the excess that a family of oils shows in mixes that were measured.
 *
 * A measured mix has its own K = ln(v_measured/v_D7152)/S, where S is the sum
 * of f_i f_j (ln v_i/v_j)^2 over its oils. All such K and the prior are
 * combined by weighted least squares.
 */
#ifndef MIDWEIGHT_TABLE_EXCESS_H
#define MIDWEIGHT_TABLE_EXCESS_H

#include <stddef.h>

#include "base/status.h"
#include "blend/mixture.h"
#include "fluid/oil.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Standard uncertainty of a K from which on a mix determines no excess: beside
 * the prior (0.058) it would weigh less than a hundredth. Our own limit. */
#define MW_TRIAL_MIX_WORTHLESS 0.58

/** An excess and how well it is known. */
struct mw_excess {
    double value;       /* K */
    double uncertainty; /* standard */
};

/** A mix that was measured. */
struct mw_trial_mix {
    const struct mw_oil *oils; /* its n oils at their best values */
    const double *uncertainty; /* n standard uncertainties of ln v */
    const double *shares;      /* n volume fractions that add up to 1 */
    size_t n;                  /* 2 or more */
    double temperature;        /* degC at which it was measured or brought to */
    double measured;           /* mm2/s of the mix there */
    double measured_uncertainty; /* standard, of ln v */
};

/**
 * What one measured mix says of K.
 *
 * Given:     trial_mix  the mix
 *            rule    of D7152 that K is an excess over
 * Returned:  excess  K and its uncertainty, from the reading, from the oils
 *                    and, away from their ratings, from the silicone law
 * Failures:  those of mw_mixture_uncertainty()
 *            MW_ERR_VISCOSITY  the reading is out of range
 *            MW_ERR_UNCERTAINTY  also where nothing at all is uncertain
 *            MW_ERR_TRIAL_MIX  the oils are so close that K is undetermined:
 *                    the uncertainty would be MW_TRIAL_MIX_WORTHLESS or more
 * Notes:     an oil moves v_D7152 and S; both count
 */
MW_API enum mw_status mw_trial_mix_excess(const struct mw_trial_mix *trial_mix,
                                          enum mw_rule rule,
                                          struct mw_excess *excess);

/**
 * Combine the prior and the trial mixes by weighted least squares.
 *
 * Given:     prior   K before any mix was measured
 *            trial_mixes  n excesses of mw_trial_mix_excess(); may be NULL when
 *                    n is 0
 *            n       how many
 * Returned:  fitted
 * Failures:  MW_ERR_UNCERTAINTY  one that is not above zero and finite
 * Notes:     the trial mixes are taken as independent; mixes of the same
 *            bottles share their errors, so the uncertainty of many of them
 *            is larger than this
 */
MW_API enum mw_status mw_fit_excess(const struct mw_excess *prior,
                                    const struct mw_excess *trial_mixes,
                                    size_t n, struct mw_excess *fitted);

#ifdef __cplusplus
}
#endif

#endif
