/* SPDX-License-Identifier: GPL-3.0-or-later */
/* stock show: all that is kept of one bottle */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "oils/best.h"
#include "oils/bottle_json.h"
#include "oils/network.h"
#include "oils/outlier.h"
#include "output/text.h"
#include "stock/commands.h"
#include "store/bottle.h"
#include "store/journal.h"
#include "store/recipe.h"
#include "util/format.h"
#include "util/xalloc.h"

/* a bottle, how it was made, and how its label and readings agree */
struct shown {
    struct bottle bottle;
    struct recipe recipe;
    struct journal journal; /* of all bottles */
    enum mw_agreement label;
    enum mw_agreement *readings;
};

static const char *agreement_text(enum mw_agreement agreement)
{
    static const char *const texts[] = {[MW_AGREES] = "counted",
                                        [MW_WIDENED] = "widened",
                                        [MW_SET_ASIDE] = "set aside"};
    return texts[agreement];
}

/* -- Text -------------------------------------------------------------- */

static void print_value(const struct bottle *bottle)
{
    const struct mw_point *best = &bottle->best.oil.points[0];
    char v[FORMAT_LENGTH];
    print_wrapped("%s is %s mm2/s at %.6g C, +-%.1f %% (k = 2).", bottle->name,
                  format_significant(best->viscosity, 3, v), best->temperature,
                  100 * MW_COVERAGE * bottle->best.uncertainty);
}

static void print_label(const struct shown *shown)
{
    const struct bottle *bottle = &shown->bottle;
    char v[FORMAT_LENGTH];
    print_text("  %-10s %s", bottle->mixed ? "calculated" : "label",
               mw_family_name(bottle->label.family));
    for (size_t i = 0; i < bottle->label.count; i++) {
        print_text(", %s mm2/s at %.6g C",
                   format_compact(bottle->label.points[i].viscosity, v),
                   bottle->label.points[i].temperature);
    }
    print_text(", +-%.2g %%; %s", 100 * bottle->tolerance, bottle->added);
    if (shown->label != MW_AGREES) {
        print_text(" (%s)", agreement_text(shown->label));
    }
    print_text("\n");
}

static void print_reading(const struct shown *shown, size_t i)
{
    const struct stock_reading *reading = &shown->bottle.readings[i];
    char v[FORMAT_LENGTH], method[TRUNCATED_LENGTH];
    print_text("  %-7s %2zu %s mm2/s at %.6g C, +-%.1f %%; %s", "reading",
               i + 1, format_compact(reading->value.viscosity, v),
               reading->value.temperature,
               100 * MW_COVERAGE * reading->value.uncertainty, reading->taken);
    if (*reading->method) {
        print_text(", %s", truncate_columns(reading->method, 24, method));
    }
    if (shown->readings[i] != MW_AGREES) {
        print_text(" (%s)", agreement_text(shown->readings[i]));
    }
    print_text("\n");
}

static void print_recipe(const struct recipe *recipe)
{
    char ml[FORMAT_LENGTH];
    for (size_t i = 0; i < recipe->count; i++) {
        print_text("  %-10s %s ml of %s; %s\n", i == 0 ? "made of" : "",
                   format_significant(recipe->parts[i].volume_ml, 3, ml),
                   recipe->parts[i].parent_name, recipe->made);
    }
}

/* what was taken from it, and what it was before */
static void print_journal(const struct shown *shown)
{
    const struct journal *journal = &shown->journal;
    char ml[FORMAT_LENGTH];
    for (size_t i = 0; i < journal->use_count; i++) {
        const struct use *use = &journal->uses[i];
        if (use->bottle == shown->bottle.id) {
            print_text("  %-10s %s ml; %s%s%s\n", "used",
                       format_significant(use->volume_ml, 3, ml), use->made,
                       *use->note ? ", " : "", use->note);
        }
    }
    for (size_t i = 0; i < journal->fill_count; i++) {
        const struct fill *fill = &journal->fills[i];
        if (fill->bottle == shown->bottle.id) {
            print_text("  %-10s %s; %s\n", "before", fill->previous_name,
                       fill->made);
        }
    }
}

static void print_rest(const struct bottle *bottle)
{
    char ml[FORMAT_LENGTH];
    if (!isnan(bottle->left_ml)) {
        print_text("  %-10s %s ml\n", "left",
                   format_significant(bottle->left_ml, 3, ml));
    }
    if (!isnan(bottle->drop_ml)) {
        print_text("  %-10s %s ml\n", "drop",
                   format_significant(bottle->drop_ml, 3, ml));
    }
    if (*bottle->note) {
        print_text("  %-10s %s\n", "note", bottle->note);
    }
}

static void print_shown(const struct shown *shown)
{
    const struct bottle *bottle = &shown->bottle;
    print_value(bottle);
    print_text("\n");
    print_label(shown);
    for (size_t i = 0; i < bottle->reading_count; i++) {
        print_reading(shown, i);
    }
    print_recipe(&shown->recipe);
    print_journal(shown);
    print_rest(bottle);
    print_text("\n");
    if (bottle->reading_count > 0) {
        print_wrapped("midweight stock reading NAME --delete K deletes reading "
                      "K.");
    }
}

/* -- JSON -------------------------------------------------------------- */

static enum exit_code print_as_json(const struct shown *shown,
                                    struct error *error)
{
    json_t *json = json_bottle(&shown->bottle);
    json_t *readings = json_object_get(json, "readings");
    for (size_t i = 0; i < shown->bottle.reading_count; i++) {
        json_set(json_array_get(readings, i), "agreement",
                 json_string(agreement_text(shown->readings[i])));
    }
    json_set(json, "label_agreement",
             json_string(agreement_text(shown->label)));
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

/* what all that the stock knows says of the bottle */
static enum exit_code adjust(struct stock *stock, struct shown *shown,
                             struct error *error)
{
    struct stock_network network;
    shown->readings =
        xcalloc(shown->bottle.reading_count + 1, sizeof shown->readings[0]);
    enum exit_code code = stock_network_load(stock, &network, error);
    if (code == EXIT_DONE &&
        (code = stock_network_solve(&network, error)) == EXIT_DONE) {
        bottle_adjust_by(&network, &shown->bottle, error);
        find_agreements(&network, shown);
    }
    stock_network_free(&network);
    return code;
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
    code = recipe_load(stock, shown->bottle.id, &shown->recipe, error);
    return code == EXIT_DONE ? journal_load(stock, &shown->journal, error)
                             : code;
}

static enum exit_code run(const struct args *args, struct error *error)
{
    struct stock stock;
    struct shown shown = {0};
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
        print_shown(&shown);
    }
    free(shown.readings);
    recipe_free(&shown.recipe);
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
