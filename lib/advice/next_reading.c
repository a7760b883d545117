/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/next_reading.h"

#include <math.h>

#include "advice/trial_mix.h"

enum mw_status mw_next_reading(const struct mw_network *network,
                               const struct mw_network_mix *mix, double before,
                               struct mw_next_reading *next)
{
    double after[MW_MIX_OILS_MAX], itself, trial;
    *next = (struct mw_next_reading){MW_THE_MIX, NAN};
    enum mw_status status =
        mw_network_after(network, mix, mix->bottles, mix->count,
                         MW_CAREFUL_READING, after, &itself);
    if (status != MW_OK) {
        return status;
    }
    double least = before * (1 - MW_WORTH_MEASURING);
    next->after = itself;
    for (size_t i = 0; i < mix->count; i++) {
        if (after[i] <= least) {
            least = next->after = after[i];
            next->bottle = mix->bottles[i];
        }
    }
    if (next->bottle == MW_THE_MIX && !mix->method &&
        mw_trial_mix(network, mix, MW_CAREFUL_READING, &trial) == MW_OK &&
        trial <= least) {
        *next = (struct mw_next_reading){MW_THE_TRIAL, trial};
    }
    return MW_OK;
}
