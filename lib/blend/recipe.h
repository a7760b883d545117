/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * recipe - a share in whole marks of what the oil is measured with.
 *
 * A mark is the least step of a tool, as ml of the oil: the mark of a syringe,
 * a drop, or what the last digit of a scale stands for (mw_dose_volume() of
 * that digit). Each oil may have a tool of its own.
 *
 * The batch may depart from the one asked for, since a little more or less of
 * the right oil is better than the wrong one. What is compared is viscosity,
 * not share: how much a mark matters depends on how far apart the oils are, and
 * on where between them the target lies. The rule of mixing is the caller's, as
 * a function, so that this module knows none.
 */
#ifndef MIDWEIGHT_BLEND_RECIPE_H
#define MIDWEIGHT_BLEND_RECIPE_H

#include "base/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/* of the batch; what a caller offers when the user names none, our own choice
 */
#define MW_RECIPE_TOLERANCE 0.15

/* of viscosity: recipes that miss by less than this are as good as each other;
 * our own limit, a fortieth of a degree (2 % per degree) */
#define MW_RECIPE_ENOUGH 0.0005

/* of viscosity: from here up the tool is called coarse; our own limit */
#define MW_RECIPE_COARSE 0.01

enum {
    MW_MARKS_FEW = 10,     /* fewer are noted; common practice, no source */
    MW_MARKS_MAX = 100000, /* of a batch; our own limit, keeps it quick */
};

/**
 * ln of the viscosity of a mix.
 *
 * Given:     share   of the second oil, 0 to 1
 *            params  the caller's own
 * Returned:  ln v; NaN where there is none: no recipe is made of that
 */
typedef double mw_ln_mix(double share, void *params);

/** What a recipe is wanted for. */
struct mw_order {
    double share;     /* of the second oil, above 0 and below 1 */
    double batch;     /* ml, above zero */
    double tolerance; /* part of the batch, 0 up to below 1 */
    double mark[2];   /* ml of one mark of each oil, above zero */
};

/** Whole marks of two oils. */
struct mw_recipe {
    int marks[2];      /* 1 or more of each; 0 on failure */
    double volumes[2]; /* ml */
    double batch;      /* ml, their sum */
    double share;      /* of the second oil, what it really is */
    double miss;       /* ln v of the recipe less that of the order; times 100
                          it is per cent */
    unsigned warnings; /* MW_WARN_FEW_MARKS, MW_WARN_COARSE */
};

/**
 * The whole marks of two oils that come nearest to a mix.
 *
 * Given:     order   share, batch and marks
 *            ln_v    the rule of mixing; params is handed to it
 * Returned:  recipe  the one with the smallest miss; of those tried that miss
 *                    by less than MW_RECIPE_ENOUGH, the one whose batch is
 *                    nearest
 * Failures:  MW_ERR_SHARES  share is not between 0 and 1
 *            MW_ERR_AMOUNT  batch, tolerance or a mark
 *            MW_ERR_VISCOSITY  the share asked for has no viscosity
 *            MW_ERR_TOOL  no whole marks make the batch, or it has more than
 *                    MW_MARKS_MAX
 * Notes:     for every number of marks of the first oil it tries the two of the
 *            second around the share; as ln v is steady in the share, no other
 *            can miss by less
 */
MW_API enum mw_status mw_recipe(const struct mw_order *order, mw_ln_mix *ln_v,
                                void *params, struct mw_recipe *recipe);

/**
 * The volume of a drop, from drops that were weighed.
 *
 * Given:     count   drops, above zero; 50 make a usable mean (common practice,
 *                    no source)
 *            mass    g of them all, above zero
 *            density g/ml
 * Returned:  volume  ml of one
 * Failures:  MW_ERR_AMOUNT, MW_ERR_DENSITY
 */
MW_API enum mw_status mw_drop_volume(double count, double mass, double density,
                                     double *volume);

#ifdef __cplusplus
}
#endif

#endif
