/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** commands - the commands under "card"; one sheet each. */
#ifndef SHEETS_COMMANDS_H
#define SHEETS_COMMANDS_H

#include "command/options.h"

extern const struct command command_card_chart;
extern const struct command command_card_label;
extern const struct command command_card_mix;
extern const struct command command_card_temperature;

#endif
