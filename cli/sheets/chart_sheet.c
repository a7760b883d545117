/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* the chart of oils over temperature */
#include "sheets/chart_sheet.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "output/cautions.h"
#include "parse/number.h"
#include "sheets/chart_tags.h"
#include "sheets/draw/page.h"
#include "sheets/draw/plot.h"
#include "sheets/draw/text.h"
#include "util/xalloc.h"

/* of the letter of the axes */
#define TITLE 1.3
#define HEAD  5.0 /* over the frame */
#define TAIL  2.2 /* under it */

#define TODAY_LINE 0.3 /* mm */

struct chart {
    struct sheet sheet;
    const struct bottles *oil_list;
    const struct chart_range *view;
    struct plot plot;
    struct chart_tags tags;
    unsigned warnings;
};

/* -- Lines and points -------------------------------------------------- */

static void draw_points(struct chart *chart, const struct bottle *bottle,
                        size_t style)
{
    cairo_t *cr = chart->plot.cr;
    const struct plot *plot = &chart->plot;
    plot_style(cr, style);
    cairo_set_dash(cr, NULL, 0, 0);
    cairo_set_line_width(cr, 0.25);
    for (size_t i = 0; i < bottle->label.count; i++) {
        const struct mw_point *point = &bottle->label.points[i];
        if (axis_holds(&plot->x, point->temperature)) {
            plot_square(plot, point->temperature, point->viscosity);
        }
    }
    for (size_t i = 0; i < bottle->reading_count; i++) {
        const struct mw_reading *reading = &bottle->readings[i].value;
        double wide = exp(MW_COVERAGE * reading->uncertainty);
        if (axis_holds(&plot->x, reading->temperature)) {
            plot_disc(plot, reading->temperature, reading->viscosity);
            plot_bar(plot, reading->temperature, reading->viscosity / wide,
                     reading->viscosity * wide);
        }
    }
}

/* where the line of an oil ends at the right, or else its label */
static double end_of(const struct chart *chart, const struct bottle *bottle,
                     const double *v)
{
    double last = bottle->best.oil.points[0].viscosity;
    for (size_t i = VIEW_POINTS; i-- > 0;) {
        if (!isnan(v[i])) {
            last = v[i];
            break;
        }
    }
    double place = axis_place(&chart->plot.y, last);
    return fmin(fmax(place, chart->plot.top), chart->plot.bottom);
}

static void draw_oil(struct chart *chart, size_t i)
{
    const struct bottle *bottle = &chart->oil_list->list[i];
    double t[VIEW_POINTS], v[VIEW_POINTS];
    view_line(chart->view, bottle, t, v);
    plot_style(chart->plot.cr, i);
    plot_line(&chart->plot, t, v, VIEW_POINTS);
    draw_points(chart, bottle, i);
    for (size_t k = 0; k < VIEW_POINTS; k++) {
        chart->warnings |=
            isnan(v[k]) ? 0 : mw_oil_warnings(&bottle->best.oil, t[k]);
    }
    chart->tags.list[i] =
        (struct tag){i, end_of(chart, bottle, v), !isnan(v[VIEW_POINTS - 1])};
}

/* -- The page ---------------------------------------------------------- */

/* over the frame, where no line strikes it through */
static void name_today(struct chart *chart)
{
    const struct plot *plot = &chart->plot;
    const struct lettering how = {.size = plot->letter, .side = TEXT_RIGHT};
    char both[BOTH_LENGTH];
    text_line(plot->cr, chart->sheet.page.width - SHEET_MARGIN,
              SHEET_MARGIN + TITLE * plot->letter, &how, "dotted: today %s",
              both_scales(chart->view->today, both));
}

static void draw_today(struct chart *chart)
{
    const struct plot *plot = &chart->plot;
    double x = axis_place(&plot->x, chart->view->today);
    cairo_t *cr = plot->cr;
    static const double dots[] = {0.3, 0.9};
    if (!chart->view->has_today || !axis_holds(&plot->x, chart->view->today)) {
        return;
    }
    plot_plain_style(cr);
    cairo_set_line_width(cr, 2 * TODAY_LINE);
    cairo_set_dash(cr, dots, 2, 0);
    page_line(cr, x, plot->top, x, plot->bottom);
    plot_plain_style(cr);
    name_today(chart);
}

static bool has_readings(const struct bottles *bottles)
{
    for (size_t i = 0; i < bottles->count; i++) {
        if (bottles->list[i].reading_count > 0) {
            return true;
        }
    }
    return false;
}

static double draw_foot(struct chart *chart, bool draw)
{
    return sheet_footer(
        &chart->sheet,
        has_readings(chart->oil_list)
            ? "Squares are labels; discs are readings, and their bars hold the "
              "truth about 95 times of 100 (k = 2). Lines are what labels and "
              "readings give together."
            : "Squares are labels, lines what they give.",
        chart->warnings, CAUTION_OIL, draw);
}

static enum exit_code draw_method(struct chart *chart, struct error *error)
{
    return sheet_explain(
        &chart->sheet,
        "Axes of ASTM D341: log log of viscosity against log of absolute "
        "temperature. An oil known at two temperatures is straight on them; "
        "silicone rated once follows its law (J. Phys. Conf. Ser. 327 (2011) "
        "012029).\n"
        "Labels, readings and recorded mixes are adjusted together by least "
        "squares (JCGM 100:2008), k = 2.",
        error);
}

static void lay_out(struct chart *chart, double labels)
{
    struct plot *plot = &chart->plot;
    const struct chart_range *view = chart->view;
    plot->top = SHEET_MARGIN + HEAD * plot->letter;
    plot->bottom = draw_foot(chart, false) - TAIL * plot->letter;
    plot->y = axis_make(axis_viscosity, NULL, view->thin, view->thick,
                        plot->bottom, plot->top);
    plot->left = SHEET_MARGIN + plot_left(plot);
    plot->right = chart->sheet.page.width - SHEET_MARGIN -
                  chart_tags_measure(&chart->tags, plot->cr, labels);
    plot->x = axis_make(axis_celsius, NULL, view->from, view->to, plot->left,
                        plot->right);
}

/* the labels as large as there is room for all of them */
static enum exit_code choose_size(struct chart *chart, struct error *error)
{
    struct plot *plot = &chart->plot;
    plot->letter = sheet_letter(&chart->sheet);
    lay_out(chart, plot->letter);
    double labels = fmax((double)chart->oil_list->count - 1, 1);
    double most = (plot->bottom - plot->top) / labels / TAG_PITCH;
    lay_out(chart, fmin(plot->letter, most));
    return most >= SHEET_SMALL
               ? EXIT_DONE
               : refuse(error,
                        "%zu oils do not fit on this paper; name fewer, or "
                        "take --paper A4",
                        chart->oil_list->count);
}

static void draw_axes(struct chart *chart)
{
    const struct plot *plot = &chart->plot;
    double low, high;
    mw_from_celsius(chart->view->from, MW_FAHRENHEIT, &low);
    mw_from_celsius(chart->view->to, MW_FAHRENHEIT, &high);
    const struct axis fahrenheit =
        axis_make(axis_fahrenheit, NULL, low, high, plot->left, plot->right);
    const struct lettering title = {.size = TITLE * plot->letter, .bold = true};
    text_line(plot->cr, SHEET_MARGIN, SHEET_MARGIN + TITLE * plot->letter,
              &title, "Oils over temperature");
    plot_frame(plot);
    plot_axis(plot, &plot->x, PLOT_BOTTOM, "\u00b0C");
    plot_axis(plot, &fahrenheit, PLOT_TOP, "\u00b0F");
    plot_axis(plot, &plot->y, PLOT_LEFT, "mm\u00b2/s");
}

static enum exit_code fill(struct chart *chart, struct error *error)
{
    chart->plot.cr = chart->sheet.page.cr;
    enum exit_code code = choose_size(chart, error);
    if (code != EXIT_DONE) {
        return code;
    }
    draw_axes(chart);
    draw_today(chart);
    chart->tags.list =
        xcalloc(chart->oil_list->count, sizeof chart->tags.list[0]);
    for (size_t i = 0; i < chart->oil_list->count; i++) {
        draw_oil(chart, i);
    }
    chart_tags_draw(&chart->tags, &chart->plot,
                    chart->sheet.page.width - SHEET_MARGIN);
    free(chart->tags.list);
    draw_foot(chart, true);
    return draw_method(chart, error);
}

enum exit_code chart_sheet_make(const struct args *args,
                                const struct bottles *oil_list,
                                const struct chart_range *view,
                                struct error *error)
{
    struct chart chart = {.oil_list = oil_list,
                          .view = view,
                          .tags = {.oil_list = oil_list, .view = view}};
    enum exit_code code = sheet_begin(&chart.sheet, args, "A4", false, true,
                                      "Oils over temperature", error);
    if (code == EXIT_DONE) {
        code = fill(&chart, error);
    }
    return sheet_end(&chart.sheet, code, error);
}
