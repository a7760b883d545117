/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * fit - how the points of an oil lie to what it is taken for: three or more
 * written points to their line, or a bottle's label and readings to its best
 * value.
 */
#ifndef OIL_FIT_H
#define OIL_FIT_H

#include <jansson.h>

#include "midweight.h"
#include "oils/oil_ref.h"
#include "output/json.h"

enum { FIT_POINTS_MAX = MW_POINTS_MAX + MW_READINGS_MAX };

struct fit {
    size_t count; /* 0: there is no fit to print */
    struct mw_point points[FIT_POINTS_MAX];
    struct mw_residual residuals[FIT_POINTS_MAX];
    size_t labels; /* so many come from a label; the rest are readings */
    int outlier;   /* the point that does not belong, or MW_NO_OUTLIER */
};

/** The fit of an oil, by what a solved network says of its node. */
void fit_find(const struct stock_network *network, size_t node,
              const struct oil_ref *ref, struct fit *fit);

void fit_print(const struct fit *fit);

json_t *json_fit(const struct fit *fit);

#endif
