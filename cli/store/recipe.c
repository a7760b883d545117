/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/recipe.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "parse/amount.h"
#include "parse/number.h"
#include "util/xalloc.h"

static void load_parts(struct stock *stock, struct recipe *recipe)
{
    sqlite3_stmt *select = stock_prepare(
        stock, "SELECT part.parent, bottle.name, part.volume_ml FROM part"
               " JOIN bottle ON bottle.id = part.parent"
               " WHERE part.mix = ? ORDER BY part.position");
    sqlite3_bind_int64(select, 1, recipe->bottle);
    while (stock_row(stock, select)) {
        if (recipe->count == MW_MIX_OILS_MAX) {
            recipe->temperature = NAN; /* more parts than any mix: damaged */
            break;
        }
        struct recipe_part *part = &recipe->parts[recipe->count++];
        part->parent = sqlite3_column_int64(select, 0);
        part->parent_name = xstrdup(column_text(select, 1));
        part->volume_ml = column_number(select, 2);
    }
    sqlite3_finalize(select);
}

static bool is_sound(const struct recipe *recipe)
{
    struct error error = {0};
    char date[DATE_LENGTH];
    bool sound = isfinite(recipe->temperature) &&
                 recipe->temperature > MW_ABSOLUTE_ZERO &&
                 parse_date(recipe->made, date, &error) == EXIT_DONE;
    for (size_t i = 0; i < recipe->count; i++) {
        sound = sound &&
                check_line(recipe->parts[i].parent_name, &error) == EXIT_DONE &&
                recipe->parts[i].volume_ml > 0 &&
                recipe->parts[i].volume_ml <= AMOUNT_MAX;
    }
    return sound;
}

/* the recipe of the current row of a statement, without parts where it is
 * damaged */
static void load_row(struct stock *stock, sqlite3_stmt *row,
                     struct recipe *recipe)
{
    *recipe = (struct recipe){.bottle = sqlite3_column_int64(row, 0),
                              .name = xstrdup(column_text(row, 1)),
                              .temperature = column_number(row, 2)};
    snprintf(recipe->made, DATE_LENGTH, "%s", column_text(row, 3));
    load_parts(stock, recipe);
    if (!is_sound(recipe)) {
        stock_set_aside(stock, "mix", recipe->bottle,
                        "the recipe of \"%.*s\" is damaged", QUOTED,
                        recipe->name);
        recipe_free(recipe);
    }
}

#define SELECT_RECIPE                                                          \
    "SELECT mix.bottle, bottle.name, mix.temperature, mix.made FROM mix"       \
    " JOIN bottle ON bottle.id = mix.bottle"

enum exit_code recipes_each(struct stock *stock, take_recipe *take,
                            void *context)
{
    if (!stock->db) {
        return EXIT_DONE;
    }
    sqlite3_stmt *select = stock_prepare(
        stock, SELECT_RECIPE " ORDER BY mix.made DESC, mix.bottle DESC");
    while (stock_row(stock, select)) {
        struct recipe recipe;
        load_row(stock, select, &recipe);
        if (stock->error->exit_code == EXIT_DONE && recipe.bottle != 0) {
            take(&recipe, context);
        }
        recipe_free(&recipe);
    }
    sqlite3_finalize(select);
    return stock->error->exit_code;
}

enum exit_code recipe_load(struct stock *stock, sqlite3_int64 bottle,
                           struct recipe *recipe)
{
    sqlite3_stmt *select =
        stock_prepare(stock, SELECT_RECIPE " WHERE mix.bottle = ?");
    sqlite3_bind_int64(select, 1, bottle);
    *recipe = (struct recipe){0};
    if (stock_row(stock, select)) {
        load_row(stock, select, recipe);
    }
    sqlite3_finalize(select);
    return stock->error->exit_code;
}

int recipe_count_parts(struct stock *stock, sqlite3_int64 bottle)
{
    sqlite3_stmt *select =
        stock_prepare(stock, "SELECT count(*) FROM part WHERE mix = ?");
    sqlite3_bind_int64(select, 1, bottle);
    int count = stock_row(stock, select) ? sqlite3_column_int(select, 0) : 0;
    sqlite3_finalize(select);
    return count;
}

bool recipe_exists(struct stock *stock, sqlite3_int64 bottle)
{
    sqlite3_stmt *select =
        stock_prepare(stock, "SELECT 1 FROM mix WHERE bottle = ?");
    sqlite3_bind_int64(select, 1, bottle);
    bool exists = stock_row(stock, select);
    sqlite3_finalize(select);
    return exists;
}

enum exit_code recipe_insert(struct stock *stock, const struct recipe *recipe)
{
    sqlite3_stmt *insert =
        stock_prepare(stock, "INSERT INTO mix VALUES (?, ?, ?)");
    sqlite3_bind_int64(insert, 1, recipe->bottle);
    bind_number(insert, 2, recipe->temperature);
    bind_text(insert, 3, recipe->made);
    stock_run(stock, insert);
    for (size_t i = 0; i < recipe->count; i++) {
        recipe_add_part(stock, recipe->bottle, &recipe->parts[i]);
    }
    return stock->error->exit_code;
}

enum exit_code recipe_add_part(struct stock *stock, sqlite3_int64 bottle,
                               const struct recipe_part *part)
{
    sqlite3_stmt *insert = stock_prepare(
        stock, "INSERT INTO part VALUES (?1, (SELECT count(*) FROM part"
               " WHERE mix = ?1), ?2, ?3)");
    sqlite3_bind_int64(insert, 1, bottle);
    sqlite3_bind_int64(insert, 2, part->parent);
    bind_number(insert, 3, part->volume_ml);
    return stock_run(stock, insert);
}

void recipe_free(struct recipe *recipe)
{
    for (size_t i = 0; i < recipe->count; i++) {
        free(recipe->parts[i].parent_name);
    }
    free(recipe->name);
    *recipe = (struct recipe){0};
}
