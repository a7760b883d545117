/* SPDX-License-Identifier: GPL-3.0-or-later */
/** measure_cups - which cups there are, and which suit an oil. */
#ifndef CLI_MEASURE_CUPS_H
#define CLI_MEASURE_CUPS_H

#include "command/options.h"

/** Every cup, standard or own, with the window of its standard. */
enum outcome list_cups(const struct words *words, struct problem *problem);

/** The cups whose time for an oil falls into their window; OUTCOME_NO_ANSWER
 * where none does. */
enum outcome cups_for(const struct words *words, const char *oil,
                      struct problem *problem);

#endif
