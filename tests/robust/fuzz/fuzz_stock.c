/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * An untrusted stock file, opened by commands. The first byte of an input
 * selects a command, the second how the rest makes the file:
 *
 *     0  the rest is the file
 *     1  patches to a real stock: offset (2 bytes), length (1), that many bytes
 *     2  changed rows of a real stock, with the checks of the schema off:
 *        column, row, kind of value (1 byte each), value (8 bytes)
 *     3  the journal of a real stock
 *
 * Whatever the files contain, another file in the folder stays unchanged.
 */
#include <jansson.h>
#include <sqlite3.h>
#include <string.h>
#include <unistd.h>

#include "fuzz.h"
#include "output/json.h"
#include "program.h"

static const char *const commands[][12] = {
    {"stock", "list"},
    {"stock", "log", "--json"},
    {"stock", "plan", "100", "1000", "--json"},
    {"stock", "undo"},
    {"stock", "add", "Ash", "350", "--left", "12ml"},
    {"stock", "set", "Elm", "--left", "10ml"},
    {"stock", "remove", "Elm", "--force"},
    {"stock", "reading", "hall", "352@25C"},
    {"mix", "--target", "420", "--json"},
    {"mix", "Elm=1ml", "Oak=1ml", "--record", "new"},
    {"oil", "hall", "--at", "12C", "--json"},
    {"hold", "450", "--from", "25C", "--to", "12C", "--json"},
    {"measure", "cup", "Tin", "55.2s", "--at", "21C", "--json"},
    {"measure", "calibrate", "Birch=42s", "Elm=71.8s", "--save", "Tin"},
};

enum { COMMANDS = sizeof commands / sizeof commands[0], COLUMNS = 128 };

/* the conditions of program_run(), and valid JSON, whatever the file */
static void run(const char *const args[])
{
    struct program_run run = program_run(args);
    if (run.code == 0 && run.out[0] == '{') {
        json_t *json = json_loads(run.out, 0, NULL);
        MUST(json);
        json_decref(json);
    }
    program_free(&run);
}

/* -- How an input becomes a file --------------------------------------- */

static uint8_t *stock;
static size_t stock_size;

static void patch(const uint8_t *data, size_t size)
{
    uint8_t *file = malloc(stock_size);
    MUST(file);
    memcpy(file, stock, stock_size);
    while (size > 3) {
        size_t offset = (size_t)(data[0] | data[1] << 8) % stock_size;
        size_t length = data[2] < size - 3 ? data[2] : size - 3;
        length = length < stock_size - offset ? length : stock_size - offset;
        memcpy(file + offset, data + 3, length);
        data += 3 + length;
        size -= 3 + length;
    }
    program_write(program_stock, file, stock_size);
    free(file);
}

/* "UPDATE table SET column = ?2", for row ?1, for each column */
static char *updates[COLUMNS];
static size_t update_count;

static void list_updates(sqlite3 *db)
{
    sqlite3_stmt *columns;
    MUST(sqlite3_prepare_v2(
             db,
             "SELECT format('UPDATE %w SET %w = ?2 WHERE (%s) ="
             " (SELECT %s FROM %w LIMIT 1 OFFSET ?1)', t.name, c.name,"
             " key, key, t.name) FROM pragma_table_list AS t,"
             " pragma_table_info(t.name) AS c, (SELECT t2.name AS of,"
             " group_concat(c2.name) AS key FROM pragma_table_list AS t2,"
             " pragma_table_info(t2.name) AS c2 WHERE c2.pk > 0"
             " GROUP BY t2.name) WHERE t.schema = 'main' AND of = t.name"
             " AND t.name NOT LIKE 'sqlite%' ORDER BY t.name, c.cid",
             -1, &columns, NULL) == SQLITE_OK);
    while (sqlite3_step(columns) == SQLITE_ROW && update_count < COLUMNS) {
        updates[update_count++] =
            strdup((const char *)sqlite3_column_text(columns, 0));
    }
    MUST(update_count > 60); /* those of undo among them */
    sqlite3_finalize(columns);
}

static void bind_value(sqlite3_stmt *update, const uint8_t *data)
{
    double number;
    sqlite3_int64 whole;
    memcpy(&number, data + 1, 8);
    memcpy(&whole, data + 1, 8);
    switch (data[0] % 5) {
    case 0:
        sqlite3_bind_double(update, 2, number);
        break;
    case 1:
        sqlite3_bind_int64(update, 2, whole);
        break;
    case 2:
        sqlite3_bind_text(update, 2, (const char *)data + 1, 8,
                          SQLITE_TRANSIENT);
        break;
    case 3:
        sqlite3_bind_zeroblob(update, 2, data[1]);
        break;
    default:
        break; /* NULL */
    }
}

static void change_rows(const uint8_t *data, size_t size)
{
    sqlite3 *db;
    program_write(program_stock, stock, stock_size);
    MUST(sqlite3_open(program_stock, &db) == SQLITE_OK);
    sqlite3_exec(db, "PRAGMA ignore_check_constraints = ON; BEGIN", NULL, NULL,
                 NULL);
    if (update_count == 0) {
        list_updates(db);
    }
    for (; size >= 11; data += 11, size -= 11) {
        sqlite3_stmt *update;
        MUST(sqlite3_prepare_v2(db, updates[data[0] % update_count], -1,
                                &update, NULL) == SQLITE_OK);
        sqlite3_bind_int(update, 1, data[1] % 16);
        bind_value(update, data + 2);
        sqlite3_step(update); /* an update that the schema refuses is skipped */
        sqlite3_finalize(update);
    }
    sqlite3_exec(db, "COMMIT", NULL, NULL, NULL);
    sqlite3_close(db);
}

/* -- An unrelated file ------------------------------------------------- */

static const char diary[] = "diary";
static const char secret[] = "dear diary";

static void check_diary(void)
{
    size_t size;
    uint8_t *text = program_read(diary, &size);
    MUST(size == strlen(secret) && memcmp(text, secret, size) == 0);
    free(text);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static const char *const list[] = {"stock", "list", "--json", NULL};
    static const char *const export[] = {"stock", "export", NULL};
    if (!stock) {
        program_begin();
        stock = program_read(program_stock, &stock_size);
        program_write(diary, secret, strlen(secret));
    }
    if (size < 2) {
        return 0;
    }
    unlink("stock.db-journal");
    switch (data[1] % 4) {
    case 0:
        program_write(program_stock, data + 2, size - 2);
        break;
    case 1:
        patch(data + 2, size - 2);
        break;
    case 2:
        change_rows(data + 2, size - 2);
        break;
    default:
        program_write(program_stock, stock, stock_size);
        program_write("stock.db-journal", data + 2, size - 2);
        break;
    }
    run(list);
    run(export);
    run(commands[data[0] % COMMANDS]);
    run(list);
    check_diary();
    return 0;
}
