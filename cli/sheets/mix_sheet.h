/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * mix_sheet - the card of a pair of oils: a ruler, and the recipes beside the
 * marks that they belong to.
 */
#ifndef SHEETS_MIX_SHEET_H
#define SHEETS_MIX_SHEET_H

#include "sheets/model/pair.h"
#include "sheets/model/recipe_rows.h"
#include "sheets/sheet.h"

struct mix_question {
    const struct blend_pair *pair;
    struct row_range row_range;
    struct dosing dosing;
};

enum exit_code mix_sheet_make(const struct args *args,
                              const struct mix_question *question,
                              struct error *error);

#endif
