/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * report - answers as text for people and as JSON for programs.
 */
#ifndef CLI_REPORT_H
#define CLI_REPORT_H

#include <jansson.h>
#include <stddef.h>

#include "midweight.h"
#include "util/error.h"

enum {
    REPORT_WIDTH = 72,   /* columns of text */
    FIGURES_LENGTH = 32, /* room for a number in text */
    SHORT_COLUMNS = 48,
    SHORT_LENGTH = 4 * SHORT_COLUMNS + 1 /* room for these in UTF-8 */
};

/**
 * A number to so many significant figures, without an exponent.
 *
 * Returned: buffer
 */
const char *figures(double value, int significant, char buffer[FIGURES_LENGTH]);

/**
 * A number as somebody would write it again: up to six figures, without an
 * exponent and without trailing zeros.
 *
 * Returned: buffer
 */
const char *as_given(double value, char buffer[FIGURES_LENGTH]);

/**
 * A time in words of two figures: "39 s", "3.1 min", "14 h", "4.7 days".
 *
 * Returned: buffer
 */
const char *duration(double seconds, char buffer[FIGURES_LENGTH]);

/**
 * A number with as many decimals as another is written with.
 *
 * Returned: buffer
 */
const char *with_decimals_of(double value, const char *written,
                             char buffer[FIGURES_LENGTH]);

/** Print to stdout what is text for people: whatever comes from a name, a file
 * or an argument, no control character but a line break gets through. */
__attribute__((format(printf, 1, 2))) void print_text(const char *format, ...);

/** Print a paragraph to stdout, broken between words at REPORT_WIDTH. */
__attribute__((format(printf, 1, 2))) void paragraph(const char *format, ...);

/**
 * A name cut to so many characters, with ".." where it was cut.
 *
 * Given: columns  SHORT_COLUMNS at most
 */
const char *shortened(const char *name, size_t columns,
                      char buffer[SHORT_LENGTH]);

/** Print a text (UTF-8) and fill it up with spaces to so many columns. */
void print_padded(const char *text, size_t columns);

/** A JSON number, or null for NaN and infinities. */
json_t *json_number(double value);

/** A point as {viscosity, temperature}. */
json_t *json_point(const struct mw_point *point);

/** The points of an oil, as a JSON array. */
json_t *json_points(const struct mw_oil *oil);

/** The texts of a set of enum mw_note, as a JSON array. */
json_t *json_notes(unsigned notes);

/** Print the texts of a set of enum mw_note, a paragraph each. */
void print_notes(unsigned notes);

/**
 * The texts of a set of enum mw_note in one line, " Warning: ..." each.
 *
 * Returned: buffer
 */
const char *notes_text(unsigned notes, char *buffer, size_t size);

/** A JSON string; what is not UTF-8 in it is replaced. */
json_t *json_text(const char *text);

/** Append to an array or set a member, and release the value. NULL is a lack of
 * memory and ends the program: no answer misses a part. */
void json_append(json_t *array, json_t *value);
void json_set(json_t *object, const char *key, json_t *value);

/** Print JSON to stdout and release it; NULL is a failure. */
enum outcome print_json(json_t *json, struct problem *problem);

/** The end of all output: stdout is flushed, and a failed write is told. */
enum outcome finish_output(struct problem *problem);

#endif
