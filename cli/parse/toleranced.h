/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * within - what is measured at the bench, with the limits it is certain to.
 *
 *     length       3mm  7.5cm  0.3m  20um  0.125in
 *     density      7.8  7.8g/ml  7800kg/m3
 *     temperature  22C  72F
 *     time         64.5s  3min  1:04.5 (minutes and seconds)  64.5
 *
 * Limits follow the value, with a unit of their own or the same: 3mm+-0.01mm,
 * 3mm+-0.01, 22C+-0.5C; the sign may be the one character as well. Several
 * times are joined by a slash: 64.5s/64.9s/65.1s.
 *
 * Numbers are those of number.h; what is refused is OUTCOME_USAGE.
 */
#ifndef CLI_WITHIN_H
#define CLI_WITHIN_H

#include <stddef.h>

#include "util/error.h"

/** A value and its limits. */
struct within {
    double value;
    double limit; /* certain to +-limit; NaN where none was written */
};

enum {
    TIMES_MAX = 32 /* of one run; far more than anybody takes */
};

/** Times of one run, repeated. */
struct times {
    size_t count;
    double list[TIMES_MAX]; /* s */
};

/** A length in m. */
enum outcome parse_length_within(const char *text, struct within *length,
                                 struct problem *problem);

/** A density in g/ml, above zero. */
enum outcome parse_density_within(const char *text, struct within *density,
                                  struct problem *problem);

/** A temperature in degC. */
enum outcome parse_temperature_within(const char *text,
                                      struct within *temperature,
                                      struct problem *problem);

/** One time or several, added to those that are there. */
enum outcome parse_times(const char *text, struct times *times,
                         struct problem *problem);

#endif
