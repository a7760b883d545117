/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** reading_load - the readings of a bottle, as rows. */
#ifndef STORE_READING_LOAD_H
#define STORE_READING_LOAD_H

#include "store/bottle.h"

/* what reading_load() reads */
#define READING_COLUMNS                                                        \
    "SELECT viscosity, temperature, uncertainty, method, taken, reading.id,"   \
    " instrument, random, systematic, thermometer, reference,"                 \
    " reference_viscosity, (SELECT name FROM bottle WHERE id = reference)"     \
    " FROM reading LEFT JOIN source ON source.reading = reading.id"

/** The reading of the current row, at the end of the bottle's list; one that is
 * damaged is set aside. */
void reading_load(struct stock *stock, sqlite3_stmt *row,
                  struct bottle *bottle);

#endif
