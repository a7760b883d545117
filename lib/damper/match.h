/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * match - the oil that keeps the damping ratio when the day, the spring, the
 * mass or the piston changes.
 *
 * From zeta = c/(2 sqrt(k m)) and the damping c of damper.h, the dynamic
 * viscosity has to change by
 *
 *     mu2/mu1 = sqrt(k2/k1) sqrt(m2/m1) (n2 d2^4/Le2)/(n1 d1^4/Le1)
 *
 * Bore and shaft do not enter. The factors are given one by one; their product
 * goes into mw_hold_oil(), which adds the temperature.
 */
#ifndef MIDWEIGHT_DAMPER_MATCH_H
#define MIDWEIGHT_DAMPER_MATCH_H

#include <stdbool.h>

#include "base/status.h"
#include "damper/damper.h"
#include "fluid/oil.h"

#ifdef __cplusplus
extern "C" {
#endif

/** What keeps the damping from one state to another. */
struct mw_hold {
    double before;    /* mPa.s of the oil, before */
    double unchanged; /* mPa.s of the same oil after; NaN: not known there */
    double wanted;    /* mPa.s after */
    double viscosity; /* mm2/s after: that which gives the dynamic one */
    double change;    /* of the damping ratio if the oil stays, unchanged/wanted
                         - 1; times 100 it is per cent */
    unsigned warnings; /* a set of enum mw_warning */
};

/**
 * The factor on viscosity for a change of spring or of mass.
 *
 * Given:     from, to  N/m or kg, any unit that both share; above zero
 * Returned:  factor  sqrt(to/from)
 * Failures:  MW_ERR_QUANTITY
 */
MW_API enum mw_status mw_hold_factor(double from, double to, double *factor);

/**
 * The factor on viscosity for a change of piston.
 *
 * Given:     from, to  thickness NaN in both where it is not known, but equal
 * Returned:  factor  (n2 d2^4/Le2)/(n1 d1^4/Le1); without thickness
 *                    n2 d2^4/(n1 d1^4)
 *            warnings  MW_WARN_ENDS is added when there is no thickness; may be
 *                    NULL
 * Failures:  MW_ERR_LENGTH  also when only one thickness is known
 * Notes:     leakage past the piston brings the true factor nearer to one;
 *            mw_hold_damper() counts it
 */
MW_API enum mw_status mw_hold_piston(const struct mw_piston *from,
                                     const struct mw_piston *to, double *factor,
                                     unsigned *warnings);

/**
 * The same for a change of piston in a bore that is known, with what passes
 * between them.
 *
 * Given:     from, to  as for mw_damping()
 * Returned:  factor  of their dampings at one viscosity, from over to
 * Failures:  those of mw_damping()
 */
MW_API enum mw_status mw_hold_damper(const struct mw_damper *from,
                                     const struct mw_damper *to,
                                     double *factor);

/**
 * The viscosity that keeps the damping ratio.
 *
 * Given:     oil     in the damper now
 *            t_from, t_to  degC, before and after
 *            factor  product of the factors above, 1 for temperature alone
 * Returned:  hold    all of it; NaN and no warnings on failure
 * Failures:  MW_ERR_QUANTITY  factor is not above zero
 *            MW_ERR_VISCOSITY  the viscosity wanted is out of range
 *            those of mw_oil_at() at t_from and at t_to; but a mineral oil that
 *            is known at t_from only is no failure: unchanged and change are
 *            NaN then
 * Notes:     densities are included: what is held is dynamic viscosity. The
 *            oil wanted has the density stated for this one, or the usual one
 *            of its own grade where none is stated.
 */
MW_API enum mw_status mw_hold_oil(const struct mw_oil *oil, double t_from,
                                  double t_to, double factor,
                                  struct mw_hold *hold);

/**
 * Whether a change of the damping matters: whether it is more than the oil of a
 * bottle is uncertain by.
 *
 * Given:     change  of the damping ratio, such as -0.25; above -1
 *            u       standard uncertainty of ln v of the bottle
 * Returned:  whether |ln(1 + change)| is over the expanded uncertainty, k = 2;
 *            false for NaN
 */
MW_API bool mw_change_matters(double change, double u);

/**
 * The damping with an available oil.
 *
 * Given:     oil     any
 *            t       degC, after
 *            wanted  mPa.s after, such as mw_hold.wanted
 * Returned:  change  of the damping ratio against the one to keep; times 100 it
 *                    is per cent
 *            miss    ln(1 + change): of several oils the one with the smallest
 *                    size of it comes nearest
 * Failures:  MW_ERR_VISCOSITY  wanted is not above zero
 *            those of mw_oil_at()
 */
MW_API enum mw_status mw_hold_with(const struct mw_oil *oil, double t,
                                   double wanted, double *change, double *miss);

/**
 * The rating of the oil that has a viscosity at a temperature: what to look
 * for on the bottle.
 *
 * Given:     oil     the oil that it replaces
 *            viscosity  mm2/s at t, such as mw_hold.viscosity
 *            t       degC
 *            t_rating  degC at which bottles are rated, such as
 *                    mw_family_rating_t() or the oil's own
 * Returned:  rating  mm2/s at t_rating
 * Failures:  MW_ERR_NO_LAW  mineral oil: another oil has another slope, and the
 *                    viscosity at t is all that can be said
 *            MW_ERR_VISCOSITY, those of mw_oil_viscosity()
 * Notes:     silicone grades share one law, so that the new oil follows the old
 *            one at a constant ratio. For silicone known by its own line that
 *            line takes the place of the law.
 */
MW_API enum mw_status mw_hold_rating(const struct mw_oil *oil, double viscosity,
                                     double t, double t_rating, double *rating);

#ifdef __cplusplus
}
#endif

#endif
