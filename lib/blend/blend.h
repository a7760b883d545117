/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * blend - what oils give together, and which share gives the oil in between.
 *
 * The method is ASTM D7152, Practice for Calculating Viscosity of a Blend of
 * Petroleum Products: procedures A (Wright) and C (ASTM) forward, B and D
 * backward. Scope and preference were read in print; the letters and the
 * equations are from memory.
 *
 * Departures from the standard:
 *   - shares are of volume, viscosities kinematic;
 *   - the inverse of Z is solved, see walther.h;
 *   - Wright's rule is written with the temperature L = (A - W)/B at which an
 *     oil has W, which is the same algebra: X = sum f L;
 *   - silicone is outside the scope of the standard, which reads low on it, so
 *     an excess term may be added, see mw_blend_excess().
 */
#ifndef MW_BLEND_H
#define MW_BLEND_H

#include <stddef.h>

#include "base/status.h"
#include "fluid/walther.h"

#ifdef __cplusplus
extern "C" {
#endif

/** A rule of D7152: ASTM needs one temperature, Wright two for each oil. */
enum mw_rule { MW_RULE_ASTM, MW_RULE_WRIGHT };

/**
 * The name of a rule.
 *
 * Given:     rule    any rule
 * Returned:  "astm" or "wright"; "?" for an invalid value
 */
MW_API const char *mw_rule_name(enum mw_rule rule);

/**
 * The rule with a name: the inverse of mw_rule_name().
 *
 * Given:     name    "astm" or "wright"
 * Returned:  rule    written on MW_OK only
 * Failures:  MW_ERR_NAME
 */
MW_API enum mw_status mw_rule_from_name(const char *name, enum mw_rule *rule);

/**
 * Procedure C: the blend of oils known at one temperature,
 * W = sum f W_i.
 *
 * Given:     v       n viscosities, mm2/s, all at one temperature
 *            shares  n volume fractions; they add up to 1
 *            n       1 or more
 * Returned:  blend   mm2/s at that temperature
 * Failures:  MW_ERR_VISCOSITY, MW_ERR_SHARES
 */
MW_API enum mw_status mw_blend_astm(const double *v, const double *shares,
                                    size_t n, double *blend);

/**
 * Procedure D: the share that gives a viscosity, from two oils known at one
 * temperature, f_2 = (W_target - W_1)/(W_2 - W_1).
 *
 * Given:     v1, v2  mm2/s, all three at one temperature
 *            target  mm2/s
 * Returned:  share   volume fraction of the second oil
 * Failures:  MW_ERR_VISCOSITY
 *            MW_ERR_TARGET  the target is not between the oils
 *            MW_ERR_EQUAL_VISCOSITY   both oils have the target's viscosity
 */
MW_API enum mw_status mw_blend_astm_share(double v1, double v2, double target,
                                          double *share);

/**
 * Procedure A: the blend of oils known as D341 lines, X = sum f L_i(W).
 *
 * Given:     lines   n lines, each falling (b above zero)
 *            shares  n volume fractions; they add up to 1
 *            n       1 or more
 *            t       degC
 * Returned:  blend   mm2/s at t
 * Failures:  MW_ERR_VISCOSITY, MW_ERR_TEMPERATURE, MW_ERR_SHARES
 *            MW_ERR_NO_LINE  a line that does not fall, or is NaN
 */
MW_API enum mw_status mw_blend_wright(const struct mw_line *lines,
                                      const double *shares, size_t n, double t,
                                      double *blend);

/**
 * Procedure B: the share that gives a viscosity at a temperature, from two oils
 * known as D341 lines, f_2 = (X - L_1)/(L_2 - L_1).
 *
 * Given:     line1, line2  falling
 *            target  mm2/s at t
 *            t       degC
 * Returned:  share   volume fraction of the second oil
 * Failures:  those of mw_blend_wright(), MW_ERR_TARGET, MW_ERR_EQUAL_VISCOSITY
 */
MW_API enum mw_status mw_blend_wright_share(const struct mw_line *line1,
                                            const struct mw_line *line2,
                                            double target, double t,
                                            double *share);

/**
 * The excess of a blend over the standard, as a factor:
 *
 *     ln(v/v_D7152) = K sum_{i<j} f_i f_j (ln v_i/v_j)^2
 *
 * Given:     v, shares, n  as for mw_blend_astm()
 *            k       0 for the standard itself
 * Returned:  factor  above zero
 * Failures:  MW_ERR_VISCOSITY, MW_ERR_SHARES
 *            MW_ERR_EXCESS  k is not finite
 * Reference: the form is that of L. Grunberg and A. H. Nissan, Nature 164
 *            (1949) 799; the sum equals the weighted variance of ln v
 */
MW_API enum mw_status mw_blend_excess(const double *v, const double *shares,
                                      size_t n, double k, double *factor);

#ifdef __cplusplus
}
#endif

#endif
