/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** recipe_rows - the recipes for the viscosities between two oils. */
#ifndef SHEETS_MODEL_RECIPE_ROWS_H
#define SHEETS_MODEL_RECIPE_ROWS_H

#include <stdbool.h>

#include "midweight.h"
#include "parse/amount.h"
#include "parse/tools.h"
#include "sheets/draw/ticks.h"
#include "sheets/model/pair.h"

enum { RECIPE_ROWS_MAX = 128 };

/** What the doses are for, and what they are measured with. */
struct dosing {
    double count;
    struct amount each;    /* count times this is made; count 0: no batch */
    struct mw_tools tools; /* one at most */
};

/** One recipe. */
struct recipe_row {
    double target; /* mm2/s */
    double share;  /* of the second oil */
    int ratio[2];
    double ratio_viscosity; /* mm2/s; NaN: no ratio with both oils */
    double doses[2];        /* ml, g or drops; NaN: no batch */
    bool few[2];            /* the dose is under ten steps of the tool */
    double low, high;       /* mm2/s, k = 2 */
    double uncertainty;     /* expanded, of ln v, k = 2 */
};

struct recipe_rows {
    size_t count;
    struct recipe_row list[RECIPE_ROWS_MAX]; /* rising */
    double worst_miss;  /* of ln v: what whole steps miss a target by */
    double worst_ratio; /* the same of whole parts */
    double least_batch, most_batch; /* in the unit of the batch; NaN: none */
    unsigned warnings;              /* but for few steps, which rows say */
};

/** The viscosities that are wanted. */
struct row_range {
    bool has_from, has_to, has_step;
    double from, to, step; /* mm2/s */
};

/**
 * Work out the recipes: from, by step, to; without a step for the labelled
 * ticks of the ruler that lie between.
 */
enum exit_code recipe_rows_make(const struct blend_pair *pair,
                                const struct row_range *row_range,
                                const struct ticks *ticks,
                                const struct dosing *dosing,
                                struct recipe_rows *recipe_rows,
                                struct error *error);

/** A step of the tool in the unit of the doses; 0: no tool. */
double dose_step(const struct dosing *dosing);

/** The unit of the doses, such as "ml". */
const char *dose_unit(const struct dosing *dosing);

#endif
