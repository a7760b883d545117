/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * report - answers as text for people and as JSON for programs.
 */
#ifndef CLI_REPORT_H
#define CLI_REPORT_H

#include <jansson.h>
#include <stddef.h>

#include "problem.h"

enum {
    REPORT_WIDTH = 72,  /* columns of text */
    FIGURES_LENGTH = 32 /* room for a number in text */
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

/** Print a paragraph to stdout, broken between words at REPORT_WIDTH. */
__attribute__((format(printf, 1, 2))) void paragraph(const char *format, ...);

/** A name cut to so many columns, with ".." where it was cut. */
const char *shortened(const char *name, size_t columns, char *buffer);

/** A JSON number, or null for NaN and infinities. */
json_t *json_number(double value);

/** The texts of a set of enum mw_note, as a JSON array. */
json_t *json_notes(unsigned notes);

/** Print the texts of a set of enum mw_note, a paragraph each. */
void print_notes(unsigned notes);

/** Print JSON to stdout and release it; NULL is a lack of memory. */
enum outcome print_json(json_t *json, struct problem *problem);

/** The end of all output: stdout is flushed, and a failed write is told. */
enum outcome finish_output(struct problem *problem);

#endif
