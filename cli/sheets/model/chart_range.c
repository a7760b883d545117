/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheets/model/chart_range.h"

#include <math.h>

#include "parse/number.h"

/* degC, where nothing else is asked for */
#define COLD 0.0
#define WARM 50.0

#define AROUND 1.12 /* the viscosities are shown with so much room */

/* narrower than this a chart says nothing */
#define LEAST_SPAN  5.0 /* degrees */
#define LEAST_RATIO 1.3

static void widen(struct chart_range *view, double t)
{
    if (!view->has_from) {
        view->from = fmin(view->from, t);
    }
    if (!view->has_to) {
        view->to = fmax(view->to, t);
    }
}

static void choose_temperatures(const struct bottles *oil_list,
                                struct chart_range *view)
{
    if (!view->has_from) {
        view->from = view->has_to ? fmin(COLD, view->to - LEAST_SPAN) : COLD;
    }
    if (!view->has_to) {
        view->to = fmax(WARM, view->from + LEAST_SPAN);
    }
    for (size_t i = 0; i < oil_list->count; i++) {
        const struct bottle *bottle = &oil_list->list[i];
        for (size_t k = 0; k < bottle->label.count; k++) {
            widen(view, bottle->label.points[k].temperature);
        }
        for (size_t k = 0; k < bottle->reading_count; k++) {
            widen(view, bottle->readings[k].value.temperature);
        }
    }
    if (view->has_today) {
        widen(view, view->today);
    }
}

static void take_in(struct chart_range *view, double t, double v)
{
    if (t >= view->from && t <= view->to && !isnan(v)) {
        view->thin = fmin(view->thin, v);
        view->thick = fmax(view->thick, v);
    }
}

static void take_in_bottle(struct chart_range *view,
                           const struct bottle *bottle)
{
    double t[VIEW_POINTS], v[VIEW_POINTS];
    view_line(view, bottle, t, v);
    for (size_t i = 0; i < VIEW_POINTS; i++) {
        take_in(view, t[i], v[i]);
    }
    for (size_t i = 0; i < bottle->label.count; i++) {
        take_in(view, bottle->label.points[i].temperature,
                bottle->label.points[i].viscosity);
    }
    for (size_t i = 0; i < bottle->reading_count; i++) {
        const struct mw_reading *reading = &bottle->readings[i].value;
        double wide = exp(MW_COVERAGE * reading->uncertainty);
        take_in(view, reading->temperature, reading->viscosity * wide);
        take_in(view, reading->temperature, reading->viscosity / wide);
    }
}

enum exit_code view_choose(const struct bottles *oil_list,
                           struct chart_range *view, struct error *error)
{
    choose_temperatures(oil_list, view);
    if (!(view->to >= view->from + LEAST_SPAN)) {
        return refuse(error, "--to is at least %g degrees warmer than --from",
                      LEAST_SPAN);
    }
    view->thin = INFINITY;
    view->thick = 0;
    for (size_t i = 0; i < oil_list->count; i++) {
        take_in_bottle(view, &oil_list->list[i]);
    }
    if (!(view->thick > 0)) {
        return error_set(error, EXIT_NO_ANSWER,
                         "none of these oils is known from %.6g to %.6g C; "
                         "leave --from and --to out",
                         view->from, view->to);
    }
    double around = fmax(AROUND, sqrt(LEAST_RATIO * view->thin / view->thick));
    view->thin = fmax(view->thin / around, MW_VISCOSITY_MIN);
    view->thick = fmin(view->thick * around, MW_VISCOSITY_MAX);
    return EXIT_DONE;
}

void view_line(const struct chart_range *view, const struct bottle *bottle,
               double temperatures[], double viscosities[])
{
    for (size_t i = 0; i < VIEW_POINTS; i++) {
        double part = (double)i / (VIEW_POINTS - 1);
        temperatures[i] = view->from * (1 - part) + view->to * part;
        mw_oil_viscosity(&bottle->best.oil, temperatures[i], &viscosities[i]);
    }
}
