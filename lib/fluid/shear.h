/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * shear - where a silicone oil begins to thin.
 *
 * At a high rate of shear long molecules line up and the oil gets thinner. What
 * is said here is the onset, where 5 % are lost, and nothing of how it goes on.
 *
 *     stress = 0.07 rho R T/M          rate = stress/dynamic viscosity
 *     log10 v25 = 1.00 + 0.0123 sqrt(M)     v25 in mm2/s, M in g/mol
 *
 * An estimate, good to a factor of 2 to 3: M follows from a mean viscosity, and
 * a mix with a thick part thins earlier than one oil of its viscosity.
 *
 * Reference: the measured curve of Das et al., J. Polym. Sci. (second-hand):
 *            0.07 is its stress of 1.0 kPa; the grade after A. J. Barry, J.
 *            Appl. Phys. 17 (1946) 1020 (from memory)
 */
#ifndef MIDWEIGHT_FLUID_SHEAR_H
#define MIDWEIGHT_FLUID_SHEAR_H

#include "base/status.h"
#include "fluid/oil.h"

#ifdef __cplusplus
extern "C" {
#endif

/* mm2/s at 25 C: Barry's law holds for molar masses above 2500 g/mol (from
 * memory), which is this viscosity by it */
#define MW_SHEAR_V25_MIN 41.2

/* mm2/s: oils from here up thin in what is quick by hand; our own limit, by
 * which answers say it unasked */
#define MW_SHEAR_THICK 10000.0

/* how far the onset may be off: a factor */
#define MW_SHEAR_FACTOR 3.0

/** Where 5 % of the viscosity are lost. */
struct mw_shear {
    double molar_mass; /* g/mol, by the grade */
    double stress;     /* Pa, at the wall */
    double rate;       /* 1/s, likewise */
};

/**
 * The onset of shear thinning.
 *
 * Given:     oil     silicone, of MW_SHEAR_V25_MIN at 25 C or more
 *            t       degC
 * Returned:  onset   all of it; NaN on failure
 * Failures:  MW_ERR_FAMILY     no silicone oil
 *            MW_ERR_VISCOSITY  a thinner one
 *            those of mw_oil_at()
 */
MW_API enum mw_status mw_shear_onset(const struct mw_oil *oil, double t,
                                     struct mw_shear *onset);

/**
 * Whether an oil thins at a rate of shear.
 *
 * Given:     oil, t  as above
 *            rate    1/s
 * Returned:  MW_WARN_SHEAR above the onset; 0 below, and where none is known
 */
MW_API unsigned mw_shear_warnings(const struct mw_oil *oil, double t,
                                  double rate);

/**
 * The stress at the onset.
 *
 * Given:     molar_mass  g/mol, above zero
 *            density g/ml, above zero
 *            t       degC, above absolute zero
 * Returned:  Pa
 */
double mw_shear_stress(double molar_mass, double density, double t);

#ifdef __cplusplus
}
#endif

#endif
