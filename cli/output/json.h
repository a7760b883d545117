/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** json - answers as JSON for programs. */
#ifndef OUTPUT_JSON_H
#define OUTPUT_JSON_H

#include <jansson.h>

#include "midweight.h"
#include "util/error.h"

/** A JSON number, or null for NaN and infinities. */
json_t *json_number(double value);

/** A point as {viscosity, temperature}. */
json_t *json_point(const struct mw_point *point);

/** The points of an oil, as a JSON array. */
json_t *json_points(const struct mw_oil *oil);

/**
 * {k, standard_percent, expanded_percent, low, high, budget}.
 *
 * Given: standard  of ln v
 *        low, high expanded; NaN: not known
 *        budget    an array of json_contribution(), which is taken over; NULL:
 *                  none
 */
json_t *json_uncertainty(double standard, double low, double high,
                         json_t *budget);

/** The same of v, without a budget; NaN: of no viscosity. */
json_t *json_uncertainty_of(double standard, double v);

/** What a source brings to a combined uncertainty: {source, standard_percent,
 * variance_percent}. */
json_t *json_contribution(const char *source, double standard, double combined);

/** A set of enum mw_warning, as [{code, text}]. */
json_t *json_warnings(unsigned warnings);

/** A JSON string; what is not UTF-8 in it is replaced. */
json_t *json_text(const char *text);

/** Append to an array or set a member, and release the value. NULL is a lack of
 * memory and ends the program: no answer misses a part. */
void json_append(json_t *array, json_t *value);
void json_set(json_t *object, const char *key, json_t *value);

/**
 * Print the answer of a command to stdout as an object with "schema" first and
 * its remarks among "warnings", and release it; NULL is a failure.
 *
 * Given: schema  such as "mix": the answer keeps to schema/mix.json
 */
enum exit_code print_json(const char *schema, json_t *json,
                          struct error *error);

#endif
