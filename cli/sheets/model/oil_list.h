/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * oils - the oils of a sheet, as bottles: those of the command line, written
 * out or by name, or the whole stock.
 */
#ifndef CARD_RACK_H
#define CARD_RACK_H

#include "command/options.h"
#include "parse/oil_spec.h"
#include "store/bottle.h"

/**
 * The oils that the arguments name, in their order; without arguments the whole
 * stock, thin to thick. An oil written out is a bottle with the usual
 * tolerance. bottles_free() them whatever the outcome.
 */
enum exit_code oil_list_fill(const struct args *args,
                             const struct oil_defaults *defaults,
                             struct bottles *oil_list, struct error *error);

/**
 * The excess of silicone: what the stock has learned where a bottle of it was
 * named, else the usual one.
 */
enum exit_code oil_list_excess(const struct args *args,
                               struct mw_excess *excess, size_t *trial_mixes,
                               struct error *error);

/** Make a card; the list is empty at first, and emptied by the caller. */
typedef enum exit_code make_card(const struct args *args,
                                 struct bottles *oil_list, struct error *error);

/** Run the command of a card. */
enum exit_code oil_list_run(const struct args *args, make_card *make,
                            struct error *error);

#endif
