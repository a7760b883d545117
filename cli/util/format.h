/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** format - numbers as text for people. */
#ifndef UTIL_FORMAT_H
#define UTIL_FORMAT_H

enum { FORMAT_LENGTH = 32 /* room for a number in text */ };

/**
 * A number to so many significant figures, without an exponent.
 *
 * Returned: buffer
 */
const char *format_significant(double value, int significant,
                               char buffer[FORMAT_LENGTH]);

/**
 * A number as a person would write it again: up to six figures, without an
 * exponent and without trailing zeros.
 *
 * Returned: buffer
 */
const char *format_compact(double value, char buffer[FORMAT_LENGTH]);

/**
 * A time in words of two figures: "39 s", "3.1 min", "14 h", "4.7 days".
 *
 * Returned: buffer
 */
const char *format_duration(double seconds, char buffer[FORMAT_LENGTH]);

/**
 * A number with as many decimals as another is written with.
 *
 * Returned: buffer
 */
const char *format_decimals_of(double value, const char *written,
                               char buffer[FORMAT_LENGTH]);

#endif
