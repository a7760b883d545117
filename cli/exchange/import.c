/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* stock import: a table of bottles from CSV */
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "exchange/commands.h"
#include "exchange/import_row.h"
#include "exchange/import_titles.h"
#include "oils/bottle_json.h"
#include "output/csv.h"
#include "output/text.h"
#include "parse/number.h"
#include "util/utf8.h"
#include "util/xalloc.h"

enum { SKIP_BAD, SKIP_UNKNOWN, UPDATE };

static const struct command_option options[] = {
    OPTION(SKIP_BAD, "skip-bad", NULL, "Skip bad rows and import the rest"),
    OPTION(SKIP_UNKNOWN, "skip-unknown", NULL,
           "Skip columns that are not known"),
    OPTION(UPDATE, "update", NULL,
           "Change bottles that are there already, by what the row says"),
    {0},
};

static const char *const titles[] = {
#define STOCK_COLUMN_TITLE(name, title) title,
    STOCK_COLUMNS(STOCK_COLUMN_TITLE)
#undef STOCK_COLUMN_TITLE
};

struct importing {
    struct import_row row;
    const struct csv_text *csv;
    bool skip_bad, skip_unknown;
    bool has_header;
    size_t width;                               /* columns of the header */
    enum stock_column meaning[CSV_COLUMNS_MAX]; /* of each; _COUNT: none */
    size_t taken, left_out;
    char **warnings; /* what to print once the rows are in the stock */
    size_t note_count;
};

static void add_note(struct importing *importing, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

static void add_note(struct importing *importing, const char *format, ...)
{
    char text[sizeof((struct error *)0)->text + 100];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    importing->warnings =
        xreallocarray(importing->warnings, importing->note_count + 1,
                      sizeof importing->warnings[0]);
    importing->warnings[importing->note_count++] = xstrdup(text);
}

/* -- The file ---------------------------------------------------------- */

/* whether a text is UTF-8 throughout */
static bool is_utf8(const char *text)
{
    size_t length = 1;
    for (; *text && length > 0; text += length) {
        length = utf8_decode(text, NULL);
    }
    return length > 0;
}

#define NOT_UTF8 "this is not UTF-8 (Latin-1?); save the file as CSV in UTF-8"

/* the meaning of one column; count where it is to be skipped */
static enum exit_code read_title(const char *title, size_t index,
                                 struct importing *importing,
                                 struct error *error)
{
    enum stock_column column = import_title(title);
    importing->meaning[index] = column;
    if (!is_utf8(title)) {
        return refuse(error, "%s, line 1, column %zu: %s", importing->csv->path,
                      index + 1, NOT_UTF8);
    }
    for (size_t i = 0; i < index && column < STOCK_COLUMN_COUNT; i++) {
        if (importing->meaning[i] == column) {
            return refuse(error, "%s: two columns are called %s",
                          importing->csv->path, titles[column]);
        }
    }
    if (column < STOCK_COLUMN_COUNT || import_title_is_idle(title)) {
        return EXIT_DONE;
    }
    if (!importing->skip_unknown) {
        return refuse(error,
                      "%s, line 1, column %zu: \"%.*s\" is not known; "
                      "--skip-unknown skips it",
                      importing->csv->path, index + 1, QUOTED, title);
    }
    add_note(importing, "Skipped: column \"%.*s\", which is not known.", QUOTED,
             title);
    return EXIT_DONE;
}

static bool has_column(const struct importing *importing,
                       enum stock_column column)
{
    bool has = false;
    for (size_t i = 0; i < importing->width; i++) {
        has = has || importing->meaning[i] == column;
    }
    return has;
}

static enum exit_code read_header(const char *const fields[], size_t count,
                                  struct importing *importing,
                                  struct error *error)
{
    importing->has_header = true;
    importing->width = count;
    for (size_t i = 0; i < count; i++) {
        enum exit_code code = read_title(fields[i], i, importing, error);
        if (code != EXIT_DONE) {
            return code;
        }
    }
    return has_column(importing, COLUMN_NAME) &&
                   has_column(importing, COLUMN_VISCOSITY)
               ? EXIT_DONE
               : refuse(error,
                        "%s: the first row names the columns, and name and "
                        "viscosity are among them",
                        importing->csv->path);
}

static void fill_fields(const char *const fields[], size_t count,
                        struct importing *importing)
{
    for (size_t i = 0; i < STOCK_COLUMN_COUNT; i++) {
        importing->row.fields[i] = "";
    }
    for (size_t i = 0; i < count && i < importing->width; i++) {
        if (importing->meaning[i] != STOCK_COLUMN_COUNT) {
            importing->row.fields[importing->meaning[i]] = fields[i];
        }
    }
}

/* what went wrong with a row: the end of it all, or a row left out */
static enum exit_code report_row_error(struct importing *importing,
                                       enum exit_code code,
                                       const struct error *row, size_t line,
                                       struct error *error)
{
    const char *title = titles[importing->row.column];
    if (code == EXIT_OUTPUT) {
        *error = *row;
        return code;
    }
    if (importing->skip_bad) {
        importing->left_out++;
        add_note(importing, "Skipped: line %zu, column %s: %s.", line, title,
                 row->text);
        return EXIT_DONE;
    }
    return refuse(error,
                  "%s, line %zu, column %s: %s; nothing was imported "
                  "(--skip-bad imports the good rows)",
                  importing->csv->path, line, title, row->text);
}

/* the fields of a row, without the empty cells that a spreadsheet leaves at its
 * end */
static size_t count_filled(const char *const fields[], size_t count)
{
    while (count > 0 &&
           fields[count - 1][strspn(fields[count - 1], " ")] == '\0') {
        count--;
    }
    return count;
}

static enum exit_code take_fields(struct importing *importing, size_t count,
                                  struct error *error)
{
    importing->row.column = COLUMN_NAME;
    if (count > importing->width) {
        return refuse(error, "%zu fields, but the header has %zu", count,
                      importing->width);
    }
    for (size_t i = 0; i < STOCK_COLUMN_COUNT; i++) {
        if (!is_utf8(importing->row.fields[i])) {
            importing->row.column = (enum stock_column)i;
            return refuse(error, NOT_UTF8);
        }
    }
    return import_row(&importing->row, error);
}

static enum exit_code take(const char *const fields[], size_t count,
                           size_t line, void *context, struct error *error)
{
    struct importing *importing = context;
    struct error row = {0};
    size_t filled = count_filled(fields, count);
    if (filled == 0) {
        return EXIT_DONE;
    }
    if (!importing->has_header) {
        return read_header(fields, filled, importing, error);
    }
    fill_fields(fields, filled, importing);
    enum exit_code code = take_fields(importing, filled, &row);
    if (code != EXIT_DONE) {
        return report_row_error(importing, code, &row, line, error);
    }
    importing->taken++;
    for (size_t i = 0; i < row.remark_count; i++) {
        add_note(importing, "Note: line %zu, %s.", line, row.remarks[i]);
    }
    return EXIT_DONE;
}

static enum exit_code import_file(struct importing *importing,
                                  struct error *error)
{
    char what[QUOTED * 4];
    enum exit_code code = csv_read(importing->csv, take, importing, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (!importing->has_header) {
        return refuse(error, "%s is empty; its first row names the columns",
                      importing->csv->path);
    }
    snprintf(what, sizeof what, "import %.*s", 2 * QUOTED,
             importing->csv->path);
    return stock_commit(importing->row.stock, what, error);
}

static void print_import(const struct importing *importing)
{
    for (size_t i = 0; i < importing->note_count; i++) {
        print_wrapped("%s", importing->warnings[i]);
    }
    print_wrapped("Imported: %zu row%s; skipped: %zu.", importing->taken,
                  importing->taken == 1 ? "" : "s", importing->left_out);
}

/* the same, its notes as warnings */
static enum exit_code print_import_json(const struct importing *importing,
                                        struct error *error)
{
    for (size_t i = 0; i < importing->note_count; i++) {
        error_remark(error, "import", "%s", importing->warnings[i]);
    }
    return print_change_json("imported", importing->csv->path, NULL,
                             (double)importing->taken,
                             (double)importing->left_out, error);
}

static void free_notes(struct importing *importing)
{
    for (size_t i = 0; i < importing->note_count; i++) {
        free(importing->warnings[i]);
    }
    free(importing->warnings);
}

static enum exit_code run(const struct args *args, struct error *error)
{
    struct stock stock;
    struct csv_text csv;
    if (args->count != 1) {
        return refuse(error,
                      "which file? try midweight stock import bottles.csv");
    }
    struct importing importing = {
        .row = {.stock = &stock, .update = args->value[UPDATE] != NULL},
        .csv = &csv,
        .skip_bad = args->value[SKIP_BAD] != NULL,
        .skip_unknown = args->value[SKIP_UNKNOWN] != NULL};
    /* a slow pipe is waited for before the stock is locked, not after */
    enum exit_code code = csv_load(args->argument[0], &csv, error);
    if (code == EXIT_DONE) {
        code = stock_begin(&stock, args->stock, error);
        if (code == EXIT_DONE) {
            code = import_file(&importing, error);
        }
        stock_close(&stock);
    }
    if (code == EXIT_DONE && args->json) {
        code = print_import_json(&importing, error);
    } else if (code == EXIT_DONE) {
        print_import(&importing);
    }
    free_notes(&importing);
    csv_unload(&csv);
    return code;
}

const struct command command_stock_import = {
    .name = "stock import",
    .summary = "add bottles from a CSV file",
    .examples = "  midweight stock import bottles.csv\n"
                "  midweight stock import --skip-bad bottles.csv\n"
                "  midweight stock import --update bottles.csv\n",
    .arguments = "FILE",
    .notes = "The first row names the columns: name and viscosity, "
             "and any of temperature, family, tolerance_percent, "
             "density, left_ml, note; Viscosity (cSt), ml left, Notes and the "
             "like will do. Fields are separated by commas, semicolons or "
             "tabs; a decimal comma is understood. An apostrophe before "
             "= + - @ is removed.",
    .options = options,
    .run = run,
};
