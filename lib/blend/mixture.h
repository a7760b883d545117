/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * mixture - the whole job on oils: which share gives the oil in between, and
 * what a mix is, at the temperature asked for.
 *
 * Every oil is brought to that temperature first, each by its own law; then the
 * rules of rule.h apply.
 */
#ifndef MIDWEIGHT_BLEND_MIXTURE_H
#define MIDWEIGHT_BLEND_MIXTURE_H

#include <stdbool.h>
#include <stddef.h>

#include "base/status.h"
#include "blend/rule.h"
#include "fluid/oil.h"

#ifdef __cplusplus
extern "C" {
#endif

/* K for silicone. Measured blends of 1000 with 5000 mm2/s and of 1000 with a
 * 2.5e6 mm2/s silicone (Br. J. Ophthalmol. 95 (2011) 273, abstract, read in
 * print; component values nominal, temperature not stated, the 2.5e6 from
 * memory) give K = 0.248 and 0.183; two of thin siloxanes, under 7 mm2/s, K =
 * 0.12 and 0.20 (reference/siloxane_blends.csv). 0.20 is our choice, in a band
 * of 0.10 to 0.30; nothing measured was found between 7 and 1000 mm2/s, where
 * the band is wider (MW_EXCESS_GRADE). */
#define MW_SILICONE_EXCESS 0.20

/* above this the excess term is not supported by anything measured; our own
 * limit */
#define MW_RATIO_MAX 1000.0

/* from here up the rules disagree by so much (15 % for linear against log) that
 * a trial mix is worth its oil; our own limit */
#define MW_RATIO_WIDE 3.0

/**
 * How to blend: a rule of the standard, and K of the excess (0: none),
 *
 *     ln(v/v_D7152) = K sum_{i<j} f_i f_j (ln v_i/v_j)^2
 *
 * Reference: the form is that of L. Grunberg and A. H. Nissan, Nature 164
 *            (1949) 799; the sum equals the weighted variance of ln v
 */
struct mw_method {
    enum mw_rule rule;
    double excess;
};

/**
 * The method for a set of oils when the user names none: silicone by ASTM with
 * the excess of silicone; mineral oil by Wright where every oil is known at two
 * temperatures, else by ASTM.
 *
 * Given:     oils    n oils of one family
 *            n       1 or more
 * Returned:  method
 * Failures:  MW_ERR_FAMILY
 */
MW_API enum mw_status mw_method_default(const struct mw_oil *oils, size_t n,
                                        struct mw_method *method);

/**
 * The blend of any number of oils.
 *
 * Given:     oils    n oils of one family, each brought to t first
 *            shares  n volume fractions; they add up to 1
 *            n       1 or more
 *            t       degC
 *            method  rule and excess
 * Returned:  v       mm2/s at t
 *            warnings  set of enum mw_warning, none on failure; may be NULL
 * Failures:  MW_ERR_FAMILY, MW_ERR_SHARES, MW_ERR_NO_LINE, MW_ERR_EXCESS
 *            MW_ERR_RATIO  the thickest is over 1000 times the thinnest at t
 *            those of mw_oil_viscosity()
 */
MW_API enum mw_status mw_mixture(const struct mw_oil *oils,
                                 const double *shares, size_t n, double t,
                                 const struct mw_method *method, double *v,
                                 unsigned *warnings);

/**
 * The share that gives a viscosity at a temperature, from two oils.
 *
 * Given:     pair    two oils of one family
 *            target  mm2/s at t
 *            t       degC
 *            method  rule and excess
 * Returned:  share   volume fraction of the second oil; mw_mixture() with it
 *                    gives the target to 1e-10, where the points that an
 *                    oil's line is drawn through are a degree or more apart
 *            warnings  as for mw_mixture(); may be NULL
 * Failures:  those of mw_mixture(); MW_ERR_TARGET, MW_ERR_EQUAL_VISCOSITY
 *            MW_ERR_EXCESS  the mix would not thicken steadily with the share
 *                    of the thicker oil, so that the answer is not unique
 * Notes:     closed form for no excess; otherwise a bracketing root. That the
 *            blend is monotonic is proven before the root is sought, by a lower
 *            bound of d ln v/df over each of up to 64 parts of 0..1.
 */
MW_API enum mw_status mw_mixture_share(const struct mw_oil pair[2],
                                       double target, double t,
                                       const struct mw_method *method,
                                       double *share, unsigned *warnings);

/**
 * The oil that comes nearest to a viscosity on its own.
 *
 * Given:     oils    n oils of any family
 *            n       1 or more
 *            target  mm2/s at t, above zero
 *            t       degC
 * Returned:  nearest index of the oil; n on failure
 *            v       its viscosity at t, mm2/s
 * Failures:  MW_ERR_VISCOSITY  the target is not above zero
 *            that of the last oil, when none is known at t
 */
MW_API enum mw_status mw_mixture_nearest(const struct mw_oil *oils, size_t n,
                                         double target, double t,
                                         size_t *nearest, double *v);

/**
 * The density of a mix, as a bottle states it.
 *
 * Given:     oils    n oils of one family
 *            shares  n volume fractions that add up to 1
 *            n       1 or more
 * Returned:  density g/ml at mw_family_density_t(); NaN where no oil states
 *                    one, so that the usual density of the mix itself is taken
 * Failures:  MW_ERR_SHARES
 *            MW_ERR_FAMILY  oils of two families
 *            those of mw_oil_density()
 * Notes:     volumes are taken to add up, and oils of one family to expand
 *            alike, so that shares are the same at every temperature. An oil
 *            without a density of its own has the usual one.
 */
MW_API enum mw_status mw_mixture_density(const struct mw_oil *oils,
                                         const double *shares, size_t n,
                                         double *density);

/**
 * The viscosity halfway between two on a logarithmic scale: the oil to mix over
 * when a pair is too wide.
 *
 * Given:     v1, v2  mm2/s, above zero
 * Returned:  sqrt(v1 v2)
 */
MW_API double mw_mixture_midway(double v1, double v2);

#ifdef __cplusplus
}
#endif

#endif
