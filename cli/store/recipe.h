/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * recipe - how mixed bottles were made, as records.
 */
#ifndef STORE_RECIPE_H
#define STORE_RECIPE_H

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
    double dose_ml;     /* standard uncertainty of each part; NaN: not known */
    char made[DATE_LENGTH];
    size_t count;
    struct recipe_part parts[MW_MIX_OILS_MAX];
};

/** Take each recipe, the latest first; stops at a failure. What is taken out of
 * it and zeroed is the taker's to free. */
typedef enum exit_code take_recipe(struct recipe *recipe, void *context,
                                   struct error *error);

enum exit_code recipes_each(struct stock *stock, take_recipe *take,
                            void *context, struct error *error);

/** The recipe of a bottle; count is 0 where it has none. recipe_free() it. */
enum exit_code recipe_load(struct stock *stock, sqlite3_int64 bottle,
                           struct recipe *recipe, struct error *error);

/** How many parts the recipe of a bottle has. */
enum exit_code recipe_count_parts(struct stock *stock, sqlite3_int64 bottle,
                                  sqlite3_int64 *count, struct error *error);

/** Whether a bottle has a recipe. */
enum exit_code recipe_exists(struct stock *stock, sqlite3_int64 bottle,
                             bool *exists, struct error *error);

/** Store how a stored bottle was made. */
enum exit_code recipe_insert(struct stock *stock, const struct recipe *recipe,
                             struct error *error);

/** Add a part to a stored recipe. */
enum exit_code recipe_add_part(struct stock *stock, sqlite3_int64 bottle,
                               const struct recipe_part *part,
                               struct error *error);

void recipe_free(struct recipe *recipe);

#endif
