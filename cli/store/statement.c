/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* the statements of the stock, and what can go wrong with them */
#include <math.h>

#include "store/stock.h"
#include "util/xalloc.h"

/* what a failure is called, but for its place; NULL where SQLite says it */
static const char *explain(int code)
{
    switch (code) {
    case SQLITE_NOTADB:
    case SQLITE_CORRUPT:
        return "is damaged or no stock at all; restore a copy of it";
    case SQLITE_READONLY:
    case SQLITE_PERM:
        return "cannot be written; check its permissions";
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
        return "is in use by another program; try again";
    case SQLITE_TOOBIG:
    case SQLITE_INTERRUPT:
        return "holds more than any stock does; restore a copy of it";
    default:
        return NULL;
    }
}

enum exit_code stock_fail(const struct stock *stock, struct error *error)
{
    int code = sqlite3_errcode(stock->db);
    const char *reason =
        stock->guard.refused
            ? "came with a file that names one elsewhere; take the -journal "
              "and -wal files beside it away"
            : explain(code);
    if (reason) {
        return error_set(error, EXIT_OUTPUT, "%s %s", stock->path, reason);
    }
    return code == SQLITE_FULL
               ? error_set(error, EXIT_OUTPUT, "no room to write %s; free some",
                           stock->path)
               : error_set(error, EXIT_OUTPUT, "%s: %s", stock->path,
                           sqlite3_errmsg(stock->db));
}

sqlite3_stmt *stock_prepare(const struct stock *stock, const char *sql)
{
    sqlite3_stmt *statement = NULL;
    sqlite3_prepare_v2(stock->db, sql, -1, &statement, NULL);
    return statement;
}

enum exit_code stock_step(const struct stock *stock, sqlite3_stmt *statement,
                          bool *row, struct error *error)
{
    int result = statement ? sqlite3_step(statement) : SQLITE_ERROR;
    *row = result == SQLITE_ROW;
    return *row || result == SQLITE_DONE ? EXIT_DONE : stock_fail(stock, error);
}

enum exit_code stock_run(const struct stock *stock, sqlite3_stmt *statement,
                         struct error *error)
{
    bool row = true;
    enum exit_code code = EXIT_DONE;
    while (row && code == EXIT_DONE) {
        code = stock_step(stock, statement, &row, error);
    }
    sqlite3_finalize(statement);
    return code;
}

enum exit_code stock_run_sql(const struct stock *stock, const char *sql,
                             struct error *error)
{
    return sqlite3_exec(stock->db, sql, NULL, NULL, NULL) == SQLITE_OK
               ? EXIT_DONE
               : stock_fail(stock, error);
}

enum exit_code stock_number(const struct stock *stock, sqlite3_stmt *statement,
                            sqlite3_int64 *number, struct error *error)
{
    bool row;
    enum exit_code code = stock_step(stock, statement, &row, error);
    *number = row ? sqlite3_column_int64(statement, 0) : 0;
    sqlite3_finalize(statement);
    return code;
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
