/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * toleranced - what is measured at the bench, with the limits it is certain to.
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
 * Numbers are those of number.h; what is refused is EXIT_USAGE.
 */
#ifndef PARSE_TOLERANCED_H
#define PARSE_TOLERANCED_H

#include <stddef.h>

#include "util/error.h"

/* s: no timing by hand is shorter, no run of a bench is longer */
#define TIME_MIN 0.01
#define TIME_MAX 1e7

/** A value and its limits. */
struct toleranced {
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
enum exit_code parse_length_toleranced(const char *text,
                                       struct toleranced *length,
                                       struct error *error);

/** A density in g/ml, above zero. */
enum exit_code parse_density_toleranced(const char *text,
                                        struct toleranced *density,
                                        struct error *error);

/** A temperature in degC. */
enum exit_code parse_temperature_toleranced(const char *text,
                                            struct toleranced *temperature,
                                            struct error *error);

/**
 * A temperature that was read off a thermometer.
 *
 * Given:    at           the temperature; NULL: the usual one
 *           thermometer  its limits, 0.5 or 0.5C; NULL: the usual ones
 *           temperature  the usual value, degC, and limits
 * Returned: temperature  its limits are those behind +-, where there are some,
 *                        else those of the thermometer
 */
enum exit_code parse_thermometer(const char *at, const char *thermometer,
                                 struct toleranced *temperature,
                                 struct error *error);

/** The limits of a thermometer, MW_THERMOMETER where none were written. */
double thermometer_of(const struct toleranced *temperature);

/** One time or several, added to those that are there. */
enum exit_code parse_times(const char *text, struct times *times,
                           struct error *error);

#endif
