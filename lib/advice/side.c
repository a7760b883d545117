/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/side.h"

#include <math.h>
#include <stdbool.h>

/* of |ln v/target|: where each band ends */
static const double band_ends[MW_SIDE_BANDS] = {.01, .03, .06, .12, .25,
                                                .5,  1,   2,   4,   9};
/* parts of the batch that a bottle holds */
static const double levels[MW_SIDE_LEVELS] = {0, 0.25, 0.5, 1};

static void add_nearest(struct mw_side *side, const struct mw_seen *seen)
{
    size_t i = side->count;
    if (i == MW_SIDE_NEAREST) {
        if (seen->away >= side->nearest[--i].away) {
            return;
        }
    } else {
        side->count++;
    }
    for (; i > 0 && side->nearest[i - 1].away > seen->away; i--) {
        side->nearest[i] = side->nearest[i - 1];
    }
    side->nearest[i] = *seen;
}

static bool beats(const struct mw_candidate *candidate,
                  const struct mw_seen *best)
{
    return !best->candidate ||
           candidate->uncertainty < best->candidate->uncertainty;
}

/* What holds more is no better known, so the last level is the easiest; few
 * beat even that, so it is asked first. */
static void add_best(struct mw_side *side, const struct mw_seen *seen,
                     double batch)
{
    size_t band = 0;
    for (size_t i = 0; i < MW_SIDE_BANDS - 1; i++) {
        band += seen->away > band_ends[i];
    }
    struct mw_seen *best = side->best[band];
    if (!beats(seen->candidate, &best[MW_SIDE_LEVELS - 1])) {
        return;
    }
    for (size_t i = 0; i < MW_SIDE_LEVELS; i++) {
        if (beats(seen->candidate, &best[i]) &&
            !(seen->candidate->left < levels[i] * batch)) {
            best[i] = *seen;
        }
    }
}

static bool takes_part(const struct mw_candidate *candidate)
{
    return candidate->uncertainty >= 0 && isfinite(candidate->uncertainty) &&
           !(candidate->left <= 0);
}

/* sides[0] is thinner than the target, sides[1] thicker */
void mw_sides_fill(const struct mw_candidate *candidates, size_t n,
                   const struct mw_wish *wish, struct mw_side sides[2])
{
    for (size_t i = 0; i < n; i++) {
        double v;
        if (takes_part(&candidates[i]) &&
            mw_oil_viscosity(candidates[i].oil, wish->temperature, &v) ==
                MW_OK &&
            v != wish->target) {
            struct mw_side *side = &sides[v > wish->target];
            struct mw_seen seen = {&candidates[i], v,
                                   fabs(log(v / wish->target))};
            add_nearest(side, &seen);
            add_best(side, &seen, wish->batch);
        }
    }
}

/* each candidate once; how many */
size_t mw_side_list(const struct mw_side *side,
                    struct mw_seen list[MW_SIDE_MAX])
{
    const struct mw_seen *const best = &side->best[0][0];
    size_t count = 0;
    for (size_t i = 0; i < side->count; i++) {
        list[count++] = side->nearest[i];
    }
    for (size_t i = 0; i < (size_t)MW_SIDE_BANDS * MW_SIDE_LEVELS; i++) {
        bool good = best[i].candidate != NULL;
        for (size_t j = 0; j < count && good; j++) {
            good = list[j].candidate != best[i].candidate;
        }
        if (good) {
            list[count++] = best[i];
        }
    }
    return count;
}
