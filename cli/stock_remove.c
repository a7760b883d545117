/* SPDX-License-Identifier: GPL-3.0-or-later */
/* stock remove and undo: taking away, and taking back */
#include <stdio.h>

#include "bottles.h"
#include "number.h"
#include "report.h"
#include "stock.h"
#include "stock_commands.h"

enum { FORCE };

static const struct argp_option remove_options[] = {
    OPTION(FORCE, "force", NULL,
           "Also when mixes were made from it; their recipes keep its name"),
    {0},
};

static bool is_parent(struct stock *stock, sqlite3_int64 id)
{
    sqlite3_stmt *select =
        stock_prepare(stock, "SELECT 1 FROM part WHERE parent = ?");
    sqlite3_bind_int64(select, 1, id);
    bool parent = stock_row(stock, select);
    sqlite3_finalize(select);
    return parent;
}

static enum outcome take_away(struct stock *stock, const struct bottle *bottle,
                              bool force)
{
    bool parent = is_parent(stock, bottle->id);
    if (parent && !force) {
        return problem_set(stock->problem, OUTCOME_NO_ANSWER,
                           "mixes were made from \"%.*s\"; --force removes it "
                           "and keeps it in their recipes",
                           QUOTED, bottle->name);
    }
    return parent ? bottle_retire(stock, bottle) : bottle_delete(stock, bottle);
}

static enum outcome run_remove(const struct command *command, int argc,
                               char **argv, struct problem *problem)
{
    struct words words;
    struct bottle bottle = {0};
    struct stock stock;
    char what[QUOTED * 4];
    if (options_read(command, remove_options, argc, argv, &words, problem) !=
            OUTCOME_DONE ||
        words.helped) {
        return problem->outcome;
    }
    if (words.count != 1) {
        return REFUSE("which bottle? try midweight stock remove Elm");
    }
    if (stock_begin_existing(&stock, words.stock, problem) == OUTCOME_DONE &&
        bottle_load(&stock, words.argument[0], &bottle) == OUTCOME_DONE &&
        take_away(&stock, &bottle, words.value[FORCE] != NULL) ==
            OUTCOME_DONE) {
        paragraph("Removed %s; midweight stock undo brings it back.",
                  bottle.name);
        snprintf(what, sizeof what, "remove %s", bottle.name);
        stock_commit(&stock, what);
    }
    bottle_free(&bottle);
    stock_close(&stock);
    return problem->outcome;
}

const struct command command_stock_remove = {
    .name = "stock remove",
    .summary = "a bottle that is used up or lost",
    .examples = "  midweight stock remove Elm\n",
    .arguments = "NAME",
    .run = run_remove,
};

static enum outcome run_undo(const struct command *command, int argc,
                             char **argv, struct problem *problem)
{
    static const struct argp_option no_options[] = {{0}};
    struct words words;
    struct stock stock;
    char what[QUOTED * 4];
    if (options_read(command, no_options, argc, argv, &words, problem) !=
            OUTCOME_DONE ||
        words.helped) {
        return problem->outcome;
    }
    if (words.count != 0) {
        return REFUSE("undo takes back the last change and nothing else");
    }
    if (stock_begin_existing(&stock, words.stock, problem) == OUTCOME_DONE &&
        stock_undo(&stock, what, sizeof what) == OUTCOME_DONE) {
        paragraph("Taken back: %s.", what);
        stock_commit(&stock, NULL);
    }
    stock_close(&stock);
    return problem->outcome;
}

const struct command command_stock_undo = {
    .name = "stock undo",
    .summary = "take the last change back; once more goes further",
    .examples = "  midweight stock undo\n",
    .run = run_undo,
};
