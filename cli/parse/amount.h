/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * amount - amounts, densities and per cents as people write them.
 *
 *     amount       20ml  20cc  0.4l  1floz (US)  20g  12drops  20%  2 (parts)
 *     batch        20ml  20 (ml)  20g  200drops  4x2.5ml
 *     density      0.97 (g/ml)               share  30%
 *
 * Numbers are those of number.h. Every function takes the whole text, writes
 * its result on success only, and otherwise notes the error (EXIT_USAGE).
 */
#ifndef PARSE_AMOUNT_H
#define PARSE_AMOUNT_H

#include "midweight.h"
#include "util/error.h"

enum { AMOUNT_MAX = 1000000000 /* ml, g, drops or parts; more is a slip */ };

struct amount {
    enum mw_amount_kind kind; /* MW_AMOUNT_OPEN: none was given */
    double value;
};

enum exit_code parse_amount(const char *text, struct amount *amount,
                            struct error *error);

/** What a bottle still holds, zero or more: ml or g, a bare number is ml. */
enum exit_code parse_left(const char *text, struct amount *amount,
                          struct error *error);

/** An amount, or COUNTxAMOUNT for a set of dampers; count is 1 without it. */
enum exit_code parse_batch(const char *text, double *count, struct amount *each,
                           struct error *error);

/**
 * Bring a batch in drops to ml; others stay as they are.
 *
 * Given: drop_ml  of one drop; 0 where that is not known, which is EXIT_USAGE
 */
enum exit_code batch_in_ml(struct amount *each, double drop_ml,
                           struct error *error);

/** Drops that were measured together, such as 50=0.62g (a bare number is g) or
 * 50=0.65ml. */
enum exit_code parse_drops(const char *text, double *count, struct amount *all,
                           struct error *error);

/** A volume in ml, above zero; the unit may be left out. */
enum exit_code parse_ml(const char *text, double *ml, struct error *error);

/** A mass in g, above zero; the unit may be left out. */
enum exit_code parse_g(const char *text, double *g, struct error *error);

/** Density in g/ml. */
enum exit_code parse_density(const char *text, double *density,
                             struct error *error);

/** A per cent, "30%" or "30", as a fraction. */
enum exit_code parse_percent(const char *text, double *fraction,
                             struct error *error);

#endif
