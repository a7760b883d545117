/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * unit - a number and its unit, where the units are multiples of one another.
 * (Temperatures and viscosities are in viscosity.h: their units are more.)
 *
 * Capitals do not matter in a unit, but that mPa is not MPa.
 */
#ifndef PARSE_UNIT_H
#define PARSE_UNIT_H

#include "util/error.h"

/** A unit and how much of ours it is; a table ends with no symbol. */
struct unit {
    const char *symbol;
    double size;
};

struct unit_value {
    double value;
    double unit; /* its size; 0 where none of the table stands */
};

/** Of sizes, in m. */
extern const struct unit size_units[];

/** A measured value in our unit. */
double in_unit(const struct unit_value *measured);

/**
 * The number at *text and a unit of the table, if one stands there; *text moves
 * behind both. A unit ends where the text does, or at ':', 'x' or a space.
 */
enum exit_code take_unit_value(const char **text, const struct unit *units,
                               struct unit_value *measured,
                               struct error *error);

/**
 * A whole text, with its unit, of either sign.
 *
 * Given: hint  how it is written
 */
enum exit_code parse_unit_value(const char *text, const struct unit *units,
                                const char *hint, double *value,
                                struct error *error);

#endif
