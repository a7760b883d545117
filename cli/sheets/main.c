/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* midweight-card: the program that draws; midweight starts it for "card" */
#include <stdio.h>
#include <string.h>

#include "output/text.h"
#include "sheets/commands.h"
#include "util/platform.h"

/* clang-format off */
static const struct command *const commands[] = {
    &command_card_mix,
    &command_card_temperature,
    &command_card_chart,
    &command_card_label,
    NULL,
};
/* clang-format on */

static void show_help(void)
{
    printf("Examples:\n"
           "  midweight card mix 350 500 -o mix.pdf           recipes and a "
           "ruler\n"
           "  midweight card temperature --at 21C -o day.pdf  my bottles over "
           "the day\n"
           "  midweight card chart                            in the terminal\n"
           "  midweight card label -o labels.pdf              for all bottles\n"
           "\nUsage: midweight card COMMAND [OPTION...] [ARGUMENT...]\n\n"
           "Commands:\n");
    command_list(commands);
    printf("\n  midweight card COMMAND --help   shows its options\n");
}

static enum exit_code run(int argc, char **argv, struct error *error)
{
    if (argc < 2) {
        return error_set(error, EXIT_USAGE,
                         "which card? see midweight card --help");
    }
    if (strcmp(argv[1], "--help") == 0 || strcmp(argv[1], "-h") == 0) {
        show_help();
        return EXIT_DONE;
    }
    const struct command *command = command_find(commands, argv[1]);
    if (!command) {
        return error_set(error, EXIT_USAGE,
                         "unknown command \"card %.60s\"; see midweight card "
                         "--help",
                         argv[1]);
    }
    return command_start(command, argc - 1, argv + 1, error);
}

int main(int argc, char **argv)
{
    struct error error = {0};
    end_with_parent();
    return end_program(run(argc, argv, &error), &error);
}
