/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "hold/command.h"
#include "measure/command.h"
#include "mix/command.h"
#include "oil/command.h"
#include "output/json.h"
#include "output/text.h"
#include "settle/command.h"
#include "sheets/launch.h"
#include "stock/command.h"
#include "util/xalloc.h"
#include "version.h"

/* clang-format off */
static const struct command *const commands[] = {
    &command_card,
    &command_mix,
    &command_oil,
    &command_hold,
    &command_settle,
    &command_measure,
    &command_stock,
    NULL,
};
/* clang-format on */

static void show_help(void)
{
    printf("Examples:\n"
           "  midweight mix 350 500 --target 420    the oil in between\n"
           "  midweight oil 450 --at 12C            an oil on a cold morning\n"
           "  midweight hold 450 --from 25C --to 12C   what keeps the damping\n"
           "  midweight measure against 350 18s 21s    what a bottle is\n"
           "\nUsage: midweight COMMAND [OPTION...] [ARGUMENT...]\n\n"
           "Commands:\n");
    command_list(commands);
    printf("\n  midweight COMMAND --help   shows its options\n"
           "  midweight --version        prints the version\n\n"
           "Viscosities are in mm2/s (cSt), temperatures in C unless 54F or "
           "285K.\n"
           "Exit codes: 0 done, 1 no such answer, 2 bad command line, 3 output "
           "failed.\n");
}

static enum exit_code run(int argc, char **argv, struct error *error)
{
    if (argc < 2) {
        return error_set(error, EXIT_USAGE,
                         "which command? see midweight --help");
    }
    if (strcmp(argv[1], "--help") == 0 || strcmp(argv[1], "-h") == 0) {
        show_help();
        return EXIT_DONE;
    }
    if (strcmp(argv[1], "--version") == 0) {
        printf("midweight %s\n", MIDWEIGHT_VERSION);
        return EXIT_DONE;
    }
    const struct command *command = command_find(commands, argv[1]);
    if (!command) {
        return error_set(error, EXIT_USAGE,
                         "unknown %s \"%.60s\"; see midweight --help",
                         argv[1][0] == '-' ? "option" : "command", argv[1]);
    }
    return command_start(command, argc - 1, argv + 1, error);
}

int main(int argc, char **argv)
{
    struct error error = {0};
    /* an answer in JSON without memory is none: end, as need_...() do */
    json_set_alloc_funcs(xmalloc, free);
    return end_program(run(argc, argv, &error), &error);
}
