/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/schema.h"

/* the start of each table of what was before a change */
#define UNDO_COLUMNS                                                           \
    " change INTEGER NOT NULL REFERENCES change(id) ON DELETE CASCADE,"        \
    " was_made INTEGER NOT NULL CHECK(was_made IN (0, 1)),"

/* A released statement is never edited: a table that changes gets a new entry,
 * and the old one an end. No ALTER TABLE, which would edit the text. */
const struct stock_object stock_objects[] = {
    {"bottle", 1, 0,
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
     ") STRICT"},

    {"label", 1, 0,
     "CREATE TABLE label(" /* mm2/s at degC, as the label has it */
     " bottle INTEGER NOT NULL REFERENCES bottle(id) ON DELETE CASCADE,"
     " position INTEGER NOT NULL CHECK(position >= 0),"
     " viscosity REAL NOT NULL CHECK(viscosity > 0),"
     " temperature REAL NOT NULL CHECK(temperature > -273.15),"
     " PRIMARY KEY(bottle, position)"
     ") STRICT, WITHOUT ROWID"},

    {"reading", 1, 0,
     /* mm2/s at degC; standard uncertainty, a fraction */
     "CREATE TABLE reading("
     " id INTEGER PRIMARY KEY,"
     " bottle INTEGER NOT NULL REFERENCES bottle(id) ON DELETE CASCADE,"
     " viscosity REAL NOT NULL CHECK(viscosity > 0),"
     " temperature REAL NOT NULL CHECK(temperature > -273.15),"
     " uncertainty REAL NOT NULL CHECK(uncertainty > 0 AND uncertainty < 1),"
     " method TEXT NOT NULL DEFAULT '',"
     " taken TEXT NOT NULL CHECK(taken LIKE '____-__-__')"
     ") STRICT"},

    {"reading_bottle", 1, 0, "CREATE INDEX reading_bottle ON reading(bottle)"},

    {"mix", 1, 0,
     "CREATE TABLE mix(" /* how a mixed bottle was made */
     " bottle INTEGER PRIMARY KEY REFERENCES bottle(id) ON DELETE CASCADE,"
     " temperature REAL NOT NULL CHECK(temperature > -273.15),"
     " made TEXT NOT NULL CHECK(made LIKE '____-__-__')"
     ") STRICT"},

    {"part", 1, 0,
     "CREATE TABLE part("
     " mix INTEGER NOT NULL REFERENCES mix(bottle) ON DELETE CASCADE,"
     " position INTEGER NOT NULL CHECK(position >= 0),"
     " parent INTEGER NOT NULL REFERENCES bottle(id) ON DELETE RESTRICT,"
     " volume_ml REAL NOT NULL CHECK(volume_ml > 0),"
     " PRIMARY KEY(mix, position)"
     ") STRICT, WITHOUT ROWID"},

    {"part_parent", 1, 0, "CREATE INDEX part_parent ON part(parent)"},

    {"change", 1, 3,
     "CREATE TABLE change("
     " id INTEGER PRIMARY KEY,"
     " what TEXT NOT NULL,"
     " changeset BLOB NOT NULL" /* SQLite session extension */
     ") STRICT"},

    {"cup", 2, 0,
     "CREATE TABLE cup("
     " id INTEGER PRIMARY KEY,"
     " name TEXT NOT NULL COLLATE NOCASE UNIQUE"
     " CHECK(length(name) BETWEEN 1 AND 200),"
     " a REAL NOT NULL CHECK(a > 0),"  /* mm2/s2 */
     " b REAL NOT NULL CHECK(b >= 0)," /* mm2 */
     " uncertainty REAL NOT NULL CHECK(uncertainty > 0 AND uncertainty < 1),"
     " made TEXT NOT NULL CHECK(made LIKE '____-__-__')"
     ") STRICT"},

    {"change", 3, 0,
     "CREATE TABLE change(" /* what each command did, for undo */
     " id INTEGER PRIMARY KEY,"
     " what TEXT NOT NULL"
     ") STRICT"},

    /* Rows as they were before a change; was_made: there was no such row, and
     * only the key is kept. The constraints are those of the table itself,
     * which hold when a row is put back. */
    {"undo_bottle", 3, 0,
     "CREATE TABLE undo_bottle(" UNDO_COLUMNS " id INTEGER NOT NULL,"
     " name TEXT, family TEXT, tolerance REAL, density REAL, left_ml REAL,"
     " drop_ml REAL, note TEXT, added TEXT, gone INTEGER,"
     " PRIMARY KEY(change, id)"
     ") STRICT, WITHOUT ROWID"},

    {"undo_label", 3, 0,
     "CREATE TABLE undo_label(" UNDO_COLUMNS
     " bottle INTEGER NOT NULL, position INTEGER NOT NULL,"
     " viscosity REAL, temperature REAL,"
     " PRIMARY KEY(change, bottle, position)"
     ") STRICT, WITHOUT ROWID"},

    {"undo_reading", 3, 0,
     "CREATE TABLE undo_reading(" UNDO_COLUMNS " id INTEGER NOT NULL,"
     " bottle INTEGER, viscosity REAL, temperature REAL, uncertainty REAL,"
     " method TEXT, taken TEXT,"
     " PRIMARY KEY(change, id)"
     ") STRICT, WITHOUT ROWID"},

    {"undo_mix", 3, 0,
     "CREATE TABLE undo_mix(" UNDO_COLUMNS " bottle INTEGER NOT NULL,"
     " temperature REAL, made TEXT,"
     " PRIMARY KEY(change, bottle)"
     ") STRICT, WITHOUT ROWID"},

    {"undo_part", 3, 0,
     "CREATE TABLE undo_part(" UNDO_COLUMNS
     " mix INTEGER NOT NULL, position INTEGER NOT NULL,"
     " parent INTEGER, volume_ml REAL,"
     " PRIMARY KEY(change, mix, position)"
     ") STRICT, WITHOUT ROWID"},

    {"undo_cup", 3, 0,
     "CREATE TABLE undo_cup(" UNDO_COLUMNS " id INTEGER NOT NULL,"
     " name TEXT, a REAL, b REAL, uncertainty REAL, made TEXT,"
     " PRIMARY KEY(change, id)"
     ") STRICT, WITHOUT ROWID"},

    /* What a reading is uncertain by, in parts: fractions, standard; limits of
     * the thermometer in K. Without a row all of it is random. */
    {"source", 4, 0,
     "CREATE TABLE source("
     " reading INTEGER PRIMARY KEY REFERENCES reading(id) ON DELETE CASCADE,"
     " instrument TEXT NOT NULL," /* that others share; '': none */
     " random REAL NOT NULL CHECK(random > 0 AND random < 1),"
     " systematic REAL NOT NULL CHECK(systematic >= 0 AND systematic < 1),"
     " thermometer REAL NOT NULL CHECK(thermometer BETWEEN 0 AND 20),"
     /* the bottle it was compared with, and what that was taken to be */
     " reference INTEGER REFERENCES bottle(id) ON DELETE RESTRICT,"
     " reference_viscosity REAL CHECK(reference_viscosity > 0)"
     ") STRICT"},

    {"source_reference", 4, 0,
     "CREATE INDEX source_reference ON source(reference)"},

    {"dose", 4, 0,
     "CREATE TABLE dose(" /* how well the parts of a mix were measured */
     " mix INTEGER PRIMARY KEY REFERENCES mix(bottle) ON DELETE CASCADE,"
     " ml REAL NOT NULL CHECK(ml > 0)" /* standard uncertainty of each */
     ") STRICT"},

    {"undo_source", 4, 0,
     "CREATE TABLE undo_source(" UNDO_COLUMNS " reading INTEGER NOT NULL,"
     " instrument TEXT, random REAL, systematic REAL, thermometer REAL,"
     " reference INTEGER, reference_viscosity REAL,"
     " PRIMARY KEY(change, reading)"
     ") STRICT, WITHOUT ROWID"},

    {"undo_dose", 4, 0,
     "CREATE TABLE undo_dose(" UNDO_COLUMNS " mix INTEGER NOT NULL, ml REAL,"
     " PRIMARY KEY(change, mix)"
     ") STRICT, WITHOUT ROWID"},

    {"use", 5, 0,
     "CREATE TABLE use(" /* oil that was taken for something else than a mix */
     " id INTEGER PRIMARY KEY,"
     " bottle INTEGER NOT NULL REFERENCES bottle(id) ON DELETE CASCADE,"
     " volume_ml REAL NOT NULL CHECK(volume_ml > 0),"
     " note TEXT NOT NULL DEFAULT '',"
     " made TEXT NOT NULL CHECK(made LIKE '____-__-__')"
     ") STRICT"},

    {"use_bottle", 5, 0, "CREATE INDEX use_bottle ON use(bottle)"},

    {"fill", 5, 0,
     "CREATE TABLE fill(" /* what a bottle was before it was filled again */
     " bottle INTEGER PRIMARY KEY REFERENCES bottle(id) ON DELETE CASCADE,"
     " previous INTEGER NOT NULL REFERENCES bottle(id) ON DELETE RESTRICT,"
     " made TEXT NOT NULL CHECK(made LIKE '____-__-__')"
     ") STRICT"},

    {"fill_previous", 5, 0, "CREATE INDEX fill_previous ON fill(previous)"},

    {"undo_use", 5, 0,
     "CREATE TABLE undo_use(" UNDO_COLUMNS " id INTEGER NOT NULL,"
     " bottle INTEGER, volume_ml REAL, note TEXT, made TEXT,"
     " PRIMARY KEY(change, id)"
     ") STRICT, WITHOUT ROWID"},

    {"undo_fill", 5, 0,
     "CREATE TABLE undo_fill(" UNDO_COLUMNS " bottle INTEGER NOT NULL,"
     " previous INTEGER, made TEXT,"
     " PRIMARY KEY(change, bottle)"
     ") STRICT, WITHOUT ROWID"},

    /* changes that bring back what was undone */
    {"redo", 5, 0,
     "CREATE TABLE redo("
     " change INTEGER PRIMARY KEY REFERENCES change(id) ON DELETE CASCADE"
     ") STRICT"},

    {"cup_run", 6, 0,
     "CREATE TABLE cup_run(" /* the known oils a cup was calibrated with */
     " cup INTEGER NOT NULL REFERENCES cup(id) ON DELETE CASCADE,"
     " position INTEGER NOT NULL CHECK(position >= 0),"
     /* NULL: an oil that was written out */
     " bottle INTEGER REFERENCES bottle(id) ON DELETE RESTRICT,"
     " viscosity REAL NOT NULL CHECK(viscosity > 0),"
     " temperature REAL NOT NULL CHECK(temperature > -273.15),"
     " time_s REAL NOT NULL CHECK(time_s > 0),"
     /* standard: s, and of ln v beside that of the bottle */
     " time_uncertainty_s REAL NOT NULL CHECK(time_uncertainty_s >= 0),"
     " uncertainty REAL NOT NULL CHECK(uncertainty >= 0 AND uncertainty < 1),"
     " PRIMARY KEY(cup, position)"
     ") STRICT, WITHOUT ROWID"},

    {"cup_run_bottle", 6, 0, "CREATE INDEX cup_run_bottle ON cup_run(bottle)"},

    {"undo_cup_run", 6, 0,
     "CREATE TABLE undo_cup_run(" UNDO_COLUMNS
     " cup INTEGER NOT NULL, position INTEGER NOT NULL, bottle INTEGER,"
     " viscosity REAL, temperature REAL, time_s REAL,"
     " time_uncertainty_s REAL, uncertainty REAL,"
     " PRIMARY KEY(change, cup, position)"
     ") STRICT, WITHOUT ROWID"},

    {"label_index", 6, 0,
     /* labels whose point at 100 C follows from a viscosity index */
     "CREATE TABLE label_index("
     " bottle INTEGER PRIMARY KEY REFERENCES bottle(id) ON DELETE CASCADE,"
     " viscosity_index REAL NOT NULL"
     ") STRICT"},

    {"undo_label_index", 6, 0,
     "CREATE TABLE undo_label_index(" UNDO_COLUMNS " bottle INTEGER NOT NULL,"
     " viscosity_index REAL,"
     " PRIMARY KEY(change, bottle)"
     ") STRICT, WITHOUT ROWID"},

    {NULL, 0, 0, NULL},
};

const struct stock_table stock_tables[] = {
    {"bottle",
     1,
     {"id", "name", "family", "tolerance", "density", "left_ml", "drop_ml",
      "note", "added", "gone"}},
    {"label", 2, {"bottle", "position", "viscosity", "temperature"}},
    {"reading",
     1,
     {"id", "bottle", "viscosity", "temperature", "uncertainty", "method",
      "taken"}},
    {"mix", 1, {"bottle", "temperature", "made"}},
    {"part", 2, {"mix", "position", "parent", "volume_ml"}},
    {"cup", 1, {"id", "name", "a", "b", "uncertainty", "made"}},
    {"source",
     1,
     {"reading", "instrument", "random", "systematic", "thermometer",
      "reference", "reference_viscosity"}},
    {"dose", 1, {"mix", "ml"}},
    {"use", 1, {"id", "bottle", "volume_ml", "note", "made"}},
    {"fill", 1, {"bottle", "previous", "made"}},
    {"cup_run",
     2,
     {"cup", "position", "bottle", "viscosity", "temperature", "time_s",
      "time_uncertainty_s", "uncertainty"}},
    {"label_index", 1, {"bottle", "viscosity_index"}},
    {NULL, 0, {NULL}},
};

int stock_object_in(const struct stock_object *object, int version)
{
    return version >= object->since &&
           (object->until == 0 || version < object->until);
}
