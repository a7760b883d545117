/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * path - the blends on the straight way from one composition to another, and
 * where on it a viscosity is met. Internal to the library.
 *
 * Whatever is asked of a mix with one unknown is such a path: two oils, from
 * the one to the other; an oil to be added, from what is there to that oil; two
 * oils beside fixed shares, from all of the one to all of the other.
 *
 * On a path the blend is at y = (a + b f)/(c + d f) on the scale of the rule,
 * and the weighted variance of ln v is (1 - f) V1 + f V2 + f (1 - f) (m1 -
 * m2)^2 (the law of total variance; m and V are mean and variance of the two
 * ends).
 */
#ifndef MIDWEIGHT_BLEND_PATH_H
#define MIDWEIGHT_BLEND_PATH_H

#include <stddef.h>

#include "base/status.h"
#include "blend/rule_entry.h"
#include "blend/sums.h"

/** A path; f runs from 0 at its first end to 1 at its second. */
struct mw_path {
    const struct mw_rule_entry *rule;
    double y1, y2;     /* of the ends, on the scale of the rule */
    double a, b, c, d; /* y = (a + b f)/(c + d f) */
    double lift[3];    /* ln v is lifted by lift[0] + lift[1] f + lift[2] f^2 */
};

enum {
    MW_PATH_ROOTS = 2 /* places of one viscosity that are sought, the first */
};

/**
 * Given:     rule    of the blend
 *            excess  K
 *            ends    two compositions: sums of oils whose shares add up to 1
 * Returned:  the path between them
 */
struct mw_path mw_path_of(const struct mw_rule_entry *rule, double excess,
                          const struct mw_sums ends[2]);

/** y at f, 0 to 1, by the plain rule, and how fast it moves there. */
double mw_path_y(const struct mw_path *path, double f);
double mw_path_dy_df(const struct mw_path *path, double f);

/** ln v at f, 0 to 1; NaN where the blend is out of range. */
double mw_path_ln_v(const struct mw_path *path, double f);

/**
 * Where a path meets a viscosity.
 *
 * Given:     path    of mw_path_of()
 *            target  mm2/s, above zero
 * Returned:  roots   the places, rising
 *            count   how many: 0 where the path does not meet it
 * Failures:  MW_ERR_VISCOSITY  an end is out of range, or the target
 *            MW_ERR_EQUAL_VISCOSITY  the viscosity is the same all along
 * Notes:     no place is missed, and each is proven: a piece of the path is
 *            left out where bounds of ln v keep the target outside, solved
 *            where bounds of d ln v/df have one sign, and halved otherwise
 */
enum mw_status mw_path_roots(const struct mw_path *path, double target,
                             double roots[MW_PATH_ROOTS], size_t *count);

#endif
