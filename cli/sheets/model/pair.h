/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** pair - two oils that are mixed, at one temperature. */
#ifndef SHEETS_MODEL_PAIR_H
#define SHEETS_MODEL_PAIR_H

#include "midweight.h"
#include "sheets/model/oil_list.h"
#include "store/bottle.h"

enum { SOURCE_LENGTH = 60 /* room for where the excess comes from */ };

struct blend_pair {
    const char *names[2];
    struct mw_mix_oils known; /* what all that the stock knows says of them */
    double temperature;       /* degC */
    struct mw_oil_state states[2];
    double thin, thick; /* mm2/s at the temperature */
    size_t trial_mixes; /* readings of mixes that K rests on */
    unsigned warnings;
};

/**
 * Two bottles as a pair, mixed by the method that their family has.
 * EXIT_NO_ANSWER where they do not mix.
 *
 * Given: oil_list  of two bottles, which must outlive the pair
 *        at    the temperature as it was written, or NULL: where both are
 *              rated, else where their family is
 */
enum exit_code pair_make(struct oil_list *oil_list, const char *at,
                         struct blend_pair *pair, struct error *error);

/** A job of the pair, without a target or a batch. */
struct mw_mix_job pair_job(const struct blend_pair *pair,
                           const struct mw_mix_part parts[2]);

/** The share of the second oil that gives a viscosity, as an axis_scale; the
 * context is the pair. */
double pair_share(double v, const void *context);

/** The viscosity of a share of the second oil by a method; NaN for none. */
double pair_viscosity(const struct blend_pair *pair, double share,
                      const struct mw_method *method);

/** The limits of a mix, k = 2, dosed exactly; NaN where they are not known. */
void pair_band(const struct blend_pair *pair, double share, double *low,
               double *high);

/** EXIT_NO_ANSWER for a viscosity that is not between the oils. */
enum exit_code pair_check_target(const struct blend_pair *pair, double v,
                                 struct error *error);

/** Where the excess comes from, such as "from 3 of your mixes". */
const char *pair_excess_source(const struct blend_pair *pair,
                               char buffer[SOURCE_LENGTH]);

#endif
