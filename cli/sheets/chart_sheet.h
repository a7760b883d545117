/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * chart_sheet - the charts of the command: oils over temperature on the axes of
 * ASTM D341, drawn or as plain text, and the blends of a pair.
 */
#ifndef SHEETS_CHART_SHEET_H
#define SHEETS_CHART_SHEET_H

#include "sheets/model/chart_range.h"
#include "sheets/model/pair.h"
#include "sheets/sheet.h"

/** The oils as lines, readings as points with bars, today as a line. */
enum exit_code chart_sheet_make(const struct args *args,
                                const struct bottles *oil_list,
                                const struct chart_range *view,
                                struct error *error);

/** Share against viscosity: the curve in use, plain D7152, its
 * uncertainty.
 */
enum exit_code blend_sheet_make(const struct args *args,
                                const struct blend_pair *pair,
                                struct error *error);

/** The first chart on stdout, within REPORT_WIDTH columns. */
void chart_print(const struct bottles *oil_list,
                 const struct chart_range *view);

#endif
