/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * check - what the unit tests share: cmocka, and comparisons that a NaN fails.
 */
#ifndef CHECK_H
#define CHECK_H

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "base/status.h"

/** Fail unless got is within a distance of want. */
#define check_near(got, want, within)                                          \
    check_near_at(#got, got, want, within, __FILE__, __LINE__)

/** Fail unless got is within a relative distance of want. */
#define check_part(got, want, part)                                            \
    check_part_at(#got, got, want, part, __FILE__, __LINE__)

/** Fail unless a call returns MW_OK. */
#define check_ok(call) check_status_at(#call, call, MW_OK, __FILE__, __LINE__)

/** Fail unless a call returns a status and leaves NaN in result. */
#define check_fails(call, status, result)                                      \
    do {                                                                       \
        (result) = 2.385;                                                      \
        check_status_at(#call, call, status, __FILE__, __LINE__);              \
        check_nan_at(#call, result, __FILE__, __LINE__);                       \
    } while (0)

static inline void check_near_at(const char *what, double got, double want,
                                 double within, const char *file, int line)
{
    if (!(fabs(got - want) <= within)) {
        print_error("%s is %.17g, not %.17g +- %.3g\n", what, got, want,
                    within);
        _fail(file, line);
    }
}

static inline void check_part_at(const char *what, double got, double want,
                                 double part, const char *file, int line)
{
    check_near_at(what, got, want, part * fabs(want), file, line);
}

static inline void check_status_at(const char *what, enum mw_status got,
                                   enum mw_status want, const char *file,
                                   int line)
{
    if (got != want) {
        print_error("%s returned %s, not %s\n", what, mw_status_name(got),
                    mw_status_name(want));
        _fail(file, line);
    }
}

static inline void check_nan_at(const char *what, double got, const char *file,
                                int line)
{
    if (!isnan(got)) {
        print_error("%s left %.17g, not NaN\n", what, got);
        _fail(file, line);
    }
}

#endif
