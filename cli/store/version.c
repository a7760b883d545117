/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/version.h"

#include <stdio.h>
#include <string.h>

#include "store/schema.h"

/* -- Whose file it is -------------------------------------------------- */

/* whether a table or index of the file is one that its version has */
static bool is_known(const char *name, const char *sql, int version)
{
    for (const struct stock_object *object = stock_objects; object->name;
         object++) {
        if (stock_object_in(object, version) &&
            strcmp(object->name, name) == 0 && strcmp(object->sql, sql) == 0) {
            return true;
        }
    }
    return false;
}

static int count_objects(int version)
{
    int count = 0;
    for (const struct stock_object *object = stock_objects; object->name;
         object++) {
        count += stock_object_in(object, version);
    }
    return count;
}

/* The schema, to the letter. What has no text SQLite made itself: the indexes
 * of keys. */
static enum exit_code check_schema(struct stock *stock, int version,
                                   struct error *error)
{
    sqlite3_stmt *select = stock_prepare(
        stock, "SELECT name, sql FROM sqlite_schema WHERE sql IS NOT NULL");
    int count = 0;
    bool known = true, row;
    enum exit_code code;
    while ((code = stock_step(stock, select, &row, error)) == EXIT_DONE &&
           row) {
        known = known && is_known(column_text(select, 0),
                                  column_text(select, 1), version);
        count++;
    }
    sqlite3_finalize(select);
    if (code != EXIT_DONE || (known && count == count_objects(version))) {
        return code;
    }
    return error_set(error, EXIT_OUTPUT,
                     "%s has other tables than a stock of midweight; it is "
                     "not opened",
                     stock->path);
}

static enum exit_code ask_number(struct stock *stock, const char *sql,
                                 int *number, struct error *error)
{
    sqlite3_int64 read;
    enum exit_code code =
        stock_number(stock, stock_prepare(stock, sql), &read, error);
    *number = (int)read;
    return code;
}

enum exit_code stock_check_file(struct stock *stock, int *version,
                                struct error *error)
{
    int id, objects;
    enum exit_code code;
    if ((code = ask_number(stock, "PRAGMA application_id", &id, error)) !=
            EXIT_DONE ||
        (code = ask_number(stock, "PRAGMA user_version", version, error)) !=
            EXIT_DONE ||
        (code = ask_number(stock, "SELECT count(*) FROM sqlite_schema",
                           &objects, error)) != EXIT_DONE) {
        return code;
    }
    if (*version < 0 || (id != STOCK_APPLICATION_ID &&
                         (id != 0 || *version != 0 || objects != 0))) {
        return error_set(error, EXIT_OUTPUT,
                         "%s is a file of another program, not a stock",
                         stock->path);
    }
    if (*version > STOCK_VERSION) {
        return error_set(error, EXIT_OUTPUT,
                         "%s was written by a newer midweight (version %d of "
                         "the table, this one knows %d); update the program",
                         stock->path, *version, (int)STOCK_VERSION);
    }
    return check_schema(stock, *version, error);
}

/* -- Versions ---------------------------------------------------------- */

/* the changes of version 2 and before are bytes that cannot be checked */
static enum exit_code warn_of_lost_changes(struct stock *stock, int version,
                                           struct error *error)
{
    int changes = 0;
    enum exit_code code = EXIT_DONE;
    if (version > 0 && version < 3) {
        code =
            ask_number(stock, "SELECT count(*) FROM change", &changes, error);
    }
    if (changes > 0) {
        warn("the stock is taken over from an older version; its changes up "
             "to now can no longer be undone");
    }
    return code;
}

/* the step of one table or index to a version */
static enum exit_code migrate_object(struct stock *stock,
                                     const struct stock_object *object,
                                     int version, struct error *error)
{
    char sql[80];
    if (object->until == version) {
        snprintf(sql, sizeof sql, "DROP TABLE %s", object->name);
        return stock_run_sql(stock, sql, error);
    }
    return object->since == version ? stock_run_sql(stock, object->sql, error)
                                    : EXIT_DONE;
}

enum exit_code stock_migrate(struct stock *stock, int version,
                             struct error *error)
{
    char sql[80];
    enum exit_code code = warn_of_lost_changes(stock, version, error);
    for (int next = version + 1; next <= STOCK_VERSION; next++) {
        for (const struct stock_object *object = stock_objects;
             object->name && code == EXIT_DONE; object++) {
            code = migrate_object(stock, object, next, error);
        }
    }
    if (code != EXIT_DONE) {
        return code;
    }
    snprintf(sql, sizeof sql,
             "PRAGMA application_id = %d; PRAGMA user_version = %d",
             (int)STOCK_APPLICATION_ID, (int)STOCK_VERSION);
    return stock_run_sql(stock, sql, error);
}

enum exit_code stock_take_over(struct stock *stock, struct error *error)
{
    int version;
    enum exit_code code;
    if ((code = stock_run_sql(stock, "COMMIT; BEGIN IMMEDIATE", error)) !=
            EXIT_DONE ||
        (code = stock_check_file(stock, &version, error)) != EXIT_DONE ||
        (version < STOCK_VERSION &&
         (code = stock_migrate(stock, version, error)) != EXIT_DONE)) {
        return code;
    }
    return stock_run_sql(stock, "COMMIT; BEGIN", error);
}
