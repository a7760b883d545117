/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * bottle - what a bottle really holds: its label and all its readings as one.
 * A network (network.h) of one bottle.
 */
#ifndef MIDWEIGHT_TABLE_BOTTLE_H
#define MIDWEIGHT_TABLE_BOTTLE_H

#include <stdbool.h>
#include <stddef.h>

#include "base/status.h"
#include "bench/outlier.h"
#include "bench/timing.h"
#include "fluid/oil.h"

#ifdef __cplusplus
extern "C" {
#endif

/* K. A reading this far from the only point of a petroleum oil's label gives it
 * a slope; nearer, it says next to nothing of one. Our own limit. */
#define MW_SLOPE_SPAN 20.0

enum {
    MW_READINGS_MAX = 24,              /* of one bottle; our own limit */
    MW_LABEL_OUTLIER = MW_READINGS_MAX /* the label is what disagrees */
};

/** A viscosity that was measured. */
struct mw_reading {
    double viscosity;   /* mm2/s */
    double temperature; /* degC */
    double uncertainty; /* standard, of ln v */
};

/** What a bottle really holds. */
struct mw_bottle {
    struct mw_oil oil;  /* at its best value, rated where the label is */
    double uncertainty; /* standard, of ln v at the rating temperature */
    double chi_squared; /* how far label and readings disagree */
    double p_value;     /* 0..1, of so much by accident */
    int outlier; /* the reading (from 0), MW_LABEL_OUTLIER or MW_NO_OUTLIER, as
                    of mw_network_outlier() */
};

/**
 * The tolerance of a label that is known to a standard uncertainty: the inverse
 * of limit/sqrt 3, for the label of a bottle that was mixed.
 *
 * Given:     u       standard uncertainty of ln v, zero or more
 * Returned:  a fraction, kept between 0.001 and 0.999
 */
MW_API double mw_tolerance_of(double u);

/**
 * Make a bottle from its label and its readings.
 *
 * Given:     label   the oil as the label has it
 *            tolerance  of the label, a fraction with rectangular limits, above
 *                    0 and below 1
 *            readings  n readings; may be NULL when n is 0
 *            n       0 to MW_READINGS_MAX
 * Returned:  bottle
 * Failures:  MW_ERR_READINGS  too many; those of mw_network_make()
 *            MW_ERR_ONE_POINT  a reading of petroleum oil at another
 *                    temperature than the label's only one, and not
 *                    MW_SLOPE_SPAN away
 *            those of mw_oil_viscosity()
 */
MW_API enum mw_status mw_bottle_make(const struct mw_oil *label,
                                     double tolerance,
                                     const struct mw_reading *readings,
                                     size_t n, struct mw_bottle *bottle);

#ifdef __cplusplus
}
#endif

#endif
