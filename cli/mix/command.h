/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** command - the command "mix": the oil between two. */
#ifndef MIX_COMMAND_H
#define MIX_COMMAND_H

#include "command/options.h"

extern const struct command command_mix;

#endif
