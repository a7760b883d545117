/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "fluid/shear.h"

#include <gsl/gsl_pow_int.h>
#include <math.h>

#include "base/range.h"
#include "fluid/oil_internal.h"

/* as the header says */
#define ONSET      0.07
#define GRADE_LOG  1.00
#define GRADE_ROOT 0.0123

double mw_shear_stress(double molar_mass, double density, double t)
{
    /* g/ml over g/mol is 1e6 mol/m3; the gas constant is in kJ */
    return ONSET * density / molar_mass * 1e6 * 1000 * MW_GAS_CONSTANT *
           (t - MW_ABSOLUTE_ZERO);
}

static enum mw_status grade_of(const struct mw_oil *oil, double *v25)
{
    enum mw_status status =
        mw_oil_viscosity(oil, mw_family_rating_t(MW_SILICONE), v25);
    return status == MW_OK && *v25 < MW_SHEAR_V25_MIN ? MW_ERR_VISCOSITY
                                                      : status;
}

enum mw_status mw_shear_onset(const struct mw_oil *oil, double t,
                              struct mw_shear *onset)
{
    struct mw_oil_state state;
    double v25;
    *onset = (struct mw_shear){NAN, NAN, NAN};
    enum mw_status status =
        oil->family == MW_SILICONE ? grade_of(oil, &v25) : MW_ERR_FAMILY;
    if (status == MW_OK) {
        status = mw_oil_at(oil, t, &state);
    }
    if (status != MW_OK) {
        return status;
    }
    onset->molar_mass = gsl_pow_2((log10(v25) - GRADE_LOG) / GRADE_ROOT);
    onset->stress = mw_shear_stress(onset->molar_mass, state.density, t);
    onset->rate = onset->stress / (state.dynamic / 1000); /* mPa.s */
    return MW_OK;
}

unsigned mw_shear_warnings(const struct mw_oil *oil, double t, double rate)
{
    struct mw_shear onset;
    mw_shear_onset(oil, t, &onset);
    return rate > onset.rate ? (unsigned)MW_WARN_SHEAR : 0;
}
