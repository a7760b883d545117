/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan.h"

#include <math.h>

#include "walther.h"

/* a band and the bottles for it, one of them perhaps left at home */
struct set {
    const double *v;
    size_t n, without; /* MW_PLAN_EDGE: none is left at home */
    double low, high;
};

static enum mw_status check(const double *v, size_t n, double low, double high)
{
    if (n < 1) {
        return MW_ERR_POINTS;
    }
    if (!(mw_viscosity_in_range(low) && mw_viscosity_in_range(high) &&
          low < high)) {
        return MW_ERR_VISCOSITY;
    }
    for (size_t i = 0; i < n; i++) {
        if (!mw_viscosity_in_range(v[i])) {
            return MW_ERR_VISCOSITY;
        }
        if (i > 0 && !(v[i] >= v[i - 1])) {
            return MW_ERR_RISING;
        }
    }
    return MW_OK;
}

/* the gap between two marks, if it is of the band and wider than the widest */
static void widen(const struct set *set, struct mw_gap *widest, size_t thin,
                  size_t thick)
{
    double low = thin == MW_PLAN_EDGE ? set->low : set->v[thin];
    double high = thick == MW_PLAN_EDGE ? set->high : set->v[thick];
    bool of_band = low < set->high && high > set->low;
    if (of_band && high / low > widest->ratio) {
        *widest = (struct mw_gap){thin, thick, low, high, high / low};
    }
}

static struct mw_gap widest_gap(const struct set *set)
{
    struct mw_gap widest = {MW_PLAN_EDGE, MW_PLAN_EDGE, set->low, set->low, 1};
    size_t last = MW_PLAN_EDGE;
    for (size_t i = 0; i < set->n; i++) {
        if (i != set->without) {
            widen(set, &widest, last, i);
            last = i;
        }
    }
    widen(set, &widest, last, MW_PLAN_EDGE);
    return widest;
}

/* the part of the band between the thinnest and the thickest bottle */
static void find_reach(const struct set *set, double *low, double *high)
{
    size_t first = set->without == 0 ? 1 : 0;
    size_t last = set->without == set->n - 1 ? set->n - 2 : set->n - 1;
    *low = fmax(set->low, set->v[first]);
    *high = fmin(set->high, set->v[last]);
    if (!(*low <= *high)) {
        *low = NAN;
        *high = NAN;
    }
}

static bool same_reach(const struct set *set, const struct mw_plan *plan)
{
    double low, high;
    find_reach(set, &low, &high);
    return (low == plan->reach_low && high == plan->reach_high) ||
           (isnan(low) && isnan(plan->reach_low));
}

static void find_spare(struct set set, struct mw_plan *plan)
{
    plan->spare = MW_PLAN_EDGE;
    plan->spare_ratio = INFINITY;
    for (set.without = 0; set.n > 1 && set.without < set.n; set.without++) {
        double ratio = widest_gap(&set).ratio;
        if (same_reach(&set, plan) && ratio < plan->spare_ratio) {
            plan->spare = set.without;
            plan->spare_ratio = ratio;
        }
    }
}

/* the widest gap once another bottle stands in it */
static double ratio_with(const struct set *set, double addition)
{
    struct set below = *set, above = *set;
    struct mw_gap left, right;
    below.high = fmin(addition, set->high);
    above.low = fmax(addition, set->low);
    while (below.n > 0 && below.v[below.n - 1] >= addition) {
        below.n--;
    }
    while (above.n > 0 && above.v[0] <= addition) {
        above.v++;
        above.n--;
    }
    left = widest_gap(&below);
    right = widest_gap(&above);
    return fmax(left.ratio, right.ratio);
}

enum mw_status mw_plan(const double *v, size_t n, double low, double high,
                       struct mw_plan *plan)
{
    const struct mw_gap nothing = {MW_PLAN_EDGE, MW_PLAN_EDGE, NAN, NAN, NAN};
    *plan = (struct mw_plan){NAN, NAN, nothing, NAN, NAN, MW_PLAN_EDGE, NAN};
    enum mw_status status = check(v, n, low, high);
    if (status != MW_OK) {
        return status;
    }
    struct set set = {v, n, MW_PLAN_EDGE, low, high};
    find_reach(&set, &plan->reach_low, &plan->reach_high);
    plan->widest = widest_gap(&set);
    /* what no mix reaches is reached by a bottle at the edge itself */
    plan->addition = plan->widest.thin == MW_PLAN_EDGE ? plan->widest.low
                     : plan->widest.thick == MW_PLAN_EDGE
                         ? plan->widest.high
                         : sqrt(plan->widest.low * plan->widest.high);
    plan->addition_ratio = ratio_with(&set, plan->addition);
    find_spare(set, plan);
    return MW_OK;
}
