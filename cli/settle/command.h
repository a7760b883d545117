/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** command - the command "settle": waiting for bubbles. */
#ifndef SETTLE_COMMAND_H
#define SETTLE_COMMAND_H

#include "command/options.h"

extern const struct command command_settle;

#endif
