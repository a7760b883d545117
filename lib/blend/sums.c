/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "blend/sums.h"

#include <math.h>

/* the most that shares may miss 1 by, from adding up decimal fractions */
#define SHARES_SLACK 1e-9

enum mw_status mw_sums_check(const double *shares, size_t n)
{
    double sum = 0;
    for (size_t i = 0; i < n; i++) {
        if (!(shares[i] >= 0 && shares[i] <= 1)) {
            return MW_ERR_SHARES;
        }
        sum += shares[i];
    }
    return fabs(sum - 1) <= SHARES_SLACK ? MW_OK : MW_ERR_SHARES;
}

enum mw_status mw_sums_to_astm(struct mw_sums *sums, double v, double share)
{
    double w;
    enum mw_status status = mw_walther_w(v, &w);
    if (status == MW_OK) {
        sums->w += share * w;
    }
    return status;
}

void mw_sums_to_wright(struct mw_sums *sums, const struct mw_line *line,
                       double share)
{
    sums->a_over_b += share * line->a / line->b;
    sums->over_b += share / line->b;
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

double mw_sums_wright_w(const struct mw_sums *sums, double x)
{
    return (sums->a_over_b - x) / sums->over_b;
}
