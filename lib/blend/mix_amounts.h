/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * mix_amounts - what the amounts of a mix come to. Internal to the library.
 */
#ifndef MIDWEIGHT_BLEND_MIX_AMOUNTS_H
#define MIDWEIGHT_BLEND_MIX_AMOUNTS_H

#include <stdbool.h>
#include <stddef.h>

#include "blend/mix.h"

/** The amounts of a job, in ml or in parts. */
struct mw_mix_amounts {
    double volumes[MW_MIX_OILS_MAX]; /* 0 where open or a share */
    double known;                    /* their sum */
    double fixed;                    /* sum of the fixed shares */
    size_t opens;
    bool parts, others; /* some are parts; some are volumes */
};

/**
 * Given:     job     as for mw_mix_solve()
 *            mix     with the states of the oils
 * Returned:  mix     with the oils that are open, or fault
 *            amounts all of it
 * Failures:  MW_ERR_AMOUNT, MW_ERR_DROP, MW_ERR_UNKNOWNS
 */
enum mw_status mw_mix_add_up(const struct mw_mix_job *job, struct mw_mix *mix,
                             struct mw_mix_amounts *amounts);

#endif
