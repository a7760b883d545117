/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "stock_schema.h"

#include <stddef.h>

/* Once released, a migration is never edited: a change is a new one. */
const char *const stock_migrations[] = {
    /* 1: bottles, readings, mixes and their parts, and the changes for undo */
    "CREATE TABLE bottle("
    " id INTEGER PRIMARY KEY,"
    /* 200 characters, and room for what is added when it is gone */
    " name TEXT NOT NULL COLLATE NOCASE UNIQUE"
    " CHECK(length(name) BETWEEN 1 AND 220),"
    " family TEXT NOT NULL CHECK(family IN ('silicone', 'mineral')),"
    /* the label is good to +-tolerance, a fraction, with rectangular limits */
    " tolerance REAL NOT NULL CHECK(tolerance > 0 AND tolerance < 1),"
    " density REAL CHECK(density BETWEEN 0.1 AND 10)," /* g/ml; NULL: usual */
    " left_ml REAL CHECK(left_ml >= 0),"               /* NULL: not known */
    " drop_ml REAL CHECK(drop_ml > 0)," /* of one drop; NULL: not known */
    " note TEXT NOT NULL DEFAULT '',"
    " added TEXT NOT NULL CHECK(added LIKE '____-__-__'),"
    /* removed, but a mix was made from it */
    " gone INTEGER NOT NULL DEFAULT 0 CHECK(gone IN (0, 1))"
    ") STRICT;"
    "CREATE TABLE label(" /* mm2/s at degC, as the label has it */
    " bottle INTEGER NOT NULL REFERENCES bottle(id) ON DELETE CASCADE,"
    " position INTEGER NOT NULL CHECK(position >= 0),"
    " viscosity REAL NOT NULL CHECK(viscosity > 0),"
    " temperature REAL NOT NULL CHECK(temperature > -273.15),"
    " PRIMARY KEY(bottle, position)"
    ") STRICT, WITHOUT ROWID;"

    "CREATE TABLE reading(" /* mm2/s at degC; standard uncertainty, a fraction
                             */
    " id INTEGER PRIMARY KEY,"
    " bottle INTEGER NOT NULL REFERENCES bottle(id) ON DELETE CASCADE,"
    " viscosity REAL NOT NULL CHECK(viscosity > 0),"
    " temperature REAL NOT NULL CHECK(temperature > -273.15),"
    " uncertainty REAL NOT NULL CHECK(uncertainty > 0 AND uncertainty < 1),"
    " method TEXT NOT NULL DEFAULT '',"
    " taken TEXT NOT NULL CHECK(taken LIKE '____-__-__')"
    ") STRICT;"
    "CREATE INDEX reading_bottle ON reading(bottle);"

    "CREATE TABLE mix(" /* how a mixed bottle was made */
    " bottle INTEGER PRIMARY KEY REFERENCES bottle(id) ON DELETE CASCADE,"
    " temperature REAL NOT NULL CHECK(temperature > -273.15),"
    " made TEXT NOT NULL CHECK(made LIKE '____-__-__')"
    ") STRICT;"

    "CREATE TABLE part("
    " mix INTEGER NOT NULL REFERENCES mix(bottle) ON DELETE CASCADE,"
    " position INTEGER NOT NULL CHECK(position >= 0),"
    " parent INTEGER NOT NULL REFERENCES bottle(id) ON DELETE RESTRICT,"
    " volume_ml REAL NOT NULL CHECK(volume_ml > 0),"
    " PRIMARY KEY(mix, position)"
    ") STRICT, WITHOUT ROWID;"
    "CREATE INDEX part_parent ON part(parent);"

    "CREATE TABLE change("
    " id INTEGER PRIMARY KEY,"
    " what TEXT NOT NULL,"
    " changeset BLOB NOT NULL" /* SQLite session extension */
    ") STRICT;",

    /* 2: cups of one's own, v = a t - b/t; standard uncertainty, a fraction */
    "CREATE TABLE cup("
    " id INTEGER PRIMARY KEY,"
    " name TEXT NOT NULL COLLATE NOCASE UNIQUE"
    " CHECK(length(name) BETWEEN 1 AND 200),"
    " a REAL NOT NULL CHECK(a > 0),"  /* mm2/s2 */
    " b REAL NOT NULL CHECK(b >= 0)," /* mm2 */
    " uncertainty REAL NOT NULL CHECK(uncertainty > 0 AND uncertainty < 1),"
    " made TEXT NOT NULL CHECK(made LIKE '____-__-__')"
    ") STRICT;",
    NULL,
};

const char *const stock_data_tables[] = {"bottle", "label", "reading", "mix",
                                         "part",   "cup",   NULL};

int stock_version(void)
{
    int version = 0;
    while (stock_migrations[version]) {
        version++;
    }
    return version;
}
