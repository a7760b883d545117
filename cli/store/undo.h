/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * undo - what each change replaced, and putting it back.
 *
 * While a command changes the stock, temporary triggers copy every row it is
 * about to change to the undo_ table of its table, as it was before the
 * command: plain rows under the number of the change. To undo is to delete what
 * was made and to write back what was there, under the constraints of the
 * tables, so that rows of a hostile file can do nothing that a command
 * could not.
 */
#ifndef STORE_UNDO_H
#define STORE_UNDO_H

#include "store/stock.h"

/** Start recording what the open transaction changes. */
enum exit_code stock_undo_watch(struct stock *stock, struct error *error);

/** Name the change that was watched; where nothing changed there is none. What
 * was undone before it can no longer be redone. */
enum exit_code stock_undo_keep(struct stock *stock, const char *what,
                               struct error *error);

/**
 * Take the last change back, to last by stock_commit(, NULL, error). What that
 * replaces is recorded as well, for redo.
 *
 * Returned: what  its line, cut to size
 * Failures: EXIT_NO_ANSWER where no change is left, EXIT_OUTPUT where its
 *           rows are damaged or missing
 */
enum exit_code stock_undo(struct stock *stock, char *what, size_t size,
                          struct error *error);

/** Bring back the last change that was undone, likewise. */
enum exit_code stock_redo(struct stock *stock, char *what, size_t size,
                          struct error *error);

#endif
