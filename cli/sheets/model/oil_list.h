/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * rack - the oils of a sheet, as bottles: those of the command line, written
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
enum outcome rack_fill(const struct words *words,
                       const struct oil_habits *habits, struct bottles *rack,
                       struct problem *problem);

/**
 * The excess of silicone: what the stock has learned where a bottle of it was
 * named, else the usual one.
 */
enum outcome rack_excess(const struct words *words, struct mw_excess *excess,
                         size_t *lessons, struct problem *problem);

/** Make a card; the rack is empty at first, and emptied by the caller. */
typedef enum outcome make_card(const struct words *words, struct bottles *rack,
                               struct problem *problem);

/** Run a command: read its line and make the card. */
enum outcome rack_run(const struct command *command,
                      const struct argp_option *options, int argc, char **argv,
                      make_card *make, struct problem *problem);

#endif
