/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * number - numbers as people write them.
 *
 * A decimal comma is as good as a point. One to three digits, a comma or point
 * and exactly three digits ("10,000") could mean two things and is refused,
 * unless the first digit is 0. What is refused is OUTCOME_USAGE.
 *
 * The C locale must be in force: the program never calls setlocale().
 */
#ifndef CLI_NUMBER_H
#define CLI_NUMBER_H

#include "problem.h"

enum {
    QUOTED = 40 /* how much of a wrong text is shown again */
};

/** Refuse a value: the command line is at fault. */
#define REFUSE(...) problem_set(problem, OUTCOME_USAGE, __VA_ARGS__)

/** The number at *text; *text moves behind it. */
enum outcome take_number(const char **text, double *value,
                         struct problem *problem);

/** A bare number of either sign, and nothing else. */
enum outcome parse_number(const char *text, double *value,
                          struct problem *problem);

#endif
