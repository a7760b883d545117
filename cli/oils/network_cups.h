/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * network_cups - cups that were calibrated with bottles: their readings rest on
 * these.
 */
#ifndef OILS_NETWORK_CUPS_H
#define OILS_NETWORK_CUPS_H

#include "oils/network.h"

/** Load the cups of a stock whose bottles are loaded. */
enum exit_code network_take_cups(struct stock_network *network,
                                 struct stock *stock, struct error *error);

/** Have a reading, the next one of the network, rest on the bottles that its
 * instrument was calibrated with, where it is such a cup. */
void network_rest_on_cup(struct stock_network *network, const char *instrument,
                         struct mw_network_reading *node);

#endif
