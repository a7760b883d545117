/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * table - columns of numbers: all of one size, each as wide as the widest that
 * stands in it, and what room is left goes between them.
 */
#ifndef SHEETS_DRAW_TABLE_H
#define SHEETS_DRAW_TABLE_H

#include <cairo.h>
#include <stdbool.h>
#include <stddef.h>

#define TABLE_GAP 0.9 /* of the letter: the least between two columns */

enum { TABLE_COLUMNS_MAX = 24 };

struct table {
    size_t count;
    double widths[TABLE_COLUMNS_MAX]; /* in letters */
    double rights[TABLE_COLUMNS_MAX]; /* mm, where each ends */
    double letter;                    /* mm */
};

/** A column is at least as wide as a text. */
void table_widen(struct table *table, cairo_t *cr, size_t column, bool bold,
                 const char *text);

/** How wide all columns are, with the least gaps, in letters. */
double table_width(const struct table *table);

/** Give each column its place from left to right, in mm. */
void table_place(struct table *table, double left, double right, double letter);

/** Set a number at the right of a column, its foot at y. */
void table_cell(const struct table *table, cairo_t *cr, size_t column, double y,
                bool bold, const char *text);

#endif
