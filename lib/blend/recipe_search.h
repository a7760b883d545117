/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * recipe_search - the whole steps of two oils that come nearest to a mix.
 * Internal to the library.
 */
#ifndef MIDWEIGHT_BLEND_RECIPE_SEARCH_H
#define MIDWEIGHT_BLEND_RECIPE_SEARCH_H

#include <stdbool.h>
#include <stddef.h>

#include "blend/recipe.h"

/* rounding: a batch of just 60 steps may come out as 59.999... */
#define MW_STEPS_SLACK 1e-9

struct mw_recipe_search {
    const struct mw_mix_job *job;
    const struct mw_mix *mix;
    double least, most; /* of a batch: ml, or g where it is asked for in g */
    double goal;        /* ln v */
    double good;        /* a miss up to this is none */
    bool rounded[MW_MIX_OILS_MAX];   /* the others keep their volumes */
    size_t first, second;            /* the two that are searched */
    int steps[MW_MIX_OILS_MAX];      /* under trial */
    double volumes[MW_MIX_OILS_MAX]; /* likewise, ml */
    int best[MW_MIX_OILS_MAX];
    double best_batch, best_miss;
};

/** What 1 ml of an oil counts towards the batch: 1 ml, or its g. */
double mw_recipe_weight(const struct mw_recipe_search *search, size_t i);

/** The nearest number of steps of an oil that can be measured, of a volume in
 * ml; 0 where its bottle holds none. */
double mw_recipe_nearest(const struct mw_recipe_search *search, size_t i,
                         double ml);

/**
 * Search all steps of the two oils, as mw_recipe() describes.
 *
 * Given:     search  all but what is under trial
 * Returned:  whether anything fits
 *            search  the best
 */
bool mw_recipe_search(struct mw_recipe_search *search);

#endif
