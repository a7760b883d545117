/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** day - oils at the temperatures of a day, and what to take there instead. */
#ifndef SHEETS_MODEL_DAY_H
#define SHEETS_MODEL_DAY_H

#include <stdbool.h>
#include <stddef.h>

#include "midweight.h"

/** What is asked; all in degrees Celsius. */
struct day {
    double from, to;
    double tuned; /* the feel that is kept */
    bool has_today;
    double today;
};

enum { DAY_TEMPERATURES = 64 };

/** Temperatures, rising: today's and the one of the damper among them. */
struct day_temperatures {
    size_t count;
    double list[DAY_TEMPERATURES];
};

/**
 * Choose temperatures by a step.
 *
 * Given:    step  between those that are not named, or infinite: none
 * Returned: whether there is room for them
 */
bool day_step(const struct day *day, double step,
              struct day_temperatures *temperatures);

/**
 * Choose so many temperatures at most, spread over the range: each is the round
 * one that is farthest from those before. Today's and the damper's are never
 * left out.
 */
void day_spread(const struct day *day, size_t most,
                struct day_temperatures *temperatures);

bool day_is_today(const struct day *day, double t);
bool day_is_tuned(const struct day *day, double t);

/** An oil at t: mm2/s, NaN where it is not known; and the rating of the oil
 * that feels at t as this one does where it is tuned, NaN where there is none.
 */
double day_viscosity(const struct mw_oil *oil, double t, unsigned *warnings);
double day_rating(const struct day *day, const struct mw_oil *oil, double t);

#endif
