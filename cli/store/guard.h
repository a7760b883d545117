/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * guard - the files that SQLite may touch for a stock.
 *
 * A stock comes with files beside it, and the journal can name a further one,
 * which SQLite would read and then delete. The guard is a SQLite VFS in front
 * of the usual one: it opens and deletes the stock and its own journal, WAL and
 * shared memory, and nothing else.
 */
#ifndef STORE_GUARD_H
#define STORE_GUARD_H

#include <sqlite3.h>
#include <stdbool.h>

struct stock_guard {
    sqlite3_vfs vfs;   /* a copy of the usual one, with methods of the guard */
    sqlite3_vfs *base; /* the usual one */
    char stock[4200];  /* the full path of the stock */
    bool refused;      /* a file was asked for that is not its own */
};

/**
 * Open a stock to read and write behind a guard, which must stay where it is
 * until the stock is closed.
 *
 * Given:    make  make the file where there is none, for its owner alone
 * Returned: db  to be closed whatever the result
 * Failures: those of sqlite3_open_v2()
 */
int stock_guard_open(struct stock_guard *guard, const char *path, bool make,
                     sqlite3 **db);

#endif
