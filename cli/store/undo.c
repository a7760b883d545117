/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/undo.h"

#include <stdio.h>
#include <string.h>

#include "store/schema.h"

enum {
    CHANGES_KEPT = 200, /* how far undo goes */
    LIST_LENGTH = 400,  /* room for a list of the columns of a table */
    SQL_LENGTH = 2000
};

/* columns FROM to TO of a table, each between before and after:
 * "OLD.id, OLD.name" */
static const char *list_columns(const struct stock_table *table, size_t from,
                                size_t to, const char *before,
                                const char *between, char list[LIST_LENGTH])
{
    size_t used = 0;
    list[0] = '\0';
    for (size_t i = from; i < to && table->columns[i] && used < LIST_LENGTH;
         i++) {
        used += (size_t)snprintf(list + used, LIST_LENGTH - used, "%s%s%s",
                                 i > from ? between : "", before,
                                 table->columns[i]);
    }
    return list;
}

/* -- Keeping ----------------------------------------------------------- */

/* The first event decides what a row was before the change. */
static enum exit_code watch(struct stock *stock,
                            const struct stock_table *table, const char *event,
                            const char *row, size_t columns,
                            struct error *error)
{
    char sql[SQL_LENGTH], names[LIST_LENGTH], values[LIST_LENGTH];
    char keys[LIST_LENGTH], key_values[LIST_LENGTH];
    snprintf(sql, sizeof sql,
             "CREATE TEMP TRIGGER watch_%s_%s AFTER %s ON main.%s BEGIN"
             " INSERT INTO undo_%s(change, was_made, %s)"
             " SELECT %lld, %d, %s WHERE NOT EXISTS(SELECT 1 FROM undo_%s"
             " WHERE change = %lld AND (%s) = (%s)); END",
             event, table->name, event, table->name, table->name,
             list_columns(table, 0, columns, "", ", ", names),
             (long long)stock->change, strcmp(row, "NEW.") == 0,
             list_columns(table, 0, columns, row, ", ", values), table->name,
             (long long)stock->change,
             list_columns(table, 0, table->keys, "", ", ", keys),
             list_columns(table, 0, table->keys, row, ", ", key_values));
    return stock_run_sql(stock, sql, error);
}

enum exit_code stock_undo_watch(struct stock *stock, struct error *error)
{
    enum exit_code code =
        stock_run_sql(stock, "INSERT INTO change(what) VALUES ('')", error);
    stock->change = sqlite3_last_insert_rowid(stock->db);
    for (const struct stock_table *table = stock_tables;
         table->name && code == EXIT_DONE; table++) {
        if ((code = watch(stock, table, "INSERT", "NEW.", table->keys,
                          error)) == EXIT_DONE &&
            (code = watch(stock, table, "UPDATE", "OLD.", STOCK_COLUMNS_MAX,
                          error)) == EXIT_DONE) {
            code =
                watch(stock, table, "DELETE", "OLD.", STOCK_COLUMNS_MAX, error);
        }
    }
    return code;
}

/* whether a change has touched no row */
static enum exit_code find_empty(struct stock *stock, sqlite3_int64 change,
                                 bool *empty, struct error *error)
{
    char sql[160];
    sqlite3_int64 rows;
    enum exit_code code = EXIT_DONE;
    *empty = true;
    for (const struct stock_table *table = stock_tables;
         table->name && code == EXIT_DONE; table++) {
        snprintf(sql, sizeof sql,
                 "SELECT count(*) FROM undo_%s WHERE change = %lld",
                 table->name, (long long)change);
        code = stock_number(stock, stock_prepare(stock, sql), &rows, error);
        *empty = *empty && rows == 0;
    }
    return code;
}

/* the line of the change that was watched; where it touched nothing there is no
 * change */
static enum exit_code keep(struct stock *stock, const char *what,
                           struct error *error)
{
    bool empty;
    enum exit_code code = find_empty(stock, stock->change, &empty, error);
    if (code != EXIT_DONE) {
        return code;
    }
    sqlite3_stmt *name = stock_prepare(
        stock, empty ? "DELETE FROM change WHERE id = ?2"
                     : "UPDATE change SET what = ?1 WHERE id = ?2");
    if (!empty) {
        bind_text(name, 1, what);
    }
    sqlite3_bind_int64(name, 2, stock->change);
    code = stock_run(stock, name, error);
    if (code != EXIT_DONE) {
        return code;
    }
    sqlite3_stmt *forget =
        stock_prepare(stock, "DELETE FROM change WHERE id <= ?");
    sqlite3_bind_int64(forget, 1, stock->change - CHANGES_KEPT);
    return stock_run(stock, forget, error);
}

enum exit_code stock_undo_keep(struct stock *stock, const char *what,
                               struct error *error)
{
    enum exit_code code = keep(stock, what, error);
    /* what was undone before is no longer what comes next */
    return code == EXIT_DONE ? stock_run_sql(stock,
                                             "DELETE FROM change WHERE id IN"
                                             " (SELECT change FROM redo)",
                                             error)
                             : code;
}

/* -- Taking back ------------------------------------------------------- */

static enum exit_code delete_made(struct stock *stock,
                                  const struct stock_table *table,
                                  sqlite3_int64 change, struct error *error)
{
    char sql[SQL_LENGTH], keys[LIST_LENGTH];
    list_columns(table, 0, table->keys, "", ", ", keys);
    snprintf(sql, sizeof sql,
             "DELETE FROM %s WHERE (%s) IN (SELECT %s FROM undo_%s"
             " WHERE change = %lld AND was_made = 1)",
             table->name, keys, keys, table->name, (long long)change);
    return stock_run_sql(stock, sql, error);
}

/* "name = excluded.name, family = excluded.family" */
static const char *list_updates(const struct stock_table *table,
                                char list[2 * LIST_LENGTH])
{
    size_t used = 0;
    for (size_t i = table->keys; table->columns[i]; i++) {
        used += (size_t)snprintf(
            list + used, (size_t)2 * LIST_LENGTH - used, "%s%s = excluded.%s",
            i > table->keys ? ", " : "", table->columns[i], table->columns[i]);
    }
    return list;
}

static enum exit_code put_back(struct stock *stock,
                               const struct stock_table *table,
                               sqlite3_int64 change, struct error *error)
{
    char sql[SQL_LENGTH], columns[LIST_LENGTH], keys[LIST_LENGTH];
    char updates[2 * LIST_LENGTH];
    list_columns(table, 0, STOCK_COLUMNS_MAX, "", ", ", columns);
    snprintf(sql, sizeof sql,
             "INSERT INTO %s(%s) SELECT %s FROM undo_%s"
             " WHERE change = %lld AND was_made = 0"
             " ON CONFLICT(%s) DO UPDATE SET %s",
             table->name, columns, columns, table->name, (long long)change,
             list_columns(table, 0, table->keys, "", ", ", keys),
             list_updates(table, updates));
    return stock_run_sql(stock, sql, error);
}

/* what was made goes, children first; then comes what was there, parents
 * first */
static enum exit_code take_back(struct stock *stock, sqlite3_int64 change,
                                struct error *error)
{
    const struct stock_table *table = stock_tables;
    enum exit_code code = EXIT_DONE;
    int before = sqlite3_total_changes(stock->db);
    while (table->name) {
        table++;
    }
    while (table-- > stock_tables && code == EXIT_DONE) {
        code = delete_made(stock, table, change, error);
    }
    for (table = stock_tables; table->name && code == EXIT_DONE; table++) {
        code = put_back(stock, table, change, error);
    }
    return code == EXIT_DONE && sqlite3_total_changes(stock->db) == before
               ? error_set(error, EXIT_OUTPUT,
                           "%s: nothing is kept of the last change, so it "
                           "cannot be undone",
                           stock->path)
               : code;
}

/* the number and line of the last change, or of the last that was undone */
static enum exit_code find_last(struct stock *stock, bool undone,
                                sqlite3_int64 *change, char *what, size_t size,
                                struct error *error)
{
    bool found = false;
    enum exit_code code = EXIT_DONE;
    if (stock->db) {
        sqlite3_stmt *last =
            stock_prepare(stock, "SELECT id, what FROM change WHERE id != ?1"
                                 " AND (id IN (SELECT change FROM redo)) = ?2"
                                 " ORDER BY id DESC LIMIT 1");
        sqlite3_bind_int64(last, 1, stock->change);
        sqlite3_bind_int(last, 2, undone);
        code = stock_step(stock, last, &found, error);
        if (found) {
            *change = sqlite3_column_int64(last, 0);
            snprintf(what, size, "%s", column_text(last, 1));
        }
        sqlite3_finalize(last);
    }
    return code == EXIT_DONE && !found
               ? error_set(error, EXIT_NO_ANSWER,
                           undone ? "there is no change to bring back"
                                  : "there is no change to take back")
               : code;
}

/* take a change back, and keep what that changes as the way there again */
static enum exit_code step(struct stock *stock, bool undone, char *what,
                           size_t size, struct error *error)
{
    sqlite3_int64 change = 0;
    enum exit_code code;
    if ((code = find_last(stock, undone, &change, what, size, error)) !=
            EXIT_DONE ||
        (code = take_back(stock, change, error)) != EXIT_DONE) {
        return code;
    }
    sqlite3_stmt *forget =
        stock_prepare(stock, "DELETE FROM change WHERE id = ?");
    sqlite3_bind_int64(forget, 1, change);
    code = stock_run(stock, forget, error);
    return code == EXIT_DONE ? keep(stock, what, error) : code;
}

enum exit_code stock_undo(struct stock *stock, char *what, size_t size,
                          struct error *error)
{
    enum exit_code code = step(stock, false, what, size, error);
    if (code != EXIT_DONE) {
        return code;
    }
    sqlite3_stmt *mark =
        stock_prepare(stock, "INSERT INTO redo SELECT id FROM change"
                             " WHERE id = ?");
    sqlite3_bind_int64(mark, 1, stock->change);
    return stock_run(stock, mark, error);
}

enum exit_code stock_redo(struct stock *stock, char *what, size_t size,
                          struct error *error)
{
    return step(stock, true, what, size, error);
}
