/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * help - the help text of a command.
 */
#ifndef COMMAND_HELP_H
#define COMMAND_HELP_H

#include "command/options.h"

/**
 * Print the help of a command: examples, usage, options, notes.
 *
 * Given: options  its own, ended by an empty one
 *        common   what every command has; likewise
 */
void help_print(const struct command *command,
                const struct command_option *options,
                const struct command_option *common);

#endif
