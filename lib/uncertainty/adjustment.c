/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "uncertainty/adjustment.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "uncertainty/adjustment_internal.h"

enum {
    ROUNDS = 20 /* of Gauss-Newton; four are the rule */
};

/* of s: the step of differences, and what the estimates move by once they have
 * settled. That is above the rounding of the differences, which is some 1e-8,
 * and each round gains a factor of 50 or more. */
#define STEP    1e-4
#define SETTLED 1e-7

/* of s: what the estimates may move before the slopes are taken anew. Slopes
 * change in proportion, so that an estimate is off by some 1e-4 of its residual
 * at most, which is no part of its uncertainty (our own choice). */
#define STALE 1e-4

/* where a step is so much smaller than the one before it, the same factors are
 * good for the next one (our own choice) */
#define SHRINKS 0.05

/* -- Setting up ----------------------------------------------------------- */

static enum mw_status check_unknowns(const struct mw_unknown *unknowns,
                                     size_t n)
{
    for (size_t i = 0; i < n; i++) {
        if (!isfinite(unknowns[i].mean) ||
            !(unknowns[i].s >= 0 && isfinite(unknowns[i].s))) {
            return MW_ERR_UNCERTAINTY;
        }
    }
    return MW_OK;
}

static enum mw_status check_row(const struct mw_unknown *unknowns,
                                const struct mw_row *row)
{
    size_t block = 0;
    if (!isfinite(row->observed) || !(row->s > 0 && isfinite(row->s))) {
        return MW_ERR_UNCERTAINTY;
    }
    for (size_t i = 0; i < row->count; i++) {
        size_t here = unknowns[row->unknowns[i]].block;
        if (here != 0 && block != 0 && here != block) {
            return MW_ERR_BUDGET;
        }
        block = here != 0 ? here : block;
    }
    return MW_OK;
}

static enum mw_status allocate(struct mw_adjustment *made)
{
    size_t slopes = 0;
    made->first = calloc(made->m + 1, sizeof made->first[0]);
    for (size_t i = 0; made->first && i < made->m; i++) {
        made->first[i] = slopes;
        slopes += made->rows[i].count;
    }
    made->slopes = calloc(slopes + 1, sizeof(double));
    made->x = calloc(made->n + 1, sizeof(double));
    made->prior_factor = calloc(made->n + 1, sizeof(double));
    made->row_factor = calloc(made->m + 1, sizeof(double));
    made->right = calloc(made->n + 1, sizeof(double));
    if (!made->first || !made->slopes || !made->x || !made->prior_factor ||
        !made->row_factor || !made->right) {
        return MW_ERR_MEMORY;
    }
    for (size_t i = 0; i < made->n; i++) {
        made->x[i] = made->unknowns[i].mean;
        made->prior_factor[i] = 1;
    }
    for (size_t i = 0; i < made->m; i++) {
        made->row_factor[i] = 1;
    }
    return mw_normal_make(made->unknowns, made->n, &made->normal);
}

enum mw_status mw_adjustment_make(const struct mw_unknown *unknowns, size_t n,
                                  const struct mw_row *rows, size_t m,
                                  struct mw_adjustment **adjustment)
{
    *adjustment = NULL;
    enum mw_status status = check_unknowns(unknowns, n);
    for (size_t i = 0; i < m && status == MW_OK; i++) {
        status = check_row(unknowns, &rows[i]);
    }
    if (status != MW_OK) {
        return status;
    }
    struct mw_adjustment *made = calloc(1, sizeof *made);
    if (!made) {
        return MW_ERR_MEMORY;
    }
    made->unknowns = unknowns;
    made->rows = rows;
    made->n = n;
    made->m = m;
    made->moved = INFINITY;
    status = allocate(made);
    if (status != MW_OK) {
        mw_adjustment_free(made);
        return status;
    }
    *adjustment = made;
    return MW_OK;
}

void mw_adjustment_free(struct mw_adjustment *adjustment)
{
    if (adjustment) {
        mw_normal_free(&adjustment->normal);
        free(adjustment->first);
        free(adjustment->slopes);
        free(adjustment->x);
        free(adjustment->prior_factor);
        free(adjustment->row_factor);
        free(adjustment->right);
        free(adjustment);
    }
}

void mw_adjustment_widen_prior(struct mw_adjustment *adjustment, size_t index,
                               double factor)
{
    adjustment->prior_factor[index] = factor;
}

void mw_adjustment_widen_row(struct mw_adjustment *adjustment, size_t index,
                             double factor)
{
    adjustment->row_factor[index] = factor;
}

/* -- Slopes --------------------------------------------------------------- */

/* df/dx_j at x, by a step to each side, or to the one where f has a value; x is
 * as before afterwards */
static double slope_of(mw_row_value *value, const void *params, double *x,
                       size_t j, double here, double step)
{
    double at = x[j];
    x[j] = at + step;
    double up = value(x, params);
    x[j] = at - step;
    double down = value(x, params);
    x[j] = at;
    return isnan(up)     ? (here - down) / step
           : isnan(down) ? (up - here) / step
                         : (up - down) / (2 * step);
}

double mw_adjustment_gradient(const struct mw_adjustment *adjustment,
                              mw_row_value *value, const void *params,
                              size_t count, const size_t *unknowns,
                              double *slopes)
{
    double here = value(adjustment->x, params);
    for (size_t i = 0; i < count; i++) {
        double s = adjustment->unknowns[unknowns[i]].s;
        slopes[i] = s == 0 ? 0
                           : slope_of(value, params, adjustment->x, unknowns[i],
                                      here, STEP * s);
    }
    return here;
}

/* -- Solving -------------------------------------------------------------- */

/* 1/s^2 of a prior as it counts; a fixed unknown has any, as nothing moves it
 */
double mw_adjustment_prior_weight(const struct mw_adjustment *adjustment,
                                  size_t i)
{
    double s = adjustment->unknowns[i].s * adjustment->prior_factor[i];
    return adjustment->unknowns[i].s == 0 ? 1 : 1 / (s * s);
}

double mw_adjustment_row_weight(const struct mw_adjustment *adjustment,
                                size_t i)
{
    double s = adjustment->rows[i].s * adjustment->row_factor[i];
    return 1 / (s * s);
}

struct mw_gradient
mw_adjustment_row_gradient(const struct mw_adjustment *adjustment, size_t row)
{
    return (struct mw_gradient){adjustment->rows[row].count,
                                adjustment->rows[row].unknowns,
                                adjustment->slopes + adjustment->first[row]};
}

static enum mw_status add_row(struct mw_adjustment *adjustment, size_t i,
                              bool stale)
{
    const struct mw_row *row = &adjustment->rows[i];
    double *slopes = adjustment->slopes + adjustment->first[i];
    double weight = mw_adjustment_row_weight(adjustment, i), sum = 0;
    double here =
        stale ? mw_adjustment_gradient(adjustment, row->value, row->params,
                                       row->count, row->unknowns, slopes)
              : row->value(adjustment->x, row->params);
    double away = row->observed - here;
    for (size_t j = 0; j < row->count; j++) {
        adjustment->right[row->unknowns[j]] += weight * slopes[j] * away;
        sum += slopes[j];
    }
    return isfinite(away) && isfinite(sum) ? MW_OK : MW_ERR_VISCOSITY;
}

/* the slopes of all rows, and the right-hand side at x */
static enum mw_status set_up(struct mw_adjustment *adjustment)
{
    enum mw_status status = MW_OK;
    bool stale = !(adjustment->moved < STALE);
    adjustment->moved = stale ? 0 : adjustment->moved;
    for (size_t i = 0; i < adjustment->n; i++) {
        adjustment->right[i] =
            mw_adjustment_prior_weight(adjustment, i) *
            (adjustment->unknowns[i].mean - adjustment->x[i]);
    }
    for (size_t i = 0; i < adjustment->m && status == MW_OK; i++) {
        status = add_row(adjustment, i, stale);
    }
    return status;
}

/* the normal equations by these slopes, as factors */
static enum mw_status factor(struct mw_adjustment *adjustment)
{
    mw_normal_clear(&adjustment->normal);
    for (size_t i = 0; i < adjustment->n; i++) {
        mw_normal_add_diagonal(&adjustment->normal, i,
                               mw_adjustment_prior_weight(adjustment, i));
    }
    for (size_t i = 0; i < adjustment->m; i++) {
        const struct mw_gradient h = mw_adjustment_row_gradient(adjustment, i);
        mw_normal_add(&adjustment->normal, &h,
                      mw_adjustment_row_weight(adjustment, i));
    }
    return mw_normal_factor(&adjustment->normal);
}

/* how far the estimates move, the largest in units of its s */
static double move(struct mw_adjustment *adjustment)
{
    double largest = 0;
    mw_normal_solve(&adjustment->normal, adjustment->right);
    for (size_t i = 0; i < adjustment->n; i++) {
        double s = adjustment->unknowns[i].s;
        adjustment->x[i] += adjustment->right[i];
        largest =
            s > 0 ? fmax(largest, fabs(adjustment->right[i]) / s) : largest;
    }
    return largest;
}

/* The slopes follow x, so that where it settles does not depend on the factors,
 * which change little from one round to the next. */
enum mw_status mw_adjustment_solve(struct mw_adjustment *adjustment)
{
    double moved = INFINITY, before = INFINITY;
    enum mw_status status = set_up(adjustment);
    for (int round = 0; round < ROUNDS && !(moved < SETTLED) && status == MW_OK;
         round++) {
        if (round < 2 || !(moved < SHRINKS * before)) {
            status = factor(adjustment);
        }
        if (status == MW_OK) {
            before = moved;
            moved = move(adjustment);
            adjustment->moved += moved;
            status = set_up(adjustment);
        }
    }
    return status == MW_OK ? factor(adjustment) : status;
}

const double *mw_adjustment_estimates(const struct mw_adjustment *adjustment)
{
    return adjustment->x;
}
