/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheets/label_sheet.h"

#include <stdio.h>

#include "output/cautions.h"
#include "sheets/draw/page.h"
#include "sheets/draw/text.h"
#include "util/format.h"

/* mm */
#define LABEL_WIDTH  50.0
#define LABEL_HEIGHT 30.0
#define INSET        1.8 /* from the cut to the lettering */
#define CUT_LINE     0.1
#define OVERHANG     3.0 /* of a cut line, beyond the labels */

/* on a label: sizes of type, and where its lines stand */
#define NUMBER      8.0
#define NAME        3.2
#define NUMBER_FOOT 7.7
#define SCALE_FOOT  4.4
#define NAME_FOOT   12.0
#define RECIPE_FOOT 15.4
#define RECIPE_LINE 2.9
#define WRITE_LINE  26.0 /* what is written by hand stands on it */
#define LAST_FOOT   28.9
#define WRITE_GREY  0.6

enum { PARENT_LINES = 3, FEW = 2 /* go on a small sheet */ };

struct card {
    struct sheet sheet;
    const struct labels *labels;
    size_t columns, rows;   /* on one page */
    double left, top, foot; /* mm */
};

/* -- One label --------------------------------------------------------- */

static void draw_parents(cairo_t *cr, const struct label *label, double x,
                         double y)
{
    const struct recipe *recipe = &label->recipe;
    double room = LABEL_WIDTH - 2 * INSET;
    const struct lettering amount = {
        .size = SHEET_SMALL, .side = TEXT_RIGHT, .number = true};
    const struct lettering rest = {.size = SHEET_SMALL, .room = room};
    char ml[FORMAT_LENGTH], text[2 * FORMAT_LENGTH];
    size_t shown = recipe->count;
    if (shown > PARENT_LINES) {
        shown = PARENT_LINES - 1;
    }
    for (size_t i = 0; i < shown; i++) {
        const struct recipe_part *part = &recipe->parts[i];
        struct lettering name = rest;
        snprintf(text, sizeof text, "%s ml",
                 format_significant(part->volume_ml, 3, ml));
        name.room -= text_width(cr, &amount, text) + SHEET_SMALL;
        text_line(cr, x, y, &name, "%s", part->parent_name);
        text_line(cr, x + room, y, &amount, "%s", text);
        y += RECIPE_LINE;
    }
    if (shown < recipe->count) {
        text_line(cr, x, y, &rest, "and %zu more", recipe->count - shown);
    } else if (recipe->count == 0) {
        text_line(cr, x, y, &rest, "%s, %s",
                  mw_family_name(label->bottle->label.family),
                  label->bottle->reading_count > 0 ? "measured"
                                                   : "by its label");
    }
}

/* an oil that is written out came from nowhere: its label is made today */
static const char *date_of(const struct card *card, const struct label *label)
{
    if (label->recipe.count > 0) {
        return label->recipe.made;
    }
    return *label->bottle->added ? label->bottle->added : card->sheet.date;
}

/* the label with its upper left corner at x, y */
static void draw_label(const struct card *card, const struct label *label,
                       double x, double y)
{
    cairo_t *cr = card->sheet.page.cr;
    const struct bottle *bottle = label->bottle;
    const struct mw_point *rating = &bottle->best.oil.points[0];
    double room = LABEL_WIDTH - 2 * INSET, right = x + LABEL_WIDTH - INSET;
    char v[FORMAT_LENGTH], both[BOTH_LENGTH];
    const struct lettering at = {.size = SHEET_SMALL, .side = TEXT_RIGHT};
    const struct lettering left = {.size = SHEET_SMALL};
    const struct lettering name = {.size = NAME, .bold = true, .room = room};
    struct lettering value = {.size = NUMBER, .bold = true, .number = true};
    x += INSET;
    both_scales(rating->temperature, both);
    value.room = room - text_width(cr, &at, both) - SHEET_SMALL / 2;
    text_line(cr, x, y + NUMBER_FOOT, &value, "%s",
              format_significant(rating->viscosity, 3, v));
    text_line(cr, right, y + SCALE_FOOT, &at, "mm\u00b2/s");
    text_line(cr, right, y + NUMBER_FOOT, &at, "%s", both);
    text_line(cr, x, y + NAME_FOOT, &name, "%s", bottle->name);
    draw_parents(cr, label, x, y + RECIPE_FOOT);
    text_line(cr, x, y + LAST_FOOT, &left, "%s", date_of(card, label));
    text_line(cr, right, y + LAST_FOOT, &at, "\u00b1%.1f %%",
              100 * MW_COVERAGE * bottle->best.uncertainty);
    cairo_set_line_width(cr, CUT_LINE);
    cairo_set_source_rgb(cr, WRITE_GREY, WRITE_GREY, WRITE_GREY);
    page_line(cr, x, y + WRITE_LINE, right, y + WRITE_LINE);
    cairo_set_source_rgb(cr, 0, 0, 0);
}

/* -- The page ---------------------------------------------------------- */

static double draw_foot(struct card *card, bool draw)
{
    return sheet_footer(&card->sheet,
                        "Labels are 50 \u00d7 30 mm at full size; cut along "
                        "the lines. " SHEET_DOUBT_MEANS
                        " The date is that of the mix, or when the bottle came "
                        "into the stock.",
                        0, CAUTION_MIX, draw);
}

static enum exit_code draw_method(struct card *card, struct error *error)
{
    return sheet_explain(
        &card->sheet,
        "What a bottle holds, and what that is uncertain by, comes from its "
        "label, its readings and the mixes that are recorded, adjusted "
        "together by least squares (JCGM 100:2008), k = 2.",
        error);
}

static void cut(cairo_t *cr, double x, double y, double x2, double y2)
{
    cairo_set_line_width(cr, CUT_LINE);
    page_line(cr, x, y, x2, y2);
}

/* between all labels of a page, and around them */
static void draw_cuts(struct card *card, size_t here)
{
    cairo_t *cr = card->sheet.page.cr;
    size_t columns = here < card->columns ? here : card->columns;
    /* every paper holds a label: NOLINTNEXTLINE(*-core.DivideZero) */
    size_t rows = (here + card->columns - 1) / card->columns;
    double right = card->left + LABEL_WIDTH * (double)columns;
    double bottom = card->top + LABEL_HEIGHT * (double)rows;
    for (size_t i = 0; i <= columns; i++) {
        double x = card->left + LABEL_WIDTH * (double)i;
        cut(cr, x, card->top - OVERHANG, x, bottom + OVERHANG);
    }
    for (size_t i = 0; i <= rows; i++) {
        double y = card->top + LABEL_HEIGHT * (double)i;
        cut(cr, card->left - OVERHANG, y, right + OVERHANG, y);
    }
}

static void lay_out(struct card *card)
{
    double width = card->sheet.page.width, edge = SHEET_MARGIN + OVERHANG;
    card->foot = draw_foot(card, false);
    card->columns = (size_t)((width - 2 * edge) / LABEL_WIDTH);
    card->rows = (size_t)((card->foot - 2 * OVERHANG - edge) / LABEL_HEIGHT);
    card->left = (width - LABEL_WIDTH * (double)card->columns) / 2;
    card->top = edge;
}

/* count labels of a page, the first of them number first, copies counted */
static void draw_page(struct card *card, size_t first, size_t count)
{
    const struct label *label = card->labels->list;
    size_t copies = label->copies; /* up to this label */
    for (size_t i = 0; i < count; i++) {
        while (first + i >= copies) {
            copies += (++label)->copies;
        }
        size_t column = i % card->columns, row = i / card->columns;
        draw_label(card, label, card->left + LABEL_WIDTH * (double)column,
                   card->top + LABEL_HEIGHT * (double)row);
    }
    draw_cuts(card, count);
    draw_foot(card, true);
}

static enum exit_code fill(struct card *card, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    lay_out(card);
    size_t copies = label_copies(card->labels);
    size_t most = card->columns * card->rows;
    for (size_t i = 0; i < copies; i += most) {
        if (i > 0 &&
            (code = page_next(&card->sheet.page, error)) != EXIT_DONE) {
            return code;
        }
        draw_page(card, i, copies - i < most ? copies - i : most);
    }
    return draw_method(card, error);
}

size_t label_copies(const struct labels *labels)
{
    size_t copies = 0;
    for (size_t i = 0; i < labels->count; i++) {
        copies += labels->list[i].copies;
    }
    return copies;
}

enum exit_code label_sheet_make(const struct args *args,
                                const struct labels *labels,
                                struct error *error)
{
    struct card card = {.labels = labels};
    bool few = label_copies(labels) <= FEW;
    enum exit_code code =
        sheet_begin(&card.sheet, args, few ? "A6" : "A4", false, false,
                    "Labels for bottles", error);
    if (code == EXIT_DONE) {
        code = fill(&card, error);
    }
    return sheet_end(&card.sheet, code, error);
}
