/* SPDX-License-Identifier: GPL-3.0-or-later */
/** compare - oils side by side at one temperature. */
#ifndef OIL_COMPARE_H
#define OIL_COMPARE_H

#include "command/options.h"
#include "parse/oil_spec.h"

enum { COMPARED_OILS = 8 /* at most; our own limit */ };

/**
 * Compare the oils of the arguments, two or more.
 *
 * Given: at           temperature as written; NULL: where the first is rated
 *        thermometer  K, limits
 */
enum exit_code oil_compare(const struct args *args, const char *at,
                           double thermometer,
                           const struct oil_defaults *defaults,
                           struct error *error);

#endif
