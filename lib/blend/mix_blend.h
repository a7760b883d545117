/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * mix_blend - what shares of the oils of a mix job give, down to the oils they
 * are made of. Internal to the library.
 */
#ifndef MIDWEIGHT_BLEND_MIX_BLEND_H
#define MIDWEIGHT_BLEND_MIX_BLEND_H

#include "blend/mix.h"
#include "blend/path.h"

/**
 * Given:     job     whose method may have no excess, which leaves out that of
 *                    pairs too
 *            shares  of its oils
 * Returned:  v       mm2/s
 *            warnings  those of mw_mixture(); may be NULL
 * Failures:  those of mw_mixture()
 */
enum mw_status mw_mix_blend(const struct mw_mix_job *job, const double *shares,
                            double *v, unsigned *warnings);

/** How far apart the rules are: the largest against the smallest of v, plain
 * ASTM, and plain Wright where every oil is known at two temperatures, less 1.
 */
double mw_mix_spread(const struct mw_mix_job *job, const double *shares,
                     double v);

/**
 * The path between two compositions.
 *
 * Failures:  those of mw_mixture(), but that of the excess of the mix itself
 */
enum mw_status mw_mix_path(const struct mw_mix_job *job,
                           double ends[2][MW_MIX_OILS_MAX],
                           struct mw_path *path);

#endif
