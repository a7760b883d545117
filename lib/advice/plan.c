/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/plan.h"

#include <math.h>

#include "base/range.h"

/* a band and the bottles for it */
struct set {
    const double *v;
    size_t n;
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
            return MW_ERR_NOT_DECREASING;
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

static struct mw_gap no_gap(const struct set *set)
{
    return (struct mw_gap){MW_PLAN_EDGE, MW_PLAN_EDGE, set->low, set->low, 1};
}

static struct mw_gap widest_gap(const struct set *set)
{
    struct mw_gap widest = no_gap(set);
    size_t last = MW_PLAN_EDGE;
    for (size_t i = 0; i < set->n; i++) {
        widen(set, &widest, last, i);
        last = i;
    }
    widen(set, &widest, last, MW_PLAN_EDGE);
    return widest;
}

/* the gap that a bottle would leave, and how much wider that is than the gaps
 * beside it are now */
static double hole(const struct set *set, size_t i, double *growth)
{
    struct mw_gap left = no_gap(set), beside = no_gap(set);
    size_t thinner = i > 0 ? i - 1 : MW_PLAN_EDGE;
    size_t thicker = i + 1 < set->n ? i + 1 : MW_PLAN_EDGE;
    widen(set, &left, thinner, thicker);
    widen(set, &beside, thinner, i);
    widen(set, &beside, i, thicker);
    *growth = left.ratio / beside.ratio;
    return left.ratio;
}

/* the part of the band between the thinnest and the thickest bottle */
static void find_reach(const struct set *set, double thinnest, double thickest,
                       double *low, double *high)
{
    *low = fmax(set->low, thinnest);
    *high = fmin(set->high, thickest);
    if (!(*low <= *high)) {
        *low = NAN;
        *high = NAN;
    }
}

/* whether as much is reached without a bottle, of two or more */
static bool same_reach(const struct set *set, size_t i,
                       const struct mw_plan *plan)
{
    double low, high;
    size_t last = set->n - 1;
    find_reach(set, set->v[i == 0 ? 1 : 0], set->v[i == last ? last - 1 : last],
               &low, &high);
    return (low == plan->reach_low && high == plan->reach_high) ||
           (isnan(low) && isnan(plan->reach_low));
}

/* by the widest gap there would be; where another is as wide anyhow, by how
 * little the gaps beside the bottle would grow */
static void find_spare(const struct set *set, struct mw_plan *plan)
{
    double least = INFINITY, least_growth = INFINITY;
    for (size_t i = 0; set->n > 1 && i < set->n; i++) {
        double growth, ratio = fmax(plan->widest.ratio, hole(set, i, &growth));
        bool better =
            ratio < least || (ratio == least && growth < least_growth);
        if (better && same_reach(set, i, plan)) {
            least = ratio;
            least_growth = growth;
            plan->spare = i;
            plan->spare_ratio = ratio;
        }
    }
}

/* Where a bottle narrows a gap most: halfway on a logarithmic scale, but no
 * further than the end of the band, beyond which only one of the halves counts.
 * What no mix reaches is reached by a bottle at the edge itself. */
static double addition_to(const struct set *set, const struct mw_gap *gap)
{
    if (gap->thin == MW_PLAN_EDGE) {
        return gap->low;
    }
    if (gap->thick == MW_PLAN_EDGE) {
        return gap->high;
    }
    return fmin(fmax(sqrt(gap->low * gap->high), set->low), set->high);
}

/* the widest gap once another bottle stands in it */
static double ratio_with(const struct set *set, double addition)
{
    struct set below = *set, above = *set;
    below.high = addition;
    above.low = addition;
    while (below.n > 0 && below.v[below.n - 1] >= addition) {
        below.n--;
    }
    while (above.n > 0 && above.v[0] <= addition) {
        above.v++;
        above.n--;
    }
    return fmax(widest_gap(&below).ratio, widest_gap(&above).ratio);
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
    const struct set set = {v, n, low, high};
    find_reach(&set, v[0], v[n - 1], &plan->reach_low, &plan->reach_high);
    plan->widest = widest_gap(&set);
    plan->addition = addition_to(&set, &plan->widest);
    plan->addition_ratio = ratio_with(&set, plan->addition);
    find_spare(&set, plan);
    return MW_OK;
}
