/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * defaults - what a user writes once and not on every command line.
 *
 * A file of lines such as "syringe = 0.2ml"; # begins a comment. Where it is:
 * $MIDWEIGHT_DEFAULTS, else $XDG_CONFIG_HOME/midweight/defaults, else
 * ~/.config/midweight/defaults. A command takes those that it has options for.
 */
#ifndef COMMAND_DEFAULTS_H
#define COMMAND_DEFAULTS_H

#include "command/options.h"

/**
 * Take the defaults that a command line leaves open.
 *
 * Given:    own   options of the command
 *           args  read already
 * Returned: args  with the defaults, and which they are
 *           text  what they point into, to be freed after the command
 */
enum exit_code defaults_take(const struct command_option *own,
                             struct args *args, char **text,
                             struct error *error);

#endif
