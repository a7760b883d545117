/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** label_spacing - labels that do not lie on each other. */
#ifndef SHEETS_DRAW_LABEL_SPACING_H
#define SHEETS_DRAW_LABEL_SPACING_H

#include <stddef.h>

/**
 * Move places apart that are nearer than a gap, and within bounds, as little as
 * may be.
 *
 * Given:    places  count, rising
 *           low, high  bounds that have room for all of them
 */
void space_labels(double *places, size_t count, double gap, double low,
                  double high);

#endif
