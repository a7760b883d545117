/* SPDX-License-Identifier: GPL-3.0-or-later */
/* stock log: what was mixed, when, from what */
#include <stdio.h>
#include <stdlib.h>

#include "output/csv.h"
#include "output/json.h"
#include "output/text.h"
#include "parse/number.h"
#include "stock/bottle_json.h"
#include "stock/commands.h"
#include "store/recipe.h"
#include "util/format.h"
#include "util/xalloc.h"

enum { CSV };

static const struct command_option options[] = {
    OPTION(CSV, "csv", NULL, "Print as CSV, a row for each oil"),
    {0},
};

struct log {
    struct recipe *recipes;
    size_t count;
};

/* keep a recipe, and leave nothing of it to be freed */
static enum exit_code take(struct recipe *recipe, void *context,
                           struct error *error)
{
    (void)error;
    struct log *log = context;
    log->recipes =
        xreallocarray(log->recipes, log->count + 1, sizeof log->recipes[0]);
    log->recipes[log->count++] = *recipe;
    *recipe = (struct recipe){0};
    return EXIT_DONE;
}

static void print_recipe(const struct recipe *recipe)
{
    char text[FORMAT_LENGTH];
    print_wrapped("%s  %s, calculated at %.6g C", recipe->made, recipe->name,
                  recipe->temperature);
    for (size_t i = 0; i < recipe->count; i++) {
        print_text("  %8s ml %s\n",
                   format_significant(recipe->parts[i].volume_ml, 3, text),
                   recipe->parts[i].parent_name);
    }
}

/* a row for each oil of each mix */
static void print_csv(const struct log *log)
{
    csv_row(stdout, (const char *[]){"date", "mix", "temperature", "oil",
                                     "volume_ml", NULL});
    for (size_t i = 0; i < log->count; i++) {
        const struct recipe *recipe = &log->recipes[i];
        for (size_t j = 0; j < recipe->count; j++) {
            char t[ROUNDTRIP_LENGTH], ml[ROUNDTRIP_LENGTH];
            csv_row(stdout,
                    (const char *[]){
                        recipe->made, recipe->name,
                        format_roundtrip(recipe->temperature, t),
                        recipe->parts[j].parent_name,
                        format_roundtrip(recipe->parts[j].volume_ml, ml),
                        NULL});
        }
    }
}

static enum exit_code print_log(const struct args *args, const struct log *log,
                                struct error *error)
{
    if (args->value[CSV]) {
        print_csv(log);
        return EXIT_DONE;
    }
    json_t *mixes = args->json ? json_array() : NULL;
    for (size_t i = 0; i < log->count; i++) {
        if (args->json) {
            json_append(mixes, json_recipe(&log->recipes[i]));
        } else {
            print_recipe(&log->recipes[i]);
        }
    }
    if (args->json) {
        return print_json("stock-log", json_pack("{s:o}", "mixes", mixes),
                          error);
    }
    if (log->count == 0) {
        print_wrapped("No mix is recorded yet; midweight mix ... --record NAME "
                      "does it.");
    }
    return EXIT_DONE;
}

static enum exit_code run(const struct args *args, struct error *error)
{
    struct stock stock;
    struct log log = {0};
    if (args->count != 0) {
        return refuse(error,
                      "log shows all mixes; \"%.*s\" is one word too many",
                      QUOTED, args->argument[0]);
    }
    enum exit_code code = stock_open(&stock, args->stock, error);
    if (code == EXIT_DONE) {
        code = recipes_each(&stock, take, &log, error);
    }
    stock_close(&stock);
    if (code == EXIT_DONE) {
        code = print_log(args, &log, error);
    }
    for (size_t i = 0; i < log.count; i++) {
        recipe_free(&log.recipes[i]);
    }
    free(log.recipes);
    return code;
}

const struct command command_stock_log = {
    .name = "stock log",
    .summary = "the recorded mixes, with their dates",
    .examples = "  midweight stock log\n"
                "  midweight stock log --csv\n",
    .options = options,
    .run = run,
};
