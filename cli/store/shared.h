/* SPDX-License-Identifier: GPL-3.0-or-later */
/** shared - which bottles the error of a bottle comes from: for a mix, those it
 * was made of, however long the chain. */
#ifndef STORE_SHARED_H
#define STORE_SHARED_H

#include "store/bottle.h"

/** Find the parts of the error of a loaded bottle. */
enum exit_code shared_find(struct stock *stock, const struct bottle *bottle,
                           struct mw_shared *shared, struct error *error);

#endif
