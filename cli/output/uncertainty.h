/* SPDX-License-Identifier: GPL-3.0-or-later */
/** uncertainty - printing the uncertainty of an answer. */
#ifndef OUTPUT_UNCERTAINTY_H
#define OUTPUT_UNCERTAINTY_H

#include <jansson.h>

#include "midweight.h"
#include "output/json.h"

/** Print what contributes most to the uncertainty, and what would shrink it. */
void print_uncertainty(const struct mw_budget *budget);

/** The budget as [{name, percent}], percent being of the variance. */
json_t *json_budget(const struct mw_budget *budget);

#endif
