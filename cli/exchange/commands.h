/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** commands - the two under "stock" that carry the table as CSV. */
#ifndef EXCHANGE_COMMANDS_H
#define EXCHANGE_COMMANDS_H

#include "command/options.h"

extern const struct command command_stock_import;
extern const struct command command_stock_export;

#endif
