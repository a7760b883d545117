/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/stock.h"

#include <errno.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "store/schema.h"
#include "store/undo.h"
#include "store/version.h"
#include "util/stock_path.h"
#include "util/xalloc.h"

enum {
    WAIT_MS = 10000,      /* for another process that is changing the stock */
    CELL_MAX = 1 << 22,   /* bytes in a cell or row; ours stay below 20 000 */
    STEPS = 10000000,     /* of SQLite's machine between two looks */
    LOOKS_MAX = 200,      /* 100 000 bottles need one */
    WARNING_LENGTH = 400, /* room for a warning */
};

/* -- Opening ----------------------------------------------------------- */

/* end a command that a hostile file keeps busy */
static int look(void *context)
{
    int *looks = context;
    return ++*looks > LOOKS_MAX;
}

/* Nothing in the file may run: no views, no triggers but our own temporary
 * ones, no functions of its schema. */
static void disarm(struct stock *stock)
{
    static int looks;
    looks = 0;
    sqlite3_db_config(stock->db, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
    sqlite3_db_config(stock->db, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, NULL);
    sqlite3_db_config(stock->db, SQLITE_DBCONFIG_ENABLE_TRIGGER, 0, NULL);
    sqlite3_db_config(stock->db, SQLITE_DBCONFIG_ENABLE_VIEW, 0, NULL);
    sqlite3_db_config(stock->db, SQLITE_DBCONFIG_ENABLE_FKEY, 1, NULL);
    sqlite3_limit(stock->db, SQLITE_LIMIT_LENGTH, CELL_MAX);
    sqlite3_limit(stock->db, SQLITE_LIMIT_ATTACHED, 0);
    sqlite3_progress_handler(stock->db, STEPS, look, &looks);
}

static enum exit_code open_file(struct stock *stock, bool make,
                                struct error *error)
{
    if (stock_guard_open(&stock->guard, stock->path, make, &stock->db) !=
        SQLITE_OK) {
        int cause = sqlite3_system_errno(stock->db);
        return error_set(error, EXIT_OUTPUT, "%s cannot be opened: %s",
                         stock->path,
                         cause ? strerror(cause) : sqlite3_errmsg(stock->db));
    }
    sqlite3_busy_timeout(stock->db, WAIT_MS);
    disarm(stock);
    /* a deleted journal must stay deleted when the power fails */
    return stock_run_sql(stock,
                         "PRAGMA synchronous = EXTRA;"
                         "PRAGMA temp_store = MEMORY;"
                         "PRAGMA cell_size_check = ON;",
                         error);
}

/* -- Beginning and ending ---------------------------------------------- */

static bool is_there(const struct stock *stock)
{
    struct stat status;
    return stat(stock->path, &status) == 0 || errno != ENOENT;
}

static enum exit_code find(struct stock *stock, const char *file,
                           struct error *error)
{
    *stock = (struct stock){0};
    return stock_path(file, stock->path, sizeof stock->path, error);
}

enum exit_code stock_open(struct stock *stock, const char *file,
                          struct error *error)
{
    int version;
    enum exit_code code = find(stock, file, error);
    if (code != EXIT_DONE || !is_there(stock)) {
        return code;
    }
    /* to write, because a killed command may have to be rolled back first */
    if ((code = open_file(stock, false, error)) != EXIT_DONE ||
        (code = stock_run_sql(stock, "BEGIN", error)) != EXIT_DONE ||
        (code = stock_check_file(stock, &version, error)) != EXIT_DONE) {
        return code;
    }
    if (version == 0) {
        /* an empty file: no bottle yet, and none is made by reading */
        sqlite3_close(stock->db);
        stock->db = NULL;
        return EXIT_DONE;
    }
    return version < STOCK_VERSION ? stock_take_over(stock, error) : EXIT_DONE;
}

/* whether quick_check complains of a value only, which is set aside by those
 * who read it */
static bool is_about_a_value(const char *complaint)
{
    return strncmp(complaint, "NULL value in ", 14) == 0 ||
           strncmp(complaint, "non-", 4) == 0;
}

/* never write to a file whose pages are damaged already */
static enum exit_code check_pages(struct stock *stock, struct error *error)
{
    bool row, damaged = false;
    enum exit_code code =
        stock_run_sql(stock, "PRAGMA ignore_check_constraints = ON", error);
    if (code != EXIT_DONE) {
        return code;
    }
    sqlite3_stmt *check = stock_prepare(stock, "PRAGMA quick_check");
    while ((code = stock_step(stock, check, &row, error)) == EXIT_DONE && row) {
        const char *complaint = column_text(check, 0);
        damaged = damaged || (strcmp(complaint, "ok") != 0 &&
                              !is_about_a_value(complaint));
    }
    sqlite3_finalize(check);
    if (code != EXIT_DONE) {
        return code;
    }
    return damaged
               ? error_set(error, EXIT_OUTPUT,
                           "%s is damaged; restore a copy of it", stock->path)
               : stock_run_sql(stock, "PRAGMA ignore_check_constraints = OFF",
                               error);
}

static enum exit_code begin(struct stock *stock, bool make, struct error *error)
{
    int version = 0;
    enum exit_code code;
    if ((code = open_file(stock, make, error)) != EXIT_DONE ||
        (code = stock_run_sql(stock, "BEGIN IMMEDIATE", error)) != EXIT_DONE ||
        (code = stock_check_file(stock, &version, error)) != EXIT_DONE ||
        (code = check_pages(stock, error)) != EXIT_DONE) {
        return code;
    }
    return version < STOCK_VERSION ? stock_migrate(stock, version, error)
                                   : EXIT_DONE;
}

enum exit_code stock_begin(struct stock *stock, const char *file,
                           struct error *error)
{
    enum exit_code code = find(stock, file, error);
    if (code != EXIT_DONE) {
        return code;
    }
    stock_path_make_folders(stock->path);
    code = begin(stock, true, error);
    return code == EXIT_DONE ? stock_undo_watch(stock, error) : code;
}

enum exit_code stock_begin_existing(struct stock *stock, const char *file,
                                    struct error *error)
{
    enum exit_code code = stock_begin_unwatched(stock, file, error);
    return code == EXIT_DONE && stock->db ? stock_undo_watch(stock, error)
                                          : code;
}

enum exit_code stock_begin_unwatched(struct stock *stock, const char *file,
                                     struct error *error)
{
    enum exit_code code = find(stock, file, error);
    return code == EXIT_DONE && is_there(stock) ? begin(stock, false, error)
                                                : code;
}

/* A disk that fails near the end may have the change or not: the journal is
 * deleted, but the folder cannot be synced. */
static enum exit_code commit(struct stock *stock, struct error *error)
{
    int result = sqlite3_exec(stock->db, "COMMIT", NULL, NULL, NULL);
    if (result == SQLITE_IOERR) {
        return error_set(error, EXIT_OUTPUT,
                         "%s: %s; look with midweight stock list whether the "
                         "change was kept",
                         stock->path, sqlite3_errmsg(stock->db));
    }
    return result == SQLITE_OK ? EXIT_DONE : stock_fail(stock, error);
}

enum exit_code stock_commit(struct stock *stock, const char *what,
                            struct error *error)
{
    enum exit_code code =
        what ? stock_undo_keep(stock, what, error) : EXIT_DONE;
    if (code == EXIT_DONE) {
        code = commit(stock, error);
    }
    if (code == EXIT_DONE) {
        error->kept = true;
        out_of_memory_keeps();
    }
    return code;
}

void stock_close(struct stock *stock)
{
    /* an open transaction is rolled back */
    sqlite3_close(stock->db);
    free(stock->damage);
    stock->damage = NULL;
    stock->damage_count = 0;
    stock->db = NULL;
}

/* -- Damage ------------------------------------------------------------ */

void stock_set_aside(struct stock *stock, const char *table, sqlite3_int64 id,
                     const char *format, ...)
{
    char text[WARNING_LENGTH];
    va_list arguments;

    for (size_t i = 0; i < stock->damage_count; i++) {
        if (stock->damage[i].id == id &&
            strcmp(stock->damage[i].table, table) == 0) {
            return;
        }
    }
    stock->damage = xreallocarray(stock->damage, stock->damage_count + 1,
                                  sizeof stock->damage[0]);
    stock->damage[stock->damage_count++] = (struct stock_damage){table, id};
    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    warn("%s; it is set aside (midweight stock remove --damaged deletes it)",
         text);
}
