/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * rule - the rules by which oils blend, as entries of one table.
 *
 * The method is ASTM D7152, Practice for Calculating Viscosity of a Blend of
 * Petroleum Products: procedures A (Wright) and C (ASTM) forward, B and D
 * backward. Scope and preference were read in print; the letters and the
 * equations are from memory. Wright's give the numbers of procedure 11A4.5 of
 * the API Technical Data Book (second-hand) to 5e-8.
 *
 *     C, D  ASTM    W = sum f W_i,                      oils at one temperature
 *     A, B  Wright  X = sum f L_i(W), L = (A - W)/B,    oils as D341 lines
 *
 * Departures from the standard:
 *   - shares are of volume, viscosities kinematic;
 *   - the inverse of Z is solved, see walther.h;
 *   - Wright's rule is written with the temperature L = (A - W)/B at which an
 *     oil has W, which is the same algebra;
 *   - silicone is outside the scope of the standard, which reads low on it, so
 *     an excess term may be added, see mixture.h.
 */
#ifndef MIDWEIGHT_BLEND_RULE_H
#define MIDWEIGHT_BLEND_RULE_H

#include "base/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/** A rule of D7152: ASTM needs one temperature, Wright two for each oil. */
enum mw_rule { MW_RULE_ASTM, MW_RULE_WRIGHT };

enum { MW_RULES = MW_RULE_WRIGHT + 1 };

/**
 * The name of a rule.
 *
 * Given:     rule    any rule
 * Returned:  "astm" or "wright"; "?" for an invalid value
 */
MW_API const char *mw_rule_name(enum mw_rule rule);

/**
 * The standard that a rule belongs to.
 *
 * Given:     rule    any rule
 * Returned:  such as "ASTM D7152"; "?" for an invalid value
 */
MW_API const char *mw_rule_standard(enum mw_rule rule);

/**
 * The rule with a name: the inverse of mw_rule_name().
 *
 * Given:     name    "astm" or "wright"
 * Returned:  rule    written on MW_OK only
 * Failures:  MW_ERR_NAME
 */
MW_API enum mw_status mw_rule_from_name(const char *name, enum mw_rule *rule);

#ifdef __cplusplus
}
#endif

#endif
