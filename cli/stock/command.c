/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <string.h>

#include "exchange/commands.h"
#include "stock/command.h"
#include "stock/commands.h"

/* clang-format off: a line for each */
static const struct command *const commands[] = {
    &command_stock_list,   &command_stock_show,    &command_stock_add,
    &command_stock_set,    &command_stock_use,     &command_stock_refill,
    &command_stock_remove, &command_stock_reading, &command_stock_log,
    &command_stock_undo,   &command_stock_redo,    &command_stock_import,
    &command_stock_export, &command_stock_plan,    NULL,
};
/* clang-format on */

static enum exit_code show_help(void)
{
    printf("Examples:\n"
           "  midweight stock add Elm 350 --left 31ml    a bottle and its "
           "label\n"
           "  midweight stock reading Elm 341@22C        measured at 22 C\n"
           "  midweight stock list                       what there is\n"
           "  midweight mix Elm Larch --target 420       by their names\n"
           "\nUsage: midweight stock COMMAND [OPTION...] [ARGUMENT...]\n\n"
           "Commands:\n");
    command_list(commands);
    printf("\n  midweight stock COMMAND --help   shows its options\n\n"
           "The table is one file: --stock FILE, else $MIDWEIGHT_STOCK, else\n"
           "$XDG_DATA_HOME/midweight/stock.db, else\n"
           "~/.local/share/midweight/stock.db.\n");
    return EXIT_DONE;
}

/* "stock" alone, or with options only, lists */
static enum exit_code start(const struct command *command, int argc,
                            char **argv, struct error *error)
{
    if (argc > 1 &&
        (strcmp(argv[1], "--help") == 0 || strcmp(argv[1], "-h") == 0)) {
        return show_help();
    }
    if (argc < 2 || argv[1][0] == '-') {
        return command_start(&command_stock_list, argc, argv, error);
    }
    return command_run(commands, command->name, argc, argv, error);
}

const struct command command_stock = {
    .name = "stock",
    .summary = "the table of your bottles and mixes",
    .start = start,
};
