/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * measurement - what the sub-commands of "measure" share: the temperature, the
 * bottle that is measured, the answer with its uncertainty, and filing it.
 *
 * A sub-command reads its own arguments, calls measure_begin(), fills in what
 * it found, adds its lines to the budget and calls measure_finish().
 * measure_end() comes last whatever happened.
 */
#ifndef MEASURE_MEASUREMENT_H
#define MEASURE_MEASUREMENT_H

#include <stdbool.h>

#include "command/options.h"
#include "midweight.h"
#include "oils/oil_ref.h"
#include "output/json.h"
#include "parse/toleranced.h"
#include "store/bottle.h"
#include "store/stock.h"

/* options that every measuring method has; its own begin at MEASURE_OWN */
enum {
    MEASURE_AT,
    MEASURE_THERMOMETER,
    MEASURE_FAMILY,
    MEASURE_SAVE,
    MEASURE_FORCE,
    MEASURE_OWN
};

#define MEASURE_OPTIONS(thermometer_help)                                      \
    OPTION(MEASURE_AT, "at", "T", "Take the oil at this temperature"),         \
        OPTION(MEASURE_THERMOMETER, "thermometer", "K", thermometer_help),     \
        OPTION(MEASURE_FAMILY, "family", "FAMILY",                             \
               "Take the oil as silicone or mineral"),                         \
        OPTION(MEASURE_SAVE, "save", "NAME",                                   \
               "Save the result as a reading of this bottle"),                 \
        OPTION(MEASURE_FORCE, "force", NULL,                                   \
               "Save it although it is far from all other readings")

enum { METHOD_LENGTH = 256 };

/** A time made of several. */
struct timing {
    size_t count;
    double mean;        /* s */
    double uncertainty; /* s, standard, of the mean */
};

struct measurement {
    /* by measure_begin() */
    struct toleranced temperature; /* degC */
    enum mw_family family;
    bool saving, force;
    struct stock stock;   /* begun, when saving */
    struct bottle bottle; /* when saving */

    /* by the sub-command */
    char method[METHOD_LENGTH]; /* such as "ISO 4 cup", filed with a reading */
    /* what readings by the same means share; "": nothing */
    char instrument[METHOD_LENGTH];
    sqlite3_int64 reference;    /* the bottle it was compared with; 0: none */
    double reference_viscosity; /* mm2/s, what that was taken to be */
    struct timing time;
    double viscosity;  /* mm2/s at the temperature */
    double reynolds;   /* NaN where it does not count */
    unsigned warnings; /* a set of enum mw_warning */
    struct mw_budget budget;
    const char *hint; /* what would make it surer; NULL: nothing to say */
    /* standard uncertainty of ln v after one known oil in the same cup; NaN: of
     * no cup, or of one that is calibrated */
    double known;
};

/** The mean of the times of a run. */
enum exit_code measure_time(const struct times *times, struct timing *timing,
                            struct error *error);

/**
 * Read the shared options, and load the bottle that the result is for.
 *
 * Given: usual_t  degC where --at is not given; NaN: it must be
 *        usual    the family where neither --family nor a bottle names one
 */
enum exit_code measure_begin(const struct args *args, double usual_t,
                             enum mw_family usual,
                             struct measurement *measurement,
                             struct error *error);

/** Add what the thermometer is uncertain by to the budget. */
enum exit_code measure_add_temperature(struct measurement *measurement,
                                       struct error *error);

/**
 * An oil that is to be measured, for --for.
 *
 * Given:    oil    written out, or a bottle
 * Returned: source, and its viscosity at --at or where it is rated
 */
enum exit_code measure_wanted(const struct args *args, const char *oil,
                              struct oil_ref *ref, struct mw_point *point,
                              struct error *error);

/** Print the answer, and save it where that was asked for. */
enum exit_code measure_finish(const struct args *args,
                              struct measurement *measurement,
                              struct error *error);

void measure_end(struct measurement *measurement);

/** What the library refuses, in words for the user. */
enum exit_code measure_refuse(enum mw_status status, struct error *error);

/* -- Answers ----------------------------------------------------------- */

/** The answer as text: value, and what matters of it; the whole budget where it
 * is to be explained. */
void measure_print(const struct measurement *measurement, bool explain);

/** The answer as JSON. */
json_t *measure_json(const struct measurement *measurement);

extern const struct command command_measure_cup;
extern const struct command command_measure_ball;
extern const struct command command_measure_against;
extern const struct command command_measure_calibrate;

#endif
