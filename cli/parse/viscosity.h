/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * viscosity - viscosities and temperatures as people write them.
 *
 *     viscosity    350  350cSt  350mm2/s  10k  0.5M  340mPa.s  350@40C
 *     temperature  12C  54F  285K  12 (Celsius)
 *
 * Numbers are those of number.h. Every function takes the whole text, writes
 * its result on success only, and otherwise notes the problem (OUTCOME_USAGE).
 */
#ifndef CLI_PARSE_VISCOSITY_H
#define CLI_PARSE_VISCOSITY_H

#include <stdbool.h>

#include "midweight.h"
#include "util/error.h"

/** A viscosity as written, before family and density turn it to mm2/s. */
struct viscosity {
    double value;
    enum mw_viscosity_unit unit;
    bool has_temperature;
    double temperature; /* degC, when has_temperature */
};

/**
 * A viscosity at the start of a text, up to its end or a '/' that begins the
 * next point of an oil; *text moves behind it.
 */
enum outcome parse_viscosity_part(const char **text,
                                  struct viscosity *viscosity,
                                  struct problem *problem);

enum outcome parse_viscosity(const char *text, struct viscosity *viscosity,
                             struct problem *problem);

enum outcome parse_temperature(const char *text, double *celsius,
                               struct problem *problem);

/** How far off a thermometer may be, in degrees; the usual one for NULL. */
enum outcome parse_thermometer(const char *text, double *limit,
                               struct problem *problem);

/** FROM:TO:STEP, all in degrees Celsius; STEP is a difference. */
struct temperature_range {
    double from, to, step;
    unsigned rows; /* from FROM on, none beyond TO */
};

enum outcome parse_temperature_range(const char *text,
                                     struct temperature_range *range,
                                     struct problem *problem);

/**
 * The viscosity in mm2/s at a temperature, of an oil of a family.
 *
 * Given: fallback  degC where the text names no temperature
 *        density   g/ml as mw_oil_from_dynamic() takes it, or NaN
 */
enum outcome resolve_viscosity(const struct viscosity *viscosity,
                               enum mw_family family, double density,
                               double fallback, struct mw_point *point,
                               struct problem *problem);

#endif
