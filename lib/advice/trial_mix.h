/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * trial_mix - what a small mix of two bottles, made to be measured, would teach
 * of another mix of them: how the pair departs from the standard, above all.
 */
#ifndef MIDWEIGHT_ADVICE_TRIAL_MIX_H
#define MIDWEIGHT_ADVICE_TRIAL_MIX_H

#include "base/status.h"
#include "table/network.h"

#ifdef __cplusplus
extern "C" {
#endif

/* ml of each oil: enough for a cup or a syringe, and little enough to spend
 * (our own choice) */
#define MW_TRIAL_ML 5.0

/**
 * How sure a mix would be after a trial mix was measured at its temperature.
 *
 * Given:     network made
 *            mix     of mw_network_mix(), of two bottles
 *            s       standard uncertainty of the reading, of ln v, above 0; all
 *                    of it random
 * Returned:  after   standard uncertainty of ln v of the mix
 * Failures:  MW_ERR_MEMORY
 *            MW_ERR_READINGS  the mix is not of two bottles
 *            those of mw_network_make() and mw_network_mix()
 * Notes:     allocates and releases: the network is made once more, with the
 *            trial mix as a recorded mix that reads what is expected of it; its
 *            doses are as good as those of a mix whose tool is not known
 */
MW_API enum mw_status mw_trial_mix(const struct mw_network *network,
                                   const struct mw_network_mix *mix, double s,
                                   double *after);

#ifdef __cplusplus
}
#endif

#endif
