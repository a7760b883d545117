/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** mix_text - what a sheet of recipes says beside its numbers. */
#ifndef SHEETS_TABLE_MIX_TEXT_H
#define SHEETS_TABLE_MIX_TEXT_H

#include "sheets/model/pair.h"
#include "sheets/model/recipe_rows.h"
#include "sheets/table/mix_table.h"

enum { MIX_TEXT = 1600 };

/** What the recipes make, such as "makes 20.0 to 20.4 ml". */
void mix_batch_text(const struct dosing *dosing,
                    const struct recipe_rows *recipe_rows, char text[MIX_TEXT]);

/** What the numbers of the table mean. */
void mix_foot_text(const struct blend_pair *pair, const struct dosing *dosing,
                   const struct recipe_rows *recipe_rows,
                   const struct mix_table *mix_table, char text[MIX_TEXT]);

/** How they were calculated, a paragraph a line. */
void mix_method_text(const struct blend_pair *pair, char text[MIX_TEXT]);

#endif
