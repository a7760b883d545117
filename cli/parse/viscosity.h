/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * viscosity - viscosities and temperatures as people write them.
 *
 *     viscosity    350  350cSt  350mm2/s  10k  0.5M  340mPa.s  350@40C
 *     temperature  12C  54F  285K  12 (Celsius)
 *
 * Numbers are those of number.h. Every function takes the whole text, writes
 * its result on success only, and otherwise notes the error (EXIT_USAGE).
 */
#ifndef PARSE_VISCOSITY_H
#define PARSE_VISCOSITY_H

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

/** Whether a text is a weight number, such as 30wt, 10W-40, SAE 30 or wt. */
bool names_weight(const char *text);

/** Why a weight number is no viscosity. */
enum exit_code refuse_weight(const char *text, struct error *error);

/**
 * A viscosity at the start of a text, up to its end or a '/' that begins the
 * next point of an oil; *text moves behind it.
 */
enum exit_code parse_viscosity_part(const char **text,
                                    struct viscosity *viscosity,
                                    struct error *error);

enum exit_code parse_viscosity(const char *text, struct viscosity *viscosity,
                               struct error *error);

enum exit_code parse_temperature(const char *text, double *celsius,
                                 struct error *error);

enum { THERMOMETER_MAX = 20 /* degrees; more is no thermometer */ };

/** FROM:TO:STEP, all in degrees Celsius; STEP is a difference. */
struct temperature_range {
    double from, to, step;
    unsigned rows;   /* from FROM on, none beyond TO */
    bool fahrenheit; /* FROM was written so */
};

/** Whether a temperature, or FROM of a range, is written in F. */
bool is_fahrenheit(const char *text);

enum exit_code parse_temperature_range(const char *text,
                                       struct temperature_range *range,
                                       struct error *error);

/**
 * The viscosity in mm2/s at a temperature, of an oil of a family.
 *
 * Given: fallback  degC where the text names no temperature
 *        density   g/ml as mw_oil_from_dynamic() takes it, or NaN
 */
enum exit_code resolve_viscosity(const struct viscosity *viscosity,
                                 enum mw_family family, double density,
                                 double fallback, struct mw_point *point,
                                 struct error *error);

#endif
