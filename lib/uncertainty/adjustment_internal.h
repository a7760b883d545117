/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** adjustment_internal - what the two files of an adjustment share. */
#ifndef MIDWEIGHT_UNCERTAINTY_ADJUSTMENT_INTERNAL_H
#define MIDWEIGHT_UNCERTAINTY_ADJUSTMENT_INTERNAL_H

#include "uncertainty/adjustment.h"
#include "uncertainty/normal.h"

struct mw_adjustment {
    const struct mw_unknown *unknowns;
    const struct mw_row *rows;
    size_t n, m;
    size_t *first;        /* m + 1: where the slopes of each row begin */
    double *slopes;       /* of all rows */
    double moved;         /* of s, at most: since the slopes were taken */
    double *x;            /* n estimates */
    double *prior_factor; /* n */
    double *row_factor;   /* m */
    double *right;        /* n: the right-hand side, then the step */
    struct mw_normal normal;
};

/** 1/s^2 of a prior, or of a row, as it counts. */
double mw_adjustment_prior_weight(const struct mw_adjustment *adjustment,
                                  size_t i);
double mw_adjustment_row_weight(const struct mw_adjustment *adjustment,
                                size_t i);

/** The gradient of a row at the estimates. */
struct mw_gradient
mw_adjustment_row_gradient(const struct mw_adjustment *adjustment, size_t row);

#endif
