/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/root.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>
#include <math.h>
#include <stdbool.h>

enum {
    /* 7 to 12 steps are usual; bisection alone would need 53 for a double.
     * Only a root at zero itself, which no relative tolerance ends, gets here
     * by steps, and is then closer than 1e-50. */
    STEPS_MAX = 200
};

/* a few units in the last place: no root of a double is known better */
#define RELATIVE 2e-15

/* GSL aborts the process on a value that is not finite; it never sees one. It
 * asks for the ends, which are known, once more. */
struct guarded {
    mw_function *f;
    void *params;
    double ends[2], at_ends[2];
    bool broken;
};

static double guarded_value(double x, void *params)
{
    struct guarded *guarded = params;
    for (int i = 0; i < 2; i++) {
        if (x == guarded->ends[i]) {
            return guarded->at_ends[i];
        }
    }
    double y = guarded->f(x, guarded->params);
    if (isfinite(y)) {
        return y;
    }
    guarded->broken = true;
    return 0;
}

static double solve(const gsl_root_fsolver_type *type, gsl_function *f,
                    double lower, double upper)
{
    double state[MW_ROOT_STATE_DOUBLES];
    gsl_root_fsolver solver = {.type = type, .state = state};
    gsl_root_fsolver_set(&solver, f, lower, upper);
    for (int step = 0; step < STEPS_MAX; step++) {
        gsl_root_fsolver_iterate(&solver);
        if (gsl_root_test_interval(solver.x_lower, solver.x_upper, 0,
                                   RELATIVE) == GSL_SUCCESS) {
            break;
        }
    }
    return solver.root;
}

enum mw_status mw_root(mw_function *f, void *params, double lower, double upper,
                       double *x)
{
    return mw_root_by(gsl_root_fsolver_brent, f, params, lower, upper, x);
}

enum mw_status mw_root_by(const gsl_root_fsolver_type *type, mw_function *f,
                          void *params, double lower, double upper, double *x)
{
    *x = NAN;
    if (type->size > MW_ROOT_STATE_DOUBLES * sizeof(double)) {
        return MW_ERR_ROOT;
    }
    double f_lower = f(lower, params);
    double f_upper = f(upper, params);
    if (f_lower == 0 || f_upper == 0) {
        *x = f_lower == 0 ? lower : upper;
        return MW_OK;
    }
    bool opposite =
        (f_lower < 0 && f_upper > 0) || (f_lower > 0 && f_upper < 0);
    if (!(lower < upper && opposite && isfinite(f_lower - f_upper))) {
        return MW_ERR_ROOT;
    }
    struct guarded guarded = {
        f, params, {lower, upper}, {f_lower, f_upper}, false};
    /* cppcheck-suppress legacyUninitvar ; it takes .function for function */
    gsl_function function = {.function = guarded_value, .params = &guarded};
    double root = solve(type, &function, lower, upper);
    if (guarded.broken) {
        return MW_ERR_ROOT;
    }
    *x = root;
    return MW_OK;
}
