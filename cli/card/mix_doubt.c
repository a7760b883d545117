/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the bottles are known to, and the band of the excess (mixture.h says
 * where it comes from); doses and the thermometer are left out. */
#include "mix_doubt.h"

#include <math.h>

#define EXCESS_BAND 0.10 /* K of silicone is 0.20 in a band of 0.10 to 0.30 */

/* what is varied */
struct trial {
    const struct blend_pair *pair;
    double share;
    size_t oil; /* which one gets thicker */
};

/* ln v of the mix when one oil is thicker by a ln v */
static double with_thicker_oil(double rise, void *params)
{
    const struct trial *trial = params;
    struct blend_pair pair = *trial->pair;
    const struct mw_oil *oil = &trial->pair->oils[trial->oil];
    struct mw_point points[MW_POINTS_MAX];
    for (size_t i = 0; i < oil->count; i++) {
        points[i] = oil->points[i];
        points[i].viscosity *= exp(rise);
    }
    mw_oil_make(oil->family, points, oil->count, oil->density,
                &pair.oils[trial->oil]);
    return log(pair_viscosity(&pair, trial->share, &pair.method));
}

static double with_excess(double excess, void *params)
{
    const struct trial *trial = params;
    const struct mw_method method = {trial->pair->method.rule, excess};
    return log(pair_viscosity(trial->pair, trial->share, &method));
}

void mix_doubt(const struct blend_pair *pair, double share, double *low,
               double *high)
{
    struct mw_budget budget = {0};
    struct trial trial = {pair, share, 0};
    enum mw_status status = MW_OK;
    double u;
    *low = *high = NAN;
    for (trial.oil = 0; trial.oil < 2 && status == MW_OK; trial.oil++) {
        status = mw_budget_add_numeric(&budget, "oil", 0,
                                       pair->uncertainty[trial.oil],
                                       with_thicker_oil, &trial);
    }
    if (status == MW_OK && pair->method.excess != 0) {
        mw_rectangular(EXCESS_BAND, &u);
        status = mw_budget_add_numeric(&budget, "excess", pair->method.excess,
                                       u, with_excess, &trial);
    }
    if (status == MW_OK) {
        mw_budget_band(&budget, pair_viscosity(pair, share, &pair->method), low,
                       high);
    }
}
