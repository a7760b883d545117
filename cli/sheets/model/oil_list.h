/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * oil_list - the oils of a sheet, as bottles: those of the command line,
 * written out or by name, or the whole stock.
 */
#ifndef SHEETS_MODEL_OIL_LIST_H
#define SHEETS_MODEL_OIL_LIST_H

#include "command/options.h"
#include "oils/network.h"
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

/** What the stock knows of a pair; oil_list_forget() it. */
struct known {
    struct stock_network network;
    size_t nodes[2];
    struct mw_network_bases *bases;
};

/**
 * Ask the stock, where a bottle of it was named.
 *
 * Given: oil_list  of oil_list_fill(); its first two are the pair
 */
enum exit_code oil_list_known(const struct args *args,
                              const struct bottles *oil_list,
                              struct known *known, struct error *error);

void oil_list_forget(struct known *known);

/** Make a card; the list is empty at first, and emptied by the caller. */
typedef enum exit_code make_card(const struct args *args,
                                 struct bottles *oil_list, struct error *error);

/** Run the command of a card. */
enum exit_code oil_list_run(const struct args *args, make_card *make,
                            struct error *error);

#endif
