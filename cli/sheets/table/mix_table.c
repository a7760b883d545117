/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheets/table/mix_table.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "sheets/draw/text.h"
#include "util/format.h"

enum { CELL = 3 * FORMAT_LENGTH };

/* -- What stands in a cell --------------------------------------------- */

static const char *title_of(const struct mix_table *mix_table,
                            enum mix_column column, char text[CELL])
{
    static const char *const titles[] = {
        [MIX_TARGET] = "mm\u00b2/s", [MIX_SHARE] = "% B",
        [MIX_RATIO] = "A : B",       [MIX_GIVES] = "gives",
        [MIX_BAND] = "low to high",  [MIX_DOUBT] = "\u00b1 %",
    };
    if (column == MIX_FIRST || column == MIX_SECOND) {
        snprintf(text, CELL, "%c %s", column == MIX_FIRST ? 'A' : 'B',
                 dose_unit(mix_table->dosing));
        return text;
    }
    return titles[column];
}

/* digits behind the point of a step: all doses in whole steps have as many */
static int decimals_of(double step)
{
    char text[FORMAT_LENGTH];
    const char *point = strchr(format_compact(step, text), '.');
    return point ? (int)strlen(point + 1) : 0;
}

static const char *dose_text(const struct dosing *dosing, double dose,
                             char text[CELL])
{
    if (any_tool(&dosing->tools)) {
        snprintf(text, CELL, "%.*f", decimals_of(dose_step(dosing)), dose);
        return text;
    }
    return format_significant(dose, 3, text);
}

static const char *ratio_text(const struct recipe_row *recipe_row,
                              enum mix_column column, char text[CELL])
{
    if (!isfinite(recipe_row->ratio_viscosity)) {
        return "";
    }
    if (column == MIX_GIVES) {
        return format_significant(recipe_row->ratio_viscosity, 3, text);
    }
    snprintf(text, CELL, "%d : %d", recipe_row->ratio[0], recipe_row->ratio[1]);
    return text;
}

static const char *cell_text(const struct mix_table *mix_table,
                             enum mix_column column,
                             const struct recipe_row *recipe_row,
                             char text[CELL])
{
    char low[FORMAT_LENGTH], high[FORMAT_LENGTH];
    switch (column) {
    case MIX_TARGET:
        return format_compact(recipe_row->target, text);
    case MIX_SHARE:
        snprintf(text, CELL, "%.1f", 100 * recipe_row->share);
        return text;
    case MIX_FIRST:
    case MIX_SECOND:
        return dose_text(mix_table->dosing,
                         recipe_row->doses[column - MIX_FIRST], text);
    case MIX_RATIO:
    case MIX_GIVES:
        return ratio_text(recipe_row, column, text);
    case MIX_BAND:
        snprintf(text, CELL, "%s\u2013%s",
                 format_significant(recipe_row->low, 3, low),
                 format_significant(recipe_row->high, 3, high));
        return text;
    case MIX_DOUBT:
        snprintf(text, CELL, "%.1f", 100 * recipe_row->uncertainty);
        return text;
    }
    return "";
}

static bool is_bold(enum mix_column column)
{
    return column == MIX_TARGET;
}

/* -- The columns ------------------------------------------------------- */

/* whether a dose is marked as hard to measure */
static bool has_star(enum mix_column column,
                     const struct recipe_row *recipe_row)
{
    return (column == MIX_FIRST || column == MIX_SECOND) &&
           recipe_row->few[column - MIX_FIRST];
}

/* a star is before the next column, which leaves room for it */
static void widen_for_row(struct mix_table *mix_table, cairo_t *cr,
                          const struct recipe_row *recipe_row)
{
    char text[CELL], starred[CELL + 1];
    for (size_t i = 0; i < mix_table->table.count; i++) {
        enum mix_column column = mix_table->columns[i];
        bool star = i > 0 && has_star(mix_table->columns[i - 1], recipe_row);
        snprintf(starred, sizeof starred, "%s%s", star ? "*" : "",
                 cell_text(mix_table, column, recipe_row, text));
        table_widen(&mix_table->table, cr, i, is_bold(column), starred);
    }
}

static void widen(struct mix_table *mix_table, cairo_t *cr,
                  const struct recipe_rows *recipe_rows)
{
    char text[CELL];
    for (size_t i = 0; i < mix_table->table.count; i++) {
        enum mix_column column = mix_table->columns[i];
        table_widen(&mix_table->table, cr, i, true,
                    title_of(mix_table, column, text));
    }
    for (size_t k = 0; k < recipe_rows->count; k++) {
        widen_for_row(mix_table, cr, &recipe_rows->list[k]);
    }
}

/* whether a column is shown where room is so */
static bool is_shown(const struct dosing *dosing, enum mix_room room,
                     enum mix_column column)
{
    bool doses = dosing->count > 0;
    switch (column) {
    case MIX_FIRST:
    case MIX_SECOND:
        return doses;
    case MIX_SHARE:
    case MIX_RATIO:
        return room != MIX_PHONE || !doses;
    case MIX_GIVES:
    case MIX_BAND:
        return room == MIX_WIDE;
    case MIX_DOUBT:
        return room != MIX_WIDE;
    default:
        return true;
    }
}

void mix_table_make(cairo_t *cr, const struct dosing *dosing,
                    enum mix_room room, const struct recipe_rows *recipe_rows,
                    struct mix_table *mix_table)
{
    *mix_table = (struct mix_table){.dosing = dosing};
    for (int column = MIX_TARGET; column <= MIX_DOUBT; column++) {
        if (is_shown(dosing, room, (enum mix_column)column)) {
            mix_table->columns[mix_table->table.count++] =
                (enum mix_column)column;
        }
    }
    widen(mix_table, cr, recipe_rows);
}

bool mix_table_has(const struct mix_table *mix_table, enum mix_column column)
{
    for (size_t i = 0; i < mix_table->table.count; i++) {
        if (mix_table->columns[i] == column) {
            return true;
        }
    }
    return false;
}

bool mix_table_shorten(struct mix_table *mix_table)
{
    struct table *table = &mix_table->table;
    for (size_t i = 0; i < table->count; i++) {
        if (mix_table->columns[i] == MIX_RATIO) {
            size_t behind = --table->count - i;
            memmove(&mix_table->columns[i], &mix_table->columns[i + 1],
                    behind * sizeof mix_table->columns[0]);
            memmove(&table->widths[i], &table->widths[i + 1],
                    behind * sizeof table->widths[0]);
            return true;
        }
    }
    return false;
}

/* -- Drawing ----------------------------------------------------------- */

void mix_table_titles(const struct mix_table *mix_table, cairo_t *cr, double y)
{
    char text[CELL];
    for (size_t i = 0; i < mix_table->table.count; i++) {
        table_cell(&mix_table->table, cr, i, y, true,
                   title_of(mix_table, mix_table->columns[i], text));
    }
}

double mix_table_left(const struct mix_table *mix_table, cairo_t *cr,
                      const struct recipe_row *recipe_row)
{
    char text[CELL];
    const struct lettering how = {
        .size = mix_table->table.letter, .bold = true, .number = true};
    cell_text(mix_table, MIX_TARGET, recipe_row, text);
    return mix_table->table.rights[0] - text_width(cr, &how, text);
}

/* behind a dose that is hard to measure, between the columns */
static void mark_few(const struct table *table, cairo_t *cr, size_t column,
                     double y)
{
    const struct lettering star = {.size = table->letter};
    text_line(cr, table->rights[column] + 0.05 * table->letter, y, &star, "*");
}

void mix_table_row(const struct mix_table *mix_table, cairo_t *cr,
                   const struct recipe_row *recipe_row, double y)
{
    char text[CELL];
    for (size_t i = 0; i < mix_table->table.count; i++) {
        enum mix_column column = mix_table->columns[i];
        table_cell(&mix_table->table, cr, i, y, is_bold(column),
                   cell_text(mix_table, column, recipe_row, text));
        if (has_star(column, recipe_row)) {
            mark_few(&mix_table->table, cr, i, y);
        }
    }
}
