/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* oils below each other, temperatures across; the name of an oil stands over
 * its numbers or, which takes less height, before them */
#include <math.h>
#include <stdio.h>

#include "sheets/draw/text.h"
#include "sheets/table/temperature_layout.h"
#include "util/format.h"

/* of the letter */
#define LINE      1.25
#define PAD       0.55 /* between rows */
#define NAME_MOST 12.0 /* longer names get what room is left */

static bool is_above(const struct day_card *card)
{
    return card->layout->above;
}

static double row(const struct day_card *card)
{
    return LINE * (1 + DAY_SMALL) + PAD + (is_above(card) ? LINE : 0);
}

static double titles(const struct day_card *card)
{
    (void)card;
    return 3 * LINE + 0.4;
}

static const char *title_of(const struct day_card *card, double t)
{
    return day_is_today(card->day, t)   ? "today"
           : day_is_tuned(card->day, t) ? "tuned"
                                        : "";
}

static void widen_small(struct day_card *card, size_t column, const char *text)
{
    const struct lettering how = {.size = DAY_SMALL, .number = true};
    card->table.widths[column] =
        fmax(card->table.widths[column],
             text_width(card->sheet.page.cr, &how, text));
}

/* over the names, where that saves room beside each */
static const char *rated_title(const struct day_card *card,
                               char text[FORMAT_LENGTH])
{
    double t;
    if (is_above(card) || !day_rated_alike(card, &t)) {
        return "";
    }
    snprintf(text, FORMAT_LENGTH, "rated at %.4g \u00b0C", t);
    return text;
}

static void widen_first(struct day_card *card, const struct bottle *bottle)
{
    char about[4 * FORMAT_LENGTH], title[FORMAT_LENGTH];
    const struct lettering name = {.size = 1, .bold = true};
    if (!is_above(card)) {
        const char *rated = rated_title(card, title);
        widen_small(card, 0, rated);
        day_about(bottle, rated[0] != '\0', about, sizeof about);
        widen_small(card, 0, about);
        double width = text_width(card->sheet.page.cr, &name, bottle->name);
        card->name = fmax(card->name, width);
        card->table.widths[0] =
            fmax(card->table.widths[0], fmin(NAME_MOST, width));
    }
}

static void widen(struct day_card *card)
{
    cairo_t *cr = card->sheet.page.cr;
    struct table *table = &card->table;
    char text[FORMAT_LENGTH];
    *table = (struct table){.count = card->temperatures.count + 1};
    card->name = 0;
    table_widen(table, cr, 0, true, "\u00b0C");
    for (size_t i = 0; i < card->oil_list->count; i++) {
        widen_first(card, &card->oil_list->list[i]);
    }
    for (size_t k = 1; k < table->count; k++) {
        double t = card->temperatures.list[k - 1];
        table_widen(table, cr, k, true, title_of(card, t));
        table_widen(table, cr, k, true, day_degrees(t, false, text));
        table_widen(table, cr, k, true, day_degrees(t, true, text));
        for (size_t i = 0; i < card->oil_list->count; i++) {
            const struct bottle *bottle = &card->oil_list->list[i];
            table_widen(table, cr, k, day_is_today(card->day, t),
                        day_viscosity_text(card, bottle, t, text));
            widen_small(card, k, day_rating_text(card, bottle, t, text));
        }
    }
}

static void draw_titles(struct day_card *card)
{
    cairo_t *cr = card->sheet.page.cr;
    double size = card->letter, y = card->top - 0.5 * size;
    char text[FORMAT_LENGTH];
    const struct lettering key = {.size = size, .bold = true};
    const struct lettering small = {.size = DAY_SMALL * size, .number = true};
    text_line(cr, card->sheet.margin, y - 2 * LINE * size, &small, "%s",
              rated_title(card, text));
    text_line(cr, card->sheet.margin, y - LINE * size, &key, "\u00b0C");
    text_line(cr, card->sheet.margin, y, &key, "\u00b0F");
    for (size_t k = 1; k < card->table.count; k++) {
        double t = card->temperatures.list[k - 1];
        if (day_is_today(card->day, t)) {
            day_ground(card,
                       card->table.rights[k] -
                           size * (card->table.widths[k] + TABLE_GAP / 3),
                       y - 3.2 * LINE * size,
                       card->table.rights[k] + size * TABLE_GAP / 3,
                       card->foot - 0.5 * size);
        }
        table_cell(&card->table, cr, k, y - 2 * LINE * size, true,
                   title_of(card, t));
        table_cell(&card->table, cr, k, y - LINE * size, true,
                   day_degrees(t, false, text));
        table_cell(&card->table, cr, k, y, true, day_degrees(t, true, text));
    }
}

/* the name, and what it is rated as behind or below it; y of the numbers */
static double draw_name(struct day_card *card, const struct bottle *bottle,
                        double y)
{
    cairo_t *cr = card->sheet.page.cr;
    double size = card->letter, left = card->sheet.margin;
    double room = card->sheet.page.width - 2 * left;
    char text[4 * FORMAT_LENGTH], title[FORMAT_LENGTH];
    bool above = is_above(card);
    const struct lettering about = {.size = DAY_SMALL * size, .number = true};
    struct lettering name = {.size = size, .bold = true};
    day_about(bottle, rated_title(card, title)[0] != '\0', text, sizeof text);
    room -= text_width(cr, &about, text) + size;
    name.room = above ? room : size * card->table.widths[0];
    text_line(cr, left, y, &name, "%s", bottle->name);
    if (above) {
        left += fmin(text_width(cr, &name, bottle->name), room) + size;
    }
    text_line(cr, left, above ? y : y + LINE * DAY_SMALL * size + 0.1 * size,
              &about, "%s", text);
    return above ? y + LINE * size : y;
}

static void draw_row(struct day_card *card, size_t i, double y)
{
    cairo_t *cr = card->sheet.page.cr;
    const struct bottle *bottle = &card->oil_list->list[i];
    double size = card->letter;
    /* in the middle of a row that is higher than what stands in it */
    double middle = (card->pitch - row(card) * size) / 2;
    const struct lettering small = {
        .size = DAY_SMALL * size, .side = TEXT_RIGHT, .number = true};
    char text[FORMAT_LENGTH];
    y = draw_name(card, bottle, y + middle + size + PAD / 2 * size);
    for (size_t k = 1; k < card->table.count; k++) {
        double t = card->temperatures.list[k - 1];
        table_cell(&card->table, cr, k, y, day_is_today(card->day, t),
                   day_viscosity_text(card, bottle, t, text));
        text_line(cr, card->table.rights[k],
                  y + LINE * DAY_SMALL * size + 0.1 * size, &small, "%s",
                  day_rating_text(card, bottle, t, text));
    }
}

#define ACROSS                                                                 \
    .row = row, .titles = titles, .widen = widen, .draw_titles = draw_titles,  \
    .draw_row = draw_row

const struct day_layout day_layout_across = {ACROSS};
const struct day_layout day_layout_above = {.above = true, ACROSS};
