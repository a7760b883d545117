/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * ruler - a scale along which a pair of oils is read off: the share of the
 * second oil on the left, the viscosity of the mix on the right.
 */
#ifndef SHEETS_DRAW_RULER_H
#define SHEETS_DRAW_RULER_H

#include <cairo.h>

#include "sheets/draw/axis.h"
#include "sheets/draw/ticks.h"
#include "sheets/model/pair.h"

struct ruler {
    double x;              /* mm, of its spine */
    double letter;         /* mm, size of its numbers */
    struct axis share;     /* per cent of the second oil, rising upwards */
    struct axis viscosity; /* mm2/s, at the same places */
    struct ticks shares;
    struct ticks viscosities;
};

/**
 * Lay a ruler out. Labelled viscosities are no nearer to each other than a
 * quarter of what they are uncertain by.
 *
 * Given: x            of the left end of its numbers, mm
 *        bottom, top  y of 0 and 100 per cent, mm
 *        gap          between two viscosities that are labelled, mm
 */
void ruler_make(const struct blend_pair *pair, double x, double bottom,
                double top, double letter, double gap, struct ruler *ruler);

/** Its spine, the shares on its left and marks for viscosities on its right:
 * their numbers are the recipes beside it. */
void ruler_draw(cairo_t *cr, const struct ruler *ruler);

/** How long it is, mm. */
double ruler_length(const struct ruler *ruler);

/** x behind the marks on its right, mm. */
double ruler_right(const struct ruler *ruler);

#endif
