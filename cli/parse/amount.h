/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * amount - amounts, densities and per cents as people write them.
 *
 *     amount       20ml  20g  12drops  2 (parts)
 *     batch        20ml  20g  4x2.5ml
 *     density      0.97 (g/ml)               share  30%
 *
 * Numbers are those of number.h. Every function takes the whole text, writes
 * its result on success only, and otherwise notes the problem (OUTCOME_USAGE).
 */
#ifndef CLI_PARSE_AMOUNT_H
#define CLI_PARSE_AMOUNT_H

#include "midweight.h"
#include "util/error.h"

enum amount_kind { AMOUNT_PARTS, AMOUNT_ML, AMOUNT_G, AMOUNT_DROPS };

struct amount {
    enum amount_kind kind;
    double value;
};

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

#endif
