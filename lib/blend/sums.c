/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "blend/sums.h"

#include <math.h>

enum mw_status mw_sums_check(const double *shares, size_t n)
{
    double sum = 0;
    for (size_t i = 0; i < n; i++) {
        if (!(shares[i] >= 0 && shares[i] <= 1)) {
            return MW_ERR_SHARES;
        }
        sum += shares[i];
    }
    return fabs(sum - 1) <= MW_SHARES_SLACK ? MW_OK : MW_ERR_SHARES;
}

void mw_sums_to_rule(struct mw_sums *sums, double p, double q, double share)
{
    sums->p += share * p;
    sums->q += share * q;
}

void mw_sums_to_excess(struct mw_sums *sums, double v, double share)
{
    /* D. H. D. West, Commun. ACM 22 (1979) 532: weighted running variance */
    sums->share += share;
    if (share > 0) {
        double away = log(v) - sums->mean;
        double step = away * share / sums->share;
        sums->mean += step;
        sums->variance += (sums->share - share) * away * step;
    }
}
