/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * oil_ref - an oil of the command line: written out, or a bottle of the stock.
 *
 * The stock is opened when the first name is met, and not for oils written out.
 */
#ifndef OILS_OIL_REF_H
#define OILS_OIL_REF_H

#include <stdbool.h>

#include "midweight.h"
#include "oils/network.h"
#include "parse/oil_spec.h"
#include "store/bottle.h"
#include "store/stock.h"
#include "util/error.h"

/** Where names are looked up. */
struct stock_handle {
    struct stock stock;
    bool opened;
    const char *file; /* --stock, or NULL */
};

struct oil_ref {
    const char *name;   /* as the stock spells it, or as written */
    struct mw_oil oil;  /* at its best value */
    double uncertainty; /* standard, of ln v at the rating temperature */
    bool measured;      /* readings and not the label alone stand behind it */
    sqlite3_int64 id;   /* of the bottle; 0 for an oil written out */
    double left_ml;     /* NaN: not known */
    double drop_ml;     /* NaN: not known */
    bool joined;        /* it has a node in the network: */
    size_t node;
};

/** Find an oil; EXIT_USAGE for what is neither an oil nor a bottle. The word is
 * one of the command line: it gets the spelling that the stock has. */
enum exit_code oil_ref_find(struct stock_handle *handle, const char *word,
                            const struct oil_defaults *defaults,
                            struct oil_ref *ref, struct error *error);

/** The same by its own label and readings alone, for those that ask all that
 * the stock knows themselves. */
enum exit_code oil_ref_find_own(struct stock_handle *handle, const char *word,
                                const struct oil_defaults *defaults,
                                struct oil_ref *ref, struct error *error);

/** The bottle with a name, or why there can be none where the name is a weight
 * number. */
enum exit_code oil_ref_load(struct stock *stock, const char *word,
                            struct bottle *bottle, struct error *error);

/** Open the stock to read, unless it is open already. */
enum exit_code stock_handle_open(struct stock_handle *handle,
                                 struct error *error);

/** Open the stock to change it, before anything else is asked of it. */
enum exit_code stock_handle_begin(struct stock_handle *handle,
                                  struct error *error);

/** The stock is no longer needed. */
void stock_handle_close(struct stock_handle *handle);

/** The node of an oil in a network; where it has none yet that is to be solved
 * afterwards. The name of the oil must outlive it. */
size_t oil_ref_node(struct stock_network *network, struct oil_ref *ref);

/** The same of a bottle; to be asked once. */
size_t bottle_node(struct stock_network *network, const struct bottle *bottle);

/** Bring an oil to what a solved network says of its node; a remark where
 * something contradicts the rest. */
void oil_ref_adjust(const struct stock_network *network, size_t node,
                    struct oil_ref *ref, struct error *error);

/** A bottle of the stock, under its own name. */
struct oil_ref oil_ref_of(const struct bottle *bottle);

#endif
