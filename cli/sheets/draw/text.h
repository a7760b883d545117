/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * text - lettering on a sheet, in mm.
 *
 * What is too long is cut with an ellipsis where it is a name, and set smaller
 * where it is a number: a number that is cut is another number.
 */
#ifndef SHEETS_DRAW_TEXT_H
#define SHEETS_DRAW_TEXT_H

#include <cairo.h>
#include <stdbool.h>

enum text_side { TEXT_LEFT, TEXT_RIGHT, TEXT_CENTRE };

/** How a line of text is set. */
struct lettering {
    double size; /* mm, of the em */
    bool bold;
    enum text_side side; /* of the text that x is at */
    double room;         /* mm; 0: without limit */
    bool number;         /* thousands are spaced; is set smaller, not cut */
};

/** Whether some text had to do without a font that has all the signs here. */
bool text_lacked_font(cairo_t *cr);

/** The first text, until cr goes, in which boxes stand for characters that the
 * font does not have; NULL: none. */
const char *text_boxed(cairo_t *cr);

/** The width of a line in mm, as long as it is; room is not looked at. */
double text_width(cairo_t *cr, const struct lettering *how, const char *text);

/** Set a line with its foot at y. */
__attribute__((format(printf, 5, 6))) void
text_line(cairo_t *cr, double x, double y, const struct lettering *how,
          const char *format, ...);

/**
 * Set a paragraph, broken between words, its first line's foot at y.
 *
 * Given:    draw  whether it is drawn, or measured only
 * Returned: its height in mm
 */
double text_paragraph(cairo_t *cr, double x, double y, double width,
                      double size, const char *text, bool draw);

#endif
