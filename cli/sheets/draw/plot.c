/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheets/draw/plot.h"

#include <gsl/gsl_math.h>
#include <math.h>

#include "output/text.h"
#include "sheets/draw/page.h"
#include "sheets/draw/text.h"
#include "sheets/draw/ticks.h"
#include "util/format.h"

/* mm */
#define FRAME      0.3
#define GRID       0.1
#define THIN       0.15
#define LINE       0.45
#define LONG_TICK  1.6
#define SHORT_TICK 0.8
#define MARK       0.9 /* half the size of a mark */
#define PALE       0.8 /* grey of the grid */

#define TITLE_ROOM 3.8 /* in letters, left of the frame */
#define TITLE_OFF  1.4

#define X_LABELS 3.5 /* gaps, in letters */
#define Y_LABELS 1.8
#define TICKS    0.4

/* Readable for all kinds of colour vision, and the dark ones of their set: M.
 * Okabe and K. Ito, Color Universal Design (2008), from memory. */
static const double colours[][3] = {
    {0, 0, 0}, /* black */
    {0, 0.447, 0.698} /* blue */,
    {0.835, 0.369, 0} /* vermillion */,
    {0, 0.620, 0.451} /* bluish green */,
    {0.800, 0.475, 0.655} /* reddish purple */,
};

/* mm on and off; our own */
static const struct {
    int count;
    double lengths[6];
} dashes[] = {
    {0, {0}},      {2, {3, 1}},
    {2, {1, 0.8}}, {4, {4, 0.9, 0.8, 0.9}},
    {2, {6, 1.2}}, {6, {3, 0.8, 0.8, 0.8, 0.8, 0.8}},
};

enum {
    COLOURS = sizeof colours / sizeof colours[0],
    DASHES = sizeof dashes / sizeof dashes[0]
};

void plot_style(cairo_t *cr, size_t i)
{
    const double *colour = colours[i % COLOURS];
    cairo_set_source_rgb(cr, colour[0], colour[1], colour[2]);
    cairo_set_dash(cr, dashes[i % DASHES].lengths, dashes[i % DASHES].count, 0);
    cairo_set_line_width(cr, LINE);
}

void plot_plain_style(cairo_t *cr)
{
    cairo_set_source_rgb(cr, 0, 0, 0);
    cairo_set_dash(cr, NULL, 0, 0);
    cairo_set_line_width(cr, THIN);
}

/* -- Frame and axes ---------------------------------------------------- */

static void ticks_of(const struct plot *plot, const struct axis *axis,
                     bool upright, struct ticks *ticks)
{
    axis_ticks(axis, (upright ? Y_LABELS : X_LABELS) * plot->letter,
               TICKS * plot->letter, ticks);
}

static void draw_grid(const struct plot *plot, const struct axis *axis,
                      bool upright)
{
    struct ticks ticks;
    ticks_of(plot, axis, upright, &ticks);
    for (size_t i = 0; i < ticks.count; i++) {
        double place = ticks.list[i].place;
        if (!ticks.list[i].labelled) {
            continue;
        }
        if (upright) {
            page_line(plot->cr, plot->left, place, plot->right, place);
        } else {
            page_line(plot->cr, place, plot->top, place, plot->bottom);
        }
    }
}

void plot_frame(const struct plot *plot)
{
    cairo_t *cr = plot->cr;
    plot_plain_style(cr);
    cairo_set_source_rgb(cr, PALE, PALE, PALE);
    cairo_set_line_width(cr, GRID);
    draw_grid(plot, &plot->x, false);
    draw_grid(plot, &plot->y, true);
    plot_plain_style(cr);
    cairo_set_line_width(cr, FRAME);
    cairo_rectangle(cr, plot->left, plot->top, plot->right - plot->left,
                    plot->bottom - plot->top);
    cairo_stroke(cr);
    plot_plain_style(cr);
}

/* the number of a tick, beyond its end at x and y */
static void draw_number(const struct plot *plot, enum plot_side side,
                        const struct tick *tick, double x, double y)
{
    static const struct {
        enum text_side side;
        double right, down; /* of the end, in letters */
    } where[] = {[PLOT_LEFT] = {TEXT_RIGHT, -0.3, 0.36},
                 [PLOT_RIGHT] = {TEXT_LEFT, 0.3, 0.36},
                 [PLOT_TOP] = {TEXT_CENTRE, 0, -0.3},
                 [PLOT_BOTTOM] = {TEXT_CENTRE, 0, 1.0}};
    double size = plot->letter;
    const struct lettering how = {
        .size = size, .side = where[side].side, .number = true};
    char text[FORMAT_LENGTH];
    text_line(plot->cr, x + where[side].right * size,
              y + where[side].down * size, &how, "%s",
              format_compact(tick->value, text));
}

/* a tick outwards from the frame, and its number */
static void draw_tick(const struct plot *plot, enum plot_side side,
                      const struct tick *tick, bool numbers)
{
    double length = tick->labelled ? LONG_TICK : SHORT_TICK;
    double outward = side == PLOT_LEFT || side == PLOT_TOP ? -1 : 1;
    bool upright = side == PLOT_LEFT || side == PLOT_RIGHT;
    double edge = side == PLOT_LEFT    ? plot->left
                  : side == PLOT_RIGHT ? plot->right
                  : side == PLOT_TOP   ? plot->top
                                       : plot->bottom;
    double x = upright ? edge : tick->place, y = upright ? tick->place : edge;
    double end_x = x + (upright ? outward * length : 0);
    double end_y = y + (upright ? 0 : outward * length);
    page_line(plot->cr, x, y, end_x, end_y);
    if (numbers && tick->labelled) {
        draw_number(plot, side, tick, end_x, end_y);
    }
}

/* the unit of a side: where the numbers of a lying one begin, and over those of
 * an upright one */
static void draw_title(const struct plot *plot, enum plot_side side,
                       const char *title)
{
    double size = plot->letter;
    const struct lettering how = {.size = size, .side = TEXT_RIGHT};
    double x = plot->left - (side == PLOT_LEFT ? 0 : TITLE_OFF * size);
    double y = side == PLOT_BOTTOM ? plot->bottom + LONG_TICK + size
               : side == PLOT_TOP  ? plot->top - LONG_TICK - 0.3 * size
                                   : plot->top - LONG_TICK - 1.6 * size;
    text_line(plot->cr, x, y, &how, "%s", title);
}

double plot_left(const struct plot *plot)
{
    struct ticks ticks;
    double width = 0;
    char text[FORMAT_LENGTH];
    const struct lettering how = {.size = plot->letter, .number = true};
    ticks_of(plot, &plot->y, true, &ticks);
    for (size_t i = 0; i < ticks.count; i++) {
        if (ticks.list[i].labelled) {
            format_compact(ticks.list[i].value, text);
            width = fmax(width, text_width(plot->cr, &how, text));
        }
    }
    return fmax(width + 0.3 * plot->letter + LONG_TICK,
                TITLE_ROOM * plot->letter);
}

void plot_axis(const struct plot *plot, const struct axis *axis,
               enum plot_side side, const char *title)
{
    struct ticks ticks;
    ticks_of(plot, axis, side == PLOT_LEFT || side == PLOT_RIGHT, &ticks);
    plot_plain_style(plot->cr);
    for (size_t i = 0; i < ticks.count; i++) {
        draw_tick(plot, side, &ticks.list[i], title != NULL);
    }
    if (title && side != PLOT_RIGHT) {
        draw_title(plot, side, title);
    }
}

/* -- What is in the frame ---------------------------------------------- */

void plot_line(const struct plot *plot, const double *x, const double *y,
               size_t count)
{
    bool drawing = false;
    for (size_t i = 0; i < count; i++) {
        double at_x = axis_place(&plot->x, x[i]);
        double at_y = axis_place(&plot->y, y[i]);
        bool known = isfinite(at_x) && isfinite(at_y);
        if (known && drawing) {
            cairo_line_to(plot->cr, at_x, at_y);
        } else if (known) {
            cairo_move_to(plot->cr, at_x, at_y);
        }
        drawing = known;
    }
    cairo_stroke(plot->cr);
}

void plot_band(const struct plot *plot, const double *x, const double *low,
               const double *high, size_t count)
{
    cairo_t *cr = plot->cr;
    for (size_t i = 0; i < count; i++) {
        cairo_line_to(cr, axis_place(&plot->x, x[i]),
                      axis_place(&plot->y, low[i]));
    }
    for (size_t i = count; i-- > 0;) {
        cairo_line_to(cr, axis_place(&plot->x, x[i]),
                      axis_place(&plot->y, high[i]));
    }
    cairo_close_path(cr);
    cairo_set_source_rgb(cr, 0.88, 0.88, 0.88);
    cairo_fill(cr);
    plot_plain_style(cr);
}

void plot_square(const struct plot *plot, double x, double y)
{
    double at_x = axis_place(&plot->x, x), at_y = axis_place(&plot->y, y);
    cairo_rectangle(plot->cr, at_x - MARK, at_y - MARK, 2 * MARK, 2 * MARK);
    cairo_stroke(plot->cr);
}

void plot_disc(const struct plot *plot, double x, double y)
{
    cairo_arc(plot->cr, axis_place(&plot->x, x), axis_place(&plot->y, y), MARK,
              0, 2 * M_PI);
    cairo_fill(plot->cr);
}

void plot_bar(const struct plot *plot, double x, double low, double high)
{
    double at = axis_place(&plot->x, x);
    double bottom = axis_place(&plot->y, fmax(low, plot->y.low));
    double top = axis_place(&plot->y, fmin(high, plot->y.high));
    page_line(plot->cr, at, bottom, at, top);
    page_line(plot->cr, at - MARK, bottom, at + MARK, bottom);
    page_line(plot->cr, at - MARK, top, at + MARK, top);
}
