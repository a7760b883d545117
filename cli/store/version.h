/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** version - whose file a stock is, and bringing it to the version of this
 * program. */
#ifndef STORE_VERSION_H
#define STORE_VERSION_H

#include "store/stock.h"

/**
 * Check that an open file is a stock, of this program's version or an older
 * one, with the tables of that version to the letter.
 *
 * Returned: version  of the file, 0 for an empty one
 */
enum exit_code stock_check_file(struct stock *stock, int *version,
                                struct error *error);

/** Bring it from a version to this one, in the transaction that is open. */
enum exit_code stock_migrate(struct stock *stock, int version,
                             struct error *error);

/** Bring an older stock to this version before it is read. Another process may
 * have done so while this one waited. */
enum exit_code stock_take_over(struct stock *stock, struct error *error);

#endif
