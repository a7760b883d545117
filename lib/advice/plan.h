/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * plan - which bottles to own: what a set reaches, where it is thin.
 *
 * Between two neighbours any viscosity can be mixed; the further apart they
 * are, the less surely. A gap is the ratio of two neighbours, or of an edge of
 * the wanted band, where no mix reaches, to the nearest bottle.
 */
#ifndef MIDWEIGHT_ADVICE_PLAN_H
#define MIDWEIGHT_ADVICE_PLAN_H

#include <stdbool.h>
#include <stddef.h>

#include "base/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/** A gap between two neighbours, by index; an edge of the band has none. */
struct mw_gap {
    size_t thin, thick; /* MW_PLAN_EDGE for an edge of the band */
    double low, high;   /* mm2/s */
    double ratio;       /* high/low, 1 or more */
};

#define MW_PLAN_EDGE ((size_t)-1)

/** What a set of bottles is good for. */
struct mw_plan {
    double reach_low, reach_high; /* mm2/s of the band that can be mixed; NaN
                                     where nothing of it can */
    struct mw_gap widest;
    double addition;       /* mm2/s of the band: the one bottle that would
                              narrow the widest gap most; the edge itself where
                              the gap is at one */
    double addition_ratio; /* the widest gap with it */
    size_t spare;          /* the bottle that would be missed least: by the
                              widest gap without it, then by how much wider
                              the gaps beside it get; MW_PLAN_EDGE where there
                              is none */
    double spare_ratio;    /* the widest gap without it; NaN where there is
                              none */
};

/**
 * Plan a set of bottles for a band of viscosities.
 *
 * Given:     v       n viscosities at one temperature, mm2/s, rising
 *            n       1 or more
 *            low, high  the band, mm2/s; low below high
 * Returned:  plan    all of it; NaN and MW_PLAN_EDGE on failure
 * Failures:  MW_ERR_VISCOSITY  one is out of range, or the band is empty
 *            MW_ERR_POINTS     no bottle
 *            MW_ERR_NOT_DECREASING     the viscosities do not rise
 * Notes:     bottles outside the band count as neighbours of those inside. A
 *            bottle is spare only if without it as much is reached.
 */
MW_API enum mw_status mw_plan(const double *v, size_t n, double low,
                              double high, struct mw_plan *plan);

#ifdef __cplusplus
}
#endif

#endif
