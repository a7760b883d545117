/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* Intervals between round values are divided again and again. */
#include "sheets/draw/ticks.h"

#include <math.h>

/* of a step: what rounding makes of a multiple */
#define SLACK 1e-6

/* of the axis: where no label stands in so much, steps need not be even, and
 * those of decades are not anyway; our own choice */
#define HOLE        (1 / 3.0)
#define DECADE_HOLE (1 / 8.0)

/* what marks keep from each other */
struct spacing {
    const struct axis *axis;
    double gap;
    bool labels;
};

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

/* whether neighbours that are both on the axis keep their distance */
static bool keeps_gap(const struct spacing *spacing, double a, double b)
{
    const struct axis *axis = spacing->axis;
    if (!axis_holds(axis, a) || !axis_holds(axis, b)) {
        return true;
    }
    return fabs(axis_place(axis, b) - axis_place(axis, a)) >= spacing->gap &&
           (!spacing->labels || !axis->worth ||
            axis->worth(a, b, axis->context));
}

/* whether all multiples of a step from a to b keep it; steps beyond the axis
 * are passed over */
static bool step_keeps_gap(const struct spacing *spacing, double a, double b,
                           double step)
{
    const struct axis *axis = spacing->axis;
    double first = fmax(round(a / step), floor(axis->low / step));
    double last = fmin(round(b / step), ceil(axis->high / step));
    if (last - first > TICKS_MAX) {
        return false;
    }
    for (double i = first; i < last; i++) {
        if (!keeps_gap(spacing, i * step, (i + 1) * step)) {
            return false;
        }
    }
    return true;
}

/* the finest step of 1, 2 or 5 that divides a to b and keeps the gap; 0 for
 * none */
static double find_step(const struct spacing *spacing, double a, double b)
{
    static const double leads[] = {5, 2, 1};
    double best = 0;
    int top = (int)floor(log10(b - a));
    for (int exponent = top; exponent > top - 6; exponent--) {
        bool any = false;
        for (size_t i = 0; i < 3; i++) {
            double step = leads[i] * pow(10, exponent);
            if (step < (b - a) * (1 - SLACK) && is_multiple(a, step) &&
                is_multiple(b, step) && step_keeps_gap(spacing, a, b, step)) {
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
static void divide_decade(const struct spacing *spacing, double a, double b,
                          struct marks *marks)
{
    if (a > 0 && fabs(b / a - 10) < SLACK) {
        if (keeps_gap(spacing, a, 2 * a) && keeps_gap(spacing, 2 * a, 5 * a) &&
            keeps_gap(spacing, 5 * a, b)) {
            add_mark(marks, 2 * a);
            add_mark(marks, 5 * a);
        } else if (keeps_gap(spacing, a, 3 * a) &&
                   keeps_gap(spacing, 3 * a, b)) {
            add_mark(marks, 3 * a);
        }
    }
    add_mark(marks, b);
}

static void divide(const struct spacing *spacing, const struct marks *coarse,
                   struct marks *fine)
{
    fine->count = 0;
    add_mark(fine, coarse->values[0]);
    for (size_t i = 0; i + 1 < coarse->count; i++) {
        double a = coarse->values[i], b = coarse->values[i + 1];
        double step = find_step(spacing, a, b);
        if (step > 0) {
            divide_evenly(spacing->axis, a, b, step, fine);
        } else {
            divide_decade(spacing, a, b, fine);
        }
    }
}

/* whether it is long enough to be divided by powers of ten */
static bool are_decades(const struct axis *axis)
{
    return axis->low > 0 && axis->high > 4 * axis->low &&
           ceil(log10(axis->high)) - floor(log10(axis->low)) > 1;
}

/* Decades differ so much that what can be divided again is; otherwise steps
 * that are even all along are easier to read. */
static void divide_labels(const struct spacing *spacing, struct marks *marks)
{
    bool decades = are_decades(spacing->axis);
    size_t before;
    do {
        struct marks coarse = *marks;
        before = coarse.count;
        divide(spacing, &coarse, marks);
    } while (decades && before != marks->count);
}

/* the multiples of a step between a and b, with a and b, that keep the gap;
 * whether none had to be left out */
static bool fill_by(const struct spacing *spacing, double a, double b,
                    double step, struct marks *marks)
{
    bool all = true;
    marks->count = 0;
    add_mark(marks, a);
    for (double i = floor(a / step + SLACK) + 1; i * step < b * (1 - SLACK);
         i++) {
        double before = marks->values[marks->count - 1];
        if (keeps_gap(spacing, before, i * step) &&
            keeps_gap(spacing, i * step, b)) {
            add_mark(marks, i * step);
        } else {
            all = false;
        }
    }
    add_mark(marks, b);
    return all;
}

/* round numbers between a and b, which no even step divides: the finest of
 * which all fit, else the coarsest of which some do */
static void fill_hole(const struct spacing *spacing, double a, double b,
                      struct marks *best)
{
    static const double leads[] = {5, 2, 1};
    int top = (int)floor(log10(b - a));
    *best = (struct marks){2, {a, b}};
    for (int exponent = top; exponent > top - 3; exponent--) {
        for (size_t i = 0; i < 3; i++) {
            struct marks found;
            bool all =
                fill_by(spacing, a, b, leads[i] * pow(10, exponent), &found);
            if (found.count > 2 && (all || best->count == 2)) {
                *best = found;
            }
        }
    }
}

static void fill_holes(const struct spacing *spacing, struct marks *marks)
{
    const struct axis *axis = spacing->axis;
    double hole = (are_decades(axis) ? DECADE_HOLE : HOLE) *
                  fabs(axis->end - axis->start);
    struct marks coarse = *marks, filled;
    marks->count = 0;
    for (size_t i = 0; i + 1 < coarse.count; i++) {
        double a = fmax(coarse.values[i], axis->low);
        double b = fmin(coarse.values[i + 1], axis->high);
        add_mark(marks, coarse.values[i]);
        if (b > a && fabs(axis_place(axis, b) - axis_place(axis, a)) > hole) {
            fill_hole(spacing, a, b, &filled);
            for (size_t k = 1; k + 1 < filled.count; k++) {
                add_mark(marks, filled.values[k]);
            }
        }
    }
    add_mark(marks, coarse.values[coarse.count - 1]);
}

/* powers of ten that hold the axis between them; where it is short, or values
 * may be below zero, one wide interval */
static void begin_marks(const struct axis *axis, struct marks *marks)
{
    marks->count = 0;
    if (are_decades(axis)) {
        double last = ceil(log10(axis->high));
        for (double k = floor(log10(axis->low)); k <= last; k++) {
            add_mark(marks, pow(10, k));
        }
        return;
    }
    double size = pow(10, ceil(log10(axis->high - axis->low)));
    double first = floor(axis->low / size) * size;
    double last = first + size;
    add_mark(marks, first);
    add_mark(marks, last < axis->high ? last + size : last);
}

/* short marks: where labels have even steps so have these, all along or not at
 * all */
static void divide_marks(const struct spacing *spacing,
                         const struct marks *labels, struct marks *marks)
{
    if (are_decades(spacing->axis)) {
        divide(spacing, labels, marks);
        return;
    }
    double coarsest = 0;
    for (size_t i = 0; i + 1 < labels->count; i++) {
        double step =
            find_step(spacing, labels->values[i], labels->values[i + 1]);
        coarsest = fmax(coarsest, step > 0 ? step : (double)INFINITY);
    }
    *marks = (struct marks){1, {labels->values[0]}};
    for (size_t i = 0; i + 1 < labels->count; i++) {
        divide_evenly(spacing->axis, labels->values[i], labels->values[i + 1],
                      coarsest, marks);
    }
}

/* powers of ten crowd at the thick end of the chart: those that do not keep the
 * gap have a mark alone */
static void thin_out(const struct spacing *spacing, struct marks *labels)
{
    struct marks all = *labels;
    labels->count = 0;
    for (size_t i = 0; i < all.count; i++) {
        double before = i > 0 ? labels->values[labels->count - 1] : (double)NAN;
        if (keeps_gap(spacing, before, all.values[i])) {
            add_mark(labels, all.values[i]);
        }
    }
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
    struct spacing between_labels = {axis, label_gap, true};
    struct spacing between_marks = {axis, gap, false};
    struct marks labels, marks;
    begin_marks(axis, &labels);
    divide_labels(&between_labels, &labels);
    if (axis->worth) {
        fill_holes(&between_labels, &labels);
    }
    divide_marks(&between_marks, &labels, &marks);
    thin_out(&between_labels, &labels);
    ticks->count = 0;
    for (size_t i = 0; i < marks.count; i++) {
        double value = marks.values[i];
        if (axis_holds(axis, value)) {
            ticks->list[ticks->count++] = (struct tick){
                value, axis_place(axis, value), is_among(&labels, value)};
        }
    }
}
