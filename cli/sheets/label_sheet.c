/* SPDX-License-Identifier: GPL-3.0-or-later */
/* card label: labels for bottles, to be cut out along lines */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "output/cautions.h"
#include "parse/number.h"
#include "sheets/commands.h"
#include "sheets/draw/page.h"
#include "sheets/draw/text.h"
#include "sheets/model/oil_list.h"
#include "sheets/sheet.h"
#include "store/recipe.h"
#include "util/format.h"
#include "util/xalloc.h"

#define LABEL_WIDTH  40.0 /* mm */
#define LABEL_HEIGHT 20.0
#define INSET        1.8 /* from the cut to the lettering */
#define CUT_LINE     0.1
#define OVERHANG     3.0 /* of a cut line, beyond the labels */

enum { COPIES = 2, PARENT_LINES = 3 };

static const struct command_option options[] = {SHEET_OPTIONS, {0}};

/* a label and the recipe behind it, count 0 where it was not mixed */
struct label {
    const struct bottle *bottle;
    struct recipe recipe;
};

struct card {
    struct sheet sheet;
    size_t count; /* of labels, copies counted */
    size_t copies;
    struct label *labels;   /* count/copies */
    size_t columns, rows;   /* on one page */
    double left, top, foot; /* mm */
};

/* -- One label --------------------------------------------------------- */

static void draw_parents(cairo_t *cr, const struct label *label, double x,
                         double y)
{
    const struct recipe *recipe = &label->recipe;
    double size = 1.9, room = LABEL_WIDTH - 2 * INSET;
    const struct lettering name = {.size = size, .room = room - 12};
    const struct lettering amount = {.size = size, .side = TEXT_RIGHT};
    const struct lettering rest = {.size = size, .room = room};
    char ml[FORMAT_LENGTH];
    size_t shown = recipe->count;
    if (shown > PARENT_LINES) {
        shown = PARENT_LINES - 1;
    }
    for (size_t i = 0; i < shown; i++) {
        const struct recipe_part *part = &recipe->parts[i];
        text_line(cr, x, y, &name, "%s", part->parent_name);
        text_line(cr, x + room, y, &amount, "%s ml",
                  format_significant(part->volume_ml, 3, ml));
        y += 1.2 * size;
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
    const struct lettering value = {
        .size = 4.4, .bold = true, .room = 20, .number = true};
    const struct lettering at = {
        .size = 2.0, .side = TEXT_RIGHT, .room = 15.5, .number = true};
    const struct lettering name = {.size = 2.4, .bold = true, .room = room};
    const struct lettering left = {.size = 1.9};
    const struct lettering inputs = {.size = 1.9, .side = TEXT_RIGHT};
    x += INSET;
    text_line(cr, x, y + 5.2, &value, "%s",
              format_significant(rating->viscosity, 3, v));
    text_line(cr, right, y + 3.3, &at, "mm\u00b2/s at");
    text_line(cr, right, y + 5.6, &at, "%s",
              both_scales(rating->temperature, both));
    text_line(cr, x, y + 8.7, &name, "%s", bottle->name);
    draw_parents(cr, label, x, y + 11.2);
    text_line(cr, x, y + LABEL_HEIGHT - 1.4, &left, "%s", date_of(card, label));
    text_line(cr, right, y + LABEL_HEIGHT - 1.4, &inputs, "\u00b1%.1f %%",
              100 * MW_COVERAGE * bottle->best.uncertainty);
}

/* -- The page ---------------------------------------------------------- */

static double draw_foot(struct card *card, bool draw)
{
    return sheet_footer(
        &card->sheet,
        "Labels are 40 \u00d7 20 mm at full size; cut along the "
        "lines. \u00b1 is k = 2, from the label or the "
        "readings; the date is that of the mix, or when the "
        "bottle came into the stock.",
        0, CAUTION_MIX, draw);
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
    card->rows = (size_t)((card->foot - OVERHANG - edge) / LABEL_HEIGHT);
    card->left = (width - LABEL_WIDTH * (double)card->columns) / 2;
    card->top = edge;
}

static enum exit_code fill(struct card *card, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    lay_out(card);
    size_t most = card->columns * card->rows;
    for (size_t i = 0; i < card->count;) {
        if (i > 0 &&
            (code = page_next(&card->sheet.page, error)) != EXIT_DONE) {
            break;
        }
        size_t here = card->count - i < most ? card->count - i : most;
        for (size_t k = 0; k < here; k++, i++) {
            size_t column = k % card->columns, row = k / card->columns;
            draw_label(card, &card->labels[i / card->copies],
                       card->left + LABEL_WIDTH * (double)column,
                       card->top + LABEL_HEIGHT * (double)row);
        }
        draw_cuts(card, here);
        draw_foot(card, true);
    }
    return code;
}

/* -- What is asked ----------------------------------------------------- */

static enum exit_code load_recipes(struct card *card,
                                   const struct bottles *oil_list,
                                   struct error *error)
{
    struct stock stock;
    enum exit_code code = stock_open(&stock, card->sheet.args->stock, error);
    card->labels = xcalloc(oil_list->count, sizeof card->labels[0]);
    for (size_t i = 0; i < oil_list->count; i++) {
        card->labels[i].bottle = &oil_list->list[i];
        if (oil_list->list[i].mixed && code == EXIT_DONE) {
            code = recipe_load(&stock, oil_list->list[i].id,
                               &card->labels[i].recipe, error);
        }
    }
    stock_close(&stock);
    return code;
}

static void free_labels(struct card *card)
{
    for (size_t i = 0; card->labels && i < card->count / card->copies; i++) {
        recipe_free(&card->labels[i].recipe);
    }
    free(card->labels);
}

static enum exit_code make_sheet(const struct args *args,
                                 struct oil_list *oil_list, struct error *error)
{
    const struct oil_defaults defaults = {.density = NAN};
    struct card card = {.copies = args->count > 0 ? COPIES : 1};
    enum exit_code code;
    if ((code = sheet_wanted(args, error)) != EXIT_DONE ||
        (code = oil_list_fill(args, &defaults, oil_list, error)) != EXIT_DONE) {
        return code;
    }
    bool few = oil_list->bottles.count * card.copies <= COPIES;
    code = sheet_begin(&card.sheet, args, few ? "A6" : "A4", false,
                       "Labels for bottles", error);
    if (code == EXIT_DONE) {
        card.count = oil_list->bottles.count * card.copies;
        code = load_recipes(&card, &oil_list->bottles, error);
        if (code == EXIT_DONE) {
            code = fill(&card, error);
        }
        free_labels(&card);
    }
    return sheet_end(&card.sheet, code, error);
}

static enum exit_code run(const struct args *args, struct error *error)
{
    return oil_list_run(args, make_sheet, error);
}

const struct command command_card_label = {
    .name = "card label",
    .summary = "labels of 40 x 20 mm for bottles",
    .examples = "  midweight card label Maple -o maple.pdf   two copies\n"
                "  midweight card label -o labels.pdf        the whole stock\n",
    .arguments = "[NAME...]",
    .notes = "A label names the oil, its viscosity and temperature, "
             "the recipe and date of a mix, and the uncertainty. Print "
             "at full size. Results are estimates: measure what "
             "matters.",
    .options = options,
    .run = run,
};
