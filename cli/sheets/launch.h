/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** launch - the command "card", which starts the program that draws. */
#ifndef SHEETS_LAUNCH_H
#define SHEETS_LAUNCH_H

#include "command/options.h"

extern const struct command command_card;

#endif
