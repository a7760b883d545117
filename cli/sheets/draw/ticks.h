/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** ticks - the round values to mark along an axis. */
#ifndef SHEETS_DRAW_TICKS_H
#define SHEETS_DRAW_TICKS_H

#include <stdbool.h>
#include <stddef.h>

#include "sheets/draw/axis.h"

struct tick {
    double value, place;
    bool labelled;
};

enum { TICKS_MAX = 512 };

/** Round values along an axis, rising. */
struct ticks {
    size_t count;
    struct tick list[TICKS_MAX];
};

/**
 * Given:     label_gap  between two labels, as places go
 *            gap        between two ticks
 * Returned:  ticks  the most that keep these gaps
 */
void axis_ticks(const struct axis *axis, double label_gap, double gap,
                struct ticks *ticks);

#endif
