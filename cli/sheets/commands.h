/* SPDX-License-Identifier: GPL-3.0-or-later */
/** card_commands - the commands under "card"; one sheet each. */
#ifndef CARD_COMMANDS_H
#define CARD_COMMANDS_H

#include "command/options.h"

extern const struct command command_card_chart;
extern const struct command command_card_label;
extern const struct command command_card_mix;
extern const struct command command_card_temperature;

#endif
