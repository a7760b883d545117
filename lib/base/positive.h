/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * positive - the one check that every quantity passes. Internal to the library.
 */
#ifndef MIDWEIGHT_BASE_POSITIVE_H
#define MIDWEIGHT_BASE_POSITIVE_H

#include <math.h>
#include <stdbool.h>

/** Whether a number is above zero and finite; false for NaN. */
static inline bool mw_is_positive(double number)
{
    return number > 0 && isfinite(number);
}

#endif
