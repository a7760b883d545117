/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/journal.h"

#include <stdio.h>
#include <stdlib.h>

#include "parse/amount.h"
#include "parse/number.h"
#include "util/xalloc.h"

/* -- Uses ------------------------------------------------------------------ */

static void free_use(struct use *use)
{
    free(use->name);
    free(use->note);
}

static bool is_sound_use(const struct use *use)
{
    struct error error = {0};
    char date[DATE_LENGTH];
    return use->volume_ml > 0 && use->volume_ml <= AMOUNT_MAX &&
           check_line(use->name, &error) == EXIT_DONE &&
           check_text(use->note, &error) == EXIT_DONE &&
           parse_date(use->made, date, &error) == EXIT_DONE;
}

static void take_use(struct stock *stock, sqlite3_stmt *row,
                     struct journal *journal)
{
    struct use use = {.bottle = sqlite3_column_int64(row, 1),
                      .name = xstrdup(column_text(row, 2)),
                      .volume_ml = column_number(row, 3),
                      .note = xstrdup(column_text(row, 4))};
    snprintf(use.made, DATE_LENGTH, "%s", column_text(row, 5));
    if (!is_sound_use(&use)) {
        stock_set_aside(stock, "use", sqlite3_column_int64(row, 0),
                        "a use of \"%.*s\" is damaged", QUOTED, use.name);
        free_use(&use);
        return;
    }
    journal->uses = xreallocarray(journal->uses, journal->use_count + 1,
                                  sizeof journal->uses[0]);
    journal->uses[journal->use_count++] = use;
}

/* -- Fills ----------------------------------------------------------------- */

static void free_fill(struct fill *fill)
{
    free(fill->name);
    free(fill->previous_name);
}

static bool is_sound_fill(const struct fill *fill)
{
    struct error error = {0};
    char date[DATE_LENGTH];
    return fill->bottle != fill->previous &&
           check_line(fill->name, &error) == EXIT_DONE &&
           check_line(fill->previous_name, &error) == EXIT_DONE &&
           parse_date(fill->made, date, &error) == EXIT_DONE;
}

static void take_fill(struct stock *stock, sqlite3_stmt *row,
                      struct journal *journal)
{
    struct fill fill = {.bottle = sqlite3_column_int64(row, 0),
                        .previous = sqlite3_column_int64(row, 1),
                        .name = xstrdup(column_text(row, 2)),
                        .previous_name = xstrdup(column_text(row, 3))};
    snprintf(fill.made, DATE_LENGTH, "%s", column_text(row, 4));
    if (!is_sound_fill(&fill)) {
        stock_set_aside(stock, "fill", fill.bottle,
                        "a fill of \"%.*s\" is damaged", QUOTED, fill.name);
        free_fill(&fill);
        return;
    }
    journal->fills = xreallocarray(journal->fills, journal->fill_count + 1,
                                   sizeof journal->fills[0]);
    journal->fills[journal->fill_count++] = fill;
}

/* -- Both ------------------------------------------------------------------ */

typedef void take_row(struct stock *stock, sqlite3_stmt *row,
                      struct journal *journal);

static enum exit_code load(struct stock *stock, const char *sql, take_row *take,
                           struct journal *journal, struct error *error)
{
    bool row = true;
    enum exit_code code = EXIT_DONE;
    sqlite3_stmt *select = stock_prepare(stock, sql);
    while (code == EXIT_DONE &&
           (code = stock_step(stock, select, &row, error)) == EXIT_DONE &&
           row) {
        take(stock, select, journal);
    }
    sqlite3_finalize(select);
    return code;
}

enum exit_code journal_load(struct stock *stock, struct journal *journal,
                            struct error *error)
{
    *journal = (struct journal){0};
    if (!stock->db) {
        return EXIT_DONE;
    }
    enum exit_code code =
        load(stock,
             "SELECT use.id, use.bottle, bottle.name, use.volume_ml, use.note,"
             " use.made FROM use JOIN bottle ON bottle.id = use.bottle"
             " ORDER BY use.made DESC, use.id DESC",
             take_use, journal, error);
    return code == EXIT_DONE
               ? load(stock,
                      "SELECT fill.bottle, fill.previous, one.name, other.name,"
                      " fill.made FROM fill"
                      " JOIN bottle AS one ON one.id = fill.bottle"
                      " JOIN bottle AS other ON other.id = fill.previous"
                      " ORDER BY fill.made DESC, fill.bottle DESC",
                      take_fill, journal, error)
               : code;
}

void journal_free(struct journal *journal)
{
    for (size_t i = 0; i < journal->use_count; i++) {
        free_use(&journal->uses[i]);
    }
    for (size_t i = 0; i < journal->fill_count; i++) {
        free_fill(&journal->fills[i]);
    }
    free(journal->uses);
    free(journal->fills);
    *journal = (struct journal){0};
}

const struct fill *journal_fill(const struct journal *journal,
                                sqlite3_int64 bottle)
{
    for (size_t i = 0; i < journal->fill_count; i++) {
        if (journal->fills[i].bottle == bottle) {
            return &journal->fills[i];
        }
    }
    return NULL;
}

enum exit_code use_insert(struct stock *stock, const struct use *use,
                          struct error *error)
{
    sqlite3_stmt *insert =
        stock_prepare(stock, "INSERT INTO use(bottle, volume_ml, note, made)"
                             " VALUES (?, ?, ?, ?)");
    sqlite3_bind_int64(insert, 1, use->bottle);
    bind_number(insert, 2, use->volume_ml);
    bind_text(insert, 3, use->note);
    bind_text(insert, 4, use->made);
    return stock_run(stock, insert, error);
}

enum exit_code fill_insert(struct stock *stock, const struct fill *fill,
                           struct error *error)
{
    sqlite3_int64 there;
    sqlite3_stmt *find =
        stock_prepare(stock, "SELECT 1 FROM fill WHERE bottle = ?");
    sqlite3_bind_int64(find, 1, fill->bottle);
    enum exit_code code = stock_number(stock, find, &there, error);
    if (code != EXIT_DONE || there != 0) {
        return code == EXIT_DONE
                   ? refuse(error, "this bottle has one fill before it already")
                   : code;
    }
    sqlite3_stmt *insert =
        stock_prepare(stock, "INSERT INTO fill VALUES (?, ?, ?)");
    sqlite3_bind_int64(insert, 1, fill->bottle);
    sqlite3_bind_int64(insert, 2, fill->previous);
    bind_text(insert, 3, fill->made);
    return stock_run(stock, insert, error);
}
