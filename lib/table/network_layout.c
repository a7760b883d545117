/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* the unknowns and rows of a network */
#include <math.h>
#include <stdlib.h>

#include "base/range.h"
#include "fluid/oil_internal.h"
#include "table/bottle.h"
#include "table/dosing.h"
#include "table/network_internal.h"

/* of ln v: of a point that readings alone determine; next to nothing is known
 * beforehand, our own choice */
#define UNDETERMINED 3.0

enum {
    PAIRED_BASES = 8 /* of a mix of more oils the pairs have no excess of their
                        own: each counts for next to nothing (our own
                        limit) */
};

static size_t add(struct mw_network *network, double mean, double s,
                  enum mw_source_kind kind, size_t index)
{
    network->unknowns[network->count] = (struct mw_unknown){mean, s, 0};
    network->owners[network->count] = (struct mw_network_owner){kind, index};
    network->scratch[network->count] = mean; /* to find compositions with */
    return network->count++;
}

/* -- Bottles -------------------------------------------------------------- */

/* a petroleum oil of one point, and a reading that gives it a slope */
static void find_far_point(const struct mw_network *network, size_t bottle,
                           struct mw_network_place *place)
{
    const struct mw_oil *label = &network->bottles[bottle].label;
    bool one = label->family == MW_MINERAL && label->count == 1;
    place->far_v = place->far_t = NAN;
    for (size_t i = 0; i < network->m && one && isnan(place->far_v); i++) {
        const struct mw_network_reading *reading = &network->readings[i];
        double away = reading->temperature - label->points[0].temperature;
        if (reading->bottle == bottle && fabs(away) >= MW_SLOPE_SPAN) {
            place->far_t = reading->temperature;
            place->far_v = reading->viscosity;
        }
    }
}

/* as many errors as it has points; one by an index has that of its index in
 * place of the second */
static void add_points(struct mw_network *network, size_t bottle, double s,
                       struct mw_network_place *place)
{
    const struct mw_oil *label = &network->bottles[bottle].label;
    place->points = label->count;
    add(network, 0, s, MW_SOURCE_LABEL, bottle);
    if (!isnan(label->index)) {
        mw_index_slopes(label->points[0].viscosity, label->points[1].viscosity,
                        &place->along, &place->across);
        add(network, 0, MW_INDEX_UNCERTAINTY, MW_SOURCE_LAW, bottle);
        return;
    }
    for (size_t i = 1; i < label->count; i++) {
        add(network, 0, s, MW_SOURCE_LABEL, bottle);
    }
}

static enum mw_status add_label(struct mw_network *network, size_t bottle,
                                struct mw_network_place *place)
{
    const struct mw_network_bottle *labelled = &network->bottles[bottle];
    bool silicone = labelled->label.family == MW_SILICONE;
    bool several = labelled->label.count > 1 && isnan(labelled->label.index);
    double s;
    if (!(labelled->tolerance > 0 && labelled->tolerance < 1)) {
        return MW_ERR_UNCERTAINTY;
    }
    enum mw_status status = mw_rectangular(labelled->tolerance, &s);
    double common = !silicone && several ? MW_POINTS_COMMON : 0;
    find_far_point(network, bottle, place);
    add_points(network, bottle, s * sqrt(1 - common), place);
    if (!isnan(place->far_v)) {
        add(network, 0, UNDETERMINED, MW_SOURCE_LAW, bottle);
        place->points++;
    }
    if (common > 0) {
        place->common =
            add(network, 0, s * sqrt(common), MW_SOURCE_LABEL, bottle);
    }
    if (silicone && !several) {
        place->energy =
            add(network, 0, MW_ENERGY_UNCERTAINTY, MW_SOURCE_LAW, bottle);
    }
    return status;
}

static enum mw_status check_parts(const struct mw_network *network)
{
    bool sound = true;
    for (size_t i = 0; i < network->n; i++) {
        const struct mw_network_bottle *mix = &network->bottles[i];
        for (size_t j = 0; j < mix->part_count; j++) {
            double volume = mix->parts[j].volume_ml;
            sound = sound && volume > 0 && isfinite(volume) &&
                    mix->parts[j].bottle < network->n;
        }
    }
    return sound ? MW_OK : MW_ERR_READINGS;
}

static void add_doses(struct mw_network *network, size_t bottle,
                      struct mw_network_place *place)
{
    const struct mw_network_bottle *mix = &network->bottles[bottle];
    double smallest = INFINITY, largest = 0;
    for (size_t i = 0; i < mix->part_count; i++) {
        double volume = mix->parts[i].volume_ml;
        if (volume > largest) {
            largest = volume;
            place->largest = i;
        }
        smallest = fmin(smallest, volume);
    }
    double s =
        isfinite(mix->dose_ml) ? mix->dose_ml : MW_DOSE_UNKNOWN * smallest;
    for (size_t i = 0; i + 1 < mix->part_count; i++) {
        add(network, 0, s, MW_SOURCE_RECIPE, bottle);
    }
}

/* the pairs of a mix that was measured; no oil has moved yet */
static enum mw_status add_pairs(struct mw_network *network, size_t bottle)
{
    struct mw_composition composition;
    const struct mw_composition *bases = &composition;
    if (network->bottles[bottle].part_count == 0) {
        return MW_OK;
    }
    composition = (struct mw_composition){0};
    mw_network_compose(network, network->scratch, bottle, 1, 0, &composition);
    if (composition.broken) {
        return MW_ERR_READINGS;
    }
    for (size_t i = 0; i < bases->count && bases->count <= PAIRED_BASES; i++) {
        for (size_t j = 0; j < i; j++) {
            size_t one = bases->bottles[i], other = bases->bottles[j];
            if (mw_network_pair(network, one, other) != MW_NO_UNKNOWN) {
                continue;
            }
            network->pairs[network->pair_count++] = (struct mw_network_pair){
                one < other ? one : other, one < other ? other : one,
                add(network, 0, MW_EXCESS_PAIR, MW_SOURCE_EXCESS, 0)};
        }
    }
    return MW_OK;
}

static enum mw_status add_mix(struct mw_network *network, size_t bottle,
                              struct mw_network_place *place)
{
    add_doses(network, bottle, place);
    return network->places[bottle].head < network->m
               ? add_pairs(network, bottle)
               : MW_OK;
}

static enum mw_status add_bottles(struct mw_network *network)
{
    enum mw_status status = check_parts(network);
    for (size_t i = 0; i < network->n && status == MW_OK; i++) {
        struct mw_network_place *place = &network->places[i];
        place->first = network->count;
        place->common = place->energy = MW_NO_UNKNOWN;
        place->far_t = place->far_v = NAN;
        status = network->bottles[i].part_count == 0
                     ? add_label(network, i, place)
                     : add_mix(network, i, place);
    }
    return status;
}

/* -- What readings share -------------------------------------------------- */

static void add_common(struct mw_network *network,
                       struct mw_network_common *list, size_t *count,
                       long number, enum mw_source_kind kind)
{
    size_t i = 0;
    while (i < *count && list[i].number != number) {
        i++;
    }
    if (i == *count) {
        list[(*count)++] = (struct mw_network_common){
            number, add(network, 0, 1, kind, (size_t)number)};
    }
}

static void add_instruments(struct mw_network *network)
{
    network->thermometer = add(network, 0, 1, MW_SOURCE_THERMOMETER, 0);
    for (size_t i = 0; i < network->m; i++) {
        const struct mw_network_reading *reading = &network->readings[i];
        if (reading->instrument >= 0) {
            add_common(network, network->instruments,
                       &network->instrument_count, reading->instrument,
                       MW_SOURCE_INSTRUMENT);
        }
        if (reading->thermometer > 0) {
            add_common(network, network->days, &network->day_count,
                       reading->day, MW_SOURCE_THERMOMETER);
        }
    }
}

/* -- All of it ------------------------------------------------------------ */

static size_t pairs_at_most(const struct mw_network *network)
{
    size_t count = 1;
    for (size_t i = 0; i < network->m; i++) {
        const struct mw_network_reading *reading = &network->readings[i];
        size_t mixes = network->bottles[reading->bottle].part_count > 0;
        for (size_t j = 0; j < reading->reference_count; j++) {
            size_t known = reading->references[j].bottle;
            mixes += network->bottles[known].part_count > 0;
        }
        count += mixes * PAIRED_BASES * (PAIRED_BASES - 1);
    }
    return count;
}

static enum mw_status allocate(struct mw_network *network)
{
    size_t pairs = pairs_at_most(network), unknowns = 3 + 2 * network->m;
    for (size_t i = 0; i < network->n; i++) {
        unknowns += network->bottles[i].label.count + 2 +
                    network->bottles[i].part_count;
    }
    unknowns += pairs;
    network->places = calloc(network->n + 1, sizeof network->places[0]);
    network->unknowns = calloc(unknowns, sizeof network->unknowns[0]);
    network->owners = calloc(unknowns, sizeof network->owners[0]);
    network->scratch = calloc(unknowns, sizeof network->scratch[0]);
    network->pairs = calloc(pairs, sizeof network->pairs[0]);
    network->instruments =
        calloc(network->m + 1, sizeof network->instruments[0]);
    network->days = calloc(network->m + 1, sizeof network->days[0]);
    network->rows = calloc(network->m + 1, sizeof network->rows[0]);
    network->params = calloc(network->m + 1, sizeof network->params[0]);
    return network->places && network->unknowns && network->owners &&
                   network->scratch && network->pairs && network->instruments &&
                   network->days && network->rows && network->params
               ? MW_OK
               : MW_ERR_MEMORY;
}

/* the readings of each bottle, in their order */
static void list_readings(struct mw_network *network)
{
    for (size_t i = 0; i < network->n; i++) {
        network->places[i].head = network->m;
    }
    for (size_t i = network->m; i-- > 0;) {
        size_t bottle = network->readings[i].bottle;
        network->params[i].next = network->places[bottle].head;
        network->places[bottle].head = i;
    }
}

static enum mw_status add_reference_pairs(struct mw_network *network)
{
    enum mw_status status = MW_OK;
    for (size_t i = 0; i < network->m; i++) {
        const struct mw_network_reading *reading = &network->readings[i];
        for (size_t j = 0; j < reading->reference_count && status == MW_OK;
             j++) {
            status = add_pairs(network, reading->references[j].bottle);
        }
    }
    return status;
}

enum mw_status mw_network_lay_out(struct mw_network *network)
{
    enum mw_status status = mw_network_check_readings(network);
    if (status != MW_OK || (status = allocate(network)) != MW_OK) {
        return status;
    }
    list_readings(network);
    status = add_bottles(network);
    if (status != MW_OK) {
        return status;
    }
    network->excess = add(network, MW_SILICONE_EXCESS,
                          (MW_EXCESS_HIGH - MW_EXCESS_LOW) / 2 / sqrt(3),
                          MW_SOURCE_EXCESS, 0);
    network->thin = add(network, 0, MW_EXCESS_THIN, MW_SOURCE_EXCESS, 0);
    add_instruments(network);
    status = add_reference_pairs(network);
    return status == MW_OK ? mw_network_add_rows(network) : status;
}
