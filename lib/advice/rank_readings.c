/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/rank_readings.h"

#include <math.h>
#include <stdbool.h>

#include "advice/next_reading.h"
#include "base/range.h"
#include "uncertainty/budget.h"

/* the mixes of a band, and the bottles that they are made of */
struct band {
    const struct mw_network *network;
    double temperature;
    size_t count; /* of mixes */
    size_t pairs[MW_BAND_TARGETS][2];
    double shares[MW_BAND_TARGETS][2];
    size_t bottle_count;
    size_t bottles[2 * MW_BAND_TARGETS];
    double before;                     /* sums of squares */
    double after[2 * MW_BAND_TARGETS]; /* of each bottle */
};

static void add_bottle(struct band *band, size_t bottle)
{
    size_t i = 0;
    while (i < band->bottle_count && band->bottles[i] != bottle) {
        i++;
    }
    band->bottles[i] = bottle;
    band->bottle_count += i == band->bottle_count;
}

static void add_mix(struct band *band, const struct mw_choice *choice)
{
    size_t i = band->count++;
    band->pairs[i][0] = choice->thin;
    band->pairs[i][1] = choice->thick;
    band->shares[i][0] = 1 - choice->share;
    band->shares[i][1] = choice->share;
    add_bottle(band, choice->thin);
    add_bottle(band, choice->thick);
}

/* the pair of each target that can be mixed */
static void choose_all(const struct mw_candidate *candidates, size_t n,
                       double low, double high, struct band *band)
{
    struct mw_wish one = {.temperature = band->temperature};
    struct mw_choice choices[MW_CHOICES];
    size_t count;
    for (int i = 0; i < MW_BAND_TARGETS; i++) {
        one.target = low * pow(high / low, (i + 0.5) / MW_BAND_TARGETS);
        mw_network_usual_excess(band->network, one.target, &one.excess);
        if (mw_choose(candidates, n, &one, choices, &count) == MW_OK) {
            add_mix(band, &choices[0]);
        }
    }
}

/* one mix, as it is known and after a reading of each bottle */
static enum mw_status add_up(struct band *band, size_t index)
{
    const struct mw_network_mix mix = {2,
                                       band->pairs[index],
                                       band->shares[index],
                                       band->temperature,
                                       0,
                                       NULL,
                                       NULL,
                                       false};
    double after[2 * MW_BAND_TARGETS], itself, v;
    struct mw_budget budget;
    enum mw_status status =
        mw_network_mix(band->network, &mix, &v, &budget, NULL);
    if (status == MW_OK) {
        status = mw_network_after(band->network, &mix, band->bottles,
                                  band->bottle_count, MW_CAREFUL_READING, after,
                                  &itself);
    }
    if (status == MW_OK) {
        double u = mw_budget_combined(&budget);
        band->before += u * u;
        for (size_t i = 0; i < band->bottle_count; i++) {
            band->after[i] += after[i] * after[i];
        }
    }
    return status;
}

/* keep the readings that help most, the best first */
static void keep(const struct band *band, size_t bottle,
                 struct mw_ranked_readings *ranked)
{
    const struct mw_ranked_reading reading = {
        band->bottles[bottle], sqrt(band->after[bottle] / (double)band->count)};
    size_t i = ranked->count;
    if (i < MW_RANKED) {
        ranked->count++;
    } else if (reading.after >= ranked->list[--i].after) {
        return;
    }
    for (; i > 0 && ranked->list[i - 1].after > reading.after; i--) {
        ranked->list[i] = ranked->list[i - 1];
    }
    ranked->list[i] = reading;
}

enum mw_status mw_rank_readings(const struct mw_network *network,
                                const struct mw_candidate *candidates, size_t n,
                                double temperature, double low, double high,
                                struct mw_ranked_readings *ranked)
{
    struct band band = {.network = network, .temperature = temperature};
    *ranked = (struct mw_ranked_readings){.before = NAN};
    if (!mw_viscosity_in_range(low) || !mw_viscosity_in_range(high) ||
        !(low < high)) {
        return MW_ERR_VISCOSITY;
    }
    choose_all(candidates, n, low, high, &band);
    enum mw_status status = band.count > 0 ? MW_OK : MW_ERR_TARGET;
    for (size_t i = 0; i < band.count && status == MW_OK; i++) {
        status = add_up(&band, i);
    }
    if (status != MW_OK) {
        return status;
    }
    ranked->before = sqrt(band.before / (double)band.count);
    for (size_t i = 0; i < band.bottle_count; i++) {
        keep(&band, i, ranked);
    }
    return MW_OK;
}
