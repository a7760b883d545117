/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** compare - oils side by side at one temperature. */
#ifndef OIL_COMPARE_H
#define OIL_COMPARE_H

#include "command/options.h"
#include "parse/oil_spec.h"
#include "parse/toleranced.h"

enum { COMPARED_OILS = 8 /* at most; our own limit */ };

/**
 * Compare the oils of the arguments, two or more.
 *
 * Given: t       the temperature; NaN: where the first is rated
 */
enum exit_code oil_compare(const struct args *args, const struct toleranced *t,
                           const struct oil_defaults *defaults,
                           struct error *error);

#endif
