/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * residue - oil that is left over on the walls, and what it does to a mix that
 * is poured onto it.
 *
 * It takes part as a third oil: either the two that are poured make up for it,
 * or it shifts the mix, and then by how much.
 */
#ifndef MIDWEIGHT_BLEND_RESIDUE_H
#define MIDWEIGHT_BLEND_RESIDUE_H

#include "base/status.h"
#include "blend/mixture.h"
#include "fluid/oil.h"

#ifdef __cplusplus
extern "C" {
#endif

/**
 * What a mix of two oils becomes with what is left over.
 *
 * Given:     oils    the two that are poured, then the one left over; one
 *                    family; it may be one of the two once more
 *            part    of the whole that is left over, ml/ml, 0 up to below 1
 *            share   of the second oil in what is poured, 0 to 1
 *            t       degC
 *            method  rule and excess
 * Returned:  v       mm2/s at t of the whole; against the viscosity of the
 *                    same share without it, this is the shift
 *            warnings  set of enum mw_warning; may be NULL
 * Failures:  MW_ERR_SHARES, those of mw_mixture()
 */
MW_API enum mw_status mw_residue_mixture(const struct mw_oil oils[3],
                                         double part, double share, double t,
                                         const struct mw_method *method,
                                         double *v, unsigned *warnings);

/**
 * The share to pour so that the whole, with what is left over, has a viscosity.
 *
 * Given:     oils, part, t, method  as above
 *            target  mm2/s at t of the whole
 * Returned:  share   of the second oil in what is poured, that is in the whole
 *                    less what is left over
 *            warnings  as above
 * Failures:  MW_ERR_SHARES, those of mw_mixture()
 *            MW_ERR_TARGET  no share makes up for it; mw_residue_mixture()
 *                    then gives the shift
 *            MW_ERR_EQUAL_VISCOSITY  the two that are poured are alike
 *            MW_ERR_EXCESS  the whole does not thicken steadily with the share
 *                    of the thicker oil (looked at in 32 steps), so that the
 *                    answer is not unique
 */
MW_API enum mw_status mw_residue_share(const struct mw_oil oils[3], double part,
                                       double target, double t,
                                       const struct mw_method *method,
                                       double *share, unsigned *warnings);

#ifdef __cplusplus
}
#endif

#endif
