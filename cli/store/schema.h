/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * schema - the tables of the stock, of this version and of those before.
 *
 * The statements stand here to the letter as SQLite keeps them in the file, so
 * that a file with any other schema can be recognised and refused.
 */
#ifndef STORE_SCHEMA_H
#define STORE_SCHEMA_H

#include <stddef.h>

enum {
    STOCK_VERSION = 6, /* what this program writes */
    /* Marks a SQLite file as a stock ("mwst" in ASCII). */
    STOCK_APPLICATION_ID = 0x6d777374,
    STOCK_COLUMNS_MAX = 12
};

/** A table or an index, and the versions of the stock that have it. */
struct stock_object {
    const char *name;
    int since;       /* the first version with it */
    int until;       /* the first version without it; 0: still there */
    const char *sql; /* the statement that makes it */
};

/** All of them, in the order in which they are made; a NULL name ends it. */
extern const struct stock_object stock_objects[];

/** A table whose changes can be undone. What it was before a change is kept in
 * the table of its name with "undo_" before it. */
struct stock_table {
    const char *name;
    size_t keys;                            /* the first columns, its key */
    const char *columns[STOCK_COLUMNS_MAX]; /* NULL ends them */
};

/** The tables with data, parents before children; a NULL name ends it. */
extern const struct stock_table stock_tables[];

/** Whether an object is part of a version of the stock. */
int stock_object_in(const struct stock_object *object, int version);

#endif
