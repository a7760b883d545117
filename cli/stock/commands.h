/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** commands - the commands under "stock". */
#ifndef STOCK_COMMANDS_H
#define STOCK_COMMANDS_H

#include "command/options.h"

extern const struct command command_stock_add;
extern const struct command command_stock_set;
extern const struct command command_stock_remove;
extern const struct command command_stock_reading;
extern const struct command command_stock_list;
extern const struct command command_stock_show;
extern const struct command command_stock_log;
extern const struct command command_stock_plan;
extern const struct command command_stock_undo;
extern const struct command command_stock_redo;
extern const struct command command_stock_use;
extern const struct command command_stock_refill;

#endif
