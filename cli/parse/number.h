/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * number - numbers as people write them.
 *
 * A decimal comma is as good as a point. What is refused is EXIT_USAGE.
 *
 * The C locale must be in force: the program never calls setlocale().
 */
#ifndef PARSE_NUMBER_H
#define PARSE_NUMBER_H

#include <stdbool.h>

#include "util/error.h"

/** Where a text goes on behind its spaces. */
const char *skip_spaces(const char *text);

/** The number at *text; *text moves behind it. */
enum exit_code take_number(const char **text, double *value,
                           struct error *error);

/** The same for a number of hundredths: 12.5 is 0.125, rounded once, so that
 * every fraction can be written as per cent. */
enum exit_code take_hundredths(const char **text, double *value,
                               struct error *error);

/**
 * The same for a viscosity, the only number that can mean two things: one to
 * three digits that do not start with 0, a comma and three digits ("10,000"),
 * or a point and three digits that end in 0 ("12.500"), are refused.
 */
enum exit_code take_plain_viscosity(const char **text, double *value,
                                    struct error *error);

/** Whether a number below 10 that take_plain_viscosity() takes has three
 * decimals ("1.255"), so the answer says how it was read. */
bool may_mean_thousands(const char *text);

/** A bare number of either sign, and nothing else. */
enum exit_code parse_number(const char *text, double *value,
                            struct error *error);

#endif
