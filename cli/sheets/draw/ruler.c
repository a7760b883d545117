/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheets/draw/ruler.h"

#include <math.h>

#include "output/text.h"
#include "sheets/draw/page.h"
#include "sheets/draw/text.h"
#include "util/format.h"

/* all of the size of the numbers */
#define LONG_TICK  1.2
#define SHORT_TICK 0.6
#define LABEL_GAP  1.65
#define TICK_GAP   0.4
#define LABEL_ROOM 5.4

#define THIN_LINE 0.1 /* mm */
#define SPINE     0.3 /* mm */

void ruler_make(const struct blend_pair *pair, double x, double bottom,
                double top, double letter, struct ruler *ruler)
{
    bool thin_first = pair->states[0].viscosity < pair->states[1].viscosity;
    ruler->x = x;
    ruler->letter = letter;
    ruler->share = axis_make(axis_linear, NULL, 0, 100, bottom, top);
    ruler->viscosity =
        axis_make(pair_share, pair, pair->thin, pair->thick,
                  thin_first ? bottom : top, thin_first ? top : bottom);
    axis_ticks(&ruler->share, LABEL_GAP * letter, TICK_GAP * letter,
               &ruler->shares);
    axis_ticks(&ruler->viscosity, LABEL_GAP * letter, TICK_GAP * letter,
               &ruler->viscosities);
}

/* one side of it; side is -1 for the left */
static void draw_side(cairo_t *cr, const struct ruler *ruler,
                      const struct ticks *ticks, int side)
{
    double size = ruler->letter;
    const struct lettering number = {.size = size,
                                     .side = side < 0 ? TEXT_RIGHT : TEXT_LEFT,
                                     .room = (LABEL_ROOM - LONG_TICK) * size,
                                     .number = true};
    for (size_t i = 0; i < ticks->count; i++) {
        const struct tick *tick = &ticks->list[i];
        double length = (tick->labelled ? LONG_TICK : SHORT_TICK) * size;
        char text[FORMAT_LENGTH];
        page_line(cr, ruler->x, tick->place, ruler->x + side * length,
                  tick->place);
        if (tick->labelled) {
            text_line(cr, ruler->x + side * (length + 0.2 * size),
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
    draw_side(cr, ruler, &ruler->shares, -1);
    draw_side(cr, ruler, &ruler->viscosities, 1);
}

double ruler_right(const struct ruler *ruler)
{
    return ruler->x + LABEL_ROOM * ruler->letter;
}
