/* SPDX-License-Identifier: GPL-3.0-or-later */
/** import_row - one row of a table of bottles, taken into the stock. */
#ifndef STOCK_IMPORT_ROW_H
#define STOCK_IMPORT_ROW_H

#include "store/columns.h"
#include "store/stock.h"

struct import_row {
    struct stock *stock;                    /* begun */
    const char *fields[STOCK_COLUMN_COUNT]; /* never NULL */
    enum stock_column
        column; /* the one that is being read: where an error is */
};

/** Take a row, of whatever kind it says it is. */
enum exit_code import_row(struct import_row *row, struct error *error);

#endif
