/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* bottles are stored, changed and removed */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "store/bottle.h"
#include "util/xalloc.h"

static enum exit_code store_index(struct stock *stock,
                                  const struct bottle *bottle,
                                  struct error *error)
{
    bool has_one = !isnan(bottle->label.index);
    sqlite3_stmt *statement = stock_prepare(
        stock, has_one ? "INSERT OR REPLACE INTO label_index VALUES (?1, ?2)"
                       : "DELETE FROM label_index WHERE bottle = ?1");
    sqlite3_bind_int64(statement, 1, bottle->id);
    if (has_one) {
        bind_number(statement, 2, bottle->label.index);
    }
    return stock_run(stock, statement, error);
}

static enum exit_code store_label(struct stock *stock,
                                  const struct bottle *bottle,
                                  struct error *error)
{
    sqlite3_stmt *forget =
        stock_prepare(stock, "DELETE FROM label WHERE bottle = ?");
    sqlite3_bind_int64(forget, 1, bottle->id);
    enum exit_code code = stock_run(stock, forget, error);
    for (size_t i = 0; i < bottle->label.count && code == EXIT_DONE; i++) {
        sqlite3_stmt *insert =
            stock_prepare(stock, "INSERT INTO label VALUES (?, ?, ?, ?)");
        sqlite3_bind_int64(insert, 1, bottle->id);
        sqlite3_bind_int64(insert, 2, (sqlite3_int64)i);
        bind_number(insert, 3, bottle->label.points[i].viscosity);
        bind_number(insert, 4, bottle->label.points[i].temperature);
        code = stock_run(stock, insert, error);
    }
    return code == EXIT_DONE ? store_index(stock, bottle, error) : code;
}

static void bind_bottle(sqlite3_stmt *statement, const struct bottle *bottle)
{
    bind_text(statement, 1, bottle->name);
    bind_text(statement, 2, mw_family_name(bottle->label.family));
    bind_number(statement, 3, bottle->tolerance);
    bind_number(statement, 4, bottle->label.density);
    bind_number(statement, 5, bottle->left_ml);
    bind_text(statement, 6, bottle->note);
    bind_text(statement, 7, bottle->added);
    sqlite3_bind_int(statement, 8, bottle->retired);
    bind_number(statement, 9, bottle->drop_ml);
}

enum exit_code bottle_insert(struct stock *stock, struct bottle *bottle,
                             struct error *error)
{
    sqlite3_int64 other;
    enum exit_code code = bottle_id(stock, bottle->name, &other, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (other != 0) {
        return refuse(error,
                      "there is a bottle \"%.*s\" already; take another name",
                      QUOTED, bottle->name);
    }
    sqlite3_stmt *insert =
        stock_prepare(stock, "INSERT INTO bottle(name, family, tolerance,"
                             " density, left_ml, note, added, gone,"
                             " drop_ml) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)");
    bind_bottle(insert, bottle);
    code = stock_run(stock, insert, error);
    bottle->id = sqlite3_last_insert_rowid(stock->db);
    if (code == EXIT_DONE) {
        code = store_label(stock, bottle, error);
    }
    for (size_t i = 0; i < bottle->reading_count && code == EXIT_DONE; i++) {
        code =
            bottle_add_reading(stock, bottle->id, &bottle->readings[i], error);
    }
    return code;
}

enum exit_code bottle_update(struct stock *stock, const struct bottle *bottle,
                             struct error *error)
{
    sqlite3_stmt *update = stock_prepare(
        stock, "UPDATE bottle SET name = ?, family = ?, tolerance = ?,"
               " density = ?, left_ml = ?, note = ?, added = ?, gone = ?,"
               " drop_ml = ? WHERE id = ?");
    bind_bottle(update, bottle);
    sqlite3_bind_int64(update, 10, bottle->id);
    enum exit_code code = stock_run(stock, update, error);
    return code == EXIT_DONE ? store_label(stock, bottle, error) : code;
}

enum exit_code bottle_take(struct stock *stock, sqlite3_int64 id, double ml,
                           struct error *error)
{
    sqlite3_stmt *update = stock_prepare(
        stock, "UPDATE bottle SET left_ml = left_ml - ?1 WHERE id = ?2"
               " AND (left_ml IS NULL OR left_ml >= ?1)");
    bind_number(update, 1, ml);
    sqlite3_bind_int64(update, 2, id);
    enum exit_code code = stock_run(stock, update, error);
    return code == EXIT_DONE && sqlite3_changes(stock->db) != 1
               ? error_set(error, EXIT_NO_ANSWER,
                           "a bottle holds less than is taken from it")
               : code;
}

enum exit_code bottle_delete(struct stock *stock, const struct bottle *bottle,
                             struct error *error)
{
    sqlite3_stmt *statement =
        stock_prepare(stock, "DELETE FROM bottle WHERE id = ?");
    sqlite3_bind_int64(statement, 1, bottle->id);
    return stock_run(stock, statement, error);
}

enum exit_code bottle_retire(struct stock *stock, const struct bottle *bottle,
                             const char *why, struct error *error)
{
    char *name = xcalloc(strlen(bottle->name) + 32, 1);
    sprintf(name, "%s (%s)", bottle->name, why);
    sqlite3_int64 other = 1;
    enum exit_code code;
    for (int again = 2;
         (code = bottle_id(stock, name, &other, error)) == EXIT_DONE && other;
         again++) {
        sprintf(name, "%s (%s %d)", bottle->name, why, again);
    }
    if (code == EXIT_DONE) {
        sqlite3_stmt *statement = stock_prepare(
            stock, "UPDATE bottle SET gone = 1, name = ? WHERE id = ?");
        bind_text(statement, 1, name);
        sqlite3_bind_int64(statement, 2, bottle->id);
        code = stock_run(stock, statement, error);
    }
    free(name);
    return code;
}

static enum exit_code add_source(struct stock *stock, sqlite3_int64 reading,
                                 const struct reading_source *source,
                                 struct error *error)
{
    sqlite3_stmt *insert =
        stock_prepare(stock, "INSERT INTO source VALUES (?, ?, ?, ?, ?, ?, ?)");
    sqlite3_bind_int64(insert, 1, reading);
    bind_text(insert, 2, source->instrument);
    bind_number(insert, 3, source->random);
    bind_number(insert, 4, source->systematic);
    bind_number(insert, 5, source->thermometer);
    if (source->reference != 0) {
        sqlite3_bind_int64(insert, 6, source->reference);
        bind_number(insert, 7, source->reference_viscosity);
    }
    return stock_run(stock, insert, error);
}

enum exit_code bottle_add_reading(struct stock *stock, sqlite3_int64 id,
                                  const struct stock_reading *reading,
                                  struct error *error)
{
    sqlite3_stmt *insert = stock_prepare(
        stock, "INSERT INTO reading(bottle, viscosity, temperature,"
               " uncertainty, method, taken) VALUES (?, ?, ?, ?, ?, ?)");
    sqlite3_bind_int64(insert, 1, id);
    bind_number(insert, 2, reading->value.viscosity);
    bind_number(insert, 3, reading->value.temperature);
    bind_number(insert, 4, reading->value.uncertainty);
    bind_text(insert, 5, reading->method);
    bind_text(insert, 6, reading->taken);
    enum exit_code code = stock_run(stock, insert, error);
    return code == EXIT_DONE && reading->source.known
               ? add_source(stock, sqlite3_last_insert_rowid(stock->db),
                            &reading->source, error)
               : code;
}

enum exit_code bottle_delete_reading(struct stock *stock,
                                     const struct stock_reading *reading,
                                     struct error *error)
{
    sqlite3_stmt *statement =
        stock_prepare(stock, "DELETE FROM reading WHERE id = ?");
    sqlite3_bind_int64(statement, 1, reading->id);
    return stock_run(stock, statement, error);
}
