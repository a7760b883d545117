/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheets/model/day.h"

#include <math.h>
#include <stdlib.h>

bool day_is_today(const struct day *day, double t)
{
    return day->has_today && mw_same_temperature(t, day->today);
}

bool day_is_tuned(const struct day *day, double t)
{
    return mw_same_temperature(t, day->tuned);
}

static bool add(struct day_temperatures *temperatures, double t)
{
    if (temperatures->count == DAY_TEMPERATURES) {
        return false;
    }
    temperatures->list[temperatures->count++] = t;
    return true;
}

static int by_size(const void *left, const void *right)
{
    double a = *(const double *)left, b = *(const double *)right;
    return (a > b) - (a < b);
}

/* today's and the one of the damper */
static void begin(const struct day *day, struct day_temperatures *temperatures)
{
    temperatures->count = 0;
    if (day->has_today) {
        add(temperatures, day->today);
    }
    if (!day_is_today(day, day->tuned)) {
        add(temperatures, day->tuned);
    }
}

static void sort(struct day_temperatures *temperatures)
{
    qsort(temperatures->list, temperatures->count, sizeof temperatures->list[0],
          by_size);
}

bool day_step(const struct day *day, double step,
              struct day_temperatures *temperatures)
{
    bool room = true;
    begin(day, temperatures);
    for (double k = 0;
         isfinite(step) && day->from + k * step <= day->to && room; k++) {
        double t = day->from + k * step;
        if (!day_is_today(day, t) && !day_is_tuned(day, t)) {
            room = add(temperatures, t);
        }
    }
    sort(temperatures);
    return room;
}

/* how far t is from what is chosen */
static double distance(const struct day_temperatures *temperatures, double t)
{
    double least = INFINITY;
    for (size_t i = 0; i < temperatures->count; i++) {
        least = fmin(least, fabs(temperatures->list[i] - t));
    }
    return least;
}

/* between what can be chosen: a round number that divides the range into at
 * most SPREAD parts */
static double spread_step(const struct day *day)
{
    enum { SPREAD = 8 };
    double least = fmax((day->to - day->from) / SPREAD, 1);
    double decade = pow(10, floor(log10(least)));
    return (least > 5 * decade   ? 10
            : least > 2 * decade ? 5
            : least > decade     ? 2
                                 : 1) *
           decade;
}

void day_spread(const struct day *day, size_t most,
                struct day_temperatures *temperatures)
{
    double step = spread_step(day), farthest = NAN, far = INFINITY;
    begin(day, temperatures);
    while (temperatures->count < most && far > 0) {
        far = 0;
        for (double k = 0; day->from + k * step < day->to + step; k++) {
            double t = fmin(day->from + k * step, day->to);
            double d = distance(temperatures, t);
            if (d > 0 && d >= far && !day_is_today(day, t) &&
                !day_is_tuned(day, t)) {
                farthest = t;
                far = d;
            }
        }
        if (far > 0) {
            add(temperatures, farthest);
        }
    }
    sort(temperatures);
}

double day_viscosity(const struct mw_oil *oil, double t, unsigned *warnings)
{
    struct mw_oil_state state;
    if (mw_oil_at(oil, t, &state) != MW_OK) {
        return NAN;
    }
    *warnings |= state.warnings;
    return state.viscosity;
}

double day_rating(const struct day *day, const struct mw_oil *oil, double t)
{
    struct mw_hold hold;
    double rating = NAN;
    if (mw_hold_oil(oil, day->tuned, t, 1, &hold) == MW_OK) {
        mw_hold_rating(oil, hold.viscosity, t, oil->points[0].temperature,
                       &rating);
    }
    return rating;
}
