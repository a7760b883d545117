/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * rank_readings - what to measure of a stock: the readings that would make the
 * mixes of a band of targets surer, the best first.
 */
#ifndef MIDWEIGHT_ADVICE_RANK_READINGS_H
#define MIDWEIGHT_ADVICE_RANK_READINGS_H

#include <stddef.h>

#include "advice/choose.h"
#include "base/status.h"
#include "table/network.h"

#ifdef __cplusplus
extern "C" {
#endif

/* our own choices: targets that stand for a band, evenly spread in ln v, and
 * readings that are worth naming */
enum { MW_BAND_TARGETS = 7, MW_RANKED = 3 };

/** A reading of a bottle. */
struct mw_ranked_reading {
    size_t bottle; /* of the network */
    double after;  /* standard uncertainty of ln v of the mixes after it, the
                      root of their mean square */
};

/** The readings that help most. */
struct mw_ranked_readings {
    double before; /* as after, today */
    size_t count;  /* up to MW_RANKED */
    struct mw_ranked_reading list[MW_RANKED];
};

/**
 * Rank the readings that could be taken.
 *
 * Given:     network made
 *            candidates, n  bottles; id is their index in the network
 *            temperature  degC
 *            low, high  the band, mm2/s at that temperature; low below high
 * Returned:  ranked  readings at that temperature, of MW_CAREFUL_READING
 * Failures:  MW_ERR_VISCOSITY  the band is empty or out of range
 *            MW_ERR_TARGET  no target of the band can be mixed
 *            those of mw_network_after()
 * Notes:     each target is mixed from the pair that mw_choose() takes
 */
MW_API enum mw_status mw_rank_readings(const struct mw_network *network,
                                       const struct mw_candidate *candidates,
                                       size_t n, double temperature, double low,
                                       double high,
                                       struct mw_ranked_readings *ranked);

#ifdef __cplusplus
}
#endif

#endif
