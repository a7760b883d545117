/* SPDX-License-Identifier: GPL-3.0-or-later */
/* the chart of oils over temperature */
#include "sheets/chart_sheet.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "output/cautions.h"
#include "parse/number.h"
#include "sheets/draw/label_spacing.h"
#include "sheets/draw/page.h"
#include "sheets/draw/plot.h"
#include "sheets/draw/text.h"
#include "util/format.h"
#include "util/xalloc.h"

/* mm on A4; what is smaller shrinks with it, down to what can be read */
#define A4_WIDTH     297.0
#define LETTER       2.6
#define LETTER_LEAST 1.5
#define LABEL_PITCH  1.25 /* of the letter */
#define LABEL_ROOM   19.0 /* of the letter, right of the frame */
#define LEADER       4.0  /* of the letter */
#define TODAY_LINE   0.3

/* the label of a line, at the right */
struct tag {
    size_t bottle;
    double place;
    bool on_line; /* the line reaches the right side */
};

struct chart {
    struct sheet sheet;
    const struct bottles *oil_list;
    const struct chart_range *view;
    struct plot plot;
    struct tag *tags; /* from the top down */
    size_t tag_count;
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
    chart->tags[i] =
        (struct tag){i, end_of(chart, bottle, v), !isnan(v[VIEW_POINTS - 1])};
}

/* -- Labels ------------------------------------------------------------ */

static int by_place(const void *left, const void *right)
{
    const struct tag *a = left, *b = right;
    return (a->place > b->place) - (a->place < b->place);
}

/* name, and what the oil is today or where it is rated */
static void draw_tag(struct chart *chart, const struct tag *tag, double y)
{
    const struct plot *plot = &chart->plot;
    const struct bottle *bottle = &chart->oil_list->list[tag->bottle];
    const struct mw_oil *oil = &bottle->best.oil;
    double size = plot->letter, v = oil->points[0].viscosity;
    double x = plot->right + 0.5 * size, start = x + LEADER * size;
    double end = chart->sheet.page.width - SHEET_MARGIN;
    char text[FORMAT_LENGTH];
    const struct lettering name = {.size = size,
                                   .room = end - start - 5.3 * size};
    const struct lettering value = {
        .size = size, .side = TEXT_RIGHT, .room = 4.8 * size, .number = true};
    if (chart->view->has_today) {
        mw_oil_viscosity(oil, chart->view->today, &v);
    }
    if (tag->on_line) {
        plot_style(plot->cr, tag->bottle);
        page_line(plot->cr, x, tag->place, start - 0.4 * size, y);
    }
    plot_plain_style(plot->cr);
    text_line(plot->cr, start, y + 0.36 * size, &name, "%s", bottle->name);
    text_line(plot->cr, end, y + 0.36 * size, &value, "%s",
              isnan(v) ? "\u2013" : format_significant(v, 3, text));
}

static void draw_tags(struct chart *chart)
{
    size_t count = chart->oil_list->count;
    const struct plot *plot = &chart->plot;
    double *places = xcalloc(count, sizeof places[0]);
    const struct lettering head = {.size = plot->letter,
                                   .side = TEXT_RIGHT,
                                   .room = LABEL_ROOM * plot->letter};
    char today[FORMAT_LENGTH + 16] = "mm\u00b2/s as rated";
    qsort(chart->tags, count, sizeof chart->tags[0], by_place);
    for (size_t i = 0; i < count; i++) {
        places[i] = chart->tags[i].place;
    }
    space_labels(places, count, LABEL_PITCH * plot->letter, plot->top,
                 plot->bottom);
    for (size_t i = 0; i < count; i++) {
        draw_tag(chart, &chart->tags[i], places[i]);
    }
    if (chart->view->has_today) {
        snprintf(today, sizeof today, "mm\u00b2/s at %.4g \u00b0C",
                 chart->view->today);
    }
    text_line(plot->cr, chart->sheet.page.width - SHEET_MARGIN,
              plot->top - 1.2 * plot->letter, &head, "%s", today);
    free(places);
}

/* -- The page ---------------------------------------------------------- */

/* Lines fall to the right, so that the lower left and the upper right are
 * free. */
static void name_today(struct chart *chart, double x)
{
    const struct plot *plot = &chart->plot;
    double size = plot->letter;
    bool late = x > (plot->left + plot->right) / 2;
    char both[BOTH_LENGTH], text[BOTH_LENGTH + 8];
    snprintf(text, sizeof text, "today %s",
             both_scales(chart->view->today, both));
    struct lettering how = {.size = size, .bold = true};
    double width = text_width(plot->cr, &how, text) + size;
    bool after = late ? x + width < plot->right : x - width < plot->left;
    how.side = after ? TEXT_LEFT : TEXT_RIGHT;
    text_line(plot->cr, x + (after ? 0.5 : -0.5) * size,
              late ? plot->top + 1.4 * size : plot->bottom - 0.7 * size, &how,
              "%s", text);
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
    name_today(chart, x);
}

static double draw_foot(struct chart *chart, bool draw)
{
    return sheet_footer(
        &chart->sheet,
        "Axes of ASTM D341: log log of viscosity against log of absolute "
        "temperature; an oil known at two temperatures is straight, silicone "
        "rated once follows its law (J. Phys. Conf. Ser. 327 (2011) 012029). "
        "Squares: labels. Discs: readings, bars with k = 2. Lines are what "
        "labels and readings give together.",
        chart->warnings, CAUTION_OIL, draw);
}

static void lay_out(struct chart *chart)
{
    struct plot *plot = &chart->plot;
    const struct chart_range *view = chart->view;
    double width = chart->sheet.page.width, size = plot->letter;
    plot->left = SHEET_MARGIN + 8.5 * size;
    plot->right = width - SHEET_MARGIN - LABEL_ROOM * size;
    plot->top = SHEET_MARGIN + 7.5 * size;
    plot->bottom = draw_foot(chart, false) - 5 * size;
    plot->x = axis_make(axis_celsius, NULL, view->from, view->to, plot->left,
                        plot->right);
    plot->y = axis_make(axis_viscosity, NULL, view->thin, view->thick,
                        plot->bottom, plot->top);
}

/* as large as the paper allows, and small enough for all labels */
static enum exit_code choose_size(struct chart *chart, struct error *error)
{
    double width = chart->sheet.page.width;
    double labels = (double)chart->oil_list->count - 1;
    struct plot *plot = &chart->plot;
    plot->letter = fmax(LETTER * fmin(width / A4_WIDTH, 1), 1.8);
    lay_out(chart);
    while (labels * LABEL_PITCH * plot->letter > plot->bottom - plot->top) {
        plot->letter -= 0.05;
        if (plot->letter < LETTER_LEAST) {
            return refuse(error,
                          "%zu oils do not fit on this paper; name fewer, or "
                          "take --paper A4",
                          chart->oil_list->count);
        }
        lay_out(chart);
    }
    return EXIT_DONE;
}

static void draw_axes(struct chart *chart)
{
    const struct plot *plot = &chart->plot;
    double low, high;
    mw_from_celsius(chart->view->from, MW_FAHRENHEIT, &low);
    mw_from_celsius(chart->view->to, MW_FAHRENHEIT, &high);
    const struct axis fahrenheit =
        axis_make(axis_fahrenheit, NULL, low, high, plot->left, plot->right);
    const struct lettering title = {.size = 1.6 * plot->letter, .bold = true};
    text_line(plot->cr, SHEET_MARGIN, SHEET_MARGIN + 1.4 * plot->letter, &title,
              "Oils over temperature");
    plot_frame(plot);
    plot_axis(plot, &plot->x, PLOT_BOTTOM, "temperature, \u00b0C");
    plot_axis(plot, &fahrenheit, PLOT_TOP, "temperature, \u00b0F");
    plot_axis(plot, &plot->y, PLOT_LEFT, "kinematic viscosity, mm\u00b2/s");
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
    chart->tags = xcalloc(chart->oil_list->count, sizeof chart->tags[0]);
    for (size_t i = 0; i < chart->oil_list->count; i++) {
        draw_oil(chart, i);
    }
    draw_tags(chart);
    free(chart->tags);
    draw_foot(chart, true);
    return code;
}

enum exit_code chart_sheet_make(const struct args *args,
                                const struct bottles *oil_list,
                                const struct chart_range *view,
                                struct error *error)
{
    struct chart chart = {.oil_list = oil_list, .view = view};
    enum exit_code code = sheet_begin(&chart.sheet, args, "A4", false, true,
                                      "Oils over temperature", error);
    if (code == EXIT_DONE) {
        code = fill(&chart, error);
    }
    return sheet_end(&chart.sheet, code, error);
}
