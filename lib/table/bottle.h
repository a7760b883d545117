/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * bottle - what a bottle really holds: its label and all readings as one.
 *
 * The label is known within rectangular limits, a reading by its standard
 * uncertainty; all are brought to the label's first temperature by the oil's
 * own law and weighted by their uncertainties in ln v (readings.h).
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

/* K. Readings (and the label) this far apart give the bottle a slope of its
 * own: at 3 % each they then know it to about 0.2 % per degree, which is how
 * far the silicone law itself may be off (activation energies of 14 to
 * 16.5 kJ/mol in print). Nearer, the law knows better. Our own limit. */
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
    bool own_slope;     /* its line comes from readings */
    int outlier; /* the reading (from 0), MW_LABEL_OUTLIER or MW_NO_OUTLIER:
                           what lies furthest from the rest, if over
                           MW_COVERAGE standard uncertainties */
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
 * Failures:  MW_ERR_UNCERTAINTY  the tolerance or a reading's uncertainty
 *            MW_ERR_READINGS  too many
 *            MW_ERR_POINTS  with the label's more than MW_POINTS_MAX points
 *            MW_ERR_ONE_POINT  a reading of mineral oil at another temperature
 *                    than the label's only one, and not MW_SLOPE_SPAN away
 *            those of mw_oil_make() and mw_oil_viscosity()
 * Reference: JCGM 100:2008 (GUM), 4.3.7 for the limits; weighted mean and
 *            chi-squared as mw_pool(); the slope by mw_line_fit_weighted()
 */
MW_API enum mw_status mw_bottle_make(const struct mw_oil *label,
                                     double tolerance,
                                     const struct mw_reading *readings,
                                     size_t n, struct mw_bottle *bottle);

/**
 * What readings alone say at a temperature, the label aside.
 *
 * Given:     oil     whose law brings the readings to t
 *            readings  n readings
 *            n       1 to MW_READINGS_MAX
 *            t       degC
 * Returned:  measured  viscosity at t and its uncertainty; NaN on failure
 * Failures:  MW_ERR_READINGS, those of mw_oil_viscosity() and mw_pool()
 */
MW_API enum mw_status mw_bottle_measured(const struct mw_oil *oil,
                                         const struct mw_reading *readings,
                                         size_t n, double t,
                                         struct mw_estimate *measured);

#ifdef __cplusplus
}
#endif

#endif
