/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** import_titles - what the columns of a table by hand are called. */
#ifndef EXCHANGE_IMPORT_TITLES_H
#define EXCHANGE_IMPORT_TITLES_H

#include <stdbool.h>

#include "exchange/columns.h"

/**
 * The column that a title names: its own, or one that people write, such as
 * "Viscosity (cSt)" or "ml left". Only letters and digits count, and capitals
 * are small ones.
 *
 * Returned: STOCK_COLUMN_COUNT where it names none
 */
enum stock_column import_title(const char *title);

/** A title of stock list --csv that says nothing new. */
bool import_title_is_idle(const char *title);

#endif
