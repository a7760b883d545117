/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** command - the command "stock": the table of oils. */
#ifndef STOCK_COMMAND_H
#define STOCK_COMMAND_H

#include "command/options.h"

extern const struct command command_stock;

#endif
