/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** outlier - labels and readings that contradict all the rest. */
#ifndef OILS_OUTLIER_H
#define OILS_OUTLIER_H

#include "oils/network.h"
#include "store/bottle.h"

enum { OUTLIER_LENGTH = 320 };

/**
 * What of a bottle contradicts the rest, in words.
 *
 * Given:    outlier  as of mw_network_outlier()
 * Returned: text, "" where nothing does
 */
const char *outlier_text(const struct bottle *bottle, int outlier,
                         char text[OUTLIER_LENGTH]);

/** Remark on what contradicts the rest of a node, and of the bottles that it
 * was mixed from. */
void outlier_remark(const struct stock_network *network, size_t node,
                    struct error *error);

#endif
