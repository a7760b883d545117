/* SPDX-License-Identifier: GPL-3.0-or-later */
/* the statements of the stock, and what can go wrong with them */
#include <math.h>

#include "store/stock.h"
#include "util/xalloc.h"

#define FAIL(...) error_set(stock->error, EXIT_OUTPUT, __VA_ARGS__)

enum exit_code stock_fail(struct stock *stock)
{
    if (stock->guard.refused) {
        return FAIL("%s came with a file that names one elsewhere; take the "
                    "-journal and -wal files beside it away",
                    stock->path);
    }
    switch (sqlite3_errcode(stock->db)) {
    case SQLITE_NOTADB:
    case SQLITE_CORRUPT:
        return FAIL("%s is damaged or no stock at all; restore a copy of it",
                    stock->path);
    case SQLITE_READONLY:
    case SQLITE_PERM:
        return FAIL("%s cannot be written; check its permissions", stock->path);
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
        return FAIL("%s is in use by another program; try again", stock->path);
    case SQLITE_TOOBIG:
    case SQLITE_INTERRUPT:
        return FAIL("%s holds more than any stock does; restore a copy of it",
                    stock->path);
    case SQLITE_FULL:
        return FAIL("no room to write %s; free some", stock->path);
    default:
        return FAIL("%s: %s", stock->path, sqlite3_errmsg(stock->db));
    }
}

sqlite3_stmt *stock_prepare(struct stock *stock, const char *sql)
{
    sqlite3_stmt *statement = NULL;
    if (stock->error->exit_code == EXIT_DONE &&
        sqlite3_prepare_v2(stock->db, sql, -1, &statement, NULL) != SQLITE_OK) {
        stock_fail(stock);
    }
    return statement;
}

bool stock_row(struct stock *stock, sqlite3_stmt *statement)
{
    int result = statement ? sqlite3_step(statement) : SQLITE_DONE;
    if (result != SQLITE_ROW && result != SQLITE_DONE) {
        stock_fail(stock);
    }
    return result == SQLITE_ROW;
}

enum exit_code stock_run(struct stock *stock, sqlite3_stmt *statement)
{
    while (stock_row(stock, statement)) {
    }
    sqlite3_finalize(statement);
    return stock->error->exit_code;
}

enum exit_code stock_run_sql(struct stock *stock, const char *sql)
{
    if (stock->error->exit_code == EXIT_DONE &&
        sqlite3_exec(stock->db, sql, NULL, NULL, NULL) != SQLITE_OK) {
        stock_fail(stock);
    }
    return stock->error->exit_code;
}

int stock_ask_number(struct stock *stock, const char *sql)
{
    sqlite3_stmt *statement = stock_prepare(stock, sql);
    int number =
        stock_row(stock, statement) ? sqlite3_column_int(statement, 0) : 0;
    sqlite3_finalize(statement);
    return number;
}

void bind_number(sqlite3_stmt *statement, int parameter, double value)
{
    if (isnan(value)) {
        sqlite3_bind_null(statement, parameter);
    } else {
        sqlite3_bind_double(statement, parameter, value);
    }
}

double column_number(sqlite3_stmt *statement, int column)
{
    return sqlite3_column_type(statement, column) == SQLITE_NULL
               ? NAN
               : sqlite3_column_double(statement, column);
}

void bind_text(sqlite3_stmt *statement, int parameter, const char *text)
{
    if (sqlite3_bind_text(statement, parameter, text, -1, SQLITE_TRANSIENT) ==
        SQLITE_NOMEM) {
        out_of_memory();
    }
}

const char *column_text(sqlite3_stmt *statement, int column)
{
    const unsigned char *text = sqlite3_column_text(statement, column);
    if (!text &&
        sqlite3_errcode(sqlite3_db_handle(statement)) == SQLITE_NOMEM) {
        out_of_memory();
    }
    return text ? (const char *)text : "";
}
