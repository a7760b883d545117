/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * csv - CSV (RFC 4180) by libcsv, read and written.
 */
#ifndef OUTPUT_CSV_H
#define OUTPUT_CSV_H

#include <stddef.h>
#include <stdio.h>

#include "util/error.h"

enum {
    CSV_COLUMNS_MAX = 64,
    ROUNDTRIP_LENGTH = 40 /* room for a number that reads back the same */
};

/** Write a row of texts that NULL ends. What a spreadsheet would take for a
 * formula (it starts with = + - @, a tab or CR, and is not a number) gets an
 * apostrophe before it, and csv_read() takes it away again. */
void csv_row(FILE *file, const char *const fields[]);

/**
 * The shortest text that reads back as the same number, and that no reader can
 * take two ways ("1.2340" for 1.234); "" for NaN.
 *
 * Returned: buffer
 */
const char *format_roundtrip(double value, char buffer[ROUNDTRIP_LENGTH]);

/** The same for a fraction, as the per cent that reads back as it. */
const char *format_roundtrip_percent(double fraction,
                                     char buffer[ROUNDTRIP_LENGTH]);

/** Take a row: its fields, how many, the line it starts on. A failure ends the
 * reading. */
typedef enum exit_code take_row(const char *const fields[], size_t count,
                                size_t line, void *context,
                                struct error *error);

/** The bytes of a CSV file. */
struct csv_text {
    const char *path;
    char *text;
    size_t size;
};

/**
 * Read a file to its end, however long that takes. csv_unload() it whatever the
 * outcome.
 *
 * Given: path  "-" for standard input; it must outlive the bytes
 */
enum exit_code csv_load(const char *path, struct csv_text *csv,
                        struct error *error);

void csv_unload(struct csv_text *csv);

/**
 * Take a CSV file row by row. The separator is the one that the first line has
 * most of: comma, semicolon or tab, or the one that a first line "sep=;" names;
 * a byte-order mark and CRLF are fine.
 *
 * Given: take     called for every row that is not empty
 *        context  handed to take
 */
enum exit_code csv_read(const struct csv_text *csv, take_row *take,
                        void *context, struct error *error);

#endif
