/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheets/draw/table.h"

#include <math.h>

#include "sheets/draw/text.h"

void table_widen(struct table *table, cairo_t *cr, size_t column, bool bold,
                 const char *text)
{
    const struct lettering how = {.size = 1, .bold = bold, .number = true};
    table->widths[column] =
        fmax(table->widths[column], text_width(cr, &how, text));
}

static double all_widths(const struct table *table)
{
    double width = 0;
    for (size_t i = 0; i < table->count; i++) {
        width += table->widths[i];
    }
    return width;
}

double table_width(const struct table *table)
{
    return all_widths(table) + TABLE_GAP * ((double)table->count - 1);
}

void table_place(struct table *table, double left, double right, double letter)
{
    double gap = (right - left - letter * all_widths(table)) /
                 fmax((double)table->count - 1, 1);
    double x = left;
    table->letter = letter;
    for (size_t i = 0; i < table->count; i++) {
        x += letter * table->widths[i];
        table->rights[i] = x;
        x += gap;
    }
}

void table_cell(const struct table *table, cairo_t *cr, size_t column, double y,
                bool bold, const char *text)
{
    const struct lettering how = {.size = table->letter,
                                  .bold = bold,
                                  .side = TEXT_RIGHT,
                                  .number = true};
    text_line(cr, table->rights[column], y, &how, "%s", text);
}
