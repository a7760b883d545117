/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
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

struct oil_list {
    struct bottles bottles;
    struct stock_network network; /* all that the stock knows of them */
    size_t *nodes;                /* theirs in it; NULL: not all have one yet */
};

/**
 * The oils that the arguments name, in their order; without arguments the whole
 * stock, thin to thick. An oil written out is a bottle with the usual
 * tolerance.
 */
enum exit_code oil_list_fill(const struct args *args,
                             const struct oil_defaults *defaults,
                             struct oil_list *oil_list, struct error *error);

/** Make a card; the list is empty at first, and emptied by the caller. */
typedef enum exit_code make_card(const struct args *args,
                                 struct oil_list *oil_list,
                                 struct error *error);

/** Run the command of a card. */
enum exit_code oil_list_run(const struct args *args, make_card *make,
                            struct error *error);

#endif
