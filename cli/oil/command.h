/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** command - the command "oil": one oil at a temperature. */
#ifndef OIL_COMMAND_H
#define OIL_COMMAND_H

#include "command/options.h"

extern const struct command command_oil;

#endif
