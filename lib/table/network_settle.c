/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* what contradicts the rest is widened or set aside; limits by simulation */
#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdlib.h>

#include "bench/outlier.h"
#include "table/bottle.h"
#include "table/network_internal.h"

/* p-values below which labels, three readings or more, and two are in conflict
 */
#define P_LABELS   0.13
#define P_READINGS 0.12
#define P_TWO      0.01

/* residuals that differ by less are equally far off */
#define EQUALLY 0.05

/* -- Readings among themselves -------------------------------------------- */

struct scatter {
    size_t count;
    double weights, sum, squares;
};

/* how the readings of a bottle lie about what they say together; what they
 * share is left in, by the solution */
static struct scatter scatter_of(const struct mw_network *network,
                                 size_t bottle)
{
    const double *x = mw_adjustment_estimates(network->adjustment);
    struct scatter scatter = {0};
    for (size_t i = network->places[bottle].head; i < network->m;
         i = network->params[i].next) {
        const struct mw_row *row = &network->rows[i];
        if (network->params[i].agreement != MW_SET_ASIDE) {
            double away = row->observed - row->value(x, row->params);
            double weight = 1 / (row->s * row->s);
            scatter.count++;
            scatter.weights += weight;
            scatter.sum += weight * away;
            scatter.squares += weight * away * away;
        }
    }
    return scatter;
}

/* by how much the readings of a bottle claim too little, and p of that */
static double widening_of(const struct scatter *scatter, double *p)
{
    double freedom = (double)scatter->count - 1;
    double chi =
        scatter->squares - scatter->sum * scatter->sum / scatter->weights;
    double limit = scatter->count == 2 ? P_TWO : P_READINGS;
    *p = scatter->count < 2 ? 1 : gsl_cdf_chisq_Q(chi, freedom);
    if (*p >= limit) {
        return 1;
    }
    /* t at the coverage of k = 2, a normal one has 2 */
    double t = scatter->count == 2
                   ? 2
                   : gsl_cdf_tdist_Qinv(gsl_cdf_ugaussian_Q(2), freedom);
    return sqrt(chi / freedom) * t / 2;
}

static bool widen_readings(struct mw_network *network, size_t bottle,
                           double tested)
{
    const struct scatter scatter = scatter_of(network, bottle);
    double p, factor = widening_of(&scatter, &p);
    for (size_t i = network->places[bottle].head; i < network->m && factor > 1;
         i = network->params[i].next) {
        if (network->params[i].agreement == MW_AGREES) {
            mw_adjustment_widen_row(network->adjustment, i, factor);
            network->params[i].agreement = MW_WIDENED;
            network->params[i].p = p * tested;
        }
    }
    return factor > 1;
}

/* bottles of several readings */
static double count_scatters(const struct mw_network *network)
{
    double count = 0;
    for (size_t i = 0; i < network->n; i++) {
        size_t first = network->places[i].head;
        count += first < network->m && network->params[first].next < network->m;
    }
    return count;
}

static bool widen_all_readings(struct mw_network *network)
{
    bool widened = false;
    double tested = count_scatters(network);
    for (size_t i = 0; i < network->n; i++) {
        widened = widen_readings(network, i, tested) || widened;
    }
    return widened;
}

/* -- What is farthest from the rest --------------------------------------- */

/* a label, or a reading */
struct worst {
    double first, second; /* normalized residuals */
    size_t label, bottle; /* unknown and bottle of the first */
    size_t other;         /* the second: a label's bottle, or a reading */
    size_t other_unknown;
    bool other_is_row;
    size_t tested;    /* labels */
    double farthest;  /* of ln v, a reading from all the rest: */
    size_t far_index; /* which */
};

static void rank(struct worst *worst, double residual, bool is_row,
                 size_t index, size_t unknown)
{
    if (!is_row && residual > worst->first) {
        if (worst->first > worst->second) {
            worst->second = worst->first;
            worst->other = worst->bottle;
            worst->other_unknown = worst->label;
            worst->other_is_row = false;
        }
        worst->first = residual;
        worst->bottle = index;
        worst->label = unknown;
    } else if (residual > worst->second) {
        worst->second = residual;
        worst->other = index;
        worst->other_unknown = unknown;
        worst->other_is_row = is_row;
    }
}

static struct worst find_worst(const struct mw_network *network)
{
    struct worst worst = {0};
    for (size_t i = 0; i < network->n; i++) {
        const struct mw_network_place *place = &network->places[i];
        bool labelled = network->bottles[i].part_count == 0;
        for (size_t j = 0; labelled && j < network->bottles[i].label.count &&
                           network->places[i].agreement == MW_AGREES;
             j++) {
            double residual = fabs(mw_adjustment_prior_residual(
                network->adjustment, place->first + j));
            worst.tested += residual > 0;
            rank(&worst, residual, false, i, place->first + j);
        }
    }
    for (size_t i = 0; i < network->m; i++) {
        double distance, residual = fabs(mw_adjustment_row_residual(
                             network->adjustment, i, &distance));
        if (fabs(distance) > worst.farthest) {
            worst.farthest = fabs(distance);
            worst.far_index = i;
        }
        if (network->params[i].agreement != MW_SET_ASIDE) {
            rank(&worst, residual, true, i, 0);
        }
    }
    return worst;
}

/* -- Labels against the rest ---------------------------------------------- */

/* both of two that contradict each other, and nothing says which is wrong */
static void widen_both(struct mw_network *network, const struct worst *worst,
                       double p)
{
    mw_adjustment_widen_prior(network->adjustment, worst->label, worst->first);
    network->places[worst->bottle].agreement = MW_WIDENED;
    network->places[worst->bottle].p = p;
    if (worst->other_is_row) {
        mw_adjustment_widen_row(network->adjustment, worst->other,
                                worst->first);
        network->params[worst->other].agreement = MW_WIDENED;
        network->params[worst->other].p = p;
    } else {
        mw_adjustment_widen_prior(network->adjustment, worst->other_unknown,
                                  worst->first);
        network->places[worst->other].agreement = MW_WIDENED;
        network->places[worst->other].p = p;
    }
}

static void set_label_aside(struct mw_network *network, size_t bottle, double p)
{
    const struct mw_network_place *place = &network->places[bottle];
    network->places[bottle].agreement = MW_SET_ASIDE;
    network->places[bottle].p = p;
    for (size_t i = 0; i < network->bottles[bottle].label.count; i++) {
        mw_adjustment_widen_prior(network->adjustment, place->first + i,
                                  INFINITY);
    }
}

/* one step; false where no label is in conflict */
static bool judge_labels(struct mw_network *network, const struct worst *worst)
{
    double tested = fmax((double)worst->tested, 1);
    double p = tested * 2 * gsl_cdf_ugaussian_Q(worst->first);
    if (p >= P_LABELS) {
        return false;
    }
    if (worst->second >= worst->first * (1 - EQUALLY)) {
        widen_both(network, worst, p);
    } else {
        set_label_aside(network, worst->bottle, p);
    }
    return true;
}

/* -- All ------------------------------------------------------------------ */

/* the one that is farthest off; false where none is */
static bool set_far_reading_aside(struct mw_network *network,
                                  const struct worst *worst)
{
    size_t which = worst->far_index;
    if (!(worst->farthest > log(MW_FAR_READING))) {
        return false;
    }
    network->params[which].p = 0;
    network->params[which].agreement = MW_SET_ASIDE;
    mw_adjustment_widen_row(network->adjustment, which, INFINITY);
    return true;
}

static enum mw_status solve(struct mw_network *network, struct worst *worst)
{
    enum mw_status status = mw_adjustment_solve(network->adjustment);
    if (status == MW_OK) {
        *worst = find_worst(network);
    }
    return status;
}

enum mw_status mw_network_settle(struct mw_network *network)
{
    struct worst worst;
    for (size_t i = 0; i < network->n; i++) {
        network->places[i].p = 1;
    }
    for (size_t i = 0; i < network->m; i++) {
        network->params[i].p = 1;
    }
    enum mw_status status = solve(network, &worst);
    if (status == MW_OK) {
        network->chi_squared = mw_adjustment_chi_squared(network->adjustment);
    }
    while (status == MW_OK && set_far_reading_aside(network, &worst)) {
        status = solve(network, &worst);
    }
    if (status == MW_OK && widen_all_readings(network)) {
        status = solve(network, &worst);
    }
    while (status == MW_OK && judge_labels(network, &worst)) {
        status = solve(network, &worst);
    }
    return status;
}

/* -- Outliers ------------------------------------------------------------- */

/* how far a reading is from the estimates */
static double distance(const struct mw_network *network, size_t reading)
{
    const struct mw_row *row = &network->rows[reading];
    return fabs(
        row->observed -
        row->value(mw_adjustment_estimates(network->adjustment), row->params));
}

int mw_network_outlier(const struct mw_network *network, size_t bottle)
{
    int outlier = MW_NO_OUTLIER, count = 0;
    double farthest = 0;
    if (network->places[bottle].p < MW_OUTLIER_P) {
        return MW_LABEL_OUTLIER;
    }
    for (size_t i = network->places[bottle].head; i < network->m;
         i = network->params[i].next) {
        double away = distance(network, i);
        if (network->params[i].p < MW_OUTLIER_P && away > farthest) {
            farthest = away;
            outlier = count;
        }
        count++;
    }
    return outlier;
}
