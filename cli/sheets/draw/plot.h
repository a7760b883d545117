/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * plot - a frame with axes, and lines, bands and marks in it.
 *
 * Lines differ by their dashes as well as by their colour, so that black and
 * white print loses nothing.
 */
#ifndef SHEETS_DRAW_PLOT_H
#define SHEETS_DRAW_PLOT_H

#include <cairo.h>
#include <stddef.h>

#include "sheets/draw/axis.h"

struct plot {
    cairo_t *cr;
    double left, top, right, bottom; /* mm */
    double letter;                   /* mm, size of the numbers */
    struct axis x, y;
};

enum plot_side { PLOT_LEFT, PLOT_RIGHT, PLOT_TOP, PLOT_BOTTOM };

/** The room left of the frame for its numbers and units, in mm; needs the axis
 * y alone. */
double plot_left(const struct plot *plot);

/** The frame, and faint lines at the labelled ticks of both axes. */
void plot_frame(const struct plot *plot);

/**
 * Ticks and numbers along a side.
 *
 * Given: axis   of that side; its places are those of x or y
 *        title  the unit, which the right side shares with the left; NULL:
 *               ticks without numbers
 */
void plot_axis(const struct plot *plot, const struct axis *axis,
               enum plot_side side, const char *title);

/** The colour, dashes and width of line number i; 0 is solid and black. */
void plot_style(cairo_t *cr, size_t i);

/** Black, solid and thin again. */
void plot_plain_style(cairo_t *cr);

/** A line through values; it is interrupted where one has no place. */
void plot_line(const struct plot *plot, const double *x, const double *y,
               size_t count);

/** The area between two lines, in a light grey. */
void plot_band(const struct plot *plot, const double *x, const double *low,
               const double *high, size_t count);

/** A mark where something is known: an open square for a label, a disc for a
 * reading. */
void plot_square(const struct plot *plot, double x, double y);
void plot_disc(const struct plot *plot, double x, double y);

/** An upright bar with ends, from low to high. */
void plot_bar(const struct plot *plot, double x, double low, double high);

#endif
