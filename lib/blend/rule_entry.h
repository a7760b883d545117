/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * rule_entry - what a blending rule computes. Internal to the library.
 *
 * Every rule has a scale y of viscosity on which oils add up: each oil weighs p
 * and q, and the blend is at y = (sum f p)/(sum f q). That is all that the
 * mixture and the inverse for a pair know of a rule.
 */
#ifndef MIDWEIGHT_BLEND_RULE_ENTRY_H
#define MIDWEIGHT_BLEND_RULE_ENTRY_H

#include <stdbool.h>

#include "blend/rule.h"
#include "fluid/chart.h"

/** A rule. A further one is one more entry of the table in rule.c. */
struct mw_rule_entry {
    const char *name;
    const char *standard;
    bool needs_lines; /* each oil at two temperatures */

    /**
     * What an oil weighs.
     *
     * Given:     y       of its viscosity, scale()
     *            line    its D341 line, where the rule needs one
     *            x       log10 T
     * Returned:  p, q    q above zero
     */
    void (*weigh)(double y, const struct mw_line *line, double x, double *p,
                  double *q);

    /** y of v (mm2/s, in range): rising. */
    double (*scale)(double v);

    /** v of y; NaN where it is out of range. */
    double (*unscale)(double y);

    /** d ln v/dy at v: above zero, and rising or falling all the way. */
    double (*slope)(double v);
};

/** The entry of a rule, NULL for an invalid value. */
const struct mw_rule_entry *mw_rule_entry(enum mw_rule rule);

#endif
