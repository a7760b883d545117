/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * chart - the viscosity-temperature chart of ASTM D341.
 *
 * The standard bends the viscosity scale by two logarithms until a petroleum
 * product becomes a straight line over log T:
 *
 *     Z = v + 0.7 + exp(-1.47 - 1.84 v - 0.51 v^2)
 *     W = log10(log10 Z) = A - B log10 T            T in kelvin
 *
 * Reference: ASTM D341, Viscosity-Temperature Charts for Liquid Petroleum
 * Products (equations read in print; constants of the standard). The lower
 * limit 0.21 mm2/s is the standard's for this Z; the upper limit
 * 2e7 mm2/s is the standard's from memory.
 */
#ifndef MIDWEIGHT_FLUID_CHART_H
#define MIDWEIGHT_FLUID_CHART_H

#include "base/status.h"

#ifdef __cplusplus
extern "C" {
#endif

enum {
    MW_POINTS_MAX = 32 /* points of one oil or one fit; our own limit */
};

/** A viscosity known at a temperature. */
struct mw_point {
    double viscosity;   /* mm2/s */
    double temperature; /* degC */
};

/** An oil as a straight line: W = a - b log10 T. */
struct mw_line {
    double a;
    double b;
};

/**
 * The abscissa of the chart, X = log10 T.
 *
 * Given:     t       degC, above absolute zero and up to 340
 * Returned:  x       log10 of kelvin
 * Failures:  MW_ERR_TEMPERATURE
 */
MW_API enum mw_status mw_chart_x(double t, double *x);

/**
 * W of a viscosity.
 *
 * Given:     v       mm2/s, 0.21 to 2e7
 * Returned:  w       log10(log10 Z)
 * Failures:  MW_ERR_VISCOSITY
 */
MW_API enum mw_status mw_walther_w(double v, double *w);

#ifdef __cplusplus
}
#endif

#endif
