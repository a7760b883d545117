/* SPDX-License-Identifier: GPL-3.0-or-later */
/** plan_readings - what to measure of a stock for a band of targets. */
#ifndef STOCK_PLAN_READINGS_H
#define STOCK_PLAN_READINGS_H

#include "midweight.h"
#include "output/json.h"
#include "store/bottle.h"
#include "store/stock.h"

/** Which readings help most. */
struct plan_readings {
    struct mw_ranked_readings ranked; /* none where nothing can be mixed */
    const char *names[MW_RANKED];     /* of the bottles */
};

/**
 * Find them.
 *
 * Given: bottles    at best values
 *        wish       temperature and excess
 *        low, high  mm2/s, the band
 */
enum exit_code plan_readings_find(struct stock *stock,
                                  const struct bottles *bottles,
                                  enum mw_family family,
                                  const struct mw_wish *wish, double low,
                                  double high, struct plan_readings *readings,
                                  struct error *error);

void plan_readings_print(const struct plan_readings *readings);

/** [{name, expanded_percent}], of the mixes after each. */
json_t *plan_readings_json(const struct plan_readings *readings);

#endif
