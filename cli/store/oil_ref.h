/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * source - an oil of the command line: written out, or a bottle of the stock.
 *
 * The stock is opened when the first name is met, and not for literals.
 */
#ifndef CLI_SOURCE_H
#define CLI_SOURCE_H

#include <stdbool.h>

#include "midweight.h"
#include "parse/oil_spec.h"
#include "store/bottle.h"
#include "store/stock.h"
#include "util/error.h"

/** Where names are looked up. */
struct shelf {
    struct stock stock;
    bool opened;
    const char *file; /* --stock, or NULL */
};

struct source {
    const char *name;   /* as written */
    struct mw_oil oil;  /* at its best value */
    double uncertainty; /* standard, of ln v at the rating temperature */
    bool measured;      /* readings and not the label alone stand behind it */
    sqlite3_int64 id;   /* of the bottle; 0 for a literal */
    double left_ml;     /* NaN: not known */
    double drop_ml;     /* NaN: not known */
};

/** Find an oil; OUTCOME_USAGE for what is neither literal nor bottle. */
enum outcome source_find(struct shelf *shelf, const char *word,
                         const struct oil_habits *habits, struct source *source,
                         struct problem *problem);

/** Open the stock to read, unless it is open already. */
enum outcome shelf_open(struct shelf *shelf, struct problem *problem);

/** Open the stock to change it, before anything else is asked of it. */
enum outcome shelf_open_to_change(struct shelf *shelf, struct problem *problem);

/** The stock is no longer needed. */
void shelf_close(struct shelf *shelf);

/** A bottle as a source, under its own name. */
struct source source_of(const struct bottle *bottle);

#endif
