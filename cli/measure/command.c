/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <string.h>

#include "measure/command.h"
#include "measure/measurement.h"

static const struct command *const commands[] = {
    &command_measure_cup, &command_measure_ball, &command_measure_against,
    &command_measure_calibrate, NULL};

static enum exit_code show_help(void)
{
    printf(
        "Examples:\n"
        "  midweight measure cup ISO4 64.5s --at 22C     by a flow cup\n"
        "  midweight measure against 350 18.0s 21.4s     against a known oil\n"
        "  midweight measure cup --for 350               which cup to take\n"
        "  midweight measure ball --for 350 --tube 38mm  which ball to take\n"
        "\nUsage: midweight measure COMMAND [OPTION...] [ARGUMENT...]\n\n"
        "Commands:\n");
    command_list(commands);
    printf(
        "\n  midweight measure COMMAND --help   shows its options\n\n"
        "--save NAME saves a result as a reading of a bottle. Repeated times "
        "are\naveraged, and their scatter enters the uncertainty.\n");
    return EXIT_DONE;
}

static enum exit_code start(const struct command *command, int argc,
                            char **argv, struct error *error)
{
    if (argc < 2) {
        return error_set(error, EXIT_USAGE,
                         "measure by what? cup, ball or against; see "
                         "midweight measure --help");
    }
    if (strcmp(argv[1], "--help") == 0 || strcmp(argv[1], "-h") == 0) {
        return show_help();
    }
    return command_run(commands, command->name, argc, argv, error);
}

const struct command command_measure = {
    .name = "measure",
    .summary = "measure an oil with a stopwatch",
    .start = start,
};
