/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** command - the command "measure": a bottle or a mix, with a stopwatch. */
#ifndef MEASURE_COMMAND_H
#define MEASURE_COMMAND_H

#include "command/options.h"

extern const struct command command_measure;

#endif
