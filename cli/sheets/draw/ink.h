/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * ink - drawing that is not left out in silence: where cairo has no memory for
 * a line or a word, it may take it for clipped and report success.
 */
#ifndef SHEETS_DRAW_INK_H
#define SHEETS_DRAW_INK_H

#include <cairo.h>
#include <stdbool.h>

/** Call cairo_stroke(), cairo_fill() or the like. */
void ink(cairo_t *cr, void (*draw)(cairo_t *));

/** A straight line from x, y to x2, y2. */
void ink_line(cairo_t *cr, double x, double y, double x2, double y2);

/** cairo_show_text() */
void ink_text(cairo_t *cr, const char *text);

/** Whether something was left out so far. */
bool ink_lacked(cairo_t *cr);

#endif
