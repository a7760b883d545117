/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheets/mix_sheet.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "output/cautions.h"
#include "parse/amount.h"
#include "parse/number.h"
#include "sheets/draw/label_spacing.h"
#include "sheets/draw/page.h"
#include "sheets/draw/ruler.h"
#include "sheets/draw/text.h"
#include "util/format.h"

/* mm on A6; what is larger grows with it */
#define A6_WIDTH   93.0 /* between the margins */
#define LETTER     2.2  /* size of the numbers */
#define ROW_PITCH  1.65 /* of the letter */
#define HEAD       17.6 /* over the ruler */
#define RULER_STEP 50.0 /* a ruler is so long, or a multiple of it */
#define RULER_FINE 10.0 /* the same where there is no room for two */
#define SPINE_X    11.0 /* from the left margin */
#define LEADER     3.6  /* from the ruler to the table */
#define GREY       0.45

struct card {
    struct sheet sheet;
    const struct mix_question *question;
    const struct blend_pair *pair;
    struct ruler ruler;
    struct recipe_rows recipe_rows;
    double unit;        /* 1 on A6 */
    double letter;      /* mm */
    double left, right; /* of the table */
    double foot;        /* upper edge of the small print */
};

enum column {
    COLUMN_TARGET,
    COLUMN_SHARE,
    COLUMN_FIRST,
    COLUMN_SECOND,
    COLUMN_RATIO,
    COLUMN_GIVES,
    COLUMN_DOUBT,
    COLUMNS
};

/* where each column ends, as parts of the table; without doses and with */
static const double column_ends[2][COLUMNS] = {
    {0.16, 0.32, 0.32, 0.32, 0.51, 0.67, 1},
    {0.13, 0.25, 0.38, 0.51, 0.65, 0.77, 1},
};

static bool has_doses(const struct card *card)
{
    return card->question->dosing.count > 0;
}

static void cell(struct card *card, enum column column, double y, bool bold,
                 const char *text)
{
    const double *ends = column_ends[has_doses(card)];
    double start = column > 0 ? ends[column - 1] : 0;
    double width = card->right - card->left;
    const struct lettering how = {.size = card->letter,
                                  .bold = bold,
                                  .side = TEXT_RIGHT,
                                  .room = 0.93 * width * (ends[column] - start),
                                  .number = true};
    text_line(card->sheet.page.cr, card->left + width * ends[column], y, &how,
              "%s", text);
}

/* -- Head and foot ----------------------------------------------------- */

static void draw_oil(struct card *card, size_t i, double y)
{
    const struct blend_pair *pair = card->pair;
    cairo_t *cr = card->sheet.page.cr;
    double width = card->sheet.page.width - 2 * SHEET_MARGIN;
    double size = 2.6 * card->unit;
    char v[FORMAT_LENGTH];
    const struct lettering key = {.size = size, .bold = true};
    const struct lettering name = {.size = size, .room = 0.52 * width};
    const struct lettering value = {.size = size, .side = TEXT_RIGHT};
    text_line(cr, SHEET_MARGIN, y, &key, "%c", 'A' + (int)i);
    text_line(cr, SHEET_MARGIN + 4 * card->unit, y, &name, "%s",
              pair->names[i]);
    text_line(cr, SHEET_MARGIN + width, y, &value,
              "%s mm\u00b2/s \u00b1%.1f %%",
              format_significant(pair->states[i].viscosity, 3, v),
              100 * MW_COVERAGE * pair->known.uncertainty[i]);
}

static void draw_head(struct card *card)
{
    cairo_t *cr = card->sheet.page.cr;
    double unit = card->unit;
    char both[BOTH_LENGTH];
    const struct dosing *dosing = &card->question->dosing;
    const struct lettering title = {.size = 3.6 * unit, .bold = true};
    const struct lettering batch = {.size = 2.6 * unit, .side = TEXT_RIGHT};
    double y = SHEET_MARGIN + 3.2 * unit;
    text_line(cr, SHEET_MARGIN, y, &title, "Mixes of A and B at %s",
              both_scales(card->pair->temperature, both));
    if (has_doses(card)) {
        char each[FORMAT_LENGTH], count[FORMAT_LENGTH + 8] = "";
        if (dosing->count != 1) {
            snprintf(count, sizeof count, "%.6g \u00d7 ", dosing->count);
        }
        text_line(cr, card->sheet.page.width - SHEET_MARGIN, y, &batch,
                  "makes %s%s %s", count,
                  format_compact(dosing->each.value, each),
                  dosing->each.kind == MW_AMOUNT_G ? "g" : "ml");
    }
    draw_oil(card, 0, y + 4.2 * unit);
    draw_oil(card, 1, y + 7.8 * unit);
}

static double draw_foot(struct card *card, bool draw)
{
    const struct blend_pair *pair = card->pair;
    char text[1200], steps[200] = "", step[FORMAT_LENGTH];
    char excess[100] = "", k[FORMAT_LENGTH], ref[SOURCE_LENGTH];
    const struct dosing *dosing = &card->question->dosing;
    if (any_tool(&dosing->tools)) {
        snprintf(steps, sizeof steps,
                 " Doses are whole steps of %s %s, for a batch up to %.0f %% "
                 "larger; they miss the target by up to %.2f %%.",
                 format_compact(dose_step(dosing), step), dose_unit(dosing),
                 100 * MW_RECIPE_EXCESS, 100 * card->recipe_rows.worst_miss);
    }
    if (pair->known.method.excess != 0) {
        snprintf(excess, sizeof excess, " with an excess of %s (%s)",
                 format_significant(pair->known.method.excess, 2, k),
                 pair_excess_source(pair, ref));
    }
    snprintf(text, sizeof text,
             "Shares are of volume; A : B is in whole parts, with what it "
             "gives. Low to high is k = 2, as midweight mix states it.%s "
             "Numbers by ASTM D7152 (%s)%s; %s.",
             steps, mw_rule_name(pair->known.method.rule), excess,
             pair->known.oils[0].has_line || pair->known.oils[1].has_line
                 ? "temperature by ASTM D341"
                 : "temperature by the law of silicone (J. Phys. Conf. Ser. "
                   "327 (2011) 012029)");
    return sheet_footer(&card->sheet, text, card->recipe_rows.warnings,
                        CAUTION_MIX, draw);
}

/* -- Ruler and table --------------------------------------------------- */

static void place_ruler(struct card *card)
{
    double top = SHEET_MARGIN + HEAD * card->unit;
    double room = card->foot - 1 - top;
    double step = room < 2 * RULER_STEP ? RULER_FINE : RULER_STEP;
    ruler_make(card->pair, SHEET_MARGIN + SPINE_X * card->unit,
               top + floor(room / step) * step, top, card->letter,
               &card->ruler);
    card->left = ruler_right(&card->ruler) + LEADER * card->unit;
    card->right = card->sheet.page.width - SHEET_MARGIN;
}

static void draw_titles(struct card *card)
{
    cairo_t *cr = card->sheet.page.cr;
    double y = card->ruler.share.end - 1.5 * card->letter;
    char first[32], second[32];
    const struct lettering left = {
        .size = card->letter, .bold = true, .side = TEXT_RIGHT};
    const struct lettering right = {.size = card->letter, .bold = true};
    text_line(cr, card->ruler.x - 0.4 * card->letter, y, &left, "%% B");
    text_line(cr, card->ruler.x + 0.4 * card->letter, y, &right, "mm\u00b2/s");
    cell(card, COLUMN_TARGET, y, true, "mm\u00b2/s");
    cell(card, COLUMN_SHARE, y, true, "% B");
    if (has_doses(card)) {
        const char *unit = dose_unit(&card->question->dosing);
        snprintf(first, sizeof first, "A, %s", unit);
        snprintf(second, sizeof second, "B, %s", unit);
        cell(card, COLUMN_FIRST, y, true, first);
        cell(card, COLUMN_SECOND, y, true, second);
    }
    cell(card, COLUMN_RATIO, y, true, "A : B");
    cell(card, COLUMN_GIVES, y, true, "gives");
    cell(card, COLUMN_DOUBT, y, true, "low to high");
}

/* digits behind the point of a step: all doses in whole steps have as many */
static int decimals_of(double step)
{
    char text[FORMAT_LENGTH];
    const char *point = strchr(format_compact(step, text), '.');
    return point ? (int)strlen(point + 1) : 0;
}

static void draw_dose(struct card *card, enum column column, double y,
                      double dose)
{
    char text[FORMAT_LENGTH];
    const struct dosing *dosing = &card->question->dosing;
    if (any_tool(&dosing->tools)) {
        snprintf(text, sizeof text, "%.*f", decimals_of(dose_step(dosing)),
                 dose);
    } else {
        format_significant(dose, 3, text);
    }
    cell(card, column, y, false, text);
}

static void draw_row(struct card *card, const struct recipe_row *recipe_row,
                     double y)
{
    char text[3 * FORMAT_LENGTH], low[FORMAT_LENGTH], high[FORMAT_LENGTH];
    cell(card, COLUMN_TARGET, y, true, format_compact(recipe_row->target, low));
    snprintf(text, sizeof text, "%.1f", 100 * recipe_row->share);
    cell(card, COLUMN_SHARE, y, false, text);
    if (has_doses(card)) {
        draw_dose(card, COLUMN_FIRST, y, recipe_row->doses[0]);
        draw_dose(card, COLUMN_SECOND, y, recipe_row->doses[1]);
    }
    if (isfinite(recipe_row->ratio_viscosity)) {
        snprintf(text, sizeof text, "%d : %d", recipe_row->ratio[0],
                 recipe_row->ratio[1]);
        cell(card, COLUMN_RATIO, y, false, text);
        cell(card, COLUMN_GIVES, y, false,
             format_significant(recipe_row->ratio_viscosity, 3, low));
    }
    snprintf(text, sizeof text, "%s\u2013%s",
             format_significant(recipe_row->low, 3, low),
             format_significant(recipe_row->high, 3, high));
    cell(card, COLUMN_DOUBT, y, false, text);
}

/* from the mark on the ruler to its row */
static void draw_leader(struct card *card, double mark, double row)
{
    cairo_t *cr = card->sheet.page.cr;
    cairo_set_source_rgb(cr, GREY, GREY, GREY);
    page_line(cr, ruler_right(&card->ruler), mark,
              card->left + 0.5 * card->unit, row);
    cairo_set_source_rgb(cr, 0, 0, 0);
}

static enum exit_code draw_table(struct card *card, struct error *error)
{
    const struct recipe_rows *recipe_rows = &card->recipe_rows;
    const struct axis *axis = &card->ruler.viscosity;
    double top = card->ruler.share.end, bottom = card->ruler.share.start;
    double pitch = ROW_PITCH * card->letter, places[RECIPE_ROWS_MAX];
    size_t most = (size_t)((bottom - top) / pitch) + 1, n = recipe_rows->count;
    if (n > most) {
        return refuse(error,
                      "%zu recipes do not fit, %zu do; take a larger --step or "
                      "--paper A4",
                      n, most);
    }
    /* rising places, whichever oil is at the top */
    bool downwards = axis->end > axis->start;
    for (size_t i = 0; i < n; i++) {
        places[downwards ? i : n - 1 - i] =
            axis_place(axis, recipe_rows->list[i].target);
    }
    space_labels(places, n, pitch, top, bottom);
    for (size_t i = 0; i < n; i++) {
        double row = places[downwards ? i : n - 1 - i];
        draw_leader(card, axis_place(axis, recipe_rows->list[i].target), row);
        draw_row(card, &recipe_rows->list[i], row + 0.36 * card->letter);
    }
    return EXIT_DONE;
}

/* The marks of the ruler are the recipes, their notes stand at the foot, and
 * the foot leaves room for the ruler: until nothing moves any more. */
static enum exit_code plan(struct card *card, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    const struct mix_question *question = card->question;
    double before = NAN;
    card->foot = card->sheet.page.height - SHEET_MARGIN;
    for (int i = 0; i < 4 && before != card->foot; i++) {
        before = card->foot;
        place_ruler(card);
        if ((code = recipe_rows_make(
                 card->pair, &question->row_range, &card->ruler.viscosities,
                 &question->dosing, &card->recipe_rows, error)) != EXIT_DONE) {
            break;
        }
        card->foot = draw_foot(card, false);
    }
    return code;
}

static enum exit_code fill(struct card *card, struct error *error)
{
    double width = card->sheet.page.width - 2 * SHEET_MARGIN;
    card->unit = fmin(width / A6_WIDTH, 1.5);
    card->letter = LETTER * card->unit;
    enum exit_code code = plan(card, error);
    if (code != EXIT_DONE) {
        return code;
    }
    draw_foot(card, true);
    draw_head(card);
    draw_titles(card);
    ruler_draw(card->sheet.page.cr, &card->ruler);
    return draw_table(card, error);
}

enum exit_code mix_sheet_make(const struct args *args,
                              const struct mix_question *question,
                              struct error *error)
{
    struct card card = {.question = question, .pair = question->pair};
    enum exit_code code = sheet_begin(&card.sheet, args, "A6", false,
                                      "Recipes between two oils", error);
    if (code == EXIT_DONE) {
        code = fill(&card, error);
    }
    return sheet_end(&card.sheet, code, error);
}
