/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * damper - the force that an oil gives when a piston with holes moves in it.
 *
 * The oil flows through n round holes side by side. The damping is that of
 * laminar flow through them,
 *
 *     c = 128 mu Le A^2/(n pi d^4)        A = pi/4 (bore^2 - shaft^2)
 *     Le = thickness + 3 pi d/16          (both ends of a hole)
 *
 * Reference: Hagen-Poiseuille as in OpenStax, College Physics, chapter 12 (read
 * in print); the end term after R. A. Sampson (1891; read in print), and that
 * it adds to the other after Z. Dagan, S. Weinbaum and R. Pfeffer, J. Fluid
 * Mech. 115 (1982) 505 (from memory).
 *
 * What passes between piston and bore, where the gap h is known, is the flow
 * between parallel plates as wide as the bore goes round, beside the holes:
 *
 *     leak/holes = pi bore h^3/(12 thickness) / (n pi d^4/(128 Le))
 *
 * (textbook, from memory; for a piston in the middle: one that touches the wall
 * leaks up to 2.5 times as much). Damping falls by 1 + leak/holes.
 *
 * What it leaves out: the friction of seals, and any valve. A leak softens
 * every damper, and softens a change of the holes.
 */
#ifndef MIDWEIGHT_DAMPER_DAMPER_H
#define MIDWEIGHT_DAMPER_DAMPER_H

#include "base/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/* from here up the flow in a pipe may turn turbulent (textbook figure, from
 * memory) */
#define MW_LAMINAR_MAX 2000.0

/* from here up the force is no longer in proportion to the speed, as a damping
 * needs; our own limit */
#define MW_KINETIC_SHARE_MAX 0.10

/** A piston with round holes, all alike. */
struct mw_piston {
    int holes;
    double diameter;  /* m, of a hole */
    double thickness; /* m, of the piston: the length of a hole */
};

/** A piston in its tube. */
struct mw_damper {
    struct mw_piston piston;
    double bore;  /* m, inner diameter of the tube */
    double shaft; /* m, diameter; 0 for none on the side that pushes */
    double gap;   /* m, all round the piston; 0 where nothing passes */
};

/** The widest gap, as part of the bore: a wider one is no pair of parallel
 * plates any more (our choice, no source). */
#define MW_GAP_MAX 0.1

/** What happens in a damper at a speed of its shaft. */
struct mw_damper_state {
    double hole_speed;    /* m/s, mean over a hole */
    double reynolds;      /* of the flow in a hole, with its diameter */
    double wall_rate;     /* 1/s, shear at the wall of a hole: 8 V/d */
    double viscous;       /* N, in proportion to the speed */
    double kinetic;       /* N, to the square of the speed */
    double kinetic_share; /* kinetic/(viscous + kinetic) */
    unsigned warnings;    /* MW_WARN_KINETIC, MW_WARN_TURBULENT */
};

/**
 * What passes between piston and bore, whatever the oil and the speed.
 *
 * Given:     damper  holes smaller than the area of the piston, the gap at most
 *                    MW_GAP_MAX of the bore
 * Returned:  leak    flow past the piston over that of its holes
 * Failures:  MW_ERR_LENGTH  also when a size or the holes do not fit
 */
MW_API enum mw_status mw_damper_leak(const struct mw_damper *damper,
                                     double *leak);

/**
 * The damping: force over speed, of the viscous part.
 *
 * Given:     damper  as for mw_damper_leak()
 *            dynamic mPa.s, above zero
 * Returned:  damping N s/m
 * Failures:  MW_ERR_LENGTH  also when a size or the holes do not fit
 *            MW_ERR_VISCOSITY
 */
MW_API enum mw_status mw_damping(const struct mw_damper *damper, double dynamic,
                                 double *damping);

/**
 * The damping ratio, zeta = c/(2 sqrt(k m)).
 *
 * Given:     damping N s/m at the wheel, above zero
 *            spring  N/m at the wheel, above zero
 *            mass    kg on it, above zero
 * Returned:  ratio   1 at critical damping
 * Failures:  MW_ERR_QUANTITY
 * Reference: the definition for a mass on a spring with a viscous damper
 */
MW_API enum mw_status mw_damping_ratio(double damping, double spring,
                                       double mass, double *ratio);

/**
 * Flow and forces at a speed of the shaft.
 *
 * Given:     damper  as for mw_damping()
 *            dynamic mPa.s
 *            density g/ml
 *            speed   m/s, above zero
 * Returned:  state   all of it; NaN and no warnings on failure
 * Failures:  MW_ERR_LENGTH, MW_ERR_VISCOSITY, MW_ERR_DENSITY
 *            MW_ERR_QUANTITY  the speed
 * Notes:     the kinetic part is the pressure m rho V^2, m = 1.16 (from
 *            memory), that the oil needs to get up to its speed V in a hole. A
 *            small Reynolds number does not make it small: the holes are short.
 */
MW_API enum mw_status mw_damper_at(const struct mw_damper *damper,
                                   double dynamic, double density, double speed,
                                   struct mw_damper_state *state);

#ifdef __cplusplus
}
#endif

#endif
