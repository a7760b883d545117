/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * quantity - numbers with units as people write them.
 *
 *     viscosity    350  350cSt  350mm2/s  10k  0.5M  340mPa.s  350@40C
 *     temperature  12C  54F  285K  12 (Celsius)
 *     amount       20ml  20g  12drops  2 (parts)
 *     batch        20ml  20g  4x2.5ml
 *     density      0.97 (g/ml)               share  30%
 *
 * Numbers are those of number.h. Every function takes the whole text, writes
 * its result on success only, and otherwise notes the problem (OUTCOME_USAGE).
 */
#ifndef CLI_QUANTITY_H
#define CLI_QUANTITY_H

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

enum amount_kind { AMOUNT_PARTS, AMOUNT_ML, AMOUNT_G, AMOUNT_DROPS };

struct amount {
    enum amount_kind kind;
    double value;
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

enum outcome parse_amount(const char *text, struct amount *amount,
                          struct problem *problem);

/** What a bottle still holds, zero or more: ml or g, a bare number is ml. */
enum outcome parse_left(const char *text, struct amount *amount,
                        struct problem *problem);

/** An amount, or COUNTxAMOUNT for a set of dampers; count is 1 without it. */
enum outcome parse_batch(const char *text, double *count, struct amount *each,
                         struct problem *problem);

/** Drops that were weighed, COUNT=MASS such as 50=0.62g. */
enum outcome parse_drops(const char *text, double *count, struct amount *mass,
                         struct problem *problem);

/** A volume in ml, above zero; the unit may be left out. */
enum outcome parse_ml(const char *text, double *ml, struct problem *problem);

/** A mass in g, above zero; the unit may be left out. */
enum outcome parse_g(const char *text, double *g, struct problem *problem);

/** Density in g/ml. */
enum outcome parse_density(const char *text, double *density,
                           struct problem *problem);

/** A per cent, "30%" or "30", as a fraction. */
enum outcome parse_percent(const char *text, double *fraction,
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
