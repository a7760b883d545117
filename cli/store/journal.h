/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * journal - what became of a bottle, as records: oil that was taken from it for
 * something else than a mix, and what it was before it was filled again.
 */
#ifndef STORE_JOURNAL_H
#define STORE_JOURNAL_H

#include "parse/names.h"
#include "store/stock.h"

/** Oil that was taken. */
struct use {
    sqlite3_int64 bottle;
    char *name; /* of the bottle */
    double volume_ml;
    char *note;
    char made[DATE_LENGTH];
};

/** A bottle that was filled again, from then on another oil. */
struct fill {
    sqlite3_int64 bottle, previous;
    char *name, *previous_name;
    char made[DATE_LENGTH];
};

/** All of them, the latest first. */
struct journal {
    struct use *uses;
    size_t use_count;
    struct fill *fills;
    size_t fill_count;
};

/** Load what is kept of all bottles; damaged rows are set aside.
 * journal_free() it whatever the outcome. */
enum exit_code journal_load(struct stock *stock, struct journal *journal,
                            struct error *error);

void journal_free(struct journal *journal);

/** The fill of a bottle; NULL where it was never filled again. */
const struct fill *journal_fill(const struct journal *journal,
                                sqlite3_int64 bottle);

enum exit_code use_insert(struct stock *stock, const struct use *use,
                          struct error *error);

enum exit_code fill_insert(struct stock *stock, const struct fill *fill,
                           struct error *error);

#endif
