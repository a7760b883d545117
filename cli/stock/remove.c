/* SPDX-License-Identifier: GPL-3.0-or-later */
/* stock remove and undo: taking away, and taking back */
#include <stdio.h>
#include <string.h>

#include "output/text.h"
#include "parse/number.h"
#include "stock/commands.h"
#include "store/bottle.h"
#include "store/cup.h"
#include "store/recipe.h"
#include "store/stock.h"
#include "store/undo.h"

enum { FORCE, DAMAGED };

static const struct argp_option remove_options[] = {
    OPTION(FORCE, "force", NULL,
           "Also when mixes were made from it; their recipes keep its name"),
    OPTION(DAMAGED, "damaged", NULL,
           "All rows that are damaged and were set aside"),
    {0},
};

static bool is_parent(struct stock *stock, sqlite3_int64 id)
{
    sqlite3_stmt *select =
        stock_prepare(stock, "SELECT 1 FROM part WHERE parent = ?");
    sqlite3_bind_int64(select, 1, id);
    bool parent = stock_row(stock, select);
    sqlite3_finalize(select);
    return parent;
}

static enum exit_code take_away(struct stock *stock,
                                const struct bottle *bottle, bool force)
{
    bool parent = is_parent(stock, bottle->id);
    if (parent && !force) {
        return error_set(stock->error, EXIT_NO_ANSWER,
                         "mixes were made from \"%.*s\"; --force removes it "
                         "and keeps it in their recipes",
                         QUOTED, bottle->name);
    }
    return parent ? bottle_retire(stock, bottle) : bottle_delete(stock, bottle);
}

static void ignore_recipe(struct recipe *recipe, void *context)
{
    (void)recipe;
    (void)context;
}

static void ignore_cup(struct own_cup *cup, void *context)
{
    (void)cup;
    (void)context;
}

/* a recipe without one of its bottles is none */
static enum exit_code delete_recipes_of(struct stock *stock,
                                        sqlite3_int64 parent)
{
    sqlite3_stmt *statement =
        stock_prepare(stock, "DELETE FROM mix WHERE bottle IN"
                             " (SELECT mix FROM part WHERE parent = ?)");
    sqlite3_bind_int64(statement, 1, parent);
    return stock_run(stock, statement);
}

static enum exit_code delete_row(struct stock *stock,
                                 const struct stock_damage *row)
{
    char sql[80];
    if (strcmp(row->table, "bottle") == 0) {
        delete_recipes_of(stock, row->id);
    }
    snprintf(sql, sizeof sql, "DELETE FROM %s WHERE %s = ?", row->table,
             strcmp(row->table, "mix") == 0 ? "bottle" : "id");
    sqlite3_stmt *statement = stock_prepare(stock, sql);
    sqlite3_bind_int64(statement, 1, row->id);
    return stock_run(stock, statement);
}

/* what reading the whole stock sets aside */
static enum exit_code delete_damaged(struct stock *stock)
{
    struct bottles bottles = {0};
    if (bottles_load_all(stock, &bottles) == EXIT_DONE &&
        recipes_each(stock, ignore_recipe, NULL) == EXIT_DONE) {
        own_cups_each(stock, ignore_cup, NULL);
    }
    bottles_free(&bottles);
    for (size_t i = 0; i < stock->damage_count; i++) {
        delete_row(stock, &stock->damage[i]);
    }
    /* damaged rows cannot be put back, nor what was changed before them */
    return stock->damage_count > 0 ? stock_run_sql(stock, "DELETE FROM change")
                                   : stock->error->exit_code;
}

static enum exit_code remove_damaged(const struct args *args,
                                     struct error *error)
{
    struct stock stock;
    size_t count = 0;
    if (args->count != 0) {
        return REFUSE("--damaged stands alone; \"%.*s\" is one word too many",
                      QUOTED, args->argument[0]);
    }
    if (stock_begin_undo(&stock, args->stock, error) == EXIT_DONE && stock.db &&
        delete_damaged(&stock) == EXIT_DONE) {
        count = stock.damage_count;
        stock_commit(&stock, NULL);
    }
    stock_close(&stock);
    if (error->exit_code == EXIT_DONE) {
        print_wrapped(
            "Removed: %zu damaged row%s.%s", count, count == 1 ? "" : "s",
            count > 0 ? " This and the changes before it cannot be undone."
                      : "");
    }
    return error->exit_code;
}

static enum exit_code run_remove(const struct args *args, struct error *error)
{
    struct bottle bottle = {0};
    struct stock stock;
    char what[QUOTED * 4];
    if (args->value[DAMAGED]) {
        return remove_damaged(args, error);
    }
    if (args->count != 1) {
        return REFUSE("which bottle? try midweight stock remove Elm");
    }
    if (stock_begin_existing(&stock, args->stock, error) == EXIT_DONE &&
        bottle_load(&stock, args->argument[0], &bottle) == EXIT_DONE &&
        take_away(&stock, &bottle, args->value[FORCE] != NULL) == EXIT_DONE) {
        snprintf(what, sizeof what, "remove %s", bottle.name);
        stock_commit(&stock, what);
    }
    stock_close(&stock);
    if (error->exit_code == EXIT_DONE) {
        print_wrapped("Removed %s; midweight stock undo brings it back.",
                      bottle.name);
    }
    bottle_free(&bottle);
    return error->exit_code;
}

const struct command command_stock_remove = {
    .name = "stock remove",
    .summary = "a bottle that is used up or lost",
    .examples = "  midweight stock remove Elm\n",
    .arguments = "NAME",
    .options = remove_options,
    .run = run_remove,
};

static enum exit_code run_undo(const struct args *args, struct error *error)
{
    struct stock stock;
    char what[QUOTED * 4];
    if (args->count != 0) {
        return REFUSE("undo takes back the last change and nothing else");
    }
    if (stock_begin_undo(&stock, args->stock, error) == EXIT_DONE &&
        stock_undo(&stock, what, sizeof what) == EXIT_DONE) {
        stock_commit(&stock, NULL);
    }
    stock_close(&stock);
    if (error->exit_code == EXIT_DONE) {
        print_wrapped("Taken back: %s.", what);
    }
    return error->exit_code;
}

const struct command command_stock_undo = {
    .name = "stock undo",
    .summary = "take the last change back; once more goes further",
    .examples = "  midweight stock undo\n",
    .run = run_undo,
};
