/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** chart_range - which temperatures and viscosities a chart of oils shows. */
#ifndef SHEETS_MODEL_CHART_RANGE_H
#define SHEETS_MODEL_CHART_RANGE_H

#include <stdbool.h>

#include "store/bottle.h"

enum { VIEW_POINTS = 101 /* of the line of an oil */ };

struct chart_range {
    bool has_from, has_to, has_today;
    double from, to;    /* degC; what is not given is chosen */
    double today;       /* degC */
    double thin, thick; /* mm2/s, chosen */
};

/**
 * Choose what is not given: 0 to 50 C, and as far as labels and readings reach;
 * viscosities so that all oils are seen.
 */
enum exit_code view_choose(const struct bottles *oil_list,
                           struct chart_range *view, struct error *error);

/** The line of an oil: VIEW_POINTS temperatures, NaN for what is not known. */
void view_line(const struct chart_range *view, const struct bottle *bottle,
               double temperatures[], double viscosities[]);

#endif
