/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** label_sheet - labels for bottles, to be cut out along lines. */
#ifndef SHEETS_LABEL_SHEET_H
#define SHEETS_LABEL_SHEET_H

#include "sheets/sheet.h"
#include "store/bottle.h"
#include "store/recipe.h"

/** A label, and the recipe behind it, whose count is 0 where it was not mixed.
 */
struct label {
    const struct bottle *bottle;
    struct recipe recipe;
    size_t copies; /* one at least */
};

struct labels {
    size_t count; /* one at least */
    struct label *list;
};

/** How many there are, copies counted. */
size_t label_copies(const struct labels *labels);

enum exit_code label_sheet_make(const struct args *args,
                                const struct labels *labels,
                                struct error *error);

#endif
