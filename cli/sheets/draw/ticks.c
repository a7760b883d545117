/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* Intervals between round values are divided again and again. */
#include "sheets/draw/ticks.h"

#include <math.h>

/* of a step: what rounding makes of a multiple */
#define SLACK 1e-6

/* round values, rising; the first and last may lie beyond the axis */
struct marks {
    size_t count;
    double values[TICKS_MAX];
};

static void add_mark(struct marks *marks, double value)
{
    if (marks->count < TICKS_MAX) {
        marks->values[marks->count++] = value;
    }
}

static bool is_multiple(double value, double step)
{
    return fabs(value / step - round(value / step)) < SLACK;
}

/* whether neighbours that are both on the axis keep a gap */
static bool keeps_gap(const struct axis *axis, double a, double b, double gap)
{
    if (!axis_holds(axis, a) || !axis_holds(axis, b)) {
        return true;
    }
    return fabs(axis_place(axis, b) - axis_place(axis, a)) >= gap;
}

/* whether all multiples of a step from a to b keep it; steps beyond the axis
 * are passed over */
static bool step_keeps_gap(const struct axis *axis, double a, double b,
                           double step, double gap)
{
    double first = fmax(round(a / step), floor(axis->low / step));
    double last = fmin(round(b / step), ceil(axis->high / step));
    if (last - first > TICKS_MAX) {
        return false;
    }
    for (double i = first; i < last; i++) {
        if (!keeps_gap(axis, i * step, (i + 1) * step, gap)) {
            return false;
        }
    }
    return true;
}

/* the finest step of 1, 2 or 5 that divides a to b and keeps the gap; 0 for
 * none */
static double find_step(const struct axis *axis, double a, double b, double gap)
{
    static const double leads[] = {5, 2, 1};
    double best = 0;
    int top = (int)floor(log10(b - a));
    for (int exponent = top; exponent > top - 6; exponent--) {
        bool any = false;
        for (size_t i = 0; i < 3; i++) {
            double step = leads[i] * pow(10, exponent);
            if (step < (b - a) * (1 - SLACK) && is_multiple(a, step) &&
                is_multiple(b, step) && step_keeps_gap(axis, a, b, step, gap)) {
                best = step;
                any = true;
            }
        }
        if (best > 0 && !any) {
            break;
        }
    }
    return best;
}

/* the marks between a and b, a aside */
static void divide_evenly(const struct axis *axis, double a, double b,
                          double step, struct marks *marks)
{
    double first = fmax(round(a / step) + 1, floor(axis->low / step));
    double last = fmin(round(b / step) - 1, ceil(axis->high / step));
    for (double i = first; i <= last; i++) {
        add_mark(marks, i * step);
    }
    add_mark(marks, b);
}

/* a decade too short for an even step: 1 2 5 10, or 1 3 10, or nothing */
static void divide_decade(const struct axis *axis, double a, double b,
                          double gap, struct marks *marks)
{
    if (a > 0 && fabs(b / a - 10) < SLACK) {
        if (keeps_gap(axis, a, 2 * a, gap) &&
            keeps_gap(axis, 2 * a, 5 * a, gap) &&
            keeps_gap(axis, 5 * a, b, gap)) {
            add_mark(marks, 2 * a);
            add_mark(marks, 5 * a);
        } else if (keeps_gap(axis, a, 3 * a, gap) &&
                   keeps_gap(axis, 3 * a, b, gap)) {
            add_mark(marks, 3 * a);
        }
    }
    add_mark(marks, b);
}

static void divide(const struct axis *axis, double gap,
                   const struct marks *coarse, struct marks *fine)
{
    fine->count = 0;
    add_mark(fine, coarse->values[0]);
    for (size_t i = 0; i + 1 < coarse->count; i++) {
        double a = coarse->values[i], b = coarse->values[i + 1];
        double step = find_step(axis, a, b, gap);
        if (step > 0) {
            divide_evenly(axis, a, b, step, fine);
        } else {
            divide_decade(axis, a, b, gap, fine);
        }
    }
}

/* Decades differ so much that what can be divided again is; otherwise steps
 * that are even all along are easier to read. */
static void divide_labels(const struct axis *axis, double gap,
                          struct marks *marks)
{
    bool decades = marks->count > 2;
    size_t before;
    do {
        struct marks coarse = *marks;
        before = coarse.count;
        divide(axis, gap, &coarse, marks);
    } while (decades && before != marks->count);
}

/* powers of ten that hold the axis between them; where it is short, or values
 * may be below zero, one wide interval */
static void begin_marks(const struct axis *axis, struct marks *marks)
{
    marks->count = 0;
    if (axis->low > 0 && axis->high > 4 * axis->low) {
        double last = ceil(log10(axis->high));
        for (double k = floor(log10(axis->low)); k <= last; k++) {
            add_mark(marks, pow(10, k));
        }
    }
    if (marks->count > 2) {
        return;
    }
    marks->count = 0;
    double size = pow(10, ceil(log10(axis->high - axis->low)));
    double first = floor(axis->low / size) * size;
    double last = first + size;
    add_mark(marks, first);
    add_mark(marks, last < axis->high ? last + size : last);
}

static bool is_among(const struct marks *marks, double value)
{
    for (size_t i = 0; i < marks->count; i++) {
        if (fabs(marks->values[i] - value) <= SLACK * fabs(value)) {
            return true;
        }
    }
    return false;
}

void axis_ticks(const struct axis *axis, double label_gap, double gap,
                struct ticks *ticks)
{
    struct marks labels, marks;
    begin_marks(axis, &labels);
    divide_labels(axis, label_gap, &labels);
    divide(axis, gap, &labels, &marks);
    ticks->count = 0;
    for (size_t i = 0; i < marks.count; i++) {
        double value = marks.values[i];
        if (axis_holds(axis, value)) {
            ticks->list[ticks->count++] = (struct tick){
                value, axis_place(axis, value), is_among(&labels, value)};
        }
    }
}
