/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * viscosity_index - how flat a petroleum oil is, from 40 and 100 C.
 *
 * Reference: ASTM D2270 / ISO 2909, clauses 5 and 6 (read in print). The table
 * of L and H is built from reference/d2270_lh.csv.
 *
 * Departure from the standard: the index is returned unrounded; the standard
 * reports the nearest whole number.
 */
#ifndef MIDWEIGHT_FLUID_VISCOSITY_INDEX_H
#define MIDWEIGHT_FLUID_VISCOSITY_INDEX_H

#include "base/status.h"

/**
 * The standard's L and H: the 40 C viscosities of the two oils, of index 0 and
 * of index 100, that share an oil's viscosity at 100 C.
 *
 * Given:     v100    mm2/s at 100 C, 2 to 2e7
 * Returned:  l, h    mm2/s at 40 C
 * Failures:  MW_ERR_INDEX  v100 is below 2 or out of range
 * Notes:     linear between the rows of the table, equations above 70 mm2/s
 */
enum mw_status mw_viscosity_index_lh(double v100, double *l, double *h);

/**
 * The viscosity index of an oil.
 *
 * Given:     v40     mm2/s at 40 C, above v100 and up to 2e7
 *            v100    mm2/s at 100 C, 2 or more
 * Returned:  index   may be negative or above 100
 * Failures:  MW_ERR_INDEX  v100 below 2, or v40 not above v100
 * Notes:     procedure A up to 100, procedure B above
 */
enum mw_status mw_viscosity_index(double v40, double v100, double *index);

/**
 * The viscosity at 100 C of an oil given by its viscosity at 40 C and its
 * index: the inverse of mw_viscosity_index(), by a GSL root.
 *
 * Given:     v40     mm2/s at 40 C
 *            index   the viscosity index
 * Returned:  v100    mm2/s at 100 C
 * Failures:  MW_ERR_INDEX  no oil with 2 mm2/s or more at 100 C has it
 */
enum mw_status mw_v100_from_index(double v40, double index, double *v100);

#endif
