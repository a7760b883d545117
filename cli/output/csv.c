/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "output/csv.h"

#include <csv.h>
#include <errno.h>
#include <float.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "util/xalloc.h"

enum { FILE_MAX = 64 * 1024 * 1024 /* bytes: no table of bottles is larger */ };

/* -- Writing ----------------------------------------------------------- */

/* what a spreadsheet takes for a formula when it starts a cell */
static bool starts_formula(const char *text)
{
    return *text != '\0' && strchr("=+-@\t\r", *text) != NULL;
}

/* whether an apostrophe has been put, or is to be put, before a text: the mark
 * of spreadsheets for a cell that is text in any case */
static bool is_guarded(const char *text)
{
    return text[0] == '\'' && (text[1] == '\'' || starts_formula(text + 1));
}

static bool is_number(const char *text)
{
    char *end;
    return strtod(text, &end), end > text && *end == '\0';
}

static void write_field(FILE *file, const char *text)
{
    bool guard = is_guarded(text) || (starts_formula(text) && !is_number(text));
    char *cell = xcalloc(strlen(text) + 2, 1);
    sprintf(cell, "%s%s", guard ? "'" : "", text);
    csv_fwrite(file, cell, strlen(cell));
    free(cell);
}

void csv_row(FILE *file, const char *const fields[])
{
    for (size_t i = 0; fields[i]; i++) {
        if (i > 0) {
            putc(',', file);
        }
        write_field(file, fields[i]);
    }
    fputs("\r\n", file);
}

/* three decimals of a viscosity could be read two ways */
static const char *pad_decimals(char buffer[ROUNDTRIP_LENGTH])
{
    const char *point = strchr(buffer, '.');
    if (point && strlen(point) == 4) {
        strcat(buffer, "0");
    }
    return buffer;
}

/* A number that some digits fewer tell comes back as these from DBL_DIG, as %g
 * leaves zeros out (C11 5.2.4.2.2). */
const char *format_roundtrip(double value, char buffer[ROUNDTRIP_LENGTH])
{
    if (isnan(value)) {
        buffer[0] = '\0';
        return buffer;
    }
    for (int digits = DBL_DIG; digits <= 17; digits++) {
        snprintf(buffer, ROUNDTRIP_LENGTH, "%.*g", digits, value);
        if (strtod(buffer, NULL) == value) {
            break;
        }
    }
    return pad_decimals(buffer);
}

/* the text of 100 times a number from its own digits, so that nothing is
 * rounded twice: "1.25e-01" becomes "12.5" */
static void write_hundredfold(const char *digits, char buffer[ROUNDTRIP_LENGTH])
{
    static const char zeros[] = "000000000000000000";
    long exponent = strtol(strchr(digits, 'e') + 1, NULL, 10) + 2;
    if (-exponent > (long)strlen(zeros)) {
        /* nothing is known so well; near enough */
        snprintf(buffer, ROUNDTRIP_LENGTH, "%.17g", 100 * strtod(digits, NULL));
        return;
    }
    char *to = buffer;
    if (exponent < 0) {
        to += sprintf(to, "0.%.*s", (int)(-exponent - 1), zeros);
    }
    for (; *digits != 'e'; digits++) {
        if (*digits == '.') {
            continue;
        }
        *to++ = *digits;
        if (exponent-- == 0 && digits[1] != 'e') {
            *to++ = '.';
        }
    }
    *to = '\0';
}

static void drop_zeros(char *text)
{
    char *last = text + strlen(text) - 1;
    while (!strchr(text, 'e') && strchr(text, '.') &&
           (*last == '0' || *last == '.')) {
        *last-- = '\0';
    }
}

const char *format_roundtrip_percent(double fraction,
                                     char buffer[ROUNDTRIP_LENGTH])
{
    char digits[ROUNDTRIP_LENGTH];
    buffer[0] = '\0';
    if (fraction == 0) {
        return strcpy(buffer, "0");
    }
    for (int count = 6; count <= 17 && !isnan(fraction); count++) {
        snprintf(digits, sizeof digits, "%.*e", count - 1, fraction);
        if (strtod(digits, NULL) == fraction) {
            write_hundredfold(digits, buffer);
            drop_zeros(buffer);
            break;
        }
    }
    return buffer;
}

/* -- Reading ----------------------------------------------------------- */

struct reading {
    take_row *take;
    void *context;
    struct error *error;
    enum exit_code code; /* of the rows up to now */
    const char *path;
    char *fields[CSV_COLUMNS_MAX];
    size_t count;
    size_t line;     /* of the byte that is read next, from 1 */
    size_t row_line; /* where the row starts */
    bool row_started;
};

static void free_fields(struct reading *reading)
{
    for (size_t i = 0; i < reading->count; i++) {
        free(reading->fields[i]);
    }
    reading->count = 0;
    reading->row_started = false;
}

static void refuse_row(struct reading *reading, const char *why)
{
    reading->code = refuse(reading->error, "%s, line %zu: %s", reading->path,
                           reading->row_line, why);
}

static void end_field(void *text, size_t length, void *context)
{
    struct reading *reading = context;
    if (reading->code != EXIT_DONE) {
        return;
    }
    if (reading->count == CSV_COLUMNS_MAX) {
        refuse_row(reading, "too many columns");
        return;
    }
    if (text && memchr(text, '\0', length)) {
        refuse_row(reading, "a NUL byte is no text");
        return;
    }
    const char *field = text ? text : "";
    reading->fields[reading->count++] =
        xstrdup(is_guarded(field) ? field + 1 : field);
}

static void end_row(int end, void *context)
{
    struct reading *reading = context;
    (void)end;
    if (reading->code == EXIT_DONE && reading->count > 0) {
        reading->code =
            reading->take((const char *const *)reading->fields, reading->count,
                          reading->row_line, reading->context, reading->error);
    }
    free_fields(reading);
}

static char most_frequent_separator(const char *text, size_t size)
{
    static const char separators[] = {',', ';', '\t'};
    size_t counts[sizeof separators] = {0};
    size_t best = 0;
    for (size_t i = 0; i < size && text[i] != '\n'; i++) {
        for (size_t j = 0; j < sizeof separators; j++) {
            counts[j] += text[i] == separators[j];
        }
    }
    for (size_t j = 1; j < sizeof separators; j++) {
        best = counts[j] > counts[best] ? j : best;
    }
    return separators[best];
}

/* the bytes of a first line that names the separator, such as "sep=;" */
static size_t named_separator(const char *text, size_t size, char *separator)
{
    if (size < 6 || memcmp(text, "sep=", 4) != 0) {
        return 0;
    }
    size_t end = text[5] == '\r' ? 6 : 5;
    if (end == size || text[end] != '\n') {
        return 0;
    }
    *separator = text[4];
    return end + 1;
}

/* byte by byte, so that the line of every row is known */
static void parse(struct reading *reading, struct csv_parser *parser,
                  const char *text, size_t size)
{
    char separator = most_frequent_separator(text, size);
    size_t start = named_separator(text, size, &separator);
    csv_set_delim(parser, (unsigned char)separator);
    reading->line = start > 0 ? 2 : 1;
    for (size_t i = start; i < size; i++) {
        if (reading->code != EXIT_DONE) {
            return;
        }
        if (!reading->row_started && text[i] != '\r' && text[i] != '\n') {
            reading->row_started = true;
            reading->row_line = reading->line;
        }
        if (csv_parse(parser, &text[i], 1, end_field, end_row, reading) != 1) {
            refuse_row(reading, csv_strerror(csv_error(parser)));
            return;
        }
        reading->line += text[i] == '\n';
    }
    if (csv_fini(parser, end_field, end_row, reading) != 0 &&
        reading->code == EXIT_DONE) {
        refuse_row(reading, "the file ends inside quotes");
    }
}

enum exit_code csv_load(const char *path, struct csv_text *csv,
                        struct error *error)
{
    bool standard = strcmp(path, "-") == 0;
    FILE *file = standard ? stdin : fopen(path, "rb");
    size_t room = 1 << 16;
    *csv = (struct csv_text){.path = path, .text = xcalloc(room, 1)};
    while (file && csv->size < FILE_MAX) {
        size_t got = fread(csv->text + csv->size, 1, room - csv->size, file);
        csv->size += got;
        if (got == 0) {
            break;
        }
        if (csv->size == room) {
            room *= 2;
            csv->text = xreallocarray(csv->text, room, 1);
        }
    }
    enum exit_code code = EXIT_DONE;
    if (!file || ferror(file)) {
        code = error_set(error, EXIT_OUTPUT, "%s cannot be read: %s", path,
                         strerror(errno));
    } else if (csv->size >= FILE_MAX) {
        code = refuse(error, "%s is too large for a table of bottles", path);
    }
    if (file && !standard) {
        fclose(file);
    }
    return code;
}

static void *need_room(void *block, size_t size)
{
    return xreallocarray(block, size, 1);
}

enum exit_code csv_read(const struct csv_text *csv, take_row *take,
                        void *context, struct error *error)
{
    struct reading reading = {.take = take,
                              .context = context,
                              .error = error,
                              .path = csv->path,
                              .row_line = 1};
    struct csv_parser parser;
    bool marked = csv->size >= 3 && memcmp(csv->text, "\xef\xbb\xbf", 3) == 0;
    size_t mark = marked ? 3 : 0;
    csv_init(&parser, CSV_STRICT | CSV_STRICT_FINI | CSV_APPEND_NULL);
    csv_set_realloc_func(&parser, need_room);
    parse(&reading, &parser, csv->text + mark, csv->size - mark);
    csv_free(&parser);
    free_fields(&reading);
    return reading.code;
}

void csv_unload(struct csv_text *csv)
{
    free(csv->text);
    *csv = (struct csv_text){0};
}
