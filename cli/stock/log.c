/* SPDX-License-Identifier: GPL-3.0-or-later */
/* stock log: what was mixed, when, from what */
#include <stdio.h>
#include <stdlib.h>

#include "output/json.h"
#include "output/text.h"
#include "parse/number.h"
#include "stock/commands.h"
#include "store/recipe.h"
#include "util/format.h"
#include "util/xalloc.h"

struct log {
    struct recipe *recipes;
    size_t count;
};

static json_t *json_recipe(const struct recipe *recipe)
{
    json_t *parts = json_array();
    for (size_t i = 0; i < recipe->count; i++) {
        json_append(parts, json_pack("{s:s, s:o}", "name",
                                     recipe->parts[i].parent_name, "volume_ml",
                                     json_number(recipe->parts[i].volume_ml)));
    }
    return json_pack("{s:s, s:s, s:o, s:o}", "name", recipe->name, "date",
                     recipe->made, "temperature",
                     json_number(recipe->temperature), "parts", parts);
}

/* keep a recipe, and leave nothing of it to be freed */
static void take(struct recipe *recipe, void *context)
{
    struct log *log = context;
    log->recipes =
        need_resized(log->recipes, log->count + 1, sizeof log->recipes[0]);
    log->recipes[log->count++] = *recipe;
    *recipe = (struct recipe){0};
}

static void print_recipe(const struct recipe *recipe)
{
    char text[FIGURES_LENGTH];
    paragraph("%s  %s, reckoned at %.6g C", recipe->made, recipe->name,
              recipe->temperature);
    for (size_t i = 0; i < recipe->count; i++) {
        print_text("  %8s ml %s\n",
                   figures(recipe->parts[i].volume_ml, 3, text),
                   recipe->parts[i].parent_name);
    }
}

static enum outcome print_log(const struct words *words, const struct log *log,
                              struct problem *problem)
{
    json_t *mixes = words->json ? json_array() : NULL;
    for (size_t i = 0; i < log->count; i++) {
        if (words->json) {
            json_append(mixes, json_recipe(&log->recipes[i]));
        } else {
            print_recipe(&log->recipes[i]);
        }
    }
    if (words->json) {
        return print_json(json_pack("{s:o}", "mixes", mixes), problem);
    }
    if (log->count == 0) {
        paragraph("No mix is recorded yet; midweight mix ... --record NAME "
                  "does it.");
    }
    return problem->outcome;
}

static enum outcome run(const struct command *command, int argc, char **argv,
                        struct problem *problem)
{
    static const struct argp_option no_options[] = {{0}};
    struct words words;
    struct stock stock;
    struct log log = {0};
    if (options_read(command, no_options, argc, argv, &words, problem) !=
            OUTCOME_DONE ||
        words.helped) {
        return problem->outcome;
    }
    if (words.count != 0) {
        return REFUSE("log shows all mixes; \"%.*s\" is one word too many",
                      QUOTED, words.argument[0]);
    }
    if (stock_open(&stock, words.stock, problem) == OUTCOME_DONE) {
        recipes_each(&stock, take, &log);
    }
    stock_close(&stock);
    if (problem->outcome == OUTCOME_DONE) {
        print_log(&words, &log, problem);
    }
    for (size_t i = 0; i < log.count; i++) {
        recipe_free(&log.recipes[i]);
    }
    free(log.recipes);
    return problem->outcome;
}

const struct command command_stock_log = {
    .name = "stock log",
    .summary = "what was mixed, when, from what",
    .examples = "  midweight stock log\n",
    .run = run,
};
