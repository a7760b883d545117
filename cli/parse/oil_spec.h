/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * oil_spec - an oil as it is written on the command line.
 *
 *     350   350@40C   32@40C/5.4@100C   46@40C/VI150
 */
#ifndef PARSE_OIL_SPEC_H
#define PARSE_OIL_SPEC_H

#include <stdbool.h>

#include "midweight.h"
#include "util/error.h"

/** What the options say of every oil that is written out. */
struct oil_defaults {
    bool has_family;
    enum mw_family family; /* when has_family */
    double density;        /* g/ml at mw_family_density_t(), or NaN */
};

/**
 * The defaults that --family and --density set; NULL where they were not given.
 */
enum exit_code parse_oil_defaults(const char *family, const char *density,
                                  struct oil_defaults *defaults,
                                  struct error *error);

/** Whether a text is meant as a viscosity, well written or not. */
bool is_oil_spec(const char *text);

/**
 * The oil a text describes.
 *
 * Where the defaults name no family it is found: a viscosity index makes it
 * mineral oil, otherwise mw_family_from_points() decides. A point without a
 * temperature is at the family's rating temperature.
 */
enum exit_code parse_oil(const char *text, const struct oil_defaults *defaults,
                         struct mw_oil *oil, struct error *error);

/** An oil at a temperature, or in words for the user why not. */
enum exit_code oil_at(const char *name, const struct mw_oil *oil, double t,
                      struct mw_oil_state *state, struct error *error);

/** Its viscosity alone, likewise. */
enum exit_code oil_viscosity_at(const char *name, const struct mw_oil *oil,
                                double t, double *v, struct error *error);

/** What the library says of an oil at a temperature, in words for the user. */
enum exit_code explain_oil_status(const char *name, const struct mw_oil *oil,
                                  double t, enum mw_status status,
                                  struct error *error);

#endif
