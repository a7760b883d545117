/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** stock_path - where the file of the stock is. */
#ifndef UTIL_STOCK_PATH_H
#define UTIL_STOCK_PATH_H

#include <stddef.h>

#include "util/error.h"

/**
 * The path of the stock: the file given, else $MIDWEIGHT_STOCK, else
 * $XDG_DATA_HOME/midweight/stock.db, else ~/.local/share/midweight/stock.db.
 * It always names a file, even where it looks like something else to SQLite
 * (":memory:", "file:...").
 */
enum exit_code stock_path(const char *file, char *path, size_t size,
                          struct error *error);

/** Make the folders above the file where there are none, for their owner alone.
 * A failure shows when the file is opened. */
void stock_path_make_folders(const char *path);

#endif
