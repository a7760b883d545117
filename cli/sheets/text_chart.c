/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* the chart of oils over temperature in the terminal */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "output/cautions.h"
#include "output/text.h"
#include "sheets/chart_sheet.h"
#include "sheets/draw/ticks.h"
#include "util/format.h"

/* of characters; the frame stands to the right of the numbers */
enum {
    NUMBERS = 9,
    COLUMNS = REPORT_WIDTH - NUMBERS - 2,
    ROWS = 22,
    LETTERS = 52,
    NAME_COLUMNS = 36,
};

#define COLUMN_GAP 7.0 /* between two numbers */
#define ROW_GAP    2.0

struct canvas {
    char cells[ROWS][COLUMNS + 1];
    struct axis x, y;
};

static char letter_of(size_t i)
{
    static const char letters[] =
        "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ";
    return letters[i % LETTERS];
}

static void put(struct canvas *canvas, double x, double y, char mark)
{
    double column = round(x), row = round(y);
    if (column >= 0 && column < COLUMNS && row >= 0 && row < ROWS) {
        canvas->cells[(int)row][(int)column] = mark;
    }
}

/* a dot in each column, and now and then the letter */
static void draw_oil(struct canvas *canvas, const struct chart_range *view,
                     const struct bottle *bottle, size_t i)
{
    double t[VIEW_POINTS], v[VIEW_POINTS];
    view_line(view, bottle, t, v);
    for (size_t k = 0; k < VIEW_POINTS; k++) {
        put(canvas, axis_place(&canvas->x, t[k]), axis_place(&canvas->y, v[k]),
            '.');
    }
    for (size_t k = (3 * i) % 12; k < VIEW_POINTS; k += 12) {
        put(canvas, axis_place(&canvas->x, t[k]), axis_place(&canvas->y, v[k]),
            letter_of(i));
    }
}

static void draw_readings(struct canvas *canvas, const struct bottle *bottle)
{
    for (size_t i = 0; i < bottle->reading_count; i++) {
        const struct mw_reading *reading = &bottle->readings[i].value;
        put(canvas, axis_place(&canvas->x, reading->temperature),
            axis_place(&canvas->y, reading->viscosity), '*');
    }
}

static void fill(struct canvas *canvas, const struct bottles *oil_list,
                 const struct chart_range *view)
{
    for (size_t row = 0; row < ROWS; row++) {
        /* cppcheck-suppress uninitvar ; this is what sets the cells */
        memset(canvas->cells[row], ' ', COLUMNS);
        canvas->cells[row][COLUMNS] = '\0';
    }
    canvas->x =
        axis_make(axis_celsius, NULL, view->from, view->to, 0, COLUMNS - 1);
    canvas->y =
        axis_make(axis_viscosity, NULL, view->thin, view->thick, ROWS - 1, 0);
    for (size_t row = 0; view->has_today && row < ROWS; row++) {
        put(canvas, axis_place(&canvas->x, view->today), (double)row, '|');
    }
    for (size_t i = 0; i < oil_list->count; i++) {
        draw_oil(canvas, view, &oil_list->list[i], i);
    }
    for (size_t i = 0; i < oil_list->count; i++) {
        draw_readings(canvas, &oil_list->list[i]);
    }
}

static void print_rows(const struct canvas *canvas)
{
    struct ticks ticks;
    axis_ticks(&canvas->y, ROW_GAP, ROW_GAP, &ticks);
    for (int row = 0; row < ROWS; row++) {
        char number[FORMAT_LENGTH] = "";
        for (size_t i = 0; i < ticks.count; i++) {
            if (lround(ticks.list[i].place) == row) {
                format_compact(ticks.list[i].value, number);
            }
        }
        print_text("%*s %c%s|\n", NUMBERS - 1, number, *number ? '+' : '|',
                   canvas->cells[row]);
    }
}

/* a line of numbers under the frame, each centred on its tick */
static void print_numbers(const struct axis *axis, const char *unit)
{
    char line[REPORT_WIDTH + FORMAT_LENGTH];
    struct ticks ticks;
    memset(line, ' ', sizeof line);
    axis_ticks(axis, COLUMN_GAP, COLUMN_GAP, &ticks);
    for (size_t i = 0; i < ticks.count; i++) {
        char number[FORMAT_LENGTH];
        size_t length = strlen(format_compact(ticks.list[i].value, number));
        size_t middle = NUMBERS + 1 + (size_t)lround(ticks.list[i].place);
        size_t start = middle - length / 2;
        if (start + length <= REPORT_WIDTH) {
            memcpy(line + start, number, length);
        }
    }
    memcpy(line + NUMBERS - 1 - strlen(unit), unit, strlen(unit));
    size_t end = REPORT_WIDTH;
    while (end > 0 && line[end - 1] == ' ') {
        end--;
    }
    print_text("%.*s\n", (int)end, line);
}

/* a place on the lower edge for each number of the line under it */
static void print_edge(const struct axis *axis)
{
    char edge[COLUMNS + 1];
    struct ticks ticks;
    memset(edge, '-', COLUMNS);
    edge[COLUMNS] = '\0';
    axis_ticks(axis, COLUMN_GAP, COLUMN_GAP, &ticks);
    for (size_t i = 0; i < ticks.count; i++) {
        edge[lround(ticks.list[i].place)] = '+';
    }
    print_text("%*s+%s+\n", NUMBERS, "", edge);
}

static void print_key(const struct bottles *oil_list,
                      const struct chart_range *view)
{
    for (size_t i = 0; i < oil_list->count; i++) {
        const struct bottle *bottle = &oil_list->list[i];
        const struct mw_point *rating = &bottle->best.oil.points[0];
        char name[TRUNCATED_LENGTH], number[FORMAT_LENGTH];
        double v;
        print_text("%c  ", letter_of(i));
        print_padded(truncate_columns(bottle->name, NAME_COLUMNS, name),
                     NAME_COLUMNS);
        print_text(" %8s at %.4g C",
                   format_significant(rating->viscosity, 3, number),
                   rating->temperature);
        if (view->has_today &&
            mw_oil_viscosity(&bottle->best.oil, view->today, &v) == MW_OK) {
            print_text("  %8s", format_significant(v, 3, number));
        }
        print_text("\n");
    }
}

void chart_print(const struct bottles *oil_list, const struct chart_range *view)
{
    struct canvas canvas;
    double low, high;
    fill(&canvas, oil_list, view);
    mw_from_celsius(view->from, MW_FAHRENHEIT, &low);
    mw_from_celsius(view->to, MW_FAHRENHEIT, &high);
    const struct axis fahrenheit =
        axis_make(axis_fahrenheit, NULL, low, high, 0, COLUMNS - 1);
    print_text("   mm2/s\n");
    print_rows(&canvas);
    print_edge(&canvas.x);
    print_numbers(&canvas.x, "C");
    print_numbers(&fahrenheit, "F");
    print_text("\n");
    if (view->has_today) {
        print_text("The bar | is today, %.4g C; last column: mm2/s then.\n",
                   view->today);
    }
    print_key(oil_list, view);
    print_wrapped("Axes of ASTM D341; * is a reading. %s", CAUTION_OIL);
}
