/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheets/temperature_sheet.h"

#include <math.h>
#include <stdio.h>

#include "output/cautions.h"
#include "sheets/draw/page.h"
#include "sheets/draw/text.h"
#include "util/format.h"

/* mm on A6; what is larger grows with it */
#define A6_WIDTH     93.0 /* between the margins */
#define LETTER       2.1  /* size of the numbers */
#define NAME_WIDTH   20.0 /* at least */
#define COLUMN_LEAST 9.0
#define COLUMN_MOST  16.0
#define HEAD         14.0 /* over the first row */
#define ROW_PITCH    3.0  /* of the letter */
#define HAIRLINE     0.1
#define FRAME        0.35
#define GREY         0.6

enum { COLUMNS_MAX = 12 };

struct card {
    struct sheet sheet;
    const struct bottles *oil_list;
    const struct day *day;
    size_t columns; /* of temperatures; the first is tuned */
    double temperatures[COLUMNS_MAX];
    double unit, letter, width, name_width; /* mm; width of a column */
    double top, foot;
    unsigned warnings;
};

/* as many round steps as there is room for columns */
static void choose_columns(struct card *card)
{
    static const double steps[] = {1, 2, 5, 10, 20, 50, 100, 200, 500};
    double room =
        card->sheet.page.width - 2 * SHEET_MARGIN - NAME_WIDTH * card->unit;
    double most =
        fmin(floor(room / (COLUMN_LEAST * card->unit)), COLUMNS_MAX) - 1;
    size_t i = 0;
    while (floor((card->day->to - card->day->from) / steps[i]) + 1 > most) {
        i++;
    }
    card->temperatures[0] = card->day->tuned;
    card->columns = 1;
    for (double k = 0; card->day->from + k * steps[i] <= card->day->to; k++) {
        card->temperatures[card->columns++] = card->day->from + k * steps[i];
    }
    card->width = fmin(room / (double)card->columns, COLUMN_MOST * card->unit);
    card->name_width = card->sheet.page.width - 2 * SHEET_MARGIN -
                       card->width * (double)card->columns;
}

/* right end of a column */
static double column_end(const struct card *card, size_t column)
{
    return SHEET_MARGIN + card->name_width + card->width * (double)(column + 1);
}

static void cell(struct card *card, size_t column, double y, bool bold,
                 const char *text)
{
    const struct lettering how = {.size = card->letter,
                                  .bold = bold,
                                  .side = TEXT_RIGHT,
                                  .room = 0.9 * card->width,
                                  .number = true};
    text_line(card->sheet.page.cr,
              column_end(card, column) - 0.05 * card->width, y, &how, "%s",
              text);
}

static void line(struct card *card, double x, double y, double x2, double y2,
                 double width)
{
    cairo_t *cr = card->sheet.page.cr;
    cairo_set_line_width(cr, width);
    page_line(cr, x, y, x2, y2);
}

/* -- One page ---------------------------------------------------------- */

static double draw_foot(struct card *card, bool draw)
{
    char text[1000], both[BOTH_LENGTH];
    snprintf(text, sizeof text,
             "Upper number: mm\u00b2/s of the oil at that temperature. Lower, "
             "in brackets: the rating of the oil to take there for the feel "
             "that this one has at %s (the same dynamic viscosity). "
             "\u2013: not known. Numbers by the label or the readings, \u00b1 "
             "with k = 2; temperature by ASTM D341 lines, and for silicone "
             "rated once by its law (J. Phys. Conf. Ser. 327 (2011) 012029), "
             "good to about 3 %%.",
             both_scales(card->day->tuned, both));
    return sheet_footer(&card->sheet, text, card->warnings, CAUTION_OIL, draw);
}

static void draw_head(struct card *card)
{
    cairo_t *cr = card->sheet.page.cr;
    double size = card->letter;
    const struct lettering title = {.size = 3.6 * card->unit, .bold = true};
    const struct lettering key = {.size = size, .bold = true};
    text_line(cr, SHEET_MARGIN, SHEET_MARGIN + 3 * card->unit, &title,
              "Oils over the day");
    double celsius = card->top - 1.9 * size;
    double fahrenheit = card->top - 0.6 * size;
    text_line(cr, SHEET_MARGIN, celsius, &key, "\u00b0C");
    text_line(cr, SHEET_MARGIN, fahrenheit, &key, "\u00b0F");
    cell(card, 0, celsius - 1.3 * size, true, "tuned at");
    for (size_t i = 0; i < card->columns; i++) {
        char text[FORMAT_LENGTH];
        double t = card->temperatures[i], f;
        mw_from_celsius(t, MW_FAHRENHEIT, &f);
        snprintf(text, sizeof text, "%.4g", t);
        cell(card, i, celsius, true, text);
        snprintf(text, sizeof text, "%.4g", f);
        cell(card, i, fahrenheit, true, text);
    }
}

static void draw_name(struct card *card, const struct bottle *bottle, double y)
{
    cairo_t *cr = card->sheet.page.cr;
    const struct mw_point *rating = &bottle->best.oil.points[0];
    double room = card->name_width - card->unit;
    char v[FORMAT_LENGTH];
    const struct lettering name = {
        .size = card->letter, .bold = true, .room = room};
    const struct lettering about = {
        .size = 0.85 * card->letter, .room = room, .number = true};
    text_line(cr, SHEET_MARGIN, y, &name, "%s", bottle->name);
    text_line(cr, SHEET_MARGIN, y + 1.35 * card->letter, &about,
              "%s at %.4g \u00b0C \u00b1%.1f %%",
              format_significant(rating->viscosity, 3, v), rating->temperature,
              100 * MW_COVERAGE * bottle->best.uncertainty);
}

/* the rating of the oil that feels at t as this one does where it is tuned */
static double rating_for(const struct card *card, const struct mw_oil *oil,
                         double t)
{
    struct mw_hold hold;
    double rating = NAN;
    if (mw_hold_oil(oil, card->day->tuned, t, 1, &hold) == MW_OK) {
        mw_hold_rating(oil, hold.viscosity, t, oil->points[0].temperature,
                       &rating);
    }
    return rating;
}

static void draw_oil(struct card *card, const struct bottle *bottle, double y)
{
    const struct mw_oil *oil = &bottle->best.oil;
    draw_name(card, bottle, y);
    for (size_t i = 0; i < card->columns; i++) {
        struct mw_oil_state state;
        char text[FORMAT_LENGTH], brackets[FORMAT_LENGTH + 2];
        double t = card->temperatures[i];
        bool known = mw_oil_at(oil, t, &state) == MW_OK;
        double rating = rating_for(card, oil, t);
        cell(card, i, y, false,
             known ? format_significant(state.viscosity, 3, text) : "\u2013");
        if (!isnan(rating)) {
            snprintf(brackets, sizeof brackets, "(%s)",
                     format_significant(rating, 3, text));
            cell(card, i, y + 1.35 * card->letter, false, brackets);
        }
    }
}

/* the same on every page */
static void gather_notes(struct card *card)
{
    for (size_t i = 0; i < card->oil_list->count; i++) {
        for (size_t k = 0; k < card->columns; k++) {
            struct mw_oil_state state;
            mw_oil_at(&card->oil_list->list[i].best.oil, card->temperatures[k],
                      &state);
            card->warnings |= state.warnings;
        }
    }
}

static size_t rows_of(const struct card *card)
{
    return (size_t)((card->foot - card->top) / (ROW_PITCH * card->letter));
}

static void lay_out(struct card *card, double unit)
{
    card->unit = unit;
    card->letter = LETTER * unit;
    card->top = SHEET_MARGIN + HEAD * unit;
    card->warnings = 0;
    choose_columns(card);
    gather_notes(card);
    card->foot = draw_foot(card, false);
}

/* large on large paper, but rather small than on two pages */
static void choose_size(struct card *card)
{
    double width = card->sheet.page.width - 2 * SHEET_MARGIN;
    double unit = fmin(width / A6_WIDTH, 1.5);
    lay_out(card, unit);
    while (unit > 1 && rows_of(card) < card->oil_list->count) {
        unit = fmax(unit - 0.05, 1);
        lay_out(card, unit);
    }
}

/* as many of the oils from first on as fit; how many those were */
static size_t draw_oils(struct card *card, size_t first)
{
    double pitch = ROW_PITCH * card->letter, y = card->top;
    double right = card->sheet.page.width - SHEET_MARGIN;
    size_t i = first, end = first + rows_of(card);
    line(card, SHEET_MARGIN, y, right, y, FRAME);
    for (; i < card->oil_list->count && i < end; i++) {
        draw_oil(card, &card->oil_list->list[i], y + 1.3 * card->letter);
        y += pitch;
        cairo_set_source_rgb(card->sheet.page.cr, GREY, GREY, GREY);
        line(card, SHEET_MARGIN, y, right, y, HAIRLINE);
        cairo_set_source_rgb(card->sheet.page.cr, 0, 0, 0);
    }
    double head = card->top - 4.5 * card->letter;
    double side = column_end(card, 0);
    line(card, side, head, side, y, FRAME);
    line(card, side - card->width, head, side - card->width, y, FRAME);
    return i - first;
}

static enum exit_code fill(struct card *card, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    choose_size(card);
    for (size_t i = 0; i < card->oil_list->count;) {
        if (i > 0 &&
            (code = page_next(&card->sheet.page, error)) != EXIT_DONE) {
            break;
        }
        draw_head(card);
        i += draw_oils(card, i);
        draw_foot(card, true);
    }
    return code;
}

enum exit_code temperature_sheet_make(const struct args *args,
                                      const struct bottles *oil_list,
                                      const struct day *day,
                                      struct error *error)
{
    struct card card = {.oil_list = oil_list, .day = day};
    enum exit_code code =
        sheet_begin(&card.sheet, args, "A6", false, "Oils over the day", error);
    if (code == EXIT_DONE) {
        code = fill(&card, error);
    }
    return sheet_end(&card.sheet, code, error);
}
