/* SPDX-License-Identifier: GPL-3.0-or-later */
/** commands - every command of the program; one file each. */
#ifndef CLI_COMMANDS_H
#define CLI_COMMANDS_H

#include "options.h"

extern const struct command command_card;
extern const struct command command_hold;
extern const struct command command_measure;
extern const struct command command_mix;
extern const struct command command_oil;
extern const struct command command_settle;
extern const struct command command_stock;

#endif
