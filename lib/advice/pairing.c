/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/pairing.h"

#include <stdbool.h>

#include "blend/mixture.h"
#include "blend/mixture_internal.h"
#include "blend/pair.h"
#include "fluid/walther.h"

static bool enough(const struct mw_candidate *candidate, double ml)
{
    return !(candidate->left < ml);
}

/* a bound of the share from below */
static double least_share(const struct mw_wish *wish,
                          const struct mw_candidate *thin,
                          const struct mw_candidate *thick)
{
    const struct mw_candidate *end = wish->excess.value > 0 ? thin : thick;
    double chord = (wish->ln_target - end->ln_v) / (wish->w - end->w);
    return mw_straight_share(wish, chord, thin, thick);
}

/* by bounds of the share, and because all of a batch comes from the two */
static bool surely_short(const struct mw_wish *wish,
                         const struct mw_pairing *pairing)
{
    const struct mw_candidate *thin = pairing->thin, *thick = pairing->thick;
    return thin->left + thick->left < wish->batch * (1 - 1e-12) ||
           !enough(thin, (1 - pairing->share) * wish->batch) ||
           !enough(thick, least_share(wish, thin, thick) * wish->batch);
}

/* d ln v/df at both ends has to be above zero: what fails this need not be
 * solved to be refused */
static bool may_be_steady(const struct mw_wish *wish,
                          const struct mw_candidate *thin,
                          const struct mw_candidate *thick)
{
    double lift = mw_pairing_lift(wish, thin, thick), dw = thick->w - thin->w;
    return thick->slope * dw > lift && thin->slope * dw > -lift;
}

/* the share and the variance as they are */
static enum mw_status solve(const struct mw_wish *wish,
                            struct mw_pairing *pairing)
{
    const struct mw_candidate *thin = pairing->thin, *thick = pairing->thick;
    const struct mw_line no_lines[2] = {{NAN, NAN}, {NAN, NAN}};
    const double v[2] = {thin->viscosity, thick->viscosity};
    double plain, slope;
    struct mw_pair pair =
        mw_pair_of(no_lines, v, NAN, MW_RULE_ASTM, wish->excess.value);
    enum mw_status status = mw_pair_share(&pair, wish->target, &pairing->share);
    if (status == MW_OK) {
        double w = thin->w + pairing->share * (thick->w - thin->w);
        status = mw_walther_v(w, &plain);
    }
    if (status == MW_OK) {
        status = mw_walther_slope(plain, &slope);
    }
    if (status == MW_OK) {
        pairing->variance = mw_pairing_variance(&wish->excess, slope, thin,
                                                thick, pairing->share);
    }
    return status;
}

enum mw_status mw_pairing_solve(const struct mw_wish *wish,
                                struct mw_pairing *pairing)
{
    const struct mw_candidate *thin = pairing->thin, *thick = pairing->thick;
    if (!mw_ratio_allowed(thin->viscosity, thick->viscosity)) {
        return MW_ERR_TARGET;
    }
    if (!may_be_steady(wish, thin, thick)) {
        return MW_ERR_EXCESS;
    }
    if (surely_short(wish, pairing)) {
        return MW_ERR_INSUFFICIENT_STOCK;
    }
    enum mw_status status = solve(wish, pairing);
    if (status != MW_OK) {
        return status;
    }
    return enough(thin, (1 - pairing->share) * wish->batch) &&
                   enough(thick, pairing->share * wish->batch)
               ? MW_OK
               : MW_ERR_INSUFFICIENT_STOCK;
}
