/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** dosing - how far a dose is off, by what it is measured with. */
#ifndef MIDWEIGHT_TABLE_DOSING_H
#define MIDWEIGHT_TABLE_DOSING_H

#include <stddef.h>

#include "base/status.h"
#include "blend/mix.h"

#ifdef __cplusplus
extern "C" {
#endif

/* of the smallest dose: standard uncertainty of a dose whose tool is not known
 * (our assumption) */
#define MW_DOSE_UNKNOWN 0.01

/**
 * The standard uncertainty of each dose of a mix: it ends anywhere within half
 * a step of its tool, each draw of a syringe anew, so that a dose of n draws
 * has the square root of n times the uncertainty of one. Without a tool it is
 * MW_DOSE_UNKNOWN of the smallest dose.
 *
 * Given:     mix     of mw_mix_solve()
 *            count   of its oils
 * Returned:  doses   in parts of the batch; 0 of an oil that is not poured
 */
MW_API void mw_mix_doses(const struct mw_mix *mix, size_t count, double *doses);

/**
 * The standard uncertainty of a dose from the marks of the tool: it ends
 * anywhere within half a mark.
 *
 * Given:     mark    ml of one mark, zero or more
 *            batch   ml, above zero
 * Returned:  u       standard, in parts of the batch (ml/ml)
 * Failures:  MW_ERR_AMOUNT
 * Reference: GUM 4.3.7, limits of half a mark (GUM F.2.2.1: resolution)
 */
MW_API enum mw_status mw_dose_uncertainty(double mark, double batch, double *u);

#ifdef __cplusplus
}
#endif

#endif
