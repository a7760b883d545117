/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "oils/volume.h"

#include <math.h>

#include "parse/amount.h"
#include "parse/number.h"

enum exit_code refuse_drop(const char *name, struct error *error)
{
    return refuse(error,
                  "how large is a drop of %.*s? weigh 50, then midweight "
                  "stock set NAME --drops 50=0.62g",
                  QUOTED, name);
}

/* ml of what was weighed; NaN where the oil has no density there */
static double weighed(double g, const struct mw_oil *oil, double t)
{
    double density, ml = NAN;
    if (mw_oil_density(oil, t, &density, NULL) == MW_OK) {
        mw_dose_volume(g, density, &ml);
    }
    return ml;
}

enum exit_code read_volume(const char *text, const struct oil_ref *ref,
                           double t, double *ml, struct error *error)
{
    struct amount amount;
    enum exit_code code = parse_amount(text, &amount, error);
    if (code != EXIT_DONE) {
        return code;
    }
    switch (amount.kind) {
    case MW_AMOUNT_DROPS:
        if (isnan(ref->drop_ml)) {
            return refuse_drop(ref->name, error);
        }
        *ml = amount.value * ref->drop_ml;
        break;
    case MW_AMOUNT_G:
        *ml = weighed(amount.value, &ref->oil, t);
        break;
    case MW_AMOUNT_SHARE:
        *ml = NAN;
        break;
    default:
        *ml = amount.value;
    }
    return *ml > 0 ? EXIT_DONE
                   : refuse(error, "\"%.*s\" is no amount of oil; write 2ml",
                            QUOTED, text);
}
