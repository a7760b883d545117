/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "table/dosing.h"

#include <math.h>

#include "uncertainty/budget.h"

enum mw_status mw_dose_uncertainty(double mark, double batch, double *u)
{
    *u = NAN;
    if (!(mark >= 0 && batch > 0 && isfinite(mark / batch))) {
        return MW_ERR_AMOUNT;
    }
    return mw_rectangular(mark / batch / 2, u);
}

/* of one oil, measured with its tool, in parts of the batch */
static double dose_of(const struct mw_mix *mix, size_t i)
{
    const struct mw_dose_tool *tool = &mix->tools[i];
    double u, draws = fmax(ceil(mix->volumes[i] / tool->draw_ml - 1e-9), 1);
    return mw_dose_uncertainty(tool->step_ml, mix->total_ml, &u) == MW_OK
               ? sqrt(draws) * u
               : 0;
}

static double smallest_share(const double *shares, size_t count)
{
    double smallest = INFINITY;
    for (size_t i = 0; i < count; i++) {
        smallest = shares[i] > 0 ? fmin(smallest, shares[i]) : smallest;
    }
    return smallest;
}

void mw_mix_doses(const struct mw_mix *mix, size_t count, double *doses)
{
    double unknown = MW_DOSE_UNKNOWN * smallest_share(mix->shares, count);
    for (size_t i = 0; i < count; i++) {
        doses[i] = !(mix->shares[i] > 0)                ? 0
                   : mix->tools[i].tool == MW_TOOL_NONE ? unknown
                                                        : dose_of(mix, i);
    }
}
