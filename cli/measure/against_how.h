/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** against_how - what two oils are timed with, and its jet. */
#ifndef MEASURE_AGAINST_HOW_H
#define MEASURE_AGAINST_HOW_H

#include <stdbool.h>

#include "midweight.h"
#include "util/error.h"

/** Find it by its name, such as "cup"; false where there is none. */
bool against_how_find(const char *name, enum mw_against_how *how);

const char *against_how_name(enum mw_against_how how);

/**
 * The B of its jet.
 *
 * Given:    constants  of the cup as written, A:B; NULL: not known
 * Returned: B, u       mm2, and its standard uncertainty
 */
enum exit_code against_how_jet(const char *constants, enum mw_against_how how,
                               double *B, double *u, struct error *error);

#endif
