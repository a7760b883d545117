/* SPDX-License-Identifier: GPL-3.0-or-later */
/* stock log: what was mixed, when, from what */
#include <stdio.h>

#include "number.h"
#include "recipes.h"
#include "report.h"
#include "stock_commands.h"

struct log {
    json_t *list; /* NULL: print text */
    size_t count;
};

static json_t *json_recipe(const struct recipe *recipe)
{
    json_t *parts = json_array();
    for (size_t i = 0; i < recipe->count; i++) {
        json_array_append_new(
            parts,
            json_pack("{s:s, s:o}", "name", recipe->parts[i].parent_name,
                      "volume_ml", json_number(recipe->parts[i].volume_ml)));
    }
    return json_pack("{s:s, s:s, s:o, s:o}", "name", recipe->name, "date",
                     recipe->made, "temperature",
                     json_number(recipe->temperature), "parts", parts);
}

static void take(const struct recipe *recipe, void *context)
{
    struct log *log = context;
    char text[FIGURES_LENGTH];
    log->count++;
    if (log->list) {
        json_array_append_new(log->list, json_recipe(recipe));
        return;
    }
    paragraph("%s  %s, reckoned at %.6g C", recipe->made, recipe->name,
              recipe->temperature);
    for (size_t i = 0; i < recipe->count; i++) {
        printf("  %8s ml %s\n", figures(recipe->parts[i].volume_ml, 3, text),
               recipe->parts[i].parent_name);
    }
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
    if (words.json) {
        log.list = json_array();
    }
    if (stock_open(&stock, words.stock, problem) == OUTCOME_DONE &&
        recipes_each(&stock, take, &log) == OUTCOME_DONE && !words.json &&
        log.count == 0) {
        paragraph("No mix is recorded yet; midweight mix ... --record NAME "
                  "does it.");
    }
    stock_close(&stock);
    if (words.json && problem->outcome == OUTCOME_DONE) {
        print_json(json_pack("{s:O}", "mixes", log.list), problem);
    }
    json_decref(log.list);
    return problem->outcome;
}

const struct command command_stock_log = {
    .name = "stock log",
    .summary = "what was mixed, when, from what",
    .examples = "  midweight stock log\n",
    .run = run,
};
