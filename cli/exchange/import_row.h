/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** import_row - one row of a table of bottles, taken into the stock. */
#ifndef EXCHANGE_IMPORT_ROW_H
#define EXCHANGE_IMPORT_ROW_H

#include "exchange/columns.h"
#include "parse/names.h"
#include "store/stock.h"

struct import_row {
    struct stock *stock;                    /* begun */
    bool update;                            /* bottles that are there change */
    const char *fields[STOCK_COLUMN_COUNT]; /* never NULL */
    enum stock_column
        column; /* the one that is being read: where an error is */
};

/** The text of a column, which is where the next error is. */
const char *import_field(struct import_row *row, enum stock_column column);

/** The date of a row; today where it has none. */
enum exit_code import_date(struct import_row *row, char date[DATE_LENGTH],
                           struct error *error);

/** The bottle that a column names. */
enum exit_code import_bottle(struct import_row *row, enum stock_column column,
                             sqlite3_int64 *id, struct error *error);

/** Take a row of one kind. */
enum exit_code import_mix(struct import_row *row, struct error *error);
enum exit_code import_part(struct import_row *row, struct error *error);
enum exit_code import_cup(struct import_row *row, struct error *error);
enum exit_code import_run(struct import_row *row, struct error *error);
enum exit_code import_use(struct import_row *row, struct error *error);
enum exit_code import_fill(struct import_row *row, struct error *error);

/** Take a row, of whatever kind it says it is. */
enum exit_code import_row(struct import_row *row, struct error *error);

#endif
