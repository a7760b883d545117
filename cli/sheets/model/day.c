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

bool day_choose(const struct day *day, double step, bool sorted,
                struct day_temperatures *temperatures)
{
    bool room = true;
    temperatures->count = 0;
    if (day->has_today) {
        add(temperatures, day->today);
    }
    if (!day_is_today(day, day->tuned)) {
        add(temperatures, day->tuned);
    }
    for (double k = 0;
         isfinite(step) && day->from + k * step <= day->to && room; k++) {
        double t = day->from + k * step;
        if (!day_is_today(day, t) && !day_is_tuned(day, t)) {
            room = add(temperatures, t);
        }
    }
    if (sorted) {
        qsort(temperatures->list, temperatures->count,
              sizeof temperatures->list[0], by_size);
    }
    return room;
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
