/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * stock_guard - the files that SQLite may touch for a stock.
 *
 * A stock comes with files beside it, and the journal can name a further one,
 * which SQLite would read and then delete. The guard is a SQLite VFS in front
 * of the usual one: it opens and deletes the stock and its own journal, WAL and
 * shared memory, and nothing else.
 */
#ifndef CLI_STOCK_GUARD_H
#define CLI_STOCK_GUARD_H

#include <stdbool.h>

/**
 * The name of the guard for sqlite3_open_v2(), which it registers with. It
 * guards one stock at a time: the one that was opened last.
 */
const char *stock_guard(void);

/** Whether the guard has refused a file since the stock was opened. */
bool stock_guard_refused(void);

#endif
