/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * pair - the share of two oils that gives a viscosity, with an excess: a
 * bracketed root, after a proof that there is one answer only. Internal to the
 * library.
 */
#ifndef MIDWEIGHT_BLEND_PAIR_H
#define MIDWEIGHT_BLEND_PAIR_H

#include "base/status.h"
#include "blend/path.h"

/** Two oils at one temperature; f is the share of the second. */
struct mw_pair {
    struct mw_path path;   /* from the first to the second */
    double slope1, slope2; /* d ln v/dy of the oils */
    double ln_ratio;       /* ln v2/v1 */
    double lift; /* K (ln v1/v2)^2: ln v is lifted by lift f (1 - f) */
};

/** How ln v of a mix moves: per unit of ln v of each oil, and of K. */
struct mw_pair_swings {
    double oils[2], excess;
};

/** An oil of a pair. */
struct mw_pair_end {
    double ln_v;  /* of mm2/s */
    double y;     /* on the scale of the rule */
    double p, q;  /* what it weighs */
    double slope; /* d ln v/dy */
};

/**
 * Given:     rule    of the blend
 *            line    the oil as a line, where the rule needs it
 *            v       its viscosity, mm2/s, in range
 *            x       log10 T
 * Returned:  the oil
 */
struct mw_pair_end mw_pair_end_of(const struct mw_rule_entry *rule,
                                  const struct mw_line *line, double v,
                                  double x);

/**
 * Given:     rule    of the blend
 *            excess  K
 *            first, second  oils of that rule, of different viscosities
 * Returned:  the pair
 */
struct mw_pair mw_pair_join(const struct mw_rule_entry *rule, double excess,
                            const struct mw_pair_end *first,
                            const struct mw_pair_end *second);

/**
 * Given:     lines   the oils as lines, where the rule needs them
 *            v       their viscosities, mm2/s, in range and different
 *            x       log10 T
 *            rule, excess  the method; a rule that there is
 * Returned:  the pair
 */
struct mw_pair mw_pair_of(const struct mw_line lines[2], const double v[2],
                          double x, enum mw_rule rule, double excess);

/**
 * The share without an excess, in closed form.
 *
 * Given:     pair    of mw_pair_of()
 *            target  mm2/s, in range
 * Returned:  share   volume fraction of the second oil, NaN on failure
 * Failures:  MW_ERR_TARGET  the target is not between the oils, or only
 *                    rounding parts them
 */
enum mw_status mw_pair_plain_share(const struct mw_pair *pair, double target,
                                   double *share);

/**
 * Given:     pair    of mw_pair_of()
 *            target  mm2/s
 * Returned:  share   volume fraction of the second oil, NaN on failure
 * Failures:  MW_ERR_EXCESS  ln v is not proven to be monotonic in the share
 *            MW_ERR_TARGET  the target is not between the oils, or only
 *                    rounding parts them
 */
enum mw_status mw_pair_share(const struct mw_pair *pair, double target,
                             double *share);

/**
 * Given:     pair    of mw_pair_of()
 *            excess  K, that of the pair
 *            share   volume fraction of the second oil
 * Returned:  how the mix moves
 * Notes:     an oil that is thicker by one factor everywhere moves y by its
 *            part of sum f q, over its own slope d ln v/dy; and the variance of
 *            ln v moves by 2 f (ln v_i - mean)
 */
struct mw_pair_swings mw_pair_swing(const struct mw_pair *pair, double excess,
                                    double share);

#endif
