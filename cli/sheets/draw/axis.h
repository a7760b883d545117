/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * axis - from values to places on a sheet.
 *
 * What a value is on its scale is the library's: log log v and log T of ASTM
 * D341, or a share of a mix. Places are mm on a page, or cells of a text chart.
 */
#ifndef SHEETS_DRAW_AXIS_H
#define SHEETS_DRAW_AXIS_H

#include <stdbool.h>

/** Where a value is on a scale, rising or falling; NaN where it is not. */
typedef double axis_scale(double value, const void *context);

/** The scales of the chart of ASTM D341: mm2/s, degrees C or F; and values as
 * they are. None has a context. */
double axis_viscosity(double v, const void *context);
double axis_celsius(double t, const void *context);
double axis_fahrenheit(double t, const void *context);
double axis_linear(double value, const void *context);

struct axis {
    axis_scale *scale;
    const void *context;
    double low, high;  /* the values at its ends, low below high */
    double start, end; /* their places */
    double from, to;   /* what they are on the scale */
    /* whether two values are worth a label each; NULL: where there is room */
    bool (*worth)(double a, double b, const void *context);
};

struct axis axis_make(axis_scale *scale, const void *context, double low,
                      double high, double start, double end);

/** The place of a value, also beyond the ends; NaN where there is none. */
double axis_place(const struct axis *axis, double value);

/** Whether a value is on the axis; false for NaN. */
bool axis_holds(const struct axis *axis, double value);

#endif
