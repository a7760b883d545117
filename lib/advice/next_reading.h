/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * next_reading - what to measure next: the one reading that would make a mix
 * surer than any other.
 */
#ifndef MIDWEIGHT_ADVICE_NEXT_READING_H
#define MIDWEIGHT_ADVICE_NEXT_READING_H

#include <stddef.h>

#include "base/status.h"
#include "table/network.h"

#ifdef __cplusplus
extern "C" {
#endif

/* of ln v, standard: a careful timing against an oil that is known well (our
 * assumption) */
#define MW_CAREFUL_READING 0.01

/* A bottle is advised where a reading of it takes at least so much off the
 * uncertainty; else a trial mix where that does, as with oils far apart; else
 * the mix itself, which can only be measured once it is made. Our own
 * choice. */
#define MW_WORTH_MEASURING 0.1

/** A reading that is advised. */
struct mw_next_reading {
    size_t
        bottle;   /* of the network; MW_THE_MIX: the mix itself; MW_THE_TRIAL: a
                      trial mix of its two bottles */
    double after; /* standard uncertainty of ln v of the mix after it */
};

#define MW_THE_MIX   ((size_t)-1)
#define MW_THE_TRIAL ((size_t)-2)

/**
 * The reading to take next for a mix, at its temperature.
 *
 * Given:     network made
 *            mix     of mw_network_mix()
 *            before  its standard uncertainty of ln v today
 * Returned:  next    of its bottles the one that helps most, with
 *                    MW_CAREFUL_READING
 * Failures:  those of mw_network_after()
 * Notes:     a trial mix is one of two bottles, with K as it is known
 */
MW_API enum mw_status mw_next_reading(const struct mw_network *network,
                                      const struct mw_network_mix *mix,
                                      double before,
                                      struct mw_next_reading *next);

#ifdef __cplusplus
}
#endif

#endif
