/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
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

/** The blend by each rule without an excess; NaN by a rule that cannot be used
 * on these oils. */
void mw_mix_by_rule(const struct mw_mix_job *job, const double *shares,
                    double by_rule[MW_RULES]);

/**
 * The path between two compositions.
 *
 * Failures:  those of mw_mixture(), but that of the excess of the mix itself
 */
enum mw_status mw_mix_path(const struct mw_mix_job *job,
                           double ends[2][MW_MIX_OILS_MAX],
                           struct mw_path *path);

#endif
