/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** fall - a falling ball as it is written on the command line. */
#ifndef MEASURE_FALL_H
#define MEASURE_FALL_H

#include <stdbool.h>

#include "measure/measurement.h"

/* options of the command; those of a fall are read by fall_read() */
enum {
    FALL_DIAMETER = MEASURE_OWN,
    FALL_TUBE,
    FALL_TRAVEL,
    FALL_BALL_DENSITY,
    FALL_OIL_DENSITY,
    FALL_DEPTH,
    FALL_GRAVITY,
    FALL_TIME,
    FALL_FOR
};

/** A fall as it was written; NaN is what was not. */
struct fall {
    struct toleranced diameter, tube, travel,
        depth;                               /* m; tube may be INFINITY */
    struct toleranced ball_density, density; /* g/ml */
    double gravity;                          /* m/s2 */
};

/**
 * Read the options of a fall, its time aside.
 *
 * Given: whole  whether all that a fall needs must be there, or the tube alone
 */
enum exit_code fall_read(const struct args *args, bool whole, struct fall *fall,
                         struct error *error);

/** The fall as the library takes it, with a time in s. */
struct mw_ball_run fall_run(const struct fall *fall, double time);

/** What the library refuses of a fall, in words for the user. */
enum exit_code fall_refuse(const struct mw_ball_run *run, enum mw_status status,
                           struct error *error);

/** Which balls suit an oil (--for). */
enum exit_code balls_for(const struct args *args, const char *oil,
                         struct error *error);

#endif
