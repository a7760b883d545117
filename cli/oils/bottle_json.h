/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** bottle_json - a bottle of the stock as JSON. */
#ifndef OILS_BOTTLE_JSON_H
#define OILS_BOTTLE_JSON_H

#include "output/json.h"
#include "store/bottle.h"
#include "store/journal.h"
#include "store/recipe.h"

/** The label, the readings and what they say together. */
json_t *json_bottle(const struct bottle *bottle);

/**
 * Print what a command has changed.
 *
 * Given: done    "added", "changed", "used", "refilled", "removed", "undone",
 *                "redone" or "imported"
 *        what    in words, or NULL
 *        bottle  as it is now, or NULL
 *        rows, skipped  of an import; NaN: no import
 */
enum exit_code print_change_json(const char *done, const char *what,
                                 const struct bottle *bottle, double rows,
                                 double skipped, struct error *error);

/** How a mix was made. */
json_t *json_recipe(const struct recipe *recipe);

/** Oil that was taken: {name, date, volume_ml, note}. */
json_t *json_use(const struct use *use);

/** A bottle that was filled again: {name, date, previous}. */
json_t *json_fill(const struct fill *fill);

#endif
