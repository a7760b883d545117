/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * root - a bracketed root by GSL's Brent solver. Internal to the library.
 *
 * The solver lives on the stack: GSL's own allocator would call the
 * process-wide error handler when memory runs out, and nothing here allocates.
 */
#ifndef MIDWEIGHT_BASE_ROOT_H
#define MIDWEIGHT_BASE_ROOT_H

#include <gsl/gsl_roots.h>

#include "base/status.h"

/** A function of one variable; params is the caller's own. */
typedef double mw_function(double x, void *params);

enum {
    /* Room for the state of a solver; that of GSL's Brent solver takes 88 bytes
     * in GSL 2.7. The installed GSL is asked at run time. */
    MW_ROOT_STATE_DOUBLES = 32
};

/**
 * The x in [lower, upper] at which f is zero.
 *
 * Given:     f       continuous, with opposite signs (or zero) at the ends
 *            params  handed to f
 *            lower, upper  the ends, finite
 * Returned:  x       to about 2e-15 of its size, NaN on failure
 * Failures:  MW_ERR_ROOT  the ends do not bracket a root (a NaN at an end
 *                         brackets nothing), or f is not finite between them
 * Reference: R. P. Brent, Algorithms for Minimization without Derivatives,
 *            1973, chapter 4; as implemented in GSL (gsl_root_fsolver_brent)
 */
enum mw_status mw_root(mw_function *f, void *params, double lower, double upper,
                       double *x);

/**
 * The same by another bracketing solver of GSL.
 *
 * Failures:  also MW_ERR_ROOT  the state of the solver needs more room than
 *                    MW_ROOT_STATE_DOUBLES
 */
enum mw_status mw_root_by(const gsl_root_fsolver_type *type, mw_function *f,
                          void *params, double lower, double upper, double *x);

#endif
