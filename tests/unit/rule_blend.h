/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * rule_blend - a blend by the functions under mw_mixture(), for oils that are
 * not a struct mw_oil.
 */
#ifndef RULE_BLEND_H
#define RULE_BLEND_H

#include <math.h>
#include <stddef.h>

#include "blend/pair.h"
#include "blend/rule_entry.h"
#include "blend/sums.h"

/**
 * Given:     v       n viscosities, mm2/s
 *            lines   n lines, NULL for a rule that needs none
 *            shares  n volume fractions
 *            x       log10 T
 *            k       of the excess
 * Returned:  blend   mm2/s, NaN on failure
 */
static inline enum mw_status rule_blend(enum mw_rule rule, const double *v,
                                        const struct mw_line *lines,
                                        const double *shares, size_t n,
                                        double x, double k, double *blend)
{
    const struct mw_rule_entry *entry = mw_rule_entry(rule);
    struct mw_sums sums = {0};
    *blend = NAN;
    enum mw_status status = mw_sums_check(shares, n);
    for (size_t i = 0; i < n && status == MW_OK; i++) {
        double y = entry->scale(v[i]), p, q;
        status = isnan(y) ? MW_ERR_VISCOSITY : MW_OK;
        entry->weigh(y, lines ? &lines[i] : NULL, x, &p, &q);
        mw_sums_to_rule(&sums, p, q, shares[i]);
        mw_sums_to_excess(&sums, v[i], shares[i]);
    }
    if (status == MW_OK && !isfinite(k)) {
        status = MW_ERR_EXCESS;
    }
    if (status == MW_OK) {
        *blend = entry->unscale(sums.p / sums.q) * exp(k * sums.variance);
    }
    return status;
}

#endif
