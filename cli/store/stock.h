/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * stock - the table of oils as a SQLite file: opening it and one transaction
 * for each command. stock_undo.h takes changes back, stock_path.h says where
 * the file is.
 *
 * Nothing is created by reading. Two processes wait for each other, so a
 * command reads its input before it opens the stock and prints after it has
 * closed it or committed. An untrusted file is hostile: it can make a
 * command fail, but not run anything, nor touch any other file.
 *
 * A failure of the file is EXIT_OUTPUT and leaves it untouched.
 */
#ifndef STORE_STOCK_H
#define STORE_STOCK_H

#include <sqlite3.h>
#include <stdbool.h>
#include <stddef.h>

#include "store/guard.h"
#include "util/error.h"

/** A row that is not as the program would have written it. */
struct stock_damage {
    const char *table;
    sqlite3_int64 id;
};

struct stock {
    sqlite3 *db;          /* NULL: there is no file, so no bottle */
    sqlite3_int64 change; /* the number of this change, 0: not for undo */
    struct stock_damage *damage; /* the rows that were set aside */
    size_t damage_count;
    char path[4096];
    struct stock_guard guard; /* so an open stock must not be moved */
};

/**
 * Open the stock to read it. Without a file there is no bottle, which is no
 * failure. stock_close() it whatever the outcome.
 *
 * Given: file  what --stock named, or NULL
 */
enum exit_code stock_open(struct stock *stock, const char *file,
                          struct error *error);

/**
 * Open the stock to change it, create it where there is none, and begin the
 * command's transaction. stock_close() it whatever the outcome.
 */
enum exit_code stock_begin(struct stock *stock, const char *file,
                           struct error *error);

/**
 * The same for a command that changes what is there already: where there is no
 * file none is made, and there is no bottle to change.
 */
enum exit_code stock_begin_existing(struct stock *stock, const char *file,
                                    struct error *error);

/** The same for changes that cannot be undone. */
enum exit_code stock_begin_unwatched(struct stock *stock, const char *file,
                                     struct error *error);

/**
 * Make the command's changes last, all or nothing. Print what was done after
 * it: nothing is announced before it lasts.
 *
 * Given: what  a line for the list of changes, such as "add Elm"; NULL where
 *              undo and redo keep it, or nothing does
 */
enum exit_code stock_commit(struct stock *stock, const char *what,
                            struct error *error);

/** Close; what was not committed never happened. */
void stock_close(struct stock *stock);

/* -- Statements -------------------------------------------------------- */

/** Say what failed, from what SQLite reports. */
enum exit_code stock_fail(const struct stock *stock, struct error *error);

/** A prepared statement, or NULL. Binding passes over NULL, and the first step
 * fails with the reason. */
sqlite3_stmt *stock_prepare(const struct stock *stock, const char *sql);

/**
 * Go to the next row of a statement.
 *
 * Returned: row  whether there is one; false after a failure
 */
enum exit_code stock_step(const struct stock *stock, sqlite3_stmt *statement,
                          bool *row, struct error *error);

/** Run a statement that gives no rows, and finalize it. */
enum exit_code stock_run(const struct stock *stock, sqlite3_stmt *statement,
                         struct error *error);

/** Run SQL without parameters or rows. */
enum exit_code stock_run_sql(const struct stock *stock, const char *sql,
                             struct error *error);

/**
 * Take the first number that a statement gives, and finalize it.
 *
 * Returned: number  0 where it gives no row, or after a failure
 */
enum exit_code stock_number(const struct stock *stock, sqlite3_stmt *statement,
                            sqlite3_int64 *number, struct error *error);

/** NaN is NULL in the table. */
void bind_number(sqlite3_stmt *statement, int parameter, double value);
double column_number(sqlite3_stmt *statement, int column);

void bind_text(sqlite3_stmt *statement, int parameter, const char *text);

/** The text of a column, good until the next row; "" for NULL. */
const char *column_text(sqlite3_stmt *statement, int column);

/* -- Damage ------------------------------------------------------------ */

/**
 * Set a row aside that reading found to be damaged, and warn of it on stderr,
 * once. The command goes on without it; stock remove --damaged deletes it.
 *
 * Given: table, id  the row
 *        format     what it is and what is wrong with it
 */
__attribute__((format(printf, 4, 5))) void
stock_set_aside(struct stock *stock, const char *table, sqlite3_int64 id,
                const char *format, ...);

#endif
