/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* stock remove: a bottle, or what is damaged */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "oils/bottle_json.h"
#include "oils/cup.h"
#include "output/text.h"
#include "parse/number.h"
#include "stock/commands.h"
#include "store/bottle.h"
#include "store/journal.h"
#include "store/recipe.h"
#include "store/stock.h"

enum { FORCE, DAMAGED };

static const struct command_option remove_options[] = {
    OPTION(FORCE, "force", NULL,
           "Remove it although mixes were made from it; their recipes keep its "
           "name"),
    OPTION(DAMAGED, "damaged", NULL,
           "Delete all damaged rows that were set aside"),
    {0},
};

/* how many rows name a bottle */
static enum exit_code count_rows(struct stock *stock, const char *sql,
                                 sqlite3_int64 id, sqlite3_int64 *count,
                                 struct error *error)
{
    sqlite3_stmt *select = stock_prepare(stock, sql);
    sqlite3_bind_int64(select, 1, id);
    return stock_number(stock, select, count, error);
}

static enum exit_code take_away(struct stock *stock,
                                const struct bottle *bottle, bool force,
                                struct error *error)
{
    sqlite3_int64 parts, references;
#define REFERENCES                                                             \
    "SELECT (SELECT count(*) FROM source WHERE reference = ?1)"                \
    " + (SELECT count(*) FROM cup_run WHERE bottle = ?1)"
    enum exit_code code =
        count_rows(stock, "SELECT count(*) FROM part WHERE parent = ?",
                   bottle->id, &parts, error);
    if (code == EXIT_DONE) {
        code = count_rows(stock, REFERENCES, bottle->id, &references, error);
    }
    if (code != EXIT_DONE) {
        return code;
    }
    if (parts > 0 && !force) {
        return error_set(error, EXIT_NO_ANSWER,
                         "mixes were made from \"%.*s\"; --force removes it "
                         "and keeps it in their recipes",
                         QUOTED, bottle->name);
    }
    return parts > 0 || references > 0
               ? bottle_retire(stock, bottle, "removed", error)
               : bottle_delete(stock, bottle, error);
}

static enum exit_code ignore_recipe(struct recipe *recipe, void *context,
                                    struct error *error)
{
    (void)recipe;
    (void)context;
    (void)error;
    return EXIT_DONE;
}

static enum exit_code ignore_cup(struct own_cup *cup, void *context,
                                 struct error *error)
{
    (void)cup;
    (void)context;
    (void)error;
    return EXIT_DONE;
}

/* a recipe without one of its bottles is none, nor is a comparison without what
 * it was compared with, nor a calibration */
static enum exit_code delete_recipes_of(struct stock *stock,
                                        sqlite3_int64 parent,
                                        struct error *error)
{
    static const char *const deletes[] = {
        "DELETE FROM mix WHERE bottle IN"
        " (SELECT mix FROM part WHERE parent = ?)",
        "DELETE FROM reading WHERE id IN"
        " (SELECT reading FROM source WHERE reference = ?)",
        "DELETE FROM cup_run WHERE cup IN"
        " (SELECT cup FROM cup_run WHERE bottle = ?)",
        "DELETE FROM fill WHERE previous = ?"};
    enum exit_code code = EXIT_DONE;
    for (size_t i = 0;
         i < sizeof deletes / sizeof deletes[0] && code == EXIT_DONE; i++) {
        sqlite3_stmt *statement = stock_prepare(stock, deletes[i]);
        sqlite3_bind_int64(statement, 1, parent);
        code = stock_run(stock, statement, error);
    }
    return code;
}

/* the number that the damaged rows of a table have */
static const char *key_of(const char *table)
{
    if (strcmp(table, "cup_run") == 0) {
        return "cup";
    }
    return strcmp(table, "mix") == 0 || strcmp(table, "fill") == 0 ? "bottle"
                                                                   : "id";
}

static enum exit_code delete_row(struct stock *stock,
                                 const struct stock_damage *row,
                                 struct error *error)
{
    char sql[80];
    if (strcmp(row->table, "bottle") == 0) {
        enum exit_code code = delete_recipes_of(stock, row->id, error);
        if (code != EXIT_DONE) {
            return code;
        }
    }
    snprintf(sql, sizeof sql, "DELETE FROM %s WHERE %s = ?", row->table,
             key_of(row->table));
    sqlite3_stmt *statement = stock_prepare(stock, sql);
    sqlite3_bind_int64(statement, 1, row->id);
    return stock_run(stock, statement, error);
}

static enum exit_code find_damaged_journal(struct stock *stock,
                                           struct error *error)
{
    struct journal journal;
    enum exit_code code = journal_load(stock, &journal, error);
    journal_free(&journal);
    return code;
}

/* what reading the whole stock sets aside */
static enum exit_code delete_damaged(struct stock *stock, struct error *error)
{
    struct bottles bottles = {0};
    enum exit_code code = bottles_load_all(stock, &bottles, error);
    bottles_free(&bottles);
    if (code != EXIT_DONE ||
        (code = recipes_each(stock, ignore_recipe, NULL, error)) != EXIT_DONE ||
        (code = own_cups_each(stock, ignore_cup, NULL, error)) != EXIT_DONE ||
        (code = find_damaged_journal(stock, error)) != EXIT_DONE) {
        return code;
    }
    for (size_t i = 0; i < stock->damage_count && code == EXIT_DONE; i++) {
        code = delete_row(stock, &stock->damage[i], error);
    }
    /* damaged rows cannot be put back, nor what was changed before them */
    return code == EXIT_DONE && stock->damage_count > 0
               ? stock_run_sql(stock, "DELETE FROM change", error)
               : code;
}

static enum exit_code remove_damaged(const struct args *args,
                                     struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct stock stock;
    size_t count = 0;
    if (args->count != 0) {
        return refuse(error,
                      "--damaged stands alone; \"%.*s\" is one word too many",
                      QUOTED, args->argument[0]);
    }
    if ((code = stock_begin_unwatched(&stock, args->stock, error)) ==
            EXIT_DONE &&
        stock.db && (code = delete_damaged(&stock, error)) == EXIT_DONE) {
        count = stock.damage_count;
        code = stock_commit(&stock, NULL, error);
    }
    stock_close(&stock);
    if (code == EXIT_DONE && args->json) {
        code = print_change_json("removed", "damaged rows", NULL, (double)count,
                                 NAN, error);
    } else if (code == EXIT_DONE) {
        print_wrapped(
            "Removed: %zu damaged row%s.%s", count, count == 1 ? "" : "s",
            count > 0 ? " This and the changes before it cannot be undone."
                      : "");
    }
    return code;
}

static enum exit_code run_remove(const struct args *args, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct bottle bottle = {0};
    struct stock stock;
    char what[QUOTED * 4];
    if (args->value[DAMAGED]) {
        return remove_damaged(args, error);
    }
    if (args->count != 1) {
        return refuse(error, "which bottle? try midweight stock remove Elm");
    }
    if ((code = stock_begin_existing(&stock, args->stock, error)) ==
            EXIT_DONE &&
        (code = bottle_load(&stock, args->argument[0], &bottle, error)) ==
            EXIT_DONE &&
        (code = take_away(&stock, &bottle, args->value[FORCE] != NULL,
                          error)) == EXIT_DONE) {
        snprintf(what, sizeof what, "remove %s", bottle.name);
        code = stock_commit(&stock, what, error);
    }
    stock_close(&stock);
    if (code == EXIT_DONE && args->json) {
        code = print_change_json("removed", bottle.name, NULL, NAN, NAN, error);
    } else if (code == EXIT_DONE) {
        print_wrapped("Removed %s; midweight stock undo brings it back.",
                      bottle.name);
    }
    bottle_free(&bottle);
    return code;
}

const struct command command_stock_remove = {
    .name = "stock remove",
    .summary = "remove a bottle that is empty or lost",
    .examples = "  midweight stock remove Elm\n",
    .arguments = "NAME",
    .options = remove_options,
    .run = run_remove,
};
