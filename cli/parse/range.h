/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** range - FROM:TO:STEP as people write it. */
#ifndef PARSE_RANGE_H
#define PARSE_RANGE_H

#include "util/error.h"

enum { TARGET_LENGTH = 64 };

/** FROM:TO:STEP[@T]: FROM and TO are texts of their own, with @T. */
struct target_range {
    char from[TARGET_LENGTH], to[TARGET_LENGTH];
    double step;
};

enum exit_code parse_target_range(const char *text, struct target_range *range,
                                  struct error *error);

/** How many steps there are from one number to another, none beyond it; text is
 * what a user wrote. */
enum exit_code count_steps(const char *text, double from, double to,
                           double step, unsigned *count, struct error *error);

#endif
