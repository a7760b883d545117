/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** cups - which cups there are, and which suit an oil. */
#ifndef MEASURE_CUPS_H
#define MEASURE_CUPS_H

#include "command/options.h"
#include <stdbool.h>

#include "midweight.h"

/** The constants of a cup, A:B, that an option gives. */
enum exit_code parse_cup_constants(const char *option, const char *text,
                                   struct mw_cup *cup, struct error *error);

/** Every cup, standard or own, with the window of its standard; as a table of
 * CSV where that was asked for. */
enum exit_code list_cups(const struct args *args, bool csv,
                         struct error *error);

/** The cups whose time for an oil falls into their window; EXIT_NO_ANSWER
 * where none does. */
enum exit_code cups_for(const struct args *args, const char *oil, bool csv,
                        struct error *error);

#endif
