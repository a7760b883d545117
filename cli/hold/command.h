/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** command - the command "hold": what keeps the damping. */
#ifndef HOLD_COMMAND_H
#define HOLD_COMMAND_H

#include "command/options.h"

extern const struct command command_hold;

#endif
