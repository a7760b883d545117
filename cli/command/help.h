/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * help - the help text of a command. argp could, but it aborts where memory
 * ends, and looks elsewhere how it is to look (ARGP_HELP_FMT).
 */
#ifndef COMMAND_HELP_H
#define COMMAND_HELP_H

#include "command/options.h"

/**
 * Print the help of a command: examples, usage, options, notes.
 *
 * Given: options  its own, ended by an empty one
 *        common   what every command has; ends at the first without a name
 */
void help_print(const struct command *command,
                const struct argp_option *options,
                const struct argp_option *common);

#endif
