/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * mix_answer - a mix of bottles, answered completely: what to pour, what comes
 * of it, and how sure that is.
 */
#ifndef MIDWEIGHT_TABLE_MIX_ANSWER_H
#define MIDWEIGHT_TABLE_MIX_ANSWER_H

#include <stdbool.h>
#include <stddef.h>

#include "base/status.h"
#include "blend/mix.h"
#include "blend/recipe.h"
#include "table/network.h"
#include "uncertainty/budget.h"

#ifdef __cplusplus
extern "C" {
#endif

/** Bottles that are mixed, and all that is known of them. */
struct mw_mix_oils {
    const struct mw_network *network;
    size_t count;                        /* 1 to MW_MIX_OILS_MAX */
    size_t nodes[MW_MIX_OILS_MAX];       /* indices of bottles */
    struct mw_oil oils[MW_MIX_OILS_MAX]; /* at best values */
    double uncertainty[MW_MIX_OILS_MAX]; /* standard, of ln v where rated */
    struct mw_method method;             /* with K of the first two */
    double excess_uncertainty;           /* standard, of that K */
    bool exact;                          /* the method was given */
    struct mw_network_bases bases;
};

/**
 * Bring together what is known of bottles that are to be mixed.
 *
 * Given:     network made; it must outlive what is returned
 *            nodes, count  indices of its bottles, 1 to MW_MIX_OILS_MAX
 *            method  a rule and K to take as exact; NULL: the usual rule of
 *                    the family, and K by all that is known
 * Returned:  oils    all of it
 * Failures:  MW_ERR_FAMILY  bottles of two families
 *            MW_ERR_BUDGET  no bottle, or more oils than MW_MIX_OILS_MAX
 *            those of mw_network_oil()
 */
MW_API enum mw_status mw_mix_gather(const struct mw_network *network,
                                    const size_t *nodes, size_t count,
                                    const struct mw_method *method,
                                    struct mw_mix_oils *oils);

/** What a job comes to. */
struct mw_mix_answer {
    struct mw_mix mix;                    /* of all oils */
    double shares[MW_MIX_OILS_MAX];       /* of what is poured alone */
    double poured_viscosity;              /* mm2/s of what is poured alone */
    double plain_shares[MW_MIX_OILS_MAX]; /* what would be poured by the
                                             standard alone; NaN: it has no
                                             answer */
    bool left_shifts; /* what is in the cup already could not be made up for:
                         this is the recipe without it, and what it becomes */
    bool tops_up;     /* oil mix.open[0] is added to amounts that are there */
    struct mw_budget budget;
    struct mw_sources sources;
    double uncertainty; /* standard, of ln v: the budget combined */
    double low, high;   /* mm2/s, k = 2; NaN beyond the range of viscosities */
    bool has_recipe;
    struct mw_recipe recipe; /* rounded to the tools */
    double settle_s;         /* for the batch to stand; NaN: not known */
    double settle_depth;     /* m, of the batch */
    unsigned warnings;       /* a set of enum mw_warning */
};

/**
 * Answer a mix.
 *
 * Given:     oils    gathered
 *            job     as for mw_mix_solve(), of as many oils; its oils, bases
 *                    and method are not used
 * Returned:  answer  all of it. A recipe where the job has a tool, a batch that
 *                    is known, and an amount that was not given. On failure
 *                    what mix and recipe say of that, all else as it comes
 * Failures:  those of mw_mix_solve(), mw_network_mix() and mw_recipe();
 *            MW_ERR_UNKNOWNS  not as many oils as were gathered
 */
MW_API enum mw_status mw_mix_answer(const struct mw_mix_oils *oils,
                                    const struct mw_mix_job *job,
                                    struct mw_mix_answer *answer);

/**
 * What a mix is, as the label of the bottle that it goes into.
 *
 * Given:     oils, job  as above
 *            answer  of them, without anything that was in the cup already
 * Returned:  label   the viscosity of the recipe at the temperature of the job;
 *                    of oils that are all known at several temperatures also
 *                    that at a second one
 * Failures:  those of mw_mixture(), mw_mixture_density() and mw_oil_make()
 */
MW_API enum mw_status mw_mix_label(const struct mw_mix_oils *oils,
                                   const struct mw_mix_job *job,
                                   const struct mw_mix_answer *answer,
                                   struct mw_oil *label);

/**
 * A mix as a question to the network, such as for mw_next_reading().
 *
 * Given:     oils, job  as above
 *            mix     solved
 * Returned:  doses   room for MW_MIX_OILS_MAX uncertainties, which the question
 *                    points to
 *            the question; it points to oils, mix and doses
 */
MW_API struct mw_network_mix mw_mix_question(const struct mw_mix_oils *oils,
                                             const struct mw_mix_job *job,
                                             const struct mw_mix *mix,
                                             double *doses);

#ifdef __cplusplus
}
#endif

#endif
