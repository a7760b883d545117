/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* stock log: what was mixed, used and filled again, when */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "oils/bottle_json.h"
#include "output/csv.h"
#include "output/json.h"
#include "output/text.h"
#include "parse/number.h"
#include "stock/commands.h"
#include "store/bottle.h"
#include "store/journal.h"
#include "store/recipe.h"
#include "util/format.h"
#include "util/xalloc.h"

enum { CSV };

static const struct command_option options[] = {
    OPTION(CSV, "csv", NULL, "Print as CSV, a row for each oil"),
    {0},
};

/* one of the three */
struct event {
    const char *date;
    size_t index; /* of events of one day in their order */
    const struct recipe *recipe;
    const struct use *use;
    const struct fill *fill;
};

struct log {
    struct recipe *recipes;
    size_t recipe_count;
    struct journal journal;
    sqlite3_int64 bottle; /* it and its fills alone; 0: all */
    struct event *events; /* the latest first */
    size_t count;
};

/* -- What is in it --------------------------------------------------------- */

/* keep a recipe, and leave nothing of it to be freed */
static enum exit_code take(struct recipe *recipe, void *context,
                           struct error *error)
{
    (void)error;
    struct log *log = context;
    log->recipes = xreallocarray(log->recipes, log->recipe_count + 1,
                                 sizeof log->recipes[0]);
    log->recipes[log->recipe_count++] = *recipe;
    *recipe = (struct recipe){0};
    return EXIT_DONE;
}

/* whether it is the bottle that is asked about, or one of its earlier fills; a
 * hostile file may make them circular */
static bool is_asked(const struct log *log, sqlite3_int64 id)
{
    sqlite3_int64 at = log->bottle;
    for (size_t i = 0; i <= log->journal.fill_count && at != 0; i++) {
        if (at == id) {
            return true;
        }
        const struct fill *fill = journal_fill(&log->journal, at);
        at = fill ? fill->previous : 0;
    }
    return log->bottle == 0;
}

static bool is_of_recipe(const struct log *log, const struct recipe *recipe)
{
    bool asked = is_asked(log, recipe->bottle);
    for (size_t i = 0; i < recipe->count; i++) {
        asked = asked || is_asked(log, recipe->parts[i].parent);
    }
    return asked;
}

static void add(struct log *log, bool asked, struct event event)
{
    if (asked) {
        event.index = log->count;
        log->events[log->count++] = event;
    }
}

static int latest_first(const void *left, const void *right)
{
    const struct event *a = left, *b = right;
    int days = strcmp(b->date, a->date);
    return days != 0 ? days : (a->index > b->index) - (a->index < b->index);
}

static void list_events(struct log *log)
{
    const struct journal *journal = &log->journal;
    log->events = xcalloc(log->recipe_count + journal->use_count +
                              journal->fill_count + 1,
                          sizeof log->events[0]);
    for (size_t i = 0; i < log->recipe_count; i++) {
        const struct recipe *recipe = &log->recipes[i];
        add(log, is_of_recipe(log, recipe),
            (struct event){.date = recipe->made, .recipe = recipe});
    }
    for (size_t i = 0; i < journal->use_count; i++) {
        const struct use *use = &journal->uses[i];
        add(log, is_asked(log, use->bottle),
            (struct event){.date = use->made, .use = use});
    }
    for (size_t i = 0; i < journal->fill_count; i++) {
        const struct fill *fill = &journal->fills[i];
        add(log, is_asked(log, fill->bottle),
            (struct event){.date = fill->made, .fill = fill});
    }
    qsort(log->events, log->count, sizeof log->events[0], latest_first);
}

static enum exit_code load(const struct args *args, struct stock *stock,
                           struct log *log, struct error *error)
{
    enum exit_code code;
    struct bottle bottle = {0};
    if (args->count == 1) {
        code = bottle_load(stock, args->argument[0], &bottle, error);
        log->bottle = bottle.id;
        bottle_free(&bottle);
        if (code != EXIT_DONE) {
            return code;
        }
    }
    if ((code = recipes_each(stock, take, log, error)) != EXIT_DONE ||
        (code = journal_load(stock, &log->journal, error)) != EXIT_DONE) {
        return code;
    }
    list_events(log);
    return EXIT_DONE;
}

static void free_log(struct log *log)
{
    for (size_t i = 0; i < log->recipe_count; i++) {
        recipe_free(&log->recipes[i]);
    }
    free(log->recipes);
    free(log->events);
    journal_free(&log->journal);
}

/* -- Text ------------------------------------------------------------------ */

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

static void print_event(const struct event *event)
{
    char text[FORMAT_LENGTH];
    if (event->recipe) {
        print_recipe(event->recipe);
    } else if (event->use) {
        print_wrapped("%s  %s, %s ml used%s%s", event->date, event->use->name,
                      format_significant(event->use->volume_ml, 3, text),
                      *event->use->note ? ": " : "", event->use->note);
    } else {
        print_wrapped("%s  %s, filled again; before: %s", event->date,
                      event->fill->name, event->fill->previous_name);
    }
}

/* -- CSV and JSON ---------------------------------------------------------- */

static void csv_recipe(const struct recipe *recipe)
{
    char t[ROUNDTRIP_LENGTH], ml[ROUNDTRIP_LENGTH];
    for (size_t j = 0; j < recipe->count; j++) {
        csv_row(stdout, (const char *[]){
                            recipe->made, recipe->name,
                            format_roundtrip(recipe->temperature, t),
                            recipe->parts[j].parent_name,
                            format_roundtrip(recipe->parts[j].volume_ml, ml),
                            "mix", "", NULL});
    }
}

/* a row for each oil of each mix, each use and each fill */
static void print_csv(const struct log *log)
{
    csv_row(stdout, (const char *[]){"date", "mix", "temperature", "oil",
                                     "volume_ml", "kind", "note", NULL});
    for (size_t i = 0; i < log->count; i++) {
        const struct event *event = &log->events[i];
        char ml[ROUNDTRIP_LENGTH];
        if (event->recipe) {
            csv_recipe(event->recipe);
        } else if (event->use) {
            csv_row(stdout, (const char *[]){
                                event->date, "", "", event->use->name,
                                format_roundtrip(event->use->volume_ml, ml),
                                "use", event->use->note, NULL});
        } else {
            csv_row(stdout, (const char *[]){event->date, event->fill->name, "",
                                             event->fill->previous_name, "",
                                             "refill", "", NULL});
        }
    }
}

static enum exit_code print_as_json(const struct log *log, struct error *error)
{
    json_t *mixes = json_array(), *uses = json_array(), *fills = json_array();
    for (size_t i = 0; i < log->count; i++) {
        const struct event *event = &log->events[i];
        if (event->recipe) {
            json_append(mixes, json_recipe(event->recipe));
        } else if (event->use) {
            json_append(uses, json_use(event->use));
        } else {
            json_append(fills, json_fill(event->fill));
        }
    }
    return print_json("stock-log",
                      json_pack("{s:o, s:o, s:o}", "mixes", mixes, "uses", uses,
                                "fills", fills),
                      error);
}

static enum exit_code print_log(const struct args *args, const struct log *log,
                                struct error *error)
{
    if (args->json) {
        return print_as_json(log, error);
    }
    if (args->value[CSV]) {
        print_csv(log);
        return EXIT_DONE;
    }
    for (size_t i = 0; i < log->count; i++) {
        print_event(&log->events[i]);
    }
    if (log->count == 0) {
        print_wrapped(
            "Nothing is recorded yet; midweight mix ... --record NAME "
            "and midweight stock use do it.");
    }
    return EXIT_DONE;
}

static enum exit_code run(const struct args *args, struct error *error)
{
    struct stock stock;
    struct log log = {0};
    if (args->count > 1) {
        return refuse(error,
                      "log shows all bottles or one; \"%.*s\" is one word too "
                      "many",
                      QUOTED, args->argument[1]);
    }
    enum exit_code code = stock_open(&stock, args->stock, error);
    if (code == EXIT_DONE) {
        code = load(args, &stock, &log, error);
    }
    stock_close(&stock);
    if (code == EXIT_DONE) {
        code = print_log(args, &log, error);
    }
    free_log(&log);
    return code;
}

const struct command command_stock_log = {
    .name = "stock log",
    .summary = "what was mixed, used and filled again, with dates",
    .examples = "  midweight stock log\n"
                "  midweight stock log Elm\n"
                "  midweight stock log --csv\n",
    .arguments = "[NAME]",
    .options = options,
    .run = run,
};
