/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** show - all that is kept of one bottle. */
#ifndef STOCK_SHOW_H
#define STOCK_SHOW_H

#include <stdbool.h>

#include "oils/network.h"
#include "oils/uncertainty.h"
#include "store/bottle.h"
#include "store/journal.h"
#include "store/recipe.h"

/** A bottle, how it was made, and how its label and readings agree. */
struct shown {
    struct bottle bottle;
    struct recipe recipe;
    struct journal journal; /* of all bottles */
    struct recipe *into;    /* mixes that it went into */
    size_t into_count;
    struct stock_network network;
    struct oils_uncertainty uncertainty; /* of the best value */
    enum mw_agreement label;
    enum mw_agreement *readings;
    bool explain; /* the whole budget is wanted */
};

/** "counted", "widened" or "set aside". */
const char *show_agreement(enum mw_agreement agreement);

void show_print(const struct shown *shown);

#endif
