/* SPDX-License-Identifier: GPL-3.0-or-later */
/** bottle_json - a bottle of the stock as JSON. */
#ifndef STOCK_BOTTLE_JSON_H
#define STOCK_BOTTLE_JSON_H

#include "output/json.h"
#include "store/bottle.h"
#include "store/recipe.h"

/** The label, the readings and what they say together. */
json_t *json_bottle(const struct bottle *bottle);

/** How a mix was made. */
json_t *json_recipe(const struct recipe *recipe);

#endif
