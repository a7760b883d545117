/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/choose.h"

#include <math.h>
#include <stdbool.h>

#include "advice/pairing.h"
#include "base/range.h"
#include "blend/dose.h"
#include "fluid/walther.h"

enum {
    SHORTLIST = 64 /* pairs among which the whole numbers decide */
};

/* what is asked, and the best pairs so far, the best first */
struct search {
    struct mw_wish wish;
    struct mw_pairing list[SHORTLIST];
    size_t count;
    enum mw_status failure; /* why there is no pair so far */
};

static bool prepare(struct mw_candidate *candidate)
{
    candidate->ln_v = log(candidate->viscosity);
    mw_walther_slope(candidate->viscosity, &candidate->slope);
    return mw_walther_w(candidate->viscosity, &candidate->w) == MW_OK &&
           candidate->uncertainty >= 0 && isfinite(candidate->uncertainty) &&
           !(candidate->left <= 0);
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

static bool fits_list(const struct search *search, double estimate)
{
    return search->count < SHORTLIST ||
           estimate < search->list[SHORTLIST - 1].estimate;
}

static void shortlist(struct search *search, const struct mw_pairing *pairing)
{
    size_t i = search->count < SHORTLIST ? search->count++ : SHORTLIST - 1;
    for (; i > 0 && search->list[i - 1].estimate > pairing->estimate; i--) {
        search->list[i] = search->list[i - 1];
    }
    search->list[i] = *pairing;
}

static void look_at(struct search *search, const struct mw_candidate *thin,
                    const struct mw_candidate *thick)
{
    const struct mw_wish *wish = &search->wish;
    struct mw_pairing pairing = {.thin = thin, .thick = thick};
    pairing.share = mw_straight_share(wish, wish->slope, thin, thick);
    pairing.variance = mw_pairing_variance(&wish->excess, wish->slope, thin,
                                           thick, pairing.share);
    pairing.estimate = pairing.variance;
    if (!fits_list(search, pairing.estimate)) {
        return;
    }
    enum mw_status status = mw_pairing_solve(wish, &pairing);
    if (status == MW_OK) {
        shortlist(search, &pairing);
    } else if (search->failure == MW_ERR_TARGET ||
               status == MW_ERR_INSUFFICIENT_STOCK) {
        search->failure = status;
    }
}

static struct mw_choice choice_of(const struct mw_pairing *pairing)
{
    struct mw_choice choice = {.thin = pairing->thin->id,
                               .thick = pairing->thick->id,
                               .share = pairing->share,
                               .uncertainty = sqrt(pairing->variance)};
    mw_dose_ratio(pairing->share, MW_PARTS_COUNTED, &choice.parts[0],
                  &choice.parts[1]);
    return choice;
}

/* how many parts there are to count out; more than any that can be where one
 * oil has none, as its share is too small */
static int parts_of(const struct mw_choice *choice)
{
    return choice->parts[0] > 0 && choice->parts[1] > 0
               ? choice->parts[0] + choice->parts[1]
               : 2 * MW_PARTS_COUNTED + 1;
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
        int parts = parts_of(&choice);
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
    if (!isfinite(excess->value)) {
        return MW_ERR_EXCESS;
    }
    return excess->uncertainty >= 0 && isfinite(excess->uncertainty)
               ? MW_OK
               : MW_ERR_UNCERTAINTY;
}

enum mw_status mw_choose(struct mw_candidate *candidates, size_t n,
                         double target, double batch,
                         const struct mw_excess *excess,
                         struct mw_choice choices[MW_CHOICES], size_t *count)
{
    struct search search = {
        .wish = {.target = target, .batch = batch, .excess = *excess},
        .failure = MW_ERR_TARGET};
    size_t thinner, thicker;
    *count = 0;
    enum mw_status status = check(target, batch, excess);
    if (status != MW_OK) {
        return status;
    }
    search.wish.ln_target = log(target);
    mw_walther_w(target, &search.wish.w);
    mw_walther_slope(target, &search.wish.slope);
    part(candidates, n, target, &thinner, &thicker);
    for (size_t i = 0; i < thinner; i++) {
        for (size_t j = thicker; j < n; j++) {
            look_at(&search, &candidates[i], &candidates[j]);
        }
    }
    while (*count < MW_CHOICES && search.count > 0) {
        choices[(*count)++] = take_best(&search);
    }
    return *count > 0 ? MW_OK : search.failure;
}
