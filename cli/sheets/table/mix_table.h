/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** mix_table - the recipes of a sheet as columns of text. */
#ifndef SHEETS_TABLE_MIX_TABLE_H
#define SHEETS_TABLE_MIX_TABLE_H

#include "sheets/draw/table.h"
#include "sheets/model/recipe_rows.h"

enum mix_column {
    MIX_TARGET,
    MIX_SHARE,
    MIX_FIRST, /* the dose of the first oil */
    MIX_SECOND,
    MIX_RATIO,
    MIX_GIVES,
    MIX_BAND,  /* low to high */
    MIX_DOUBT, /* the same in one number, where room is short */
};

struct mix_table {
    const struct dosing *dosing;
    enum mix_column columns[TABLE_COLUMNS_MAX];
    struct table table;
};

/** How much room there is. */
enum mix_room { MIX_WIDE, MIX_NARROW, MIX_PHONE };

/** Choose the columns, and as wide as all that stands in them. */
void mix_table_make(cairo_t *cr, const struct dosing *dosing,
                    enum mix_room room, const struct recipe_rows *recipe_rows,
                    struct mix_table *mix_table);

bool mix_table_has(const struct mix_table *mix_table, enum mix_column column);

/** Leave the ratio out; false where there is none. */
bool mix_table_shorten(struct mix_table *mix_table);

/** x of the left end of what a recipe is for, in mm. */
double mix_table_left(const struct mix_table *mix_table, cairo_t *cr,
                      const struct recipe_row *recipe_row);

/** Draw the titles, or one recipe, with its foot at y. */
void mix_table_titles(const struct mix_table *mix_table, cairo_t *cr, double y);
void mix_table_row(const struct mix_table *mix_table, cairo_t *cr,
                   const struct recipe_row *recipe_row, double y);

#endif
