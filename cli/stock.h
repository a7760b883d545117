/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * stock - the table of oils as a SQLite file: opening it, one transaction for
 * each command, and undo.
 *
 * The file is the one named, else $MIDWEIGHT_STOCK, else
 * $XDG_DATA_HOME/midweight/stock.db, else ~/.local/share/midweight/stock.db.
 * Nothing is created by reading. Two processes wait for each other.
 *
 * A failure of the file is OUTCOME_OUTPUT and leaves it untouched.
 */
#ifndef CLI_STOCK_H
#define CLI_STOCK_H

#include <sqlite3.h>
#include <stdbool.h>
#include <stddef.h>

#include "problem.h"

struct stock {
    sqlite3 *db;              /* NULL: there is no file, so no bottle */
    sqlite3_session *changes; /* what this command changes, for undo */
    struct problem *problem;
    char path[4096];
};

/**
 * Open the stock to read it. Without a file there is no bottle, which is no
 * failure. stock_close() it whatever the outcome.
 *
 * Given: file  what --stock named, or NULL
 */
enum outcome stock_open(struct stock *stock, const char *file,
                        struct problem *problem);

/**
 * Open the stock to change it, made where there is none yet, and begin the
 * command's transaction. stock_close() it whatever the outcome.
 */
enum outcome stock_begin(struct stock *stock, const char *file,
                         struct problem *problem);

/**
 * The same for a command that changes what is there already: where there is no
 * file none is made, and there is no bottle to change.
 */
enum outcome stock_begin_existing(struct stock *stock, const char *file,
                                  struct problem *problem);

/**
 * Make the command's changes last, all or nothing. stdout is flushed first:
 * what could not be told to the user is not done.
 *
 * Given: what  a line for the list of changes, such as "add Elm"; NULL after
 *              an undo, which is no change of its own
 */
enum outcome stock_commit(struct stock *stock, const char *what);

/**
 * Take the last change back, to last by stock_commit(); what receives its line.
 * No change left is OUTCOME_NO_ANSWER.
 */
enum outcome stock_undo(struct stock *stock, char *what, size_t size);

/** Close; what was not committed never happened. */
void stock_close(struct stock *stock);

/* -- Statements -------------------------------------------------------- */

/** A prepared statement, or NULL and the problem is noted. */
sqlite3_stmt *stock_prepare(struct stock *stock, const char *sql);

/** The next row of a statement: false at the end, or after a failure. */
bool stock_row(struct stock *stock, sqlite3_stmt *statement);

/** Run a statement that gives no rows, and finalize it. */
enum outcome stock_run(struct stock *stock, sqlite3_stmt *statement);

/** NaN is NULL in the table. */
void bind_number(sqlite3_stmt *statement, int parameter, double value);
double column_number(sqlite3_stmt *statement, int column);

void bind_text(sqlite3_stmt *statement, int parameter, const char *text);

/** The text of a column, good until the next row; "" for NULL. */
const char *column_text(sqlite3_stmt *statement, int column);

#endif
