/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * network - what the stock knows, as the network of the library: bottles with
 * readings or recipes, and what else is asked about.
 */
#ifndef OILS_NETWORK_H
#define OILS_NETWORK_H

#include "midweight.h"
#include "store/bottle.h"
#include "store/stock.h"

struct stock_node_id {
    sqlite3_int64 id;
    size_t index;
};

struct stock_network {
    struct bottles bottles;    /* those that stand in it, by name */
    bool lent;                 /* those that are there belong to another list */
    struct stock_node_id *ids; /* theirs, rising */
    size_t count, room;        /* of nodes: bottles, then what was added */
    struct mw_network_bottle *nodes;
    const char **names;             /* of each node */
    struct mw_network_part **parts; /* of recorded mixes, one list a bottle */
    size_t reading_count;
    struct mw_network_reading *readings;
    const char **instruments;                 /* of each reading */
    size_t reference_count;                   /* readings that were loaded */
    struct mw_network_reference **references; /* of each of these, one list */
    size_t cup_count; /* of one's own, that were calibrated with bottles */
    struct stock_cup *cups;
    size_t trial_mixes;         /* readings of recorded mixes */
    struct mw_network *network; /* once solved */
    size_t solved;              /* nodes that it has */
};

/** Load what the stock knows; stock_network_free() it whatever the outcome. A
 * stock that is not open knows nothing. */
enum exit_code stock_network_load(struct stock *stock,
                                  struct stock_network *network,
                                  struct error *error);

/**
 * The node of a bottle, or of an oil that is written out.
 *
 * Given: id     of the bottle; 0: an oil that is written out
 *        name   of it, which must outlive the network
 *        oil, uncertainty  what it is where the network does not have it yet
 */
size_t stock_network_node(struct stock_network *network, sqlite3_int64 id,
                          const char *name, const struct mw_oil *oil,
                          double uncertainty);

/** The node of a bottle; the number of bottles where it has none. */
size_t stock_network_find(const struct stock_network *network,
                          sqlite3_int64 id);

/** The index of a reading of a node, from 0 in their order; reading_count where
 * it was left out. */
size_t stock_network_reading(const struct stock_network *network, size_t node,
                             size_t which);

/** The name of a node. */
const char *stock_network_name(const struct stock_network *network,
                               size_t node);

/** Adjust it, after the last node; again where more were added since. */
enum exit_code stock_network_solve(struct stock_network *network,
                                   struct error *error);

void stock_network_free(struct stock_network *network);

#endif
