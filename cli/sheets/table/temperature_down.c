/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* oils side by side, each with its viscosity and its rating; temperatures down
 */
#include <math.h>
#include <stdio.h>

#include "sheets/draw/text.h"
#include "sheets/table/temperature_layout.h"
#include "util/format.h"

/* of the letter */
#define LINE      1.25
#define ROW       1.4
#define NAME_MOST 9.0 /* names are cut where they are longer */

enum { FIRST = 2 /* of the columns of the oils; each has two */ };

static double row(const struct day_card *card)
{
    (void)card;
    return ROW;
}

static double titles(const struct day_card *card)
{
    (void)card;
    return LINE * (2 + DAY_SMALL) + 0.5;
}

/* the columns of an oil are as wide as what stands over both */
static void widen_by_titles(struct day_card *card, size_t i)
{
    struct table *table = &card->table;
    cairo_t *cr = card->sheet.page.cr;
    const struct bottle *bottle = &card->oil_list->list[i];
    const struct lettering name = {.size = 1, .bold = true};
    const struct lettering small = {.size = DAY_SMALL, .number = true};
    char about[4 * FORMAT_LENGTH];
    day_about(bottle, false, about, sizeof about);
    double wanted = fmax(fmin(NAME_MOST, text_width(cr, &name, bottle->name)),
                         text_width(cr, &small, about));
    double *widths = &table->widths[FIRST + 2 * i];
    widths[1] = fmax(widths[1], wanted - TABLE_GAP - widths[0]);
}

static void widen(struct day_card *card)
{
    cairo_t *cr = card->sheet.page.cr;
    struct table *table = &card->table;
    char text[FORMAT_LENGTH];
    *table = (struct table){.count = FIRST + 2 * card->oil_list->count};
    card->name = 0;
    for (size_t i = 0; i < card->oil_list->count; i++) {
        table_widen(table, cr, FIRST + 2 * i, true, "mm\u00b2/s");
        table_widen(table, cr, FIRST + 2 * i + 1, true, "(rating)");
    }
    for (size_t k = 0; k < card->temperatures.count; k++) {
        double t = card->temperatures.list[k];
        table_widen(table, cr, 0, true, day_degrees(t, false, text));
        table_widen(table, cr, 1, true, day_degrees(t, true, text));
        for (size_t i = 0; i < card->oil_list->count; i++) {
            const struct bottle *bottle = &card->oil_list->list[i];
            table_widen(table, cr, FIRST + 2 * i, true,
                        day_viscosity_text(card, bottle, t, text));
            table_widen(table, cr, FIRST + 2 * i + 1, true,
                        day_rating_text(card, bottle, t, text));
        }
    }
    for (size_t i = 0; i < card->oil_list->count; i++) {
        widen_by_titles(card, i);
    }
}

static void draw_oil_titles(struct day_card *card, size_t i, double y)
{
    cairo_t *cr = card->sheet.page.cr;
    const struct table *table = &card->table;
    const struct bottle *bottle = &card->oil_list->list[i];
    size_t column = FIRST + 2 * i;
    double size = card->letter, right = table->rights[column + 1];
    double left = table->rights[column - 1] + TABLE_GAP * size;
    char about[4 * FORMAT_LENGTH];
    const struct lettering name = {
        .size = size, .bold = true, .side = TEXT_RIGHT, .room = right - left};
    const struct lettering small = {
        .size = DAY_SMALL * size, .side = TEXT_RIGHT, .number = true};
    day_about(bottle, false, about, sizeof about);
    text_line(cr, right, y - LINE * (1 + DAY_SMALL) * size, &name, "%s",
              bottle->name);
    text_line(cr, right, y - LINE * size, &small, "%s", about);
    table_cell(table, cr, column, y, true, "mm\u00b2/s");
    table_cell(table, cr, column + 1, y, true, "(rating)");
}

static void draw_titles(struct day_card *card)
{
    cairo_t *cr = card->sheet.page.cr;
    double y = card->top - 0.5 * card->letter;
    table_cell(&card->table, cr, 0, y, true, "\u00b0C");
    table_cell(&card->table, cr, 1, y, true, "\u00b0F");
    for (size_t i = 0; i < card->oil_list->count; i++) {
        draw_oil_titles(card, i, y);
    }
}

static void draw_row(struct day_card *card, size_t k, double y)
{
    cairo_t *cr = card->sheet.page.cr;
    double t = card->temperatures.list[k];
    bool today = day_is_today(card->day, t);
    bool bold = today || day_is_tuned(card->day, t);
    double foot = y + card->pitch / 2 + 0.36 * card->letter;
    char text[FORMAT_LENGTH];
    if (today) {
        day_ground(card, card->sheet.margin, y,
                   card->sheet.page.width - card->sheet.margin,
                   y + card->pitch);
    }
    table_cell(&card->table, cr, 0, foot, true, day_degrees(t, false, text));
    table_cell(&card->table, cr, 1, foot, bold, day_degrees(t, true, text));
    for (size_t i = 0; i < card->oil_list->count; i++) {
        const struct bottle *bottle = &card->oil_list->list[i];
        table_cell(&card->table, cr, FIRST + 2 * i, foot, bold,
                   day_viscosity_text(card, bottle, t, text));
        table_cell(&card->table, cr, FIRST + 2 * i + 1, foot, false,
                   day_rating_text(card, bottle, t, text));
    }
}

const struct day_layout day_layout_down = {
    .down = true,
    .row = row,
    .titles = titles,
    .widen = widen,
    .draw_titles = draw_titles,
    .draw_row = draw_row,
};
