/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "blend/residue.h"

#include <math.h>
#include <stdbool.h>

#include "base/positive.h"
#include "base/root.h"

enum { STEPS = 32 };

enum mw_status mw_residue_mixture(const struct mw_oil oils[3], double part,
                                  double share, double t,
                                  const struct mw_method *method, double *v,
                                  unsigned *warnings)
{
    *v = NAN;
    if (!(part >= 0 && part < 1 && share >= 0 && share <= 1)) {
        return MW_ERR_SHARES;
    }
    const double shares[3] = {(1 - part) * (1 - share), (1 - part) * share,
                              part};
    return mw_mixture(oils, shares, 3, t, method, v, warnings);
}

struct residue {
    const struct mw_oil *oils;
    double part;
    double t;
    const struct mw_method *method;
    double target;
};

static double miss(double share, void *params)
{
    const struct residue *residue = params;
    double v;
    mw_residue_mixture(residue->oils, residue->part, share, residue->t,
                       residue->method, &v, NULL);
    return log(v / residue->target);
}

/* whether the whole goes one way only from no share to all of it */
static bool is_steady(struct residue *residue)
{
    double first = miss(0, residue), last = miss(1, residue);
    double before = first;
    for (int step = 1; step <= STEPS; step++) {
        double here = miss((double)step / STEPS, residue);
        if (!((here - before) * (last - first) > 0)) {
            return false;
        }
        before = here;
    }
    return true;
}

enum mw_status mw_residue_share(const struct mw_oil oils[3], double part,
                                double target, double t,
                                const struct mw_method *method, double *share,
                                unsigned *warnings)
{
    struct residue residue = {oils, part, t, method, target};
    double v, v1, v2;
    *share = NAN;
    enum mw_status status =
        mw_residue_mixture(oils, part, 0.5, t, method, &v, warnings);
    if (status != MW_OK) {
        return status;
    }
    mw_oil_viscosity(&oils[0], t, &v1);
    mw_oil_viscosity(&oils[1], t, &v2);
    if (v1 == v2) {
        return MW_ERR_EQUAL_VISCOSITY;
    }
    if (!mw_is_positive(target)) {
        return MW_ERR_TARGET;
    }
    if (!is_steady(&residue)) {
        return MW_ERR_EXCESS;
    }
    status = mw_root(miss, &residue, 0, 1, share);
    return status == MW_OK ? MW_OK : MW_ERR_TARGET;
}
