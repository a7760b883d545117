/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/choose.h"

#include <gsl/gsl_math.h>
#include <math.h>
#include <stdbool.h>

#include "advice/side.h"
#include "base/range.h"
#include "blend/dose_internal.h"
#include "blend/mixture.h"
#include "blend/mixture_internal.h"
#include "blend/pair.h"
#include "fluid/chart.h"
#include "uncertainty/budget.h"

/* of a batch: what only rounding parts */
#define SAME 1e-9

/* -- Pairs -------------------------------------------------------------- */

/* how an oil enters a pair by each rule, the second where it has a line */
struct ends {
    struct mw_pair_end by[2];
};

struct pair {
    unsigned char thin, thick; /* in the lists of the sides */
    double share, uncertainty;
};

struct search {
    const struct mw_wish *wish;
    struct ends ends[2][MW_SIDE_MAX];
    struct mw_seen lists[2][MW_SIDE_MAX];
    struct pair pairs[(size_t)MW_SIDE_MAX * MW_SIDE_MAX];
    size_t count;
    enum mw_status failure; /* why there is no pair so far */
};

static bool holds(const struct mw_candidate *candidate, double ml)
{
    return !(candidate->left < ml);
}

static struct ends ends_of(const struct mw_seen *seen, double x)
{
    const struct mw_line *line = &seen->candidate->oil->line;
    return (struct ends){
        {[MW_RULE_ASTM] =
             mw_pair_end_of(mw_rule_entry(MW_RULE_ASTM), line, seen->v, x),
         [MW_RULE_WRIGHT] =
             mw_pair_end_of(mw_rule_entry(MW_RULE_WRIGHT), line, seen->v, x)}};
}

/* its share and uncertainty */
static enum mw_status solve(const struct search *search, struct pair *pair)
{
    const struct mw_wish *wish = search->wish;
    const struct mw_seen *thin = &search->lists[0][pair->thin];
    const struct mw_seen *thick = &search->lists[1][pair->thick];
    const struct mw_candidate *a = thin->candidate, *b = thick->candidate;
    struct mw_method method =
        mw_method_of(a->oil->family, a->oil->has_line && b->oil->has_line,
                     wish->excess.value);
    if (!mw_ratio_allowed(thin->v, thick->v)) {
        return MW_ERR_RATIO;
    }
    /* all of a batch comes from the two */
    if (a->left + b->left < wish->batch * (1 - SAME)) {
        return MW_ERR_INSUFFICIENT_STOCK;
    }
    struct mw_pair known =
        mw_pair_join(mw_rule_entry(method.rule), method.excess,
                     &search->ends[0][pair->thin].by[method.rule],
                     &search->ends[1][pair->thick].by[method.rule]);
    enum mw_status status =
        method.excess != 0
            ? mw_pair_share(&known, wish->target, &pair->share)
            : mw_pair_plain_share(&known, wish->target, &pair->share);
    if (status != MW_OK) {
        return status;
    }
    if (!holds(a, (1 - pair->share) * wish->batch) ||
        !holds(b, pair->share * wish->batch)) {
        return MW_ERR_INSUFFICIENT_STOCK;
    }
    struct mw_pair_swings swings =
        mw_pair_swing(&known, method.excess, pair->share);
    double by_excess = a->oil->family == MW_SILICONE
                           ? swings.excess * wish->excess.uncertainty
                           : 0;
    pair->uncertainty = gsl_hypot3(swings.oils[0] * a->uncertainty,
                                   swings.oils[1] * b->uncertainty, by_excess);
    return MW_OK;
}

static void try_pair(struct search *search, size_t thin, size_t thick)
{
    struct pair pair = {(unsigned char)thin, (unsigned char)thick, NAN, NAN};
    enum mw_status status = solve(search, &pair);
    if (status == MW_OK) {
        search->pairs[search->count++] = pair;
    } else if (status == MW_ERR_INSUFFICIENT_STOCK ||
               (status == MW_ERR_EXCESS && search->failure == MW_ERR_TARGET)) {
        search->failure = status;
    }
}

/* -- The best ----------------------------------------------------------- */

/* ln of the ratio of its oils */
static double width(const struct search *search, const struct pair *pair)
{
    return search->lists[0][pair->thin].away +
           search->lists[1][pair->thick].away;
}

/* how many parts there are to count out; more than any that can be where one
 * oil has none, as its share is too small */
static int parts_of(const struct pair *pair)
{
    int parts[2];
    mw_dose_ratio(pair->share, MW_PARTS_COUNTED, &parts[0], &parts[1]);
    return parts[0] > 0 && parts[1] > 0 ? parts[0] + parts[1]
                                        : 2 * MW_PARTS_COUNTED + 1;
}

/* what is as good as the best: the least uncertain, and of these the closest */
struct limits {
    double uncertainty, width;
};

static struct limits find_limits(const struct search *search)
{
    struct limits limits = {INFINITY, INFINITY};
    for (size_t i = 0; i < search->count; i++) {
        limits.uncertainty =
            fmin(limits.uncertainty, search->pairs[i].uncertainty);
    }
    limits.uncertainty *= 1 + MW_CHOICE_EQUAL;
    for (size_t i = 0; i < search->count; i++) {
        if (search->pairs[i].uncertainty <= limits.uncertainty) {
            limits.width = fmin(limits.width, width(search, &search->pairs[i]));
        }
    }
    limits.width *= 1 + MW_CHOICE_EQUAL;
    return limits;
}

/* of two pairs that are as good as the best */
static bool is_easier(const struct pair *pair, const struct pair *best)
{
    int more = parts_of(pair) - parts_of(best);
    return more < 0 || (more == 0 && pair->uncertainty < best->uncertainty);
}

/* the best pair is taken off the list */
static struct mw_choice take_best(struct search *search)
{
    struct limits limits = find_limits(search);
    size_t best = search->count;
    for (size_t i = 0; i < search->count; i++) {
        const struct pair *pair = &search->pairs[i];
        if (pair->uncertainty <= limits.uncertainty &&
            width(search, pair) <= limits.width &&
            (best == search->count || is_easier(pair, &search->pairs[best]))) {
            best = i;
        }
    }
    struct pair pair = search->pairs[best];
    search->pairs[best] = search->pairs[--search->count];
    return (struct mw_choice){search->lists[0][pair.thin].candidate->id,
                              search->lists[1][pair.thick].candidate->id,
                              pair.share, pair.uncertainty};
}

static enum mw_status check(const struct mw_wish *wish)
{
    if (!mw_viscosity_in_range(wish->target)) {
        return MW_ERR_VISCOSITY;
    }
    if (!(wish->batch >= 0 && isfinite(wish->batch))) {
        return MW_ERR_AMOUNT;
    }
    if (!isfinite(wish->excess.value)) {
        return MW_ERR_EXCESS;
    }
    return wish->excess.uncertainty >= 0 && isfinite(wish->excess.uncertainty)
               ? MW_OK
               : MW_ERR_UNCERTAINTY;
}

enum mw_status mw_choose(const struct mw_candidate *candidates, size_t n,
                         const struct mw_wish *wish,
                         struct mw_choice choices[MW_CHOICES], size_t *count)
{
    struct mw_side sides[2] = {{.count = 0}};
    struct search search;
    size_t sizes[2];
    double x;
    *count = 0;
    enum mw_status status = check(wish);
    if (status == MW_OK) {
        status = mw_chart_x(wish->temperature, &x);
    }
    if (status != MW_OK) {
        return status;
    }
    search.wish = wish;
    search.count = 0;
    search.failure = MW_ERR_TARGET;
    mw_sides_fill(candidates, n, wish, sides);
    for (size_t side = 0; side < 2; side++) {
        sizes[side] = mw_side_list(&sides[side], search.lists[side]);
        for (size_t i = 0; i < sizes[side]; i++) {
            search.ends[side][i] = ends_of(&search.lists[side][i], x);
        }
    }
    for (size_t i = 0; i < sizes[0]; i++) {
        for (size_t j = 0; j < sizes[1]; j++) {
            try_pair(&search, i, j);
        }
    }
    while (*count < MW_CHOICES && search.count > 0) {
        choices[(*count)++] = take_best(&search);
    }
    return *count > 0 ? MW_OK : search.failure;
}

size_t mw_choose_alone(const struct mw_candidate *candidates, size_t n,
                       const struct mw_wish *wish)
{
    size_t nearest = n;
    double least = INFINITY;
    for (size_t i = 0; i < n; i++) {
        const struct mw_candidate *candidate = &candidates[i];
        double v;
        mw_oil_viscosity(candidate->oil, wish->temperature, &v);
        double away = fabs(log(v / wish->target));
        bool near = away <= MW_ALONE * MW_COVERAGE * candidate->uncertainty;
        if (near && away < least && !(candidate->left <= 0) &&
            holds(candidate, wish->batch)) {
            nearest = i;
            least = away;
        }
    }
    return nearest;
}
