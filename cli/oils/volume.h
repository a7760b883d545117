/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** volume - how much of an oil an amount is. */
#ifndef OILS_VOLUME_H
#define OILS_VOLUME_H

#include "oils/oil_ref.h"
#include "util/error.h"

/**
 * Read an amount of an oil: 2ml (a bare number too), 2g or 12drops.
 *
 * Given:    text  as it was written
 *           ref   the oil; its density and its drop count
 *           t     degC, at which it is weighed
 * Returned: ml    above zero
 */
enum exit_code read_volume(const char *text, const struct oil_ref *ref,
                           double t, double *ml, struct error *error);

/** Say how the size of a drop is found. */
enum exit_code refuse_drop(const char *name, struct error *error);

#endif
