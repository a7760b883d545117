/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheets/mix_sheet.h"

#include <math.h>
#include <stdio.h>

#include "output/cautions.h"
#include "parse/amount.h"
#include "sheets/draw/label_spacing.h"
#include "sheets/draw/plot.h"
#include "sheets/draw/ruler.h"
#include "sheets/draw/text.h"
#include "sheets/table/mix_table.h"
#include "sheets/table/mix_text.h"
#include "util/format.h"

/* of the letter */
#define TITLE     1.2
#define LINE      1.35 /* from one line of the head to the next */
#define TITLES    2.8  /* from the head to the first recipe */
#define TAIL      0.9  /* from the last recipe to the foot */
#define ROW_PITCH 1.25 /* at least; what are chosen freely are ROW_WIDE apart */
#define ROW_WIDE  1.45
#define LEADER    1.4 /* from the ruler to the table */

#define MOST       1.7  /* type grows so much at most, where there is room */
#define GROW       1.02 /* by so much at a time */
#define PHONE_HEAD 0.8  /* of the letter, of the head on a phone */
#define RULER_STEP 5.0  /* mm; a ruler is a multiple of it long */
#define GREY       0.45

struct card {
    struct sheet sheet;
    const struct mix_question *question;
    const struct blend_pair *pair;
    enum mix_room room;
    struct ruler ruler;
    struct recipe_rows recipe_rows;
    struct mix_table table;
    double letter; /* mm */
    double gap; /* of labelled viscosities, of the ruler; 0: not chosen yet */
    double left, right; /* of the table */
    double foot;        /* upper edge of the small print */
};

static bool has_doses(const struct card *card)
{
    return card->question->dosing.count > 0;
}

/* -- Head and foot ----------------------------------------------------- */

/* the name of an oil and what it is, on one line or, where the name is long, on
 * two; y of the next line */
static double draw_oil(struct card *card, size_t i, double y, double size,
                       bool draw)
{
    const struct blend_pair *pair = card->pair;
    cairo_t *cr = card->sheet.page.cr;
    double right = card->sheet.page.width - card->sheet.margin;
    double left = card->sheet.margin + 1.2 * size, pitch = LINE * size;
    char v[FORMAT_LENGTH], text[2 * FORMAT_LENGTH];
    const struct lettering key = {.size = size, .bold = true};
    const struct lettering value = {
        .size = size, .side = TEXT_RIGHT, .number = true};
    const struct lettering name = {.size = size, .room = right - left};
    snprintf(text, sizeof text, "%s mm\u00b2/s \u00b1%.1f %%",
             format_significant(pair->states[i].viscosity, 3, v),
             100 * MW_COVERAGE * pair->known.uncertainty[i]);
    bool fits = text_width(cr, &name, pair->names[i]) + size +
                    text_width(cr, &value, text) <=
                right - left;
    if (draw) {
        text_line(cr, card->sheet.margin, y, &key, "%c", 'A' + (int)i);
        text_line(cr, left, y, &name, "%s", pair->names[i]);
        text_line(cr, right, y + (fits ? 0 : pitch), &value, "%s", text);
    }
    return y + (fits ? 1 : 2) * pitch;
}

/* y of what comes below */
static double draw_head(struct card *card, bool draw)
{
    cairo_t *cr = card->sheet.page.cr;
    double size = card->room == MIX_PHONE
                      ? fmax(PHONE_HEAD * card->letter, SHEET_NARROW)
                      : card->letter;
    double y = card->sheet.margin + TITLE * size;
    char both[BOTH_LENGTH], text[MIX_TEXT];
    double room = card->sheet.page.width - 2 * card->sheet.margin;
    const struct lettering batch = {.size = size, .room = room, .number = true};
    const struct lettering title = {
        .size = TITLE * size, .bold = true, .room = room, .number = true};
    if (draw) {
        text_line(cr, card->sheet.margin, y, &title, "Mixes at %s",
                  both_scales(card->pair->temperature, both));
    }
    y = draw_oil(card, 0, y + 1.1 * LINE * size, size, draw);
    y = draw_oil(card, 1, y, size, draw);
    if (has_doses(card)) {
        if (draw) {
            mix_batch_text(&card->question->dosing, &card->recipe_rows, text);
            text_line(cr, card->sheet.margin, y, &batch, "%s", text);
        }
        y += LINE * size;
    }
    return y - LINE * size;
}

static double draw_foot(struct card *card, bool draw)
{
    char text[MIX_TEXT];
    mix_foot_text(card->pair, &card->question->dosing, &card->recipe_rows,
                  &card->table, text);
    return sheet_footer(&card->sheet, text, card->recipe_rows.warnings,
                        CAUTION_MIX, draw);
}

/* -- Ruler and table --------------------------------------------------- */

/* as long as there is room */
static void place_ruler(struct card *card, double letter)
{
    card->letter = letter;
    double top = draw_head(card, false) + TITLES * letter;
    double room = card->foot - TAIL * letter - top, length = room;
    if (card->room != MIX_PHONE) {
        length = fmax(floor(room / RULER_STEP), 1) * RULER_STEP;
        top += (room - length) / 2;
    }
    ruler_make(card->pair, card->sheet.margin, top + length, top, letter,
               card->gap > 0 ? card->gap * length : ROW_WIDE * letter,
               &card->ruler);
    card->left = card->room == MIX_PHONE
                     ? card->sheet.margin
                     : ruler_right(&card->ruler) + LEADER * letter;
    card->right = card->sheet.page.width - card->sheet.margin;
}

/* whether all recipes fit beside the ruler, and their columns across */
static bool fits_down(const struct card *card)
{
    double rows = (double)card->recipe_rows.count - 1;
    return ROW_PITCH * card->letter * rows <= ruler_length(&card->ruler);
}

static bool fits_across(const struct card *card)
{
    return table_width(&card->table.table) * card->letter <=
           card->right - card->left;
}

/* smaller, where the columns do not fit: no number is left out */
static double shrink(struct card *card, double letter)
{
    double ruler = (card->left - card->sheet.margin) / letter;
    if (!fits_across(card)) {
        letter = (card->right - card->sheet.margin) /
                 (ruler + table_width(&card->table.table));
        place_ruler(card, letter);
    }
    return letter;
}

static void draw_titles(struct card *card)
{
    cairo_t *cr = card->sheet.page.cr;
    double y = card->ruler.share.end - 1.3 * card->letter;
    const struct lettering share = {
        .size = card->letter, .bold = true, .side = TEXT_RIGHT};
    if (card->room != MIX_PHONE) {
        text_line(cr, card->ruler.x, y, &share, "%% B");
    }
    mix_table_titles(&card->table, cr, y);
}

/* from the spine of the ruler to the recipe */
static void draw_leader(struct card *card, const struct recipe_row *recipe_row,
                        double row)
{
    double mark = axis_place(&card->ruler.viscosity, recipe_row->target);
    cairo_t *cr = card->sheet.page.cr;
    plot_plain_style(cr);
    cairo_move_to(cr, card->ruler.x, mark);
    if (mark != row) {
        cairo_line_to(cr, ruler_right(&card->ruler) + 0.2 * card->letter, mark);
    }
    cairo_line_to(
        cr, mix_table_left(&card->table, cr, recipe_row) - 0.3 * card->letter,
        row);
    cairo_stroke(cr);
}

/* where each recipe stands: at its mark, or as near as there is room; evenly
 * where there is no ruler */
static void place_rows(const struct card *card, double places[])
{
    const struct axis *axis = &card->ruler.viscosity;
    const struct recipe_rows *recipe_rows = &card->recipe_rows;
    double top = card->ruler.share.end, bottom = card->ruler.share.start;
    double pitch = ROW_PITCH * card->letter;
    size_t n = recipe_rows->count;
    /* rising places, whichever oil is at the top */
    bool downwards = axis->end > axis->start;
    double sorted[RECIPE_ROWS_MAX];
    for (size_t i = 0; i < n; i++) {
        sorted[downwards ? i : n - 1 - i] =
            card->room == MIX_PHONE
                ? top
                : axis_place(axis, recipe_rows->list[i].target);
    }
    space_labels(sorted, n,
                 card->room == MIX_PHONE && n > 1
                     ? (bottom - top) / ((double)n - 1)
                     : pitch,
                 top, bottom);
    for (size_t i = 0; i < n; i++) {
        places[i] = sorted[downwards ? i : n - 1 - i];
    }
}

static void draw_table(struct card *card)
{
    const struct recipe_rows *recipe_rows = &card->recipe_rows;
    double places[RECIPE_ROWS_MAX];
    place_rows(card, places);
    for (size_t i = 0; i < recipe_rows->count; i++) {
        const struct recipe_row *row = &recipe_rows->list[i];
        if (card->room != MIX_PHONE) {
            draw_leader(card, row, places[i]);
        }
        mix_table_row(&card->table, card->sheet.page.cr, row,
                      places[i] + 0.36 * card->letter);
    }
}

/* -- The page ---------------------------------------------------------- */

/* The marks of the ruler are the recipes, their notes stand at the foot, and
 * the foot leaves room for the ruler: until nothing moves any more. */
static enum exit_code plan(struct card *card, double letter,
                           struct error *error)
{
    enum exit_code code = EXIT_DONE;
    const struct mix_question *question = card->question;
    double before = NAN;
    card->foot = card->sheet.page.height - card->sheet.margin;
    for (int i = 0; i < 4 && before != card->foot; i++) {
        before = card->foot;
        card->gap = 0;
        place_ruler(card, letter);
        card->gap = ROW_WIDE * letter / ruler_length(&card->ruler);
        if ((code = recipe_rows_make(
                 card->pair, &question->row_range, &card->ruler.viscosities,
                 &question->dosing, &card->recipe_rows, error)) != EXIT_DONE) {
            break;
        }
        mix_table_make(card->sheet.page.cr, &question->dosing, card->room,
                       &card->recipe_rows, &card->table);
        while (!fits_across(card) && mix_table_shorten(&card->table)) {
        }
        card->foot = draw_foot(card, false);
    }
    return code;
}

/* the least distance between recipes that stand at their marks */
static double least_distance(const struct card *card)
{
    const struct recipe_rows *recipe_rows = &card->recipe_rows;
    double least = INFINITY, before = NAN;
    for (size_t i = 0; i < recipe_rows->count; i++) {
        double place =
            axis_place(&card->ruler.viscosity, recipe_rows->list[i].target);
        least = fmin(least, fabs(place - before));
        before = place;
    }
    return least;
}

/* larger, as long as the same recipes fit at their marks */
static void grow(struct card *card, double least)
{
    double good = least;
    for (double letter = least * GROW; letter < least * MOST; letter *= GROW) {
        place_ruler(card, letter);
        bool at_marks = card->room == MIX_PHONE ||
                        least_distance(card) >= ROW_PITCH * letter;
        if (!fits_across(card) || !fits_down(card) || !at_marks) {
            break;
        }
        good = letter;
    }
    place_ruler(card, good);
}

static enum exit_code fill(struct card *card, struct error *error)
{
    double least = sheet_letter(&card->sheet);
    char text[MIX_TEXT];
    card->room = sheet_is_phone(&card->sheet)    ? MIX_PHONE
                 : sheet_is_narrow(&card->sheet) ? MIX_NARROW
                                                 : MIX_WIDE;
    enum exit_code code = plan(card, least, error);
    if (code != EXIT_DONE) {
        return code;
    }
    least = shrink(card, least);
    if (!fits_down(card)) {
        return refuse(error,
                      "%zu recipes do not fit; take a larger --step or --paper "
                      "A4",
                      card->recipe_rows.count);
    }
    grow(card, least);
    table_place(&card->table.table, card->left, card->right, card->letter);
    draw_foot(card, true);
    draw_head(card, true);
    draw_titles(card);
    if (card->room != MIX_PHONE) {
        ruler_draw(card->sheet.page.cr, &card->ruler);
    }
    draw_table(card);
    mix_method_text(card->pair, text);
    return sheet_explain(&card->sheet, text, error);
}

enum exit_code mix_sheet_make(const struct args *args,
                              const struct mix_question *question,
                              struct error *error)
{
    struct card card = {.question = question, .pair = question->pair};
    enum exit_code code = sheet_begin(&card.sheet, args, "A6", true, false,
                                      "Recipes between two oils", error);
    if (code == EXIT_DONE) {
        code = fill(&card, error);
    }
    return sheet_end(&card.sheet, code, error);
}
