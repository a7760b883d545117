/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * oil_internal - not installed: for the library and its tests alone.
 */
#ifndef MIDWEIGHT_FLUID_OIL_INTERNAL_H
#define MIDWEIGHT_FLUID_OIL_INTERNAL_H

#include "fluid/oil.h"

/**
 * The same oil, thicker or thinner by one factor at each of its points.
 *
 * Given:     oil     made
 *            factor  above zero
 * Returned:  scaled  on MW_OK; its numbers are NaN otherwise
 * Failures:  those of mw_oil_make()
 * Notes:     under the silicone law that is one factor at every temperature. A
 *            line of its own is drawn anew: 32 at 40 and 5.4 at 100 C made 10 %
 *            thicker there is so at 60 C too, but 2.2 % thicker at -20 C.
 */
enum mw_status mw_oil_scaled(const struct mw_oil *oil, double factor,
                             struct mw_oil *scaled);

#endif
