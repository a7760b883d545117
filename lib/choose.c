/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "choose.h"

#include <math.h>
#include <stdbool.h>

#include "dose.h"
#include "mixture.h"
#include "pair.h"
#include "walther.h"

enum {
    SHORTLIST = 64 /* pairs that are solved with the excess */
};

/* The excess moves a share by a few hundredths at most between oils one would
 * mix: a pair that falls short by less than this is looked at again. */
#define NEARLY_ENOUGH 1.2

/* a pair by the plain rule */
struct pairing {
    const struct mw_candidate *thin, *thick;
    double share;    /* of the thick one */
    double variance; /* of ln v */
};

/* what is asked, and the best pairs so far, the best first */
struct search {
    double target, w, slope, batch;
    struct mw_excess excess;
    struct pairing list[SHORTLIST];
    size_t count;
    bool reached; /* by a pair that may hold too little */
};

static bool prepare(struct mw_candidate *candidate)
{
    candidate->ln_v = log(candidate->viscosity);
    return mw_walther_w(candidate->viscosity, &candidate->w) == MW_OK &&
           mw_walther_slope(candidate->viscosity, &candidate->slope) == MW_OK &&
           candidate->uncertainty >= 0 && !(candidate->left <= 0);
}

/* the thinner ones to the front, the thicker ones to the end, what takes no
 * part in between */
static void part(struct mw_candidate *candidates, size_t n, double target,
                 size_t *thinner, size_t *thicker)
{
    *thinner = 0;
    *thicker = n;
    for (size_t i = 0; i < *thicker;) {
        struct mw_candidate here = candidates[i];
        bool good = prepare(&here);
        if (good && here.viscosity < target) {
            candidates[i++] = candidates[*thinner];
            candidates[(*thinner)++] = here;
        } else if (good && here.viscosity > target) {
            candidates[i] = candidates[--*thicker];
            candidates[*thicker] = here;
        } else {
            i++;
        }
    }
}

static bool enough(const struct mw_candidate *candidate, double ml)
{
    return !(candidate->left < ml);
}

/* ln v of a mix moves with each oil by its share times the ratio of slopes of
 * the chart, and with K by f1 f2 (ln v1/v2)^2 */
static double variance_of(const struct search *search,
                          const struct mw_candidate *thin,
                          const struct mw_candidate *thick, double share)
{
    double ln_ratio = thick->ln_v - thin->ln_v;
    double by_thin =
        (1 - share) * search->slope / thin->slope * thin->uncertainty;
    double by_thick = share * search->slope / thick->slope * thick->uncertainty;
    double by_excess =
        search->excess.uncertainty * share * (1 - share) * ln_ratio * ln_ratio;
    return by_thin * by_thin + by_thick * by_thick + by_excess * by_excess;
}

static void shortlist(struct search *search, const struct pairing *pairing)
{
    size_t i = search->count < SHORTLIST ? search->count++ : SHORTLIST - 1;
    for (; i > 0 && search->list[i - 1].variance > pairing->variance; i--) {
        search->list[i] = search->list[i - 1];
    }
    search->list[i] = *pairing;
}

static bool fits_list(const struct search *search, double variance)
{
    return search->count < SHORTLIST ||
           variance < search->list[SHORTLIST - 1].variance;
}

static void look_at(struct search *search, const struct mw_candidate *thin,
                    const struct mw_candidate *thick)
{
    if (thick->viscosity > MW_RATIO_MAX * thin->viscosity) {
        return;
    }
    search->reached = true;
    struct pairing pairing = {thin, thick, 0, 0};
    pairing.share = (search->w - thin->w) / (thick->w - thin->w);
    pairing.variance = variance_of(search, thin, thick, pairing.share);
    if (fits_list(search, pairing.variance) &&
        enough(thin, (1 - pairing.share) * search->batch / NEARLY_ENOUGH) &&
        enough(thick, pairing.share * search->batch / NEARLY_ENOUGH)) {
        shortlist(search, &pairing);
    }
}

/* the share with the excess; false where it is not to be had */
static bool solve(const struct search *search, struct pairing *pairing)
{
    const struct mw_line no_lines[2] = {{NAN, NAN}, {NAN, NAN}};
    const double v[2] = {pairing->thin->viscosity, pairing->thick->viscosity};
    struct mw_pair pair =
        mw_pair_of(no_lines, v, NAN, MW_RULE_ASTM, search->excess.value);
    if (mw_pair_share(&pair, search->target, &pairing->share) != MW_OK) {
        return false;
    }
    pairing->variance =
        variance_of(search, pairing->thin, pairing->thick, pairing->share);
    return enough(pairing->thin, (1 - pairing->share) * search->batch) &&
           enough(pairing->thick, pairing->share * search->batch);
}

static void keep_solved(struct search *search)
{
    size_t kept = 0;
    for (size_t i = 0; i < search->count; i++) {
        struct pairing pairing = search->list[i];
        if (solve(search, &pairing)) {
            search->list[kept++] = pairing;
        }
    }
    search->count = kept;
}

static struct mw_choice choice_of(const struct pairing *pairing)
{
    struct mw_choice choice = {.thin = pairing->thin->id,
                               .thick = pairing->thick->id,
                               .share = pairing->share,
                               .uncertainty = sqrt(pairing->variance)};
    mw_dose_ratio(pairing->share, MW_CHOICE_PARTS, &choice.parts[0],
                  &choice.parts[1]);
    return choice;
}

/* the best of the list is taken off it */
static struct mw_choice take_best(struct search *search)
{
    double least = INFINITY;
    for (size_t i = 0; i < search->count; i++) {
        least = fmin(least, search->list[i].variance);
    }
    double limit = least * (1 + MW_CHOICE_EQUAL) * (1 + MW_CHOICE_EQUAL);
    struct mw_choice best = {.uncertainty = NAN};
    size_t taken = 0;
    int fewest = 0;
    for (size_t i = 0; i < search->count; i++) {
        struct mw_choice choice = choice_of(&search->list[i]);
        int parts = choice.parts[0] + choice.parts[1];
        bool better = parts < fewest || (parts == fewest &&
                                         choice.uncertainty < best.uncertainty);
        if (search->list[i].variance <= limit && (fewest == 0 || better)) {
            best = choice;
            fewest = parts;
            taken = i;
        }
    }
    search->list[taken] = search->list[--search->count];
    return best;
}

static enum mw_status check(double target, double batch,
                            const struct mw_excess *excess)
{
    if (!mw_viscosity_in_range(target)) {
        return MW_ERR_VISCOSITY;
    }
    if (!(batch >= 0 && isfinite(batch))) {
        return MW_ERR_AMOUNT;
    }
    return isfinite(excess->value) && excess->uncertainty >= 0 ? MW_OK
                                                               : MW_ERR_EXCESS;
}

enum mw_status mw_choose(struct mw_candidate *candidates, size_t n,
                         double target, double batch,
                         const struct mw_excess *excess,
                         struct mw_choice choices[MW_CHOICES], size_t *count)
{
    struct search search = {
        .target = target, .batch = batch, .excess = *excess};
    size_t thinner, thicker;
    *count = 0;
    enum mw_status status = check(target, batch, excess);
    if (status != MW_OK) {
        return status;
    }
    mw_walther_w(target, &search.w);
    mw_walther_slope(target, &search.slope);
    part(candidates, n, target, &thinner, &thicker);
    for (size_t i = 0; i < thinner; i++) {
        for (size_t j = thicker; j < n; j++) {
            look_at(&search, &candidates[i], &candidates[j]);
        }
    }
    keep_solved(&search);
    while (*count < MW_CHOICES && search.count > 0) {
        choices[(*count)++] = take_best(&search);
    }
    if (*count == 0) {
        return search.reached ? MW_ERR_LEFT : MW_ERR_TARGET;
    }
    return MW_OK;
}
