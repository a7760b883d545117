/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/undo.h"

#include <stdio.h>
#include <string.h>

#include "store/schema.h"

enum {
    CHANGES_KEPT = 200, /* how far undo goes */
    LIST_LENGTH = 400,  /* room for a list of the columns of a table */
    SQL_LENGTH = 2000
};

#define FAIL(...) error_set(stock->error, EXIT_OUTPUT, __VA_ARGS__)

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
                            const char *row, size_t columns)
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
    return stock_run_sql(stock, sql);
}

enum exit_code stock_undo_watch(struct stock *stock)
{
    stock_run_sql(stock, "INSERT INTO change(what) VALUES ('')");
    stock->change = sqlite3_last_insert_rowid(stock->db);
    for (const struct stock_table *table = stock_tables; table->name; table++) {
        watch(stock, table, "INSERT", "NEW.", table->keys);
        watch(stock, table, "UPDATE", "OLD.", STOCK_COLUMNS_MAX);
        watch(stock, table, "DELETE", "OLD.", STOCK_COLUMNS_MAX);
    }
    return stock->error->exit_code;
}

/* how many rows a change has touched */
static int count_rows(struct stock *stock, sqlite3_int64 change)
{
    char sql[160];
    int rows = 0;
    for (const struct stock_table *table = stock_tables; table->name; table++) {
        snprintf(sql, sizeof sql,
                 "SELECT count(*) FROM undo_%s WHERE change = %lld",
                 table->name, (long long)change);
        rows += stock_ask_number(stock, sql);
    }
    return rows;
}

enum exit_code stock_undo_keep(struct stock *stock, const char *what)
{
    bool empty = count_rows(stock, stock->change) == 0;
    sqlite3_stmt *name = stock_prepare(
        stock, empty ? "DELETE FROM change WHERE id = ?2"
                     : "UPDATE change SET what = ?1 WHERE id = ?2");
    if (!empty) {
        bind_text(name, 1, what);
    }
    sqlite3_bind_int64(name, 2, stock->change);
    stock_run(stock, name);
    sqlite3_stmt *forget =
        stock_prepare(stock, "DELETE FROM change WHERE id <= ?");
    sqlite3_bind_int64(forget, 1, stock->change - CHANGES_KEPT);
    return stock_run(stock, forget);
}

/* -- Taking back ------------------------------------------------------- */

static enum exit_code delete_made(struct stock *stock,
                                  const struct stock_table *table,
                                  sqlite3_int64 change)
{
    char sql[SQL_LENGTH], keys[LIST_LENGTH];
    list_columns(table, 0, table->keys, "", ", ", keys);
    snprintf(sql, sizeof sql,
             "DELETE FROM %s WHERE (%s) IN (SELECT %s FROM undo_%s"
             " WHERE change = %lld AND was_made = 1)",
             table->name, keys, keys, table->name, (long long)change);
    return stock_run_sql(stock, sql);
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
                               sqlite3_int64 change)
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
    return stock_run_sql(stock, sql);
}

/* what was made goes, children first; then comes what was there, parents
 * first */
static enum exit_code take_back(struct stock *stock, sqlite3_int64 change)
{
    const struct stock_table *table = stock_tables;
    int before = sqlite3_total_changes(stock->db);
    while (table->name) {
        table++;
    }
    while (table-- > stock_tables) {
        delete_made(stock, table, change);
    }
    for (table = stock_tables; table->name; table++) {
        put_back(stock, table, change);
    }
    if (stock->error->exit_code == EXIT_DONE &&
        sqlite3_total_changes(stock->db) == before) {
        FAIL("%s: nothing is kept of the last change, so it cannot be undone",
             stock->path);
    }
    return stock->error->exit_code;
}

enum exit_code stock_undo(struct stock *stock, char *what, size_t size)
{
    sqlite3_int64 change = 0;
    sqlite3_stmt *last =
        stock->db ? stock_prepare(stock, "SELECT id, what FROM change"
                                         " ORDER BY id DESC LIMIT 1")
                  : NULL;
    bool found = stock_row(stock, last);
    if (found) {
        change = sqlite3_column_int64(last, 0);
        snprintf(what, size, "%s", column_text(last, 1));
    }
    sqlite3_finalize(last);
    if (!found) {
        return error_set(stock->error, EXIT_NO_ANSWER,
                         "there is no change to take back");
    }
    if (take_back(stock, change) != EXIT_DONE) {
        return stock->error->exit_code;
    }
    sqlite3_stmt *forget =
        stock_prepare(stock, "DELETE FROM change WHERE id = ?");
    sqlite3_bind_int64(forget, 1, change);
    return stock_run(stock, forget);
}
