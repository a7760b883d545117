/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheets/temperature_sheet.h"

#include <math.h>
#include <stdio.h>

#include "output/cautions.h"
#include "sheets/draw/page.h"
#include "sheets/draw/text.h"
#include "sheets/table/temperature_layout.h"
#include "util/format.h"

/* of the letter */
#define TITLE 1.2
#define LINE  1.35
#define AFTER 0.9 /* from the head to the titles of the columns */

#define NAME_SHARE 0.7 /* of the room that is left: for names */

#define MOST     1.7  /* type grows so much at most, where there is room */
#define GROW     1.02 /* by so much at a time */
#define HAIRLINE 0.1  /* mm */
#define GREY     0.6
#define GROUND   0.9

enum {
    OILS_DOWN = 6,     /* so many at most stand side by side */
    COLUMNS_MOST = 9,  /* of temperatures across */
    COLUMNS_ENOUGH = 3 /* to tell what a day is like */
};

/* -- What the layouts share -------------------------------------------- */

void day_about(const struct bottle *bottle, bool brief, char *text, size_t size)
{
    const struct mw_point *rating = &bottle->best.oil.points[0];
    char v[FORMAT_LENGTH], at[FORMAT_LENGTH] = "";
    if (!brief) {
        snprintf(at, sizeof at, " at %.4g \u00b0C", rating->temperature);
    }
    snprintf(text, size, "%s%s \u00b1%.1f %%",
             format_significant(rating->viscosity, 3, v), at,
             100 * MW_COVERAGE * bottle->best.uncertainty);
}

bool day_rated_alike(const struct day_card *card, double *t)
{
    const struct bottles *bottles = card->oil_list;
    *t = bottles->list[0].best.oil.points[0].temperature;
    for (size_t i = 1; i < bottles->count; i++) {
        if (!mw_same_temperature(
                bottles->list[i].best.oil.points[0].temperature, *t)) {
            return false;
        }
    }
    return true;
}

const char *day_viscosity_text(struct day_card *card,
                               const struct bottle *bottle, double t,
                               char text[FORMAT_LENGTH])
{
    double v = day_viscosity(&bottle->best.oil, t, &card->warnings);
    card->gaps = card->gaps || isnan(v);
    return isnan(v) ? "\u2013" : format_significant(v, 3, text);
}

const char *day_rating_text(struct day_card *card, const struct bottle *bottle,
                            double t, char text[FORMAT_LENGTH])
{
    char number[FORMAT_LENGTH];
    double rating = day_rating(card->day, &bottle->best.oil, t);
    card->gaps = card->gaps || isnan(rating);
    if (isnan(rating)) {
        return "\u2013";
    }
    snprintf(text, FORMAT_LENGTH, "(%.28s)",
             format_significant(rating, 3, number));
    return text;
}

const char *day_degrees(double t, bool fahrenheit, char text[FORMAT_LENGTH])
{
    if (fahrenheit) {
        mw_from_celsius(t, MW_FAHRENHEIT, &t);
    }
    snprintf(text, FORMAT_LENGTH, "%.4g", t);
    return text;
}

void day_ground(const struct day_card *card, double left, double top,
                double right, double bottom)
{
    cairo_t *cr = card->sheet.page.cr;
    cairo_rectangle(cr, left, top, right - left, bottom - top);
    cairo_set_source_rgb(cr, GROUND, GROUND, GROUND);
    cairo_fill(cr);
    cairo_set_source_rgb(cr, 0, 0, 0);
}

/* -- Head and foot ----------------------------------------------------- */

static double room_of(const struct day_card *card)
{
    return card->sheet.page.width - 2 * card->sheet.margin;
}

/* how temperatures are marked; those that go down have no titles */
static const char *marks_text(const struct day_card *card)
{
    bool today = card->day->has_today;
    if (!card->layout->down) {
        return today ? " Grey: today." : "";
    }
    return today ? " Bold: tuned, and today on grey." : " Bold: tuned.";
}

static double draw_foot(struct day_card *card, bool draw)
{
    char text[1000], both[BOTH_LENGTH];
    snprintf(text, sizeof text,
             "mm\u00b2/s of each oil at each temperature; in brackets the "
             "rating of the oil to take there instead, for the feel that this "
             "one has at %s.%s%s " SHEET_DOUBT_MEANS,
             both_scales(card->day->tuned, both), marks_text(card),
             card->gaps ? " \u2013: not known." : "");
    return sheet_footer(&card->sheet, text, card->warnings, CAUTION_OIL, draw);
}

/* what is the case, a line each; y below them */
static double draw_head(struct day_card *card, bool draw)
{
    cairo_t *cr = card->sheet.page.cr;
    double size = card->letter, y = card->sheet.margin + TITLE * size;
    const struct lettering title = {.size = TITLE * size,
                                    .bold = true,
                                    .room = room_of(card),
                                    .number = true};
    const struct lettering line = {
        .size = size, .room = room_of(card), .number = true};
    char both[BOTH_LENGTH];
    if (draw) {
        text_line(cr, card->sheet.margin, y, &title, "Oils over the day");
        text_line(cr, card->sheet.margin, y + LINE * size, &line, "tuned at %s",
                  both_scales(card->day->tuned, both));
    }
    y += LINE * size;
    if (card->day->has_today) {
        y += LINE * size;
        if (draw) {
            text_line(cr, card->sheet.margin, y, &line, "today %s",
                      both_scales(card->day->today, both));
        }
    }
    return y + AFTER * size;
}

static enum exit_code draw_method(struct day_card *card, struct error *error)
{
    return sheet_explain(
        &card->sheet,
        "The oil to take instead has the same dynamic viscosity, mPa.s, at "
        "that temperature as the oil has where the damper is tuned: its "
        "rating is what to look for on a label.\n"
        "Temperature: by lines of ASTM D341 where an oil is known at two "
        "temperatures; silicone rated once by its law, good to about 3 % (J. "
        "Phys. Conf. Ser. 327 (2011) 012029).\n"
        "What an oil is rated as, and what that is uncertain by, is from its "
        "label or its readings, adjusted together (JCGM 100:2008), k = 2.",
        error);
}

/* -- Layout ------------------------------------------------------------ */

static size_t rows_of(const struct day_card *card)
{
    return card->layout->down ? card->temperatures.count
                              : card->oil_list->count;
}

/* how many rows a page has room for, in letters of a size */
static size_t rows_that_fit(struct day_card *card, double letter)
{
    card->letter = letter;
    card->foot = draw_foot(card, false);
    card->top = draw_head(card, false) + card->layout->titles(card) * letter;
    double rows = (card->foot - 0.5 * letter - card->top) /
                  (card->layout->row(card) * letter);
    return rows >= 1 ? (size_t)(rows + 1e-9) : 1;
}

static bool fits_across(const struct day_card *card, double letter)
{
    return table_width(&card->table) * letter <= room_of(card);
}

static bool fits_down(struct day_card *card, double letter)
{
    return rows_that_fit(card, letter) >= rows_of(card);
}

static void widen(struct day_card *card)
{
    card->warnings = 0;
    card->gaps = false;
    card->layout->widen(card);
}

/* the finest step that there is room for; false where none fits */
static bool choose_rows(struct day_card *card, double letter)
{
    static const double steps[] = {1, 2, 5, 10, 20, 50, 100, INFINITY};
    for (size_t i = 0; i < sizeof steps / sizeof steps[0]; i++) {
        if (day_step(card->day, steps[i], &card->temperatures)) {
            widen(card);
            if (fits_across(card, letter) && fits_down(card, letter)) {
                return true;
            }
        }
    }
    return false;
}

/* the most columns that there is room for; false where fewer than enough */
static bool choose_columns(struct day_card *card, double letter)
{
    bool fits = false;
    size_t most = COLUMNS_MOST + 1, least = card->day->has_today ? 2 : 1;
    while (!fits && most > least) {
        day_spread(card->day, --most, &card->temperatures);
        widen(card);
        fits = fits_across(card, letter);
    }
    return fits && most >= COLUMNS_ENOUGH;
}

/* The first that has all on one page. Names above their numbers leave the most
 * room for those, before them the most room for oils: so where that has not
 * enough columns, nor room for all, several pages are better. */
static void choose_layout(struct day_card *card, double least)
{
    card->layout = &day_layout_down;
    if (card->oil_list->count <= OILS_DOWN && choose_rows(card, least)) {
        return;
    }
    card->layout = &day_layout_above;
    choose_columns(card, least);
    if (fits_down(card, least)) {
        return;
    }
    card->layout = &day_layout_across;
    if (!choose_columns(card, least) &&
        (!fits_down(card, least) || !fits_across(card, least))) {
        card->layout = &day_layout_above;
        choose_columns(card, least);
    }
}

/* as large as there is room for; how many rows go on a page */
static size_t choose_size(struct day_card *card, double least)
{
    /* what has no room even so is set smaller */
    double good = fmin(least, room_of(card) / table_width(&card->table));
    size_t rows = rows_of(card), most = rows_that_fit(card, good);
    size_t pages = (rows + most - 1) / most, each = (rows + pages - 1) / pages;
    for (double letter = good * GROW;
         letter < least * MOST && fits_across(card, letter) &&
         rows_that_fit(card, letter) >= each;
         letter *= GROW) {
        good = letter;
    }
    rows_that_fit(card, good);
    double spare = room_of(card) / good - table_width(&card->table);
    card->table.widths[0] +=
        fmax(fmin(card->name - card->table.widths[0], NAME_SHARE * spare), 0);
    table_place(&card->table, card->sheet.margin,
                card->sheet.margin + room_of(card), good);
    card->pitch = (card->foot - 0.5 * good - card->top) / (double)each;
    return each;
}

/* -- The pages --------------------------------------------------------- */

static void draw_line(struct day_card *card, double y)
{
    cairo_t *cr = card->sheet.page.cr;
    cairo_set_line_width(cr, HAIRLINE);
    cairo_set_source_rgb(cr, GREY, GREY, GREY);
    page_line(cr, card->sheet.margin, y,
              card->sheet.page.width - card->sheet.margin, y);
    cairo_set_source_rgb(cr, 0, 0, 0);
}

static void draw_page(struct day_card *card, size_t first, size_t count)
{
    draw_head(card, true);
    card->layout->draw_titles(card);
    for (size_t i = 0; i < count && first + i < rows_of(card); i++) {
        double y = card->top + (double)i * card->pitch;
        card->layout->draw_row(card, first + i, y);
        draw_line(card, y);
    }
    draw_foot(card, true);
}

static enum exit_code fill(struct day_card *card, struct error *error)
{
    double least = sheet_is_narrow(&card->sheet) ? SHEET_NARROW : SHEET_WIDE;
    enum exit_code code = EXIT_DONE;
    choose_layout(card, least);
    size_t each = choose_size(card, least);
    for (size_t i = 0; i < rows_of(card); i += each) {
        if (i > 0 &&
            (code = page_next(&card->sheet.page, error)) != EXIT_DONE) {
            return code;
        }
        draw_page(card, i, each);
    }
    return draw_method(card, error);
}

enum exit_code temperature_sheet_make(const struct args *args,
                                      const struct bottles *oil_list,
                                      const struct day *day,
                                      struct error *error)
{
    struct day_card card = {.oil_list = oil_list, .day = day};
    enum exit_code code = sheet_begin(&card.sheet, args, "A6", true, false,
                                      "Oils over the day", error);
    if (code == EXIT_DONE) {
        code = fill(&card, error);
    }
    return sheet_end(&card.sheet, code, error);
}
