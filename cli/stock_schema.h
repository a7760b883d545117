/* SPDX-License-Identifier: GPL-3.0-or-later */
/** stock_schema - the tables of the stock and how they came to be. */
#ifndef CLI_STOCK_SCHEMA_H
#define CLI_STOCK_SCHEMA_H

/** Marks a SQLite file as a stock ("mwst" in ASCII). */
#define STOCK_APPLICATION_ID 0x6d777374

/** SQL that brings a stock from each version to the next; NULL ends it. */
extern const char *const stock_migrations[];

/** The version this program writes: the number of migrations. */
int stock_version(void);

/** The tables whose changes undo takes back, parents first; NULL ends it. */
extern const char *const stock_data_tables[];

#endif
