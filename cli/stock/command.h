/* SPDX-License-Identifier: GPL-3.0-or-later */
/** command - the command "stock": the table of oils. */
#ifndef CLI_STOCK_COMMAND_H
#define CLI_STOCK_COMMAND_H

#include "command/options.h"

extern const struct command command_stock;

#endif
