/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * temperature_sheet - oils over the day: what each is at each temperature, and
 * the rating to take there for the feel of another.
 */
#ifndef SHEETS_TEMPERATURE_SHEET_H
#define SHEETS_TEMPERATURE_SHEET_H

#include "sheets/model/day.h"
#include "sheets/sheet.h"
#include "store/bottle.h"

enum exit_code temperature_sheet_make(const struct args *args,
                                      const struct bottles *oil_list,
                                      const struct day *day,
                                      struct error *error);

#endif
