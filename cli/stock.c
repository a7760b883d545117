/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "stock.h"

#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "memory.h"
#include "stock_schema.h"

enum {
    WAIT_MS = 10000,   /* for another process that is changing the stock */
    CHANGES_KEPT = 200 /* how far undo goes */
};

#define FAIL(...) problem_set(stock->problem, OUTCOME_OUTPUT, __VA_ARGS__)

/* -- Where it is ------------------------------------------------------- */

static enum outcome find_path(struct stock *stock, const char *file)
{
    const char *chosen = file ? file : getenv("MIDWEIGHT_STOCK");
    const char *data = getenv("XDG_DATA_HOME");
    const char *home = getenv("HOME");
    int length;
    if (chosen && *chosen) {
        length = snprintf(stock->path, sizeof stock->path, "%s", chosen);
    } else if (data && *data == '/') {
        length = snprintf(stock->path, sizeof stock->path,
                          "%s/midweight/stock.db", data);
    } else if (home && *home) {
        length = snprintf(stock->path, sizeof stock->path,
                          "%s/.local/share/midweight/stock.db", home);
    } else {
        return FAIL("no home directory for the stock; name a file with "
                    "--stock");
    }
    return length < (int)sizeof stock->path
               ? OUTCOME_DONE
               : FAIL("the name of the stock is too long");
}

/* the folders above the file; a failure shows when the file is opened */
static void make_folders(const char *path)
{
    char folder[sizeof((struct stock *)0)->path];
    strcpy(folder, path);
    for (char *slash = strchr(folder + 1, '/'); slash;
         slash = strchr(slash + 1, '/')) {
        *slash = '\0';
        mkdir(folder, 0777);
        *slash = '/';
    }
}

/* -- Failures ---------------------------------------------------------- */

static enum outcome fail_by_sqlite(struct stock *stock)
{
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
    case SQLITE_FULL:
        return FAIL("no room to write %s; free some", stock->path);
    default:
        return FAIL("%s: %s", stock->path, sqlite3_errmsg(stock->db));
    }
}

/* -- Statements -------------------------------------------------------- */

sqlite3_stmt *stock_prepare(struct stock *stock, const char *sql)
{
    sqlite3_stmt *statement = NULL;
    if (stock->problem->outcome == OUTCOME_DONE &&
        sqlite3_prepare_v2(stock->db, sql, -1, &statement, NULL) != SQLITE_OK) {
        fail_by_sqlite(stock);
    }
    return statement;
}

bool stock_row(struct stock *stock, sqlite3_stmt *statement)
{
    int result = statement ? sqlite3_step(statement) : SQLITE_DONE;
    if (result != SQLITE_ROW && result != SQLITE_DONE) {
        fail_by_sqlite(stock);
    }
    return result == SQLITE_ROW;
}

enum outcome stock_run(struct stock *stock, sqlite3_stmt *statement)
{
    while (stock_row(stock, statement)) {
    }
    sqlite3_finalize(statement);
    return stock->problem->outcome;
}

static enum outcome run_sql(struct stock *stock, const char *sql)
{
    if (stock->problem->outcome == OUTCOME_DONE &&
        sqlite3_exec(stock->db, sql, NULL, NULL, NULL) != SQLITE_OK) {
        fail_by_sqlite(stock);
    }
    return stock->problem->outcome;
}

/* the first number that a statement gives, 0 after a failure */
static int ask_number(struct stock *stock, const char *sql)
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

/* -- Opening ----------------------------------------------------------- */

static enum outcome open_file(struct stock *stock, int flags)
{
    if (sqlite3_open_v2(stock->path, &stock->db, flags, NULL) != SQLITE_OK) {
        int cause = sqlite3_system_errno(stock->db);
        return FAIL("%s cannot be opened: %s", stock->path,
                    cause ? strerror(cause) : sqlite3_errmsg(stock->db));
    }
    sqlite3_busy_timeout(stock->db, WAIT_MS);
    /* a stock from elsewhere may say what it likes, but not run it */
    sqlite3_db_config(stock->db, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
    sqlite3_db_config(stock->db, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, NULL);
    sqlite3_db_config(stock->db, SQLITE_DBCONFIG_ENABLE_TRIGGER, 0, NULL);
    sqlite3_db_config(stock->db, SQLITE_DBCONFIG_ENABLE_FKEY, 1, NULL);
    /* a deleted journal must stay deleted when the power fails */
    return run_sql(stock, "PRAGMA synchronous = EXTRA;"
                          "PRAGMA cell_size_check = ON;");
}

/* whose file it is and of which version; 0 for an empty one */
static enum outcome check_file(struct stock *stock, int *version)
{
    int id = ask_number(stock, "PRAGMA application_id");
    *version = ask_number(stock, "PRAGMA user_version");
    int tables = ask_number(stock, "SELECT count(*) FROM sqlite_schema");
    if (stock->problem->outcome != OUTCOME_DONE) {
        return stock->problem->outcome;
    }
    if (id != STOCK_APPLICATION_ID && (id || *version || tables)) {
        return FAIL("%s is a file of another program, not a stock",
                    stock->path);
    }
    if (*version > stock_version()) {
        return FAIL("%s was written by a newer midweight (version %d of the "
                    "table, this one knows %d); update the program",
                    stock->path, *version, stock_version());
    }
    return OUTCOME_DONE;
}

static enum outcome migrate(struct stock *stock, int version)
{
    char sql[80];
    for (; version < stock_version(); version++) {
        run_sql(stock, stock_migrations[version]);
    }
    snprintf(sql, sizeof sql,
             "PRAGMA application_id = %d; PRAGMA user_version = %d",
             STOCK_APPLICATION_ID, version);
    return run_sql(stock, sql);
}

enum outcome stock_open(struct stock *stock, const char *file,
                        struct problem *problem)
{
    struct stat status;
    int version;
    *stock = (struct stock){.problem = problem};
    if (find_path(stock, file) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (stat(stock->path, &status) != 0 && errno == ENOENT) {
        return OUTCOME_DONE;
    }
    /* to write, because a killed command may have to be rolled back first */
    if (open_file(stock, SQLITE_OPEN_READWRITE) != OUTCOME_DONE ||
        run_sql(stock, "BEGIN") != OUTCOME_DONE ||
        check_file(stock, &version) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (version == stock_version()) {
        return OUTCOME_DONE;
    }
    if (version == 0) {
        /* an empty file: no bottle yet, and none is made by reading */
        sqlite3_close(stock->db);
        stock->db = NULL;
        return OUTCOME_DONE;
    }
    return run_sql(stock, "COMMIT; BEGIN IMMEDIATE") == OUTCOME_DONE &&
                   migrate(stock, version) == OUTCOME_DONE
               ? run_sql(stock, "COMMIT; BEGIN")
               : problem->outcome;
}

static enum outcome watch_changes(struct stock *stock)
{
    if (sqlite3session_create(stock->db, "main", &stock->changes) !=
        SQLITE_OK) {
        return FAIL("out of memory");
    }
    for (size_t i = 0; stock_data_tables[i]; i++) {
        if (sqlite3session_attach(stock->changes, stock_data_tables[i]) !=
            SQLITE_OK) {
            return FAIL("out of memory");
        }
    }
    return OUTCOME_DONE;
}

enum outcome stock_begin(struct stock *stock, const char *file,
                         struct problem *problem)
{
    int version = 0;
    *stock = (struct stock){.problem = problem};
    if (find_path(stock, file) != OUTCOME_DONE) {
        return problem->outcome;
    }
    make_folders(stock->path);
    if (open_file(stock, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE) !=
            OUTCOME_DONE ||
        run_sql(stock, "BEGIN IMMEDIATE") != OUTCOME_DONE ||
        check_file(stock, &version) != OUTCOME_DONE) {
        return problem->outcome;
    }
    /* never write to what is damaged already */
    sqlite3_stmt *check = stock_prepare(stock, "PRAGMA quick_check(1)");
    if (stock_row(stock, check) && strcmp(column_text(check, 0), "ok") != 0) {
        FAIL("%s is damaged; restore a copy of it", stock->path);
    }
    sqlite3_finalize(check);
    if (problem->outcome == OUTCOME_DONE && version < stock_version()) {
        migrate(stock, version);
    }
    return problem->outcome == OUTCOME_DONE ? watch_changes(stock)
                                            : problem->outcome;
}

enum outcome stock_begin_existing(struct stock *stock, const char *file,
                                  struct problem *problem)
{
    struct stat status;
    *stock = (struct stock){.problem = problem};
    if (find_path(stock, file) != OUTCOME_DONE ||
        (stat(stock->path, &status) != 0 && errno == ENOENT)) {
        return problem->outcome;
    }
    return stock_begin(stock, file, problem);
}

void stock_close(struct stock *stock)
{
    if (stock->changes) {
        sqlite3session_delete(stock->changes);
    }
    /* an open transaction is rolled back */
    sqlite3_close(stock->db);
    stock->changes = NULL;
    stock->db = NULL;
}

/* -- Changes ----------------------------------------------------------- */

static enum outcome note_change(struct stock *stock, const char *what)
{
    int size;
    void *changeset;
    if (sqlite3session_changeset(stock->changes, &size, &changeset) !=
        SQLITE_OK) {
        return FAIL("out of memory");
    }
    sqlite3_stmt *insert = stock_prepare(
        stock, "INSERT INTO change(what, changeset) VALUES (?, ?)");
    bind_text(insert, 1, what);
    sqlite3_bind_blob(insert, 2, changeset, size, sqlite3_free);
    stock_run(stock, insert);
    sqlite3_stmt *forget = stock_prepare(
        stock, "DELETE FROM change WHERE id <= (SELECT max(id) FROM change) "
               "- ?");
    sqlite3_bind_int(forget, 1, CHANGES_KEPT);
    return stock_run(stock, forget);
}

/* what was told must be on its way before it is done */
static enum outcome flush_answer(struct stock *stock)
{
    if (fflush(stdout) != 0 || ferror(stdout)) {
        return FAIL("the answer could not be written: %s; nothing was changed",
                    strerror(errno));
    }
    return OUTCOME_DONE;
}

/* A disk that fails near the end may have the change or not: the journal is
 * deleted, but the folder cannot be synced. */
static enum outcome commit(struct stock *stock)
{
    int result = sqlite3_exec(stock->db, "COMMIT", NULL, NULL, NULL);
    if (result == SQLITE_IOERR) {
        return FAIL("%s: %s; look with midweight stock list whether the "
                    "change was kept",
                    stock->path, sqlite3_errmsg(stock->db));
    }
    return result == SQLITE_OK ? OUTCOME_DONE : fail_by_sqlite(stock);
}

enum outcome stock_commit(struct stock *stock, const char *what)
{
    if (stock->problem->outcome == OUTCOME_DONE && what &&
        !sqlite3session_isempty(stock->changes)) {
        note_change(stock, what);
    }
    if (stock->problem->outcome == OUTCOME_DONE &&
        flush_answer(stock) == OUTCOME_DONE) {
        commit(stock);
    }
    return stock->problem->outcome;
}

/* A row that was to be deleted and went with its bottle already is as it should
 * be; anything else that does not fit ends it. */
static int judge_conflict(void *context, int conflict,
                          sqlite3_changeset_iter *change)
{
    const char *table;
    int columns, operation, indirect;
    (void)context;
    return conflict == SQLITE_CHANGESET_NOTFOUND &&
                   sqlite3changeset_op(change, &table, &columns, &operation,
                                       &indirect) == SQLITE_OK &&
                   operation == SQLITE_DELETE
               ? SQLITE_CHANGESET_OMIT
               : SQLITE_CHANGESET_ABORT;
}

static enum outcome take_back(struct stock *stock, sqlite3_stmt *last)
{
    int size;
    void *inverse;
    if (sqlite3changeset_invert(sqlite3_column_bytes(last, 1),
                                sqlite3_column_blob(last, 1), &size,
                                &inverse) != SQLITE_OK) {
        return FAIL("%s: the last change is damaged and cannot be taken back",
                    stock->path);
    }
    int result = sqlite3changeset_apply(stock->db, size, inverse, NULL,
                                        judge_conflict, NULL);
    sqlite3_free(inverse);
    return result == SQLITE_OK
               ? OUTCOME_DONE
               : FAIL("%s: the last change does not fit the table any more",
                      stock->path);
}

enum outcome stock_undo(struct stock *stock, char *what, size_t size)
{
    sqlite3_stmt *last =
        stock->db ? stock_prepare(stock, "SELECT what, changeset FROM change"
                                         " ORDER BY id DESC LIMIT 1")
                  : NULL;
    if (!stock_row(stock, last)) {
        sqlite3_finalize(last);
        return problem_set(stock->problem, OUTCOME_NO_ANSWER,
                           "there is no change to take back");
    }
    snprintf(what, size, "%s", column_text(last, 0));
    take_back(stock, last);
    sqlite3_finalize(last);
    return run_sql(stock, "DELETE FROM change WHERE id ="
                          " (SELECT max(id) FROM change)");
}
