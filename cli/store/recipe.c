/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/recipe.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "parse/amount.h"
#include "parse/number.h"
#include "util/xalloc.h"

#define SELECT_PARTS                                                           \
    "SELECT part.parent, bottle.name, part.volume_ml FROM part"                \
    " JOIN bottle ON bottle.id = part.parent"                                  \
    " WHERE part.mix = ? ORDER BY part.position"

/* by a statement of SELECT_PARTS */
static enum exit_code load_parts(struct stock *stock, sqlite3_stmt *select,
                                 struct recipe *recipe, struct error *error)
{
    bool row;
    enum exit_code code;
    sqlite3_reset(select);
    sqlite3_bind_int64(select, 1, recipe->bottle);
    while ((code = stock_step(stock, select, &row, error)) == EXIT_DONE &&
           row) {
        if (recipe->count == MW_MIX_OILS_MAX) {
            recipe->temperature = NAN; /* more parts than any mix: damaged */
            break;
        }
        struct recipe_part *part = &recipe->parts[recipe->count++];
        part->parent = sqlite3_column_int64(select, 0);
        part->parent_name = xstrdup(column_text(select, 1));
        part->volume_ml = column_number(select, 2);
    }
    return code;
}

static bool is_sound(const struct recipe *recipe)
{
    struct error error = {0};
    char date[DATE_LENGTH];
    bool sound = isfinite(recipe->temperature) && !(recipe->dose_ml <= 0) &&
                 !(recipe->dose_ml > AMOUNT_MAX) &&
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
static enum exit_code load_row(struct stock *stock, sqlite3_stmt *row,
                               sqlite3_stmt *parts, struct recipe *recipe,
                               struct error *error)
{
    *recipe = (struct recipe){.bottle = sqlite3_column_int64(row, 0),
                              .name = xstrdup(column_text(row, 1)),
                              .temperature = column_number(row, 2),
                              .dose_ml = column_number(row, 4)};
    snprintf(recipe->made, DATE_LENGTH, "%s", column_text(row, 3));
    enum exit_code code = load_parts(stock, parts, recipe, error);
    if (code == EXIT_DONE && !is_sound(recipe)) {
        stock_set_aside(stock, "mix", recipe->bottle,
                        "the recipe of \"%.*s\" is damaged", QUOTED,
                        recipe->name);
        recipe_free(recipe);
    }
    return code;
}

#define SELECT_RECIPE                                                          \
    "SELECT mix.bottle, bottle.name, mix.temperature, mix.made,"               \
    " (SELECT ml FROM dose WHERE dose.mix = mix.bottle) FROM mix"              \
    " JOIN bottle ON bottle.id = mix.bottle"

enum exit_code recipes_each(struct stock *stock, take_recipe *take,
                            void *context, struct error *error)
{
    if (!stock->db) {
        return EXIT_DONE;
    }
    sqlite3_stmt *select = stock_prepare(
        stock, SELECT_RECIPE " ORDER BY mix.made DESC, mix.bottle DESC");
    sqlite3_stmt *parts = stock_prepare(stock, SELECT_PARTS);
    bool row = true;
    enum exit_code code = EXIT_DONE;
    while (code == EXIT_DONE &&
           (code = stock_step(stock, select, &row, error)) == EXIT_DONE &&
           row) {
        struct recipe recipe;
        code = load_row(stock, select, parts, &recipe, error);
        if (code == EXIT_DONE && recipe.bottle != 0) {
            code = take(&recipe, context, error);
        }
        recipe_free(&recipe);
    }
    sqlite3_finalize(parts);
    sqlite3_finalize(select);
    return code;
}

enum exit_code recipe_load(struct stock *stock, sqlite3_int64 bottle,
                           struct recipe *recipe, struct error *error)
{
    sqlite3_stmt *select =
        stock_prepare(stock, SELECT_RECIPE " WHERE mix.bottle = ?");
    sqlite3_bind_int64(select, 1, bottle);
    *recipe = (struct recipe){0};
    bool row;
    enum exit_code code = stock_step(stock, select, &row, error);
    if (row) {
        sqlite3_stmt *parts = stock_prepare(stock, SELECT_PARTS);
        code = load_row(stock, select, parts, recipe, error);
        sqlite3_finalize(parts);
    }
    sqlite3_finalize(select);
    return code;
}

enum exit_code recipe_count_parts(struct stock *stock, sqlite3_int64 bottle,
                                  sqlite3_int64 *count, struct error *error)
{
    sqlite3_stmt *select =
        stock_prepare(stock, "SELECT count(*) FROM part WHERE mix = ?");
    sqlite3_bind_int64(select, 1, bottle);
    return stock_number(stock, select, count, error);
}

enum exit_code recipe_exists(struct stock *stock, sqlite3_int64 bottle,
                             bool *exists, struct error *error)
{
    sqlite3_int64 found;
    sqlite3_stmt *select =
        stock_prepare(stock, "SELECT 1 FROM mix WHERE bottle = ?");
    sqlite3_bind_int64(select, 1, bottle);
    enum exit_code code = stock_number(stock, select, &found, error);
    *exists = found != 0;
    return code;
}

enum exit_code recipe_insert(struct stock *stock, const struct recipe *recipe,
                             struct error *error)
{
    sqlite3_stmt *insert =
        stock_prepare(stock, "INSERT INTO mix VALUES (?, ?, ?)");
    sqlite3_bind_int64(insert, 1, recipe->bottle);
    bind_number(insert, 2, recipe->temperature);
    bind_text(insert, 3, recipe->made);
    enum exit_code code = stock_run(stock, insert, error);
    if (code == EXIT_DONE && !isnan(recipe->dose_ml)) {
        insert = stock_prepare(stock, "INSERT INTO dose VALUES (?, ?)");
        sqlite3_bind_int64(insert, 1, recipe->bottle);
        bind_number(insert, 2, recipe->dose_ml);
        code = stock_run(stock, insert, error);
    }
    for (size_t i = 0; i < recipe->count && code == EXIT_DONE; i++) {
        code = recipe_add_part(stock, recipe->bottle, &recipe->parts[i], error);
    }
    return code;
}

enum exit_code recipe_add_part(struct stock *stock, sqlite3_int64 bottle,
                               const struct recipe_part *part,
                               struct error *error)
{
    sqlite3_stmt *insert = stock_prepare(
        stock, "INSERT INTO part VALUES (?1, (SELECT count(*) FROM part"
               " WHERE mix = ?1), ?2, ?3)");
    sqlite3_bind_int64(insert, 1, bottle);
    sqlite3_bind_int64(insert, 2, part->parent);
    bind_number(insert, 3, part->volume_ml);
    return stock_run(stock, insert, error);
}

void recipe_free(struct recipe *recipe)
{
    for (size_t i = 0; i < recipe->count; i++) {
        free(recipe->parts[i].parent_name);
    }
    free(recipe->name);
    *recipe = (struct recipe){0};
}
