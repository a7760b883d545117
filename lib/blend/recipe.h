/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * recipe - a mix in whole steps of what it is measured with: graduations of a
 * syringe, the resolution of a scale, drops.
 *
 * A batch may be a little larger than the one asked for, since more of the
 * right oil is better than the wrong one, and is never smaller. What is
 * compared is viscosity, not share: how much a step matters depends on how far
 * apart the oils are, and on where between them the target lies.
 */
#ifndef MIDWEIGHT_BLEND_RECIPE_H
#define MIDWEIGHT_BLEND_RECIPE_H

#include "base/status.h"
#include "blend/mix.h"

#ifdef __cplusplus
extern "C" {
#endif

/* a batch may be this much larger, or one step of each oil if that is more; our
 * own choice */
#define MW_RECIPE_EXCESS 0.15

/* of the expanded uncertainty: recipes that miss by less are equally good; our
 * own choice, it widens the uncertainty by less than 1 % */
#define MW_RECIPE_MISS 0.1

/* of the batch: batches that differ by less are equally small; our own choice,
 * so that the last digit of a scale meets the target */
#define MW_RECIPE_SAME 0.001

enum {
    MW_STEPS_FEW = 10,     /* fewer are noted; common practice, no source */
    MW_STEPS_MAX = 100000, /* of a batch; our own limit, keeps it quick */
};

/** One oil of a recipe. */
struct mw_dose {
    int steps;           /* whole; 0 for an oil that is not measured out */
    double volume_ml;    /* of all oils */
    int draws;           /* of the syringe; 1 for all else */
    double last_draw_ml; /* the last of them; all others are full */
};

/** What is poured. */
struct mw_recipe {
    struct mw_dose doses[MW_MIX_OILS_MAX];
    double shares[MW_MIX_OILS_MAX]; /* what they really are */
    double total_ml;
    double viscosity;  /* mm2/s, what it really gives */
    double miss;       /* ln v of the recipe less that of the mix; times 100 it
                          is per cent */
    unsigned warnings; /* MW_WARN_FEW_STEPS, MW_WARN_COARSE */
    double works;      /* where nothing fits: a smaller batch that does, in the
                          unit of the job's batch; NaN: none */
};

/**
 * Round a mix to what its tools can measure.
 *
 * Given:     job     with its tools
 *            mix     of mw_mix_solve()
 *            expanded  uncertainty of ln v, k = 2, zero or more; NaN as 0
 * Returned:  recipe  of the batches from the one asked for to
 *                    1 + MW_RECIPE_EXCESS of it (or one step of each oil more,
 *                    if that is larger) the smallest that misses by at most
 *                    MW_RECIPE_MISS of expanded (of those as small, by
 *                    MW_RECIPE_SAME, the one that misses least), else the one
 *                    that misses least of all, with MW_WARN_COARSE. Every dose
 *                    is one step or more, and no more than its bottle holds.
 *                    Without a batch (a top-up) each dose is rounded to the
 *                    nearest step.
 *                    Amounts that were given in ml, g or drops stay.
 * Failures:  MW_ERR_AMOUNT  a volume of the mix is not known
 *            MW_ERR_TOOL  an oil has no tool, nothing fits (the bottles hold
 *                    too little), or a batch has over MW_STEPS_MAX steps
 * Notes:     two oils are searched without gaps, as ln v is steady in the
 *            share. Of more, those that were solved for (or the thinnest and
 *            the one farthest from it) are searched, and the others follow in
 *            proportion, to the nearest step.
 */
MW_API enum mw_status mw_recipe(const struct mw_mix_job *job,
                                const struct mw_mix *mix, double expanded,
                                struct mw_recipe *recipe);

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
