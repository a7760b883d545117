/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** reading - readings that are added to a bottle. */
#ifndef OILS_READING_H
#define OILS_READING_H

#include "store/bottle.h"

/**
 * Put a reading at the end of a loaded bottle's list, and work out anew what
 * the bottle holds. Nothing is stored yet.
 *
 * Given: source  what it is uncertain by, copied; NULL: all of it is random
 *        method  how it was measured; "" where that is not known
 *        date    YYYY-MM-DD, or NULL for today
 */
enum exit_code bottle_take_reading(struct bottle *bottle,
                                   const struct mw_reading *value,
                                   const struct reading_source *source,
                                   const char *method, const char *date,
                                   struct error *error);

/** Store the last reading of a bottle, and commit. One that is far from all
 * else is refused unless it is forced. */
enum exit_code bottle_save_reading(struct stock *stock, struct bottle *bottle,
                                   bool force, struct error *error);

/** Print what a bottle is with its readings. */
void print_best(const struct bottle *bottle);

#endif
