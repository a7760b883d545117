/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "hold/command.h"
#include "measure/command.h"
#include "mix/command.h"
#include "oil/command.h"
#include "output/json.h"
#include "output/text.h"
#include "parse/oil_spec.h"
#include "parse/viscosity.h"
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
    printf("\n  midweight help COMMAND   shows its options\n"
           "  midweight --version      prints the version\n\n"
           "Viscosities are in mm2/s (cSt), temperatures in C unless 54F or "
           "285K.\n"
           "Exit codes: 0 done, 1 no such answer, 2 bad command line,\n"
           "3 a file, the stock or the output failed.\n");
}

static void show_version(void)
{
    printf("midweight %s\n"
           "License GPL-3.0-or-later. There is no warranty.\n",
           MIDWEIGHT_VERSION);
}

/* words that people try, and where they lead */
static const struct {
    const char *word, *hint;
} hints[] = {
    {"add", "midweight stock add Elm 350"},
    {"blend", "midweight mix 350 500 --target 420"},
    {"convert", "midweight oil 340mPa.s@20C"},
    {"cst", "midweight oil 350"},
    {"drops", "midweight mix 350 500 --target 420 --make 5ml --drop 0.012ml"},
    {"label", "midweight card label Elm"},
    {"list", "midweight stock list"},
    {"measurement", "midweight measure against 350 18s 21s"},
    {"log", "midweight stock log"},
    {"print", "midweight card mix 350 500"},
    {"record", "midweight mix Elm=10ml Larch=10ml --record Hall"},
    {"redo", "midweight stock redo"},
    {"refill", "midweight stock refill Elm --left 100ml"},
    {"show", "midweight stock show Elm"},
    {"temp", "midweight oil 450 --at 12C"},
    {"temperature", "midweight oil 450 --at 12C"},
    {"undo", "midweight stock undo"},
    {"use", "midweight stock use Elm 2ml"},
};

static enum exit_code refuse_command(const char *name, struct error *error)
{
    for (size_t i = 0; i < sizeof hints / sizeof hints[0]; i++) {
        if (strcmp(name, hints[i].word) == 0) {
            return refuse(error, "there is no command \"%s\"; try %s", name,
                          hints[i].hint);
        }
    }
    return names_weight(name) || strcmp(name, "wt") == 0
               ? refuse_weight(name, error)
               : command_refuse(commands, "", name, error);
}

static bool is_one_of(const char *word, const char *one, const char *other)
{
    return strcmp(word, one) == 0 || strcmp(word, other) == 0;
}

/* "help mix" and "help stock add": what these commands show themselves */
static enum exit_code help_of(int argc, char **argv, struct error *error)
{
    static char help[] = "--help";
    char *line[4] = {argv[0], argv[1], help, NULL};
    if (argc > 2) {
        line[2] = argv[2];
        line[3] = help;
    }
    const struct command *command = command_find(commands, argv[1]);
    return command ? command_start(command, argc > 2 ? 3 : 2, line + 1, error)
                   : refuse_command(argv[1], error);
}

static enum exit_code run(int argc, char **argv, struct error *error)
{
    const char *word = argc > 1 ? argv[1] : "help";
    bool help = is_one_of(word, "--help", "-h") || strcmp(word, "help") == 0;
    if (help && argc > 2) {
        return help_of(argc - 1, argv + 1, error);
    }
    if (help) {
        show_help();
        return EXIT_DONE;
    }
    if (is_one_of(word, "--version", "-V")) {
        show_version();
        return EXIT_DONE;
    }
    if (word[0] == '-') {
        return refuse(error, "unknown option \"%.60s\"; see midweight --help",
                      word);
    }
    const struct command *command = command_find(commands, word);
    return command ? command_start(command, argc - 1, argv + 1, error)
                   : refuse_command(word, error);
}

int main(int argc, char **argv)
{
    struct error error = {0};
    /* an answer in JSON without memory is none: end, as need_...() do */
    json_set_alloc_funcs(xmalloc, free);
    return end_program(run(argc, argv, &error), &error);
}
