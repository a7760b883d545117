/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** chart_tags - what stands right of a chart: the name of each line, and a
 * number. */
#ifndef SHEETS_CHART_TAGS_H
#define SHEETS_CHART_TAGS_H

#include "sheets/draw/plot.h"
#include "sheets/model/chart_range.h"

/** Of the letter: between two of them, one below the other. */
#define TAG_PITCH 1.25

struct tag {
    size_t bottle;
    double place; /* where its line ends, mm */
    bool on_line; /* the line reaches the right side */
};

struct chart_tags {
    const struct bottles *oil_list;
    const struct chart_range *view;
    double letter;                  /* mm */
    double name_width, value_width; /* mm */
    struct tag *list;               /* one for each oil */
};

/** Measure them in letters of a size; how wide they are, in mm. */
double chart_tags_measure(struct chart_tags *tags, cairo_t *cr, double letter);

/** Draw them beside a plot, up to x in mm; their order changes. */
void chart_tags_draw(struct chart_tags *tags, const struct plot *plot,
                     double x);

#endif
