/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheets/chart_tags.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "sheets/draw/label_spacing.h"
#include "sheets/draw/page.h"
#include "sheets/draw/text.h"
#include "util/format.h"
#include "util/xalloc.h"

/* of the letter */
#define LEADER    3.0
#define GAP       1.0
#define NAME_MOST 9.0 /* names are cut where they are longer */

enum { HEADING = FORMAT_LENGTH + 16 };

/* what the oil is today or where it is rated */
static const char *value_of(const struct chart_tags *tags,
                            const struct bottle *bottle,
                            char text[FORMAT_LENGTH])
{
    const struct mw_oil *oil = &bottle->best.oil;
    double v = oil->points[0].viscosity;
    if (tags->view->has_today) {
        mw_oil_viscosity(oil, tags->view->today, &v);
    }
    return isnan(v) ? "\u2013" : format_significant(v, 3, text);
}

/* over the values */
static const char *heading(const struct chart_tags *tags, char text[HEADING])
{
    if (!tags->view->has_today) {
        return "mm\u00b2/s as rated";
    }
    snprintf(text, HEADING, "mm\u00b2/s at %.4g \u00b0C", tags->view->today);
    return text;
}

double chart_tags_measure(struct chart_tags *tags, cairo_t *cr, double letter)
{
    const struct lettering value = {.size = letter, .number = true};
    const struct lettering name = {.size = letter};
    char text[HEADING];
    tags->letter = letter;
    tags->name_width = tags->value_width = 0;
    for (size_t i = 0; i < tags->oil_list->count; i++) {
        const struct bottle *bottle = &tags->oil_list->list[i];
        tags->value_width =
            fmax(tags->value_width,
                 text_width(cr, &value, value_of(tags, bottle, text)));
        tags->name_width =
            fmax(tags->name_width, text_width(cr, &name, bottle->name));
    }
    tags->name_width = fmin(tags->name_width, NAME_MOST * letter);
    double width = (LEADER + GAP) * letter + tags->name_width;
    return fmax(width + tags->value_width,
                text_width(cr, &value, heading(tags, text)) + GAP * letter);
}

static int by_place(const void *left, const void *right)
{
    const struct tag *a = left, *b = right;
    return (a->place > b->place) - (a->place < b->place);
}

static void draw_tag(const struct chart_tags *tags, const struct plot *plot,
                     const struct tag *tag, double end, double y)
{
    const struct bottle *bottle = &tags->oil_list->list[tag->bottle];
    double size = tags->letter;
    double x = plot->right + 0.3 * size, start = plot->right + LEADER * size;
    char text[FORMAT_LENGTH];
    const struct lettering name = {.size = size, .room = tags->name_width};
    const struct lettering value = {
        .size = size, .side = TEXT_RIGHT, .number = true};
    if (tag->on_line) {
        plot_style(plot->cr, tag->bottle);
        page_line(plot->cr, x, tag->place, start - 0.4 * size, y);
    }
    plot_plain_style(plot->cr);
    text_line(plot->cr, start, y + 0.36 * size, &name, "%s", bottle->name);
    text_line(plot->cr, end, y + 0.36 * size, &value, "%s",
              value_of(tags, bottle, text));
}

void chart_tags_draw(struct chart_tags *tags, const struct plot *plot, double x)
{
    size_t count = tags->oil_list->count;
    double *places = xcalloc(count, sizeof places[0]);
    const struct lettering how = {.size = tags->letter, .side = TEXT_RIGHT};
    char text[HEADING];
    qsort(tags->list, count, sizeof tags->list[0], by_place);
    for (size_t i = 0; i < count; i++) {
        places[i] = tags->list[i].place;
    }
    space_labels(places, count, TAG_PITCH * tags->letter, plot->top,
                 plot->bottom);
    for (size_t i = 0; i < count; i++) {
        draw_tag(tags, plot, &tags->list[i], x, places[i]);
    }
    text_line(plot->cr, x, plot->top - 1.2 * plot->letter, &how, "%s",
              heading(tags, text));
    free(places);
}
