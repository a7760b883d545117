/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheets/draw/ruler.h"

#include <math.h>

#include "output/text.h"
#include "sheets/draw/page.h"
#include "sheets/draw/text.h"
#include "util/format.h"

/* all of the size of the numbers */
#define LONG_TICK  0.8
#define SHORT_TICK 0.5
#define LABEL_GAP  1.5
#define LABEL_ROOM 2.1 /* "100" */

#define TICK_GAP  1.1 /* mm, that marks can be told apart by; our own choice */
#define THIN_LINE 0.1 /* mm */
#define SPINE     0.3 /* mm */

/* a step is this part of an uncertainty at least; our own choice */
#define FINEST 0.25

/* whether v is far enough from its neighbour for what it is uncertain by, both
 * as of ln v */
static bool is_far(const struct blend_pair *pair, double v, double neighbour)
{
    double low, high;
    pair_band(pair, pair_share(v, pair), &low, &high);
    return !(fabs(log(v / neighbour)) < FINEST * log(high / low) / 2);
}

/* whether two labels are worth their places; the oils themselves have none */
static bool are_worth(double a, double b, const void *context)
{
    const struct blend_pair *pair = context;
    bool between = fmin(a, b) > pair->thin && fmax(a, b) < pair->thick;
    return !between || (is_far(pair, a, b) && is_far(pair, b, a));
}

double ruler_length(const struct ruler *ruler)
{
    return fabs(ruler->share.end - ruler->share.start);
}

void ruler_make(const struct blend_pair *pair, double x, double bottom,
                double top, double letter, double gap, struct ruler *ruler)
{
    bool thin_first = pair->states[0].viscosity < pair->states[1].viscosity;
    ruler->x = x + (LABEL_ROOM + LONG_TICK) * letter;
    ruler->letter = letter;
    ruler->share = axis_make(axis_linear, NULL, 0, 100, bottom, top);
    ruler->viscosity =
        axis_make(pair_share, pair, pair->thin, pair->thick,
                  thin_first ? bottom : top, thin_first ? top : bottom);
    ruler->viscosity.worth = are_worth;
    axis_ticks(&ruler->share, LABEL_GAP * letter, TICK_GAP, &ruler->shares);
    axis_ticks(&ruler->viscosity, gap, TICK_GAP, &ruler->viscosities);
}

static void draw_shares(cairo_t *cr, const struct ruler *ruler)
{
    double size = ruler->letter;
    const struct lettering number = {.size = size, .side = TEXT_RIGHT};
    for (size_t i = 0; i < ruler->shares.count; i++) {
        const struct tick *tick = &ruler->shares.list[i];
        double length = (tick->labelled ? LONG_TICK : SHORT_TICK) * size;
        char text[FORMAT_LENGTH];
        page_line(cr, ruler->x, tick->place, ruler->x - length, tick->place);
        if (tick->labelled) {
            text_line(cr, ruler->x - length - 0.15 * size,
                      tick->place + 0.36 * size, &number, "%s",
                      format_compact(tick->value, text));
        }
    }
}

void ruler_draw(cairo_t *cr, const struct ruler *ruler)
{
    cairo_set_line_width(cr, SPINE);
    page_line(cr, ruler->x, ruler->share.start, ruler->x, ruler->share.end);
    cairo_set_line_width(cr, THIN_LINE);
    draw_shares(cr, ruler);
    for (size_t i = 0; i < ruler->viscosities.count; i++) {
        double place = ruler->viscosities.list[i].place;
        page_line(cr, ruler->x, place, ruler_right(ruler), place);
    }
}

double ruler_right(const struct ruler *ruler)
{
    return ruler->x + SHORT_TICK * ruler->letter;
}
