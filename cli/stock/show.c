/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* stock show: all that is kept of one bottle */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "oils/best.h"
#include "oils/bottle_json.h"
#include "oils/oil_ref.h"
#include "stock/commands.h"
#include "stock/show.h"
#include "util/xalloc.h"

/* -- JSON -------------------------------------------------------------- */

static enum exit_code print_as_json(const struct shown *shown,
                                    struct error *error)
{
    json_t *json = json_bottle(&shown->bottle);
    json_t *readings = json_object_get(json, "readings");
    for (size_t i = 0; i < shown->bottle.reading_count; i++) {
        json_set(json_array_get(readings, i), "agreement",
                 json_string(show_agreement(shown->readings[i])));
    }
    json_set(json, "label_agreement",
             json_string(show_agreement(shown->label)));
    json_set(json, "recipe",
             shown->recipe.count > 0 ? json_recipe(&shown->recipe)
                                     : json_null());
    json_t *uses = json_array(), *fills = json_array();
    for (size_t i = 0; i < shown->journal.use_count; i++) {
        if (shown->journal.uses[i].bottle == shown->bottle.id) {
            json_append(uses, json_use(&shown->journal.uses[i]));
        }
    }
    for (size_t i = 0; i < shown->journal.fill_count; i++) {
        if (shown->journal.fills[i].bottle == shown->bottle.id) {
            json_append(fills, json_fill(&shown->journal.fills[i]));
        }
    }
    json_t *into = json_array();
    for (size_t i = 0; i < shown->into_count; i++) {
        json_append(into, json_recipe(&shown->into[i]));
    }
    json_set(json_object_get(json, "best"), "uncertainty",
             oils_json_uncertainty(&shown->network, &shown->uncertainty));
    json_set(json, "into", into);
    json_set(json, "uses", uses);
    json_set(json, "fills", fills);
    return print_json("stock-show", json, error);
}

/* -- The bottle -------------------------------------------------------- */

/* how the label and the readings stand to the rest; all agree where the network
 * does not know the bottle */
static void find_agreements(const struct stock_network *network,
                            struct shown *shown)
{
    size_t node = stock_network_find(network, shown->bottle.id);
    if (node == network->bottles.count) {
        return;
    }
    shown->label = mw_network_label(network->network, node);
    for (size_t i = 0; i < shown->bottle.reading_count; i++) {
        size_t reading = stock_network_reading(network, node, i);
        shown->readings[i] = reading < network->reading_count
                                 ? mw_network_reading(network->network, reading)
                                 : MW_SET_ASIDE;
    }
}

/* what the best value is uncertain by */
static void find_uncertainty(struct shown *shown, size_t node)
{
    const double whole = 1;
    const struct mw_point *best = &shown->bottle.best.oil.points[0];
    const struct mw_network_mix alone = {1, &node, &whole, best->temperature,
                                         0, NULL,  NULL,   false};
    if (oils_find_uncertainty(&shown->network, &alone, best->viscosity,
                              &shown->uncertainty) == MW_OK) {
        oils_find_advice(&shown->network, &alone, &shown->uncertainty);
    }
}

/* what all that the stock knows says of the bottle */
static enum exit_code adjust(struct stock *stock, struct shown *shown,
                             struct error *error)
{
    struct stock_network *network = &shown->network;
    shown->readings =
        xcalloc(shown->bottle.reading_count + 1, sizeof shown->readings[0]);
    enum exit_code code = stock_network_load(stock, network, error);
    if (code != EXIT_DONE) {
        return code;
    }
    size_t node = bottle_node(network, &shown->bottle);
    if ((code = stock_network_solve(network, error)) == EXIT_DONE) {
        bottle_adjust_by(network, &shown->bottle, error);
        find_agreements(network, shown);
        find_uncertainty(shown, node);
    }
    return code;
}

/* keep a recipe that the bottle went into */
static enum exit_code take_into(struct recipe *recipe, void *context,
                                struct error *error)
{
    struct shown *shown = context;
    bool parent = false;
    (void)error;
    for (size_t i = 0; i < recipe->count; i++) {
        parent = parent || recipe->parts[i].parent == shown->bottle.id;
    }
    if (parent) {
        shown->into = xreallocarray(shown->into, shown->into_count + 1,
                                    sizeof shown->into[0]);
        shown->into[shown->into_count++] = *recipe;
        *recipe = (struct recipe){0};
    }
    return EXIT_DONE;
}

static enum exit_code load(struct stock *stock, const char *name,
                           struct shown *shown, struct error *error)
{
    enum exit_code code;
    sqlite3_int64 id = 0;
    if (stock->db && (code = bottle_id(stock, name, &id, error)) != EXIT_DONE) {
        return code;
    }
    /* those that were removed are shown too; the others are refused in words */
    code = id != 0 ? bottle_load_id(stock, id, &shown->bottle, error)
                   : bottle_load(stock, name, &shown->bottle, error);
    if (code == EXIT_DONE && shown->bottle.damaged) {
        code = bottle_load(stock, name, &shown->bottle, error);
    }
    if (code != EXIT_DONE ||
        (code = adjust(stock, shown, error)) != EXIT_DONE) {
        return code;
    }
    if ((code = recipe_load(stock, shown->bottle.id, &shown->recipe, error)) !=
            EXIT_DONE ||
        (code = recipes_each(stock, take_into, shown, error)) != EXIT_DONE) {
        return code;
    }
    return journal_load(stock, &shown->journal, error);
}

static enum exit_code run(const struct args *args, struct error *error)
{
    struct stock stock;
    struct shown shown = {.explain = args->explain};
    if (args->count != 1) {
        return refuse(error, "which bottle? try midweight stock show Elm");
    }
    enum exit_code code = stock_open(&stock, args->stock, error);
    if (code == EXIT_DONE) {
        code = load(&stock, args->argument[0], &shown, error);
    }
    stock_close(&stock);
    if (code == EXIT_DONE && args->json) {
        code = print_as_json(&shown, error);
    } else if (code == EXIT_DONE) {
        show_print(&shown);
    }
    free(shown.readings);
    recipe_free(&shown.recipe);
    for (size_t i = 0; i < shown.into_count; i++) {
        recipe_free(&shown.into[i]);
    }
    free(shown.into);
    stock_network_free(&shown.network);
    journal_free(&shown.journal);
    bottle_free(&shown.bottle);
    return code;
}

const struct command command_stock_show = {
    .name = "stock show",
    .summary = "one bottle: its label, readings, recipe and uses",
    .examples = "  midweight stock show Elm\n"
                "  midweight stock show Elm --json\n",
    .arguments = "NAME",
    .run = run,
};
