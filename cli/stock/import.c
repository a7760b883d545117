/* SPDX-License-Identifier: GPL-3.0-or-later */
/* stock import: a table of bottles from CSV */
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "output/csv.h"
#include "output/text.h"
#include "parse/number.h"
#include "stock/bottle_json.h"
#include "stock/commands.h"
#include "stock/import_row.h"
#include "util/xalloc.h"

enum { SKIP_BAD };

static const struct command_option options[] = {
    OPTION(SKIP_BAD, "skip-bad", NULL, "Skip bad rows and import the rest"),
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
    bool skip_bad;
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

static enum exit_code read_header(const char *const fields[], size_t count,
                                  struct importing *importing,
                                  struct error *error)
{
    bool known[STOCK_COLUMN_COUNT] = {false};
    importing->has_header = true;
    importing->width = count;
    for (size_t i = 0; i < count; i++) {
        enum stock_column column = 0;
        while (column < STOCK_COLUMN_COUNT &&
               strcasecmp(fields[i], titles[column]) != 0) {
            column++;
        }
        importing->meaning[i] = column;
        if (column < STOCK_COLUMN_COUNT && known[column]) {
            return refuse(error, "%s: two columns are called %s",
                          importing->csv->path, titles[column]);
        }
        if (column < STOCK_COLUMN_COUNT) {
            known[column] = true;
        }
    }
    if (!known[COLUMN_NAME] || !known[COLUMN_VISCOSITY]) {
        return refuse(
            error,
            "%s: the first row names the columns, and name and viscosity "
            "are among them",
            importing->csv->path);
    }
    for (size_t i = 0; i < count; i++) {
        if (importing->meaning[i] == STOCK_COLUMN_COUNT) {
            add_note(importing,
                     "The column \"%.*s\" is not known and was left aside.",
                     QUOTED, fields[i]);
        }
    }
    return EXIT_DONE;
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
        add_note(importing, "Left out: line %zu, column %s: %s.", line, title,
                 row->text);
        return EXIT_DONE;
    }
    return refuse(error,
                  "%s, line %zu, column %s: %s; nothing was taken "
                  "(--skip-bad takes the good rows)",
                  importing->csv->path, line, title, row->text);
}

static enum exit_code take(const char *const fields[], size_t count,
                           size_t line, void *context, struct error *error)
{
    struct importing *importing = context;
    struct error row = {0};
    if (!importing->has_header) {
        return read_header(fields, count, importing, error);
    }
    fill_fields(fields, count, importing);
    importing->row.column = COLUMN_NAME;
    enum exit_code code =
        count > importing->width
            ? refuse(&row, "%zu fields, but the header has %zu", count,
                     importing->width)
            : import_row(&importing->row, &row);
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
    struct importing importing = {.row = {.stock = &stock},
                                  .csv = &csv,
                                  .skip_bad = args->value[SKIP_BAD] != NULL};
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
                "  midweight stock import --skip-bad bottles.csv\n",
    .arguments = "FILE",
    .notes = "The first row names the columns: name and viscosity, "
             "and any of temperature, family, tolerance_percent, "
             "density, left_ml, note. Fields are separated by commas, "
             "semicolons or tabs; a decimal comma is understood. An "
             "apostrophe before = + - @ is removed.",
    .options = options,
    .run = run,
};
