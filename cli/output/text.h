/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** text - answers as text for people. */
#ifndef OUTPUT_TEXT_H
#define OUTPUT_TEXT_H

#include <stddef.h>

#include "midweight.h"
#include "util/error.h"
#include "util/format.h"

enum {
    REPORT_WIDTH = 72, /* columns of text */
    TRUNCATED_COLUMNS = 48,
    TRUNCATED_LENGTH = 4 * TRUNCATED_COLUMNS + 1 /* room for these in UTF-8 */
};

/** Print to stdout what is text for people: whatever comes from a name, a file
 * or an argument, no control character but a line break gets through. */
__attribute__((format(printf, 1, 2))) void print_text(const char *format, ...);

/** Print a paragraph to stdout, broken between words at REPORT_WIDTH. */
__attribute__((format(printf, 1, 2))) void print_wrapped(const char *format,
                                                         ...);

/**
 * A name cut to so many characters, with ".." where it was cut.
 *
 * Given: columns  TRUNCATED_COLUMNS at most
 */
const char *truncate_columns(const char *name, size_t columns,
                             char buffer[TRUNCATED_LENGTH]);

/** Print a text (UTF-8) and fill it up with spaces to so many columns. */
void print_padded(const char *text, size_t columns);

/** Print the texts of a set of enum mw_warning, a paragraph each. */
void print_warnings(unsigned warnings);

/** Print the remarks of an answer, a print_wrapped each. */
void print_remarks(const struct error *error);

/**
 * The texts of a set of enum mw_warning in one line, " Warning: ..." each.
 *
 * Returned: buffer
 */
const char *warnings_text(unsigned warnings, char *buffer, size_t size);

/**
 * End a program: print the remarks of an answer, flush stdout, and say what
 * went wrong, be it the command or the writing of its answer.
 *
 * Given: code, error  of the command
 *
 * Returned: the exit code of the program
 */
int end_program(enum exit_code code, struct error *error);

#endif
