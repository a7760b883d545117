/* SPDX-License-Identifier: GPL-3.0-or-later */
/* the chart of the blends of a pair */
#include <math.h>
#include <stdio.h>

#include "output/cautions.h"
#include "sheets/chart_sheet.h"
#include "sheets/draw/page.h"
#include "sheets/draw/plot.h"
#include "sheets/draw/text.h"
#include "util/format.h"

#define LETTER 2.4  /* mm */
#define HEAD   26.0 /* mm, over the frame */
#define KEY    10.0 /* mm, the line of a key */
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

static void lay_out(struct chart *chart, double foot)
{
    struct plot *plot = &chart->plot;
    double thin = INFINITY, thick = 0;
    for (size_t i = 0; i < POINTS; i++) {
        thin = fmin(thin, fmin(chart->low[i], chart->plain[i]));
        thick = fmax(thick, fmax(chart->high[i], chart->used[i]));
    }
    plot->cr = chart->sheet.page.cr;
    plot->letter = LETTER;
    plot->left = SHEET_MARGIN + 8.5 * LETTER;
    plot->right = chart->sheet.page.width - SHEET_MARGIN - 8.5 * LETTER;
    plot->top = SHEET_MARGIN + HEAD;
    plot->bottom = foot - 5 * LETTER;
    plot->x = axis_make(axis_linear, NULL, 0, 100, plot->left, plot->right);
    plot->y = axis_make(
        axis_viscosity, NULL, fmax(thin / AROUND, MW_VISCOSITY_MIN),
        fmin(thick * AROUND, MW_VISCOSITY_MAX), plot->bottom, plot->top);
}

/* -- Head: the oils, and a key to the lines ----------------------------- */

static void draw_oil(struct chart *chart, size_t i, double y)
{
    const struct blend_pair *pair = chart->pair;
    cairo_t *cr = chart->plot.cr;
    double right = chart->sheet.page.width - SHEET_MARGIN;
    char v[FORMAT_LENGTH];
    const struct lettering key = {.size = LETTER, .bold = true};
    const struct lettering name = {.size = LETTER, .room = 0.6 * right};
    const struct lettering value = {.size = LETTER, .side = TEXT_RIGHT};
    text_line(cr, SHEET_MARGIN, y, &key, "%c", 'A' + (int)i);
    text_line(cr, SHEET_MARGIN + 2 * LETTER, y, &name, "%s", pair->names[i]);
    text_line(cr, right, y, &value, "%s mm\u00b2/s \u00b1%.1f %%",
              format_significant(pair->states[i].viscosity, 3, v),
              100 * MW_COVERAGE * pair->known.uncertainty[i]);
}

static double draw_key(struct chart *chart, double x, double y, size_t style,
                       const char *text)
{
    cairo_t *cr = chart->plot.cr;
    const struct lettering how = {.size = LETTER};
    plot_style(cr, style);
    page_line(cr, x, y - 0.36 * LETTER, x + KEY, y - 0.36 * LETTER);
    plot_plain_style(cr);
    text_line(cr, x + KEY + 0.5 * LETTER, y, &how, "%s", text);
    return x + KEY + 2 * LETTER + text_width(cr, &how, text);
}

static void draw_band_key(struct chart *chart, double x, double y)
{
    cairo_t *cr = chart->plot.cr;
    const struct lettering how = {.size = LETTER};
    cairo_rectangle(cr, x, y - 0.75 * LETTER, KEY, 0.8 * LETTER);
    cairo_set_source_rgb(cr, 0.88, 0.88, 0.88);
    cairo_fill_preserve(cr);
    plot_plain_style(cr);
    cairo_set_line_width(cr, EDGE);
    cairo_stroke(cr);
    text_line(cr, x + KEY + 0.5 * LETTER, y, &how, "uncertainty, k = 2");
}

static void draw_head(struct chart *chart)
{
    double y = SHEET_MARGIN + 4, x = SHEET_MARGIN;
    char both[BOTH_LENGTH], used[60];
    double excess = chart->pair->known.method.excess;
    const struct lettering title = {.size = 1.6 * LETTER, .bold = true};
    text_line(chart->plot.cr, x, y, &title, "Blends of A and B at %s",
              both_scales(chart->pair->temperature, both));
    draw_oil(chart, 0, y + 5);
    draw_oil(chart, 1, y + 8.6);
    y += 13.2;
    snprintf(used, sizeof used,
             excess != 0 ? "in use: excess %.2f" : "in use: plain D7152",
             excess);
    x = draw_key(chart, x, y, IN_USE, used);
    if (excess != 0) {
        x = draw_key(chart, x, y, PLAIN, "plain D7152");
    }
    draw_band_key(chart, x, y);
}

/* -- The page ---------------------------------------------------------- */

static double draw_foot(struct chart *chart, bool draw)
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
             "(%s) is %s. %sThe band holds what the bottles%s are known to.",
             mw_rule_name(chart->pair->known.method.rule),
             chart->pair->known.method.rule == MW_RULE_ASTM ? "a straight line"
                                                            : "nearly straight",
             departs, excess != 0 ? " and the excess" : "");
    return sheet_footer(&chart->sheet, text, chart->pair->warnings, CAUTION_MIX,
                        draw);
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
    plot_axis(plot, &plot->x, PLOT_BOTTOM, "share of B, % of volume");
    plot_axis(plot, &other, PLOT_TOP, "share of A, % of volume");
    plot_axis(plot, &plot->y, PLOT_LEFT, "kinematic viscosity, mm\u00b2/s");
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
        lay_out(&chart, draw_foot(&chart, true));
        draw_head(&chart);
        draw_curves(&chart);
        draw_axes(&chart);
    }
    return sheet_end(&chart.sheet, code, error);
}
