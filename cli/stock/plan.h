/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** plan - what the bottles are good for in a band of viscosities. */
#ifndef STOCK_PLAN_H
#define STOCK_PLAN_H

#include <stdbool.h>

#include "command/options.h"
#include "midweight.h"
#include "oils/network.h"
#include "store/bottle.h"

/** A bottle and where it stands. */
struct place {
    const struct bottle *bottle;
    size_t node; /* in the network */
    double v;    /* mm2/s at the rating temperature of the family */
};

/** A plan. */
struct planning {
    enum mw_family family;
    double rated;     /* degC, its rating temperature */
    double low, high; /* mm2/s there */
    size_t count;
    struct place *places; /* thin to thick */
    double *v;            /* the same, as the library wants it */
    struct mw_plan plan;
    struct stock_network network;
    struct mw_ranked_readings readings;
    double middle; /* standard uncertainty of ln v in the middle of the widest
                      gap; NaN where no mix reaches */
};

/** Print it; --json comes before --csv. */
enum exit_code plan_print(const struct args *args, bool csv,
                          const struct planning *planning, struct error *error);

#endif
