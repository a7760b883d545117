/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* the chart of the blends of a pair */
#include <math.h>
#include <stdio.h>

#include "output/cautions.h"
#include "sheets/chart_sheet.h"
#include "sheets/draw/page.h"
#include "sheets/draw/plot.h"
#include "sheets/draw/text.h"
#include "util/format.h"

/* of the letter */
#define TITLE 1.3
#define LINE  1.4
#define KEY   3.5 /* the line of a key */
#define OVER  4.2 /* from the keys to the frame, for units and numbers */
#define TAIL  2.2 /* under the frame */

#define AROUND 1.03 /* the viscosities are shown with so much room */
#define IN_USE 0    /* styles of the lines */
#define PLAIN  1
#define EDGE   0.12 /* mm, of the band */

enum { POINTS = 101 };

struct chart {
    struct sheet sheet;
    const struct blend_pair *pair;
    struct plot plot;
    double shares[POINTS]; /* per cent of the second oil */
    double used[POINTS], plain[POINTS], low[POINTS], high[POINTS];
};

static void work_out(struct chart *chart)
{
    const struct mw_method plain = {chart->pair->known.method.rule, 0};
    for (size_t i = 0; i < POINTS; i++) {
        double share = (double)i / (POINTS - 1);
        chart->shares[i] = 100 * share;
        chart->used[i] =
            pair_viscosity(chart->pair, share, &chart->pair->known.method);
        chart->plain[i] = pair_viscosity(chart->pair, share, &plain);
        pair_band(chart->pair, share, &chart->low[i], &chart->high[i]);
    }
}

/* head is the last line over the frame */
static void lay_out(struct chart *chart, double head, double foot)
{
    struct plot *plot = &chart->plot;
    double thin = INFINITY, thick = 0;
    for (size_t i = 0; i < POINTS; i++) {
        thin = fmin(thin, fmin(chart->low[i], chart->plain[i]));
        thick = fmax(thick, fmax(chart->high[i], chart->used[i]));
    }
    plot->top = head + OVER * plot->letter;
    plot->bottom = foot - TAIL * plot->letter;
    plot->y = axis_make(
        axis_viscosity, NULL, fmax(thin / AROUND, MW_VISCOSITY_MIN),
        fmin(thick * AROUND, MW_VISCOSITY_MAX), plot->bottom, plot->top);
    double side = SHEET_MARGIN + plot_left(plot);
    plot->left = side;
    plot->right = chart->sheet.page.width - side;
    plot->x = axis_make(axis_linear, NULL, 0, 100, plot->left, plot->right);
}

/* -- Head: the oils, and a key to the lines ----------------------------- */

static void draw_oil(struct chart *chart, size_t i, double y)
{
    const struct blend_pair *pair = chart->pair;
    cairo_t *cr = chart->plot.cr;
    double right = chart->sheet.page.width - SHEET_MARGIN;
    double size = chart->plot.letter, left = SHEET_MARGIN + 1.2 * size;
    char v[FORMAT_LENGTH], text[2 * FORMAT_LENGTH];
    const struct lettering key = {.size = size, .bold = true};
    const struct lettering value = {
        .size = size, .side = TEXT_RIGHT, .number = true};
    struct lettering name = {.size = size};
    snprintf(text, sizeof text, "%s mm\u00b2/s \u00b1%.1f %%",
             format_significant(pair->states[i].viscosity, 3, v),
             100 * MW_COVERAGE * pair->known.uncertainty[i]);
    name.room = right - left - size - text_width(cr, &value, text);
    text_line(cr, SHEET_MARGIN, y, &key, "%c", 'A' + (int)i);
    text_line(cr, left, y, &name, "%s", pair->names[i]);
    text_line(cr, right, y, &value, "%s", text);
}

enum key { KEY_USED, KEY_PLAIN, KEY_BAND, KEYS };

static void draw_sample(struct chart *chart, enum key key, double x, double y)
{
    cairo_t *cr = chart->plot.cr;
    double size = chart->plot.letter, width = KEY * size;
    if (key == KEY_BAND) {
        cairo_rectangle(cr, x, y - 0.75 * size, width, 0.8 * size);
        cairo_set_source_rgb(cr, 0.88, 0.88, 0.88);
        cairo_fill_preserve(cr);
        plot_plain_style(cr);
        cairo_set_line_width(cr, EDGE);
        cairo_stroke(cr);
    } else {
        plot_style(cr, key == KEY_USED ? IN_USE : PLAIN);
        page_line(cr, x, y - 0.36 * size, x + width, y - 0.36 * size);
    }
    plot_plain_style(cr);
}

/* on as many lines as they need; the last of them */
static double draw_keys(struct chart *chart, double y)
{
    double excess = chart->pair->known.method.excess;
    double x = SHEET_MARGIN, size = chart->plot.letter;
    const struct lettering how = {.size = size};
    char used[40];
    const char *texts[KEYS] = {used, "plain D7152",
                               "expanded uncertainty, k = 2"};
    snprintf(used, sizeof used,
             excess != 0 ? "in use: excess %.2f" : "in use: plain D7152",
             excess);
    for (int key = KEY_USED; key < KEYS; key++) {
        if (key == KEY_PLAIN && excess == 0) {
            continue;
        }
        double start = (KEY + 0.5) * size;
        double width = start + text_width(chart->plot.cr, &how, texts[key]);
        if (x + width > chart->sheet.page.width - SHEET_MARGIN) {
            x = SHEET_MARGIN;
            y += LINE * size;
        }
        draw_sample(chart, (enum key)key, x, y);
        text_line(chart->plot.cr, x + start, y, &how, "%s", texts[key]);
        x += width + 1.5 * size;
    }
    return y;
}

static double draw_head(struct chart *chart)
{
    double size = chart->plot.letter, y = SHEET_MARGIN + TITLE * size;
    char both[BOTH_LENGTH];
    const struct lettering title = {.size = TITLE * size, .bold = true};
    text_line(chart->plot.cr, SHEET_MARGIN, y, &title,
              "Blends of A and B at %s",
              both_scales(chart->pair->temperature, both));
    draw_oil(chart, 0, y + 1.1 * LINE * size);
    draw_oil(chart, 1, y + 2.1 * LINE * size);
    return draw_keys(chart, y + 3.2 * LINE * size);
}

/* -- The page ---------------------------------------------------------- */

static double draw_foot(struct chart *chart)
{
    return sheet_footer(
        &chart->sheet,
        "The heavy line is what midweight mix answers; the band holds the "
        "truth about 95 times of 100 (k = 2).",
        chart->pair->warnings, CAUTION_MIX, true);
}

static enum exit_code draw_method(struct chart *chart, struct error *error)
{
    char text[800];
    double excess = chart->pair->known.method.excess;
    char departs[160] = "", k[FORMAT_LENGTH], ref[SOURCE_LENGTH];
    if (excess != 0) {
        snprintf(departs, sizeof departs,
                 "Silicone departs from it by an excess of %s (%s). ",
                 format_significant(excess, 2, k),
                 pair_excess_source(chart->pair, ref));
    }
    snprintf(text, sizeof text,
             "Viscosity is on the scale of ASTM D341, where plain ASTM D7152 "
             "(%s) is %s. %sThe band holds what the bottles%s are known to, "
             "combined by the GUM (JCGM 100:2008).",
             mw_rule_name(chart->pair->known.method.rule),
             chart->pair->known.method.rule == MW_RULE_ASTM ? "a straight line"
                                                            : "nearly straight",
             departs, excess != 0 ? " and the excess" : "");
    return sheet_explain(&chart->sheet, text, error);
}

static void draw_curves(struct chart *chart)
{
    const struct plot *plot = &chart->plot;
    plot_band(plot, chart->shares, chart->low, chart->high, POINTS);
    plot_frame(plot);
    cairo_set_line_width(plot->cr, EDGE);
    plot_line(plot, chart->shares, chart->low, POINTS);
    plot_line(plot, chart->shares, chart->high, POINTS);
    if (chart->pair->known.method.excess != 0) {
        plot_style(plot->cr, PLAIN);
        plot_line(plot, chart->shares, chart->plain, POINTS);
    }
    plot_style(plot->cr, IN_USE);
    plot_line(plot, chart->shares, chart->used, POINTS);
    plot_plain_style(plot->cr);
}

static void draw_axes(struct chart *chart)
{
    const struct plot *plot = &chart->plot;
    const struct axis other =
        axis_make(axis_linear, NULL, 0, 100, plot->right, plot->left);
    plot_axis(plot, &plot->x, PLOT_BOTTOM, "% B");
    plot_axis(plot, &other, PLOT_TOP, "% A");
    plot_axis(plot, &plot->y, PLOT_LEFT, "mm\u00b2/s");
    plot_axis(plot, &plot->y, PLOT_RIGHT, "");
}

enum exit_code blend_sheet_make(const struct args *args,
                                const struct blend_pair *pair,
                                struct error *error)
{
    struct chart chart = {.pair = pair};
    enum exit_code code = sheet_begin(&chart.sheet, args, "A5", false, true,
                                      "Blends of two oils", error);
    if (code == EXIT_DONE) {
        work_out(&chart);
        chart.plot.cr = chart.sheet.page.cr;
        chart.plot.letter = sheet_letter(&chart.sheet);
        lay_out(&chart, draw_head(&chart), draw_foot(&chart));
        draw_curves(&chart);
        draw_axes(&chart);
        code = draw_method(&chart, error);
    }
    return sheet_end(&chart.sheet, code, error);
}
