/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** print - what the command oil asks and answers, and telling it. */
#ifndef OIL_PRINT_H
#define OIL_PRINT_H

#include <stdbool.h>

#include "midweight.h"
#include "oil/fit.h"
#include "oils/network.h"
#include "oils/oil_ref.h"
#include "oils/uncertainty.h"
#include "parse/viscosity.h"
#include "util/error.h"

struct oil_question {
    struct oil_ref ref;
    struct stock_network network; /* all that is known of it */
    size_t node;
    double temperature; /* degC */
    double thermometer; /* K: limits of its reading */
    bool read; /* both were given, so that they count at a rating too */
    struct temperature_range table; /* no rows: no table */
    bool explain;
    bool fahrenheit;    /* the temperature was written so */
    const char *amount; /* as written; NULL: none is asked about */
    bool one_unit;
    enum mw_viscosity_unit unit; /* when one_unit */
};

struct oil_answer {
    struct mw_oil_state state;
    struct oils_uncertainty uncertainty;
    double in_unit;        /* when one_unit */
    double ml;             /* of the amount; NaN: none */
    struct mw_shear shear; /* NaN where it is not known to thin */
    int iso_vg;            /* 0 for none */
    int sae_j300;          /* 0 for none */
    struct fit fit;
};

/** The temperature of a row of the table, in degC. */
double oil_row_temperature(const struct oil_question *question, unsigned row);

/** A state in a unit: false, and NaN, where the unit does not reach it. */
bool oil_in_unit(const struct mw_oil_state *state, enum mw_viscosity_unit unit,
                 double *value);

/** The standard uncertainty of ln v at a temperature of the table; NaN where it
 * is not known. */
double oil_row_uncertainty(const struct oil_question *question, double t);

void oil_print(const struct oil_question *question,
               const struct oil_answer *answer);

/** The table alone. */
void oil_print_csv(const struct oil_question *question);

enum exit_code oil_print_json(const struct oil_question *question,
                              const struct oil_answer *answer,
                              struct error *error);

#endif
