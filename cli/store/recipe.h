/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * recipes - how mixed bottles were made, as records.
 */
#ifndef CLI_RECIPES_H
#define CLI_RECIPES_H

#include <stdbool.h>
#include <stddef.h>

#include "midweight.h"
#include "parse/names.h"
#include "store/stock.h"

struct recipe_part {
    sqlite3_int64 parent;
    char *parent_name;
    double volume_ml;
};

struct recipe {
    sqlite3_int64 bottle;
    char *name;         /* of the mixed bottle */
    double temperature; /* degC at which it was calculated */
    char made[DATE_LENGTH];
    size_t count;
    struct recipe_part parts[MW_MIX_OILS_MAX];
};

/** Take each recipe, the latest first; stops on a error. What is taken out of
 * it and zeroed is the taker's to free. */
typedef void take_recipe(struct recipe *recipe, void *context);

enum exit_code recipes_each(struct stock *stock, take_recipe *take,
                            void *context);

/** The recipe of a bottle; count is 0 where it has none. recipe_free() it. */
enum exit_code recipe_load(struct stock *stock, sqlite3_int64 bottle,
                           struct recipe *recipe);

/** How many parts the recipe of a bottle has. */
int recipe_count_parts(struct stock *stock, sqlite3_int64 bottle);

/** Whether a bottle has a recipe. */
bool recipe_exists(struct stock *stock, sqlite3_int64 bottle);

/** Store how a stored bottle was made. */
enum exit_code recipe_insert(struct stock *stock, const struct recipe *recipe);

/** Add a part to a stored recipe. */
enum exit_code recipe_add_part(struct stock *stock, sqlite3_int64 bottle,
                               const struct recipe_part *part);

void recipe_free(struct recipe *recipe);

#endif
