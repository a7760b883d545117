/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/cup.h"

#include <stdio.h>
#include <stdlib.h>

#include "midweight.h"
#include "parse/number.h"
#include "util/xalloc.h"

#define SELECT_CUP "SELECT name, a, b, uncertainty, made, id FROM cup"

static enum exit_code check_cup(const struct own_cup *cup, struct error *error)
{
    struct mw_cup made;
    enum mw_status status = mw_cup_own(cup->a, cup->b, &made);
    if (status != MW_OK) {
        return refuse(error, "%s", mw_status_text(status));
    }
    return cup->uncertainty > 0 && cup->uncertainty < 1
               ? EXIT_DONE
               : refuse(error,
                        "no cup is exact; its uncertainty is above 0 and below "
                        "100 %%");
}

static bool is_sound(const struct own_cup *cup)
{
    struct error error = {0};
    char date[DATE_LENGTH];
    return check_name(cup->name, &error) == EXIT_DONE &&
           check_cup(cup, &error) == EXIT_DONE &&
           parse_date(cup->made, date, &error) == EXIT_DONE;
}

/* the cup of the current row of a statement; false where it is damaged */
static bool load_row(struct stock *stock, sqlite3_stmt *row,
                     struct own_cup *cup)
{
    *cup = (struct own_cup){.name = xstrdup(column_text(row, 0)),
                            .a = column_number(row, 1),
                            .b = column_number(row, 2),
                            .uncertainty = column_number(row, 3)};
    snprintf(cup->made, DATE_LENGTH, "%s", column_text(row, 4));
    if (is_sound(cup)) {
        return true;
    }
    stock_set_aside(stock, "cup", sqlite3_column_int64(row, 5),
                    "the cup \"%.*s\" is damaged", QUOTED, cup->name);
    own_cup_free(cup);
    return false;
}

enum exit_code own_cups_each(struct stock *stock, take_own_cup *take,
                             void *context, struct error *error)
{
    if (!stock->db) {
        return EXIT_DONE;
    }
    sqlite3_stmt *select = stock_prepare(stock, SELECT_CUP " ORDER BY name");
    bool row = true;
    enum exit_code code = EXIT_DONE;
    while (code == EXIT_DONE &&
           (code = stock_step(stock, select, &row, error)) == EXIT_DONE &&
           row) {
        struct own_cup cup;
        if (load_row(stock, select, &cup)) {
            code = take(&cup, context, error);
        }
        own_cup_free(&cup);
    }
    sqlite3_finalize(select);
    return code;
}

enum exit_code own_cup_load(struct stock *stock, const char *name,
                            struct own_cup *cup, bool *found,
                            struct error *error)
{
    *cup = (struct own_cup){0};
    *found = false;
    if (!stock->db) {
        return EXIT_DONE;
    }
    sqlite3_stmt *select = stock_prepare(stock, SELECT_CUP " WHERE name = ?");
    bind_text(select, 1, name);
    enum exit_code code = stock_step(stock, select, found, error);
    *found = *found && load_row(stock, select, cup);
    sqlite3_finalize(select);
    return code;
}

enum exit_code own_cup_exists(struct stock *stock, const char *name,
                              bool *exists, struct error *error)
{
    struct own_cup cup;
    enum exit_code code = own_cup_load(stock, name, &cup, exists, error);
    own_cup_free(&cup);
    return code;
}

enum exit_code own_cup_store(struct stock *stock, const struct own_cup *cup,
                             struct error *error)
{
    enum exit_code code = check_cup(cup, error);
    if (code != EXIT_DONE) {
        return code;
    }
    sqlite3_stmt *insert = stock_prepare(
        stock, "INSERT INTO cup(name, a, b, uncertainty, made)"
               " VALUES (?, ?, ?, ?, ?) ON CONFLICT(name) DO UPDATE SET"
               " name = excluded.name, a = excluded.a, b = excluded.b,"
               " uncertainty = excluded.uncertainty, made = excluded.made");
    bind_text(insert, 1, cup->name);
    bind_number(insert, 2, cup->a);
    bind_number(insert, 3, cup->b);
    bind_number(insert, 4, cup->uncertainty);
    bind_text(insert, 5, cup->made);
    return stock_run(stock, insert, error);
}

enum exit_code own_cup_delete(struct stock *stock, const char *name,
                              struct error *error)
{
    sqlite3_stmt *statement =
        stock_prepare(stock, "DELETE FROM cup WHERE name = ?");
    bind_text(statement, 1, name);
    return stock_run(stock, statement, error);
}

void own_cup_free(struct own_cup *cup)
{
    free(cup->name);
    *cup = (struct own_cup){0};
}
