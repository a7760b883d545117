/* SPDX-License-Identifier: GPL-3.0-or-later */
/** stock_path - where the file of the stock is, and making it. */
#ifndef CLI_STOCK_PATH_H
#define CLI_STOCK_PATH_H

#include <stddef.h>

#include "problem.h"

/**
 * The path of the stock: the file given, else $MIDWEIGHT_STOCK, else
 * $XDG_DATA_HOME/midweight/stock.db, else ~/.local/share/midweight/stock.db.
 * It is the name of a file in a folder and nothing else, whatever it looks like
 * (":memory:", "file:...").
 */
enum outcome stock_path(const char *file, char *path, size_t size,
                        struct problem *problem);

/** Make the file where there is none, for its owner alone, and the folders
 * above it. A failure shows when the file is opened. */
void stock_path_make(const char *path);

#endif
