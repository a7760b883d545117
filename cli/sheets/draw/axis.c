/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheets/draw/axis.h"

#include <math.h>

#include "midweight.h"

double axis_viscosity(double v, const void *context)
{
    double w;
    (void)context;
    mw_walther_w(v, &w);
    return w;
}

double axis_celsius(double t, const void *context)
{
    double x;
    (void)context;
    mw_chart_x(t, &x);
    return x;
}

double axis_fahrenheit(double t, const void *context)
{
    double celsius;
    return mw_celsius(t, MW_FAHRENHEIT, &celsius) == MW_OK
               ? axis_celsius(celsius, context)
               : NAN;
}

double axis_linear(double value, const void *context)
{
    (void)context;
    return value;
}

struct axis axis_make(axis_scale *scale, const void *context, double low,
                      double high, double start, double end)
{
    return (struct axis){.scale = scale,
                         .context = context,
                         .low = low,
                         .high = high,
                         .start = start,
                         .end = end,
                         .from = scale(low, context),
                         .to = scale(high, context)};
}

double axis_place(const struct axis *axis, double value)
{
    double part = (axis->scale(value, axis->context) - axis->from) /
                  (axis->to - axis->from);
    return axis->start + part * (axis->end - axis->start);
}

bool axis_holds(const struct axis *axis, double value)
{
    return value >= axis->low && value <= axis->high;
}
