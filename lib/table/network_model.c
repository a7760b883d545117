/* SPDX-License-Identifier: GPL-3.0-or-later */
/* what bottles, mixes and readings are at given unknowns */
#include <math.h>

#include "blend/mixture.h"
#include "fluid/oil_internal.h"
#include "table/network_internal.h"

/* -- Compositions --------------------------------------------------------- */

static bool add_base(struct mw_composition *composition, size_t bottle,
                     double share)
{
    size_t i = 0;
    while (i < composition->count && composition->bottles[i] != bottle) {
        i++;
    }
    if (i == MW_BASES) {
        return false;
    }
    if (i == composition->count) {
        composition->bottles[i] = bottle;
        composition->shares[composition->count++] = 0;
    }
    composition->shares[i] += share;
    return true;
}

/* ml that went into a mix, with its dosing error */
static double volume_of(const struct mw_network *network, const double *x,
                        size_t mix, size_t part)
{
    const struct mw_network_place *place = &network->places[mix];
    double volume = network->bottles[mix].parts[part].volume_ml;
    if (part == place->largest) {
        return volume;
    }
    return volume + x[place->first + part - (part > place->largest ? 1 : 0)];
}

/* NOLINTNEXTLINE(misc-no-recursion): MW_CHAIN_MAX ends it */
bool mw_network_compose(const struct mw_network *network, const double *x,
                        size_t bottle, double share, int depth,
                        struct mw_composition *composition)
{
    const struct mw_network_bottle *mix = &network->bottles[bottle];
    double total = 0;
    if (mix->part_count == 0) {
        return add_base(composition, bottle, share);
    }
    for (size_t i = 0; i < mix->part_count; i++) {
        total += volume_of(network, x, bottle, i);
    }
    bool fits = depth < MW_CHAIN_MAX && ++composition->visits < MW_VISITS_MAX;
    for (size_t i = 0; i < mix->part_count && fits; i++) {
        double part = volume_of(network, x, bottle, i) / total;
        fits = mw_network_compose(network, x, mix->parts[i].bottle,
                                  share * part, depth + 1, composition);
    }
    return fits;
}

static bool add_unknown(struct mw_unknown_list *list, size_t unknown)
{
    size_t i = 0;
    while (i < list->count && list->items[i] != unknown) {
        i++;
    }
    if (i == MW_LIST_MAX) {
        return false;
    }
    list->items[i] = unknown;
    list->count += i == list->count;
    return true;
}

/* NOLINTNEXTLINE(misc-no-recursion): MW_CHAIN_MAX ends it */
bool mw_network_depend(const struct mw_network *network, size_t bottle,
                       int depth, struct mw_unknown_list *list)
{
    const struct mw_network_bottle *mix = &network->bottles[bottle];
    const struct mw_network_place *place = &network->places[bottle];
    size_t next = place->first, own = place->points;
    own += place->common != MW_NO_UNKNOWN;
    own += place->energy != MW_NO_UNKNOWN;
    bool fits = depth < MW_CHAIN_MAX && ++list->visits < MW_VISITS_MAX;
    for (size_t i = 0; i < own && fits; i++) {
        fits = add_unknown(list, next++);
    }
    for (size_t i = 0; i < mix->part_count && fits; i++) {
        fits =
            (i == place->largest || add_unknown(list, next++)) &&
            mw_network_depend(network, mix->parts[i].bottle, depth + 1, list);
    }
    return fits;
}

bool mw_network_depend_excess(const struct mw_network *network,
                              const struct mw_composition *composition,
                              struct mw_unknown_list *list)
{
    bool fits = true;
    for (size_t i = 0; i < composition->count; i++) {
        for (size_t j = 0; j < i && fits; j++) {
            size_t one = composition->bottles[i];
            size_t other = composition->bottles[j];
            size_t pair = mw_network_pair(network, one, other);
            fits = add_unknown(list, network->excess) &&
                   (!mw_network_is_thin(network, one, other) ||
                    add_unknown(list, network->thin)) &&
                   (pair == MW_NO_UNKNOWN || add_unknown(list, pair));
        }
    }
    return fits;
}

/* -- Oils ----------------------------------------------------------------- */

enum mw_status mw_network_oil_at(const struct mw_network *network,
                                 const double *x, size_t bottle,
                                 struct mw_oil *oil)
{
    const struct mw_network_bottle *labelled = &network->bottles[bottle];
    const struct mw_network_place *place = &network->places[bottle];
    double errors[MW_POINTS_MAX];
    struct mw_point points[2] = {labelled->label.points[0],
                                 {place->far_v, place->far_t}};
    double common = place->common == MW_NO_UNKNOWN ? 0 : x[place->common];
    double energy = place->energy == MW_NO_UNKNOWN ? 0 : x[place->energy];
    for (size_t i = 0; i < place->points; i++) {
        errors[i] = x[place->first + i] + common;
    }
    if (isnan(place->far_v)) {
        return mw_oil_moved(&labelled->label, errors, energy, oil);
    }
    points[0].viscosity *= exp(errors[0]);
    points[1].viscosity *= exp(errors[1]);
    return mw_oil_make(labelled->label.family, points, 2,
                       labelled->label.density, oil);
}

/* -- Excess --------------------------------------------------------------- */

size_t mw_network_pair(const struct mw_network *network, size_t first,
                       size_t second)
{
    size_t low = first < second ? first : second;
    size_t high = first < second ? second : first;
    for (size_t i = 0; i < network->pair_count; i++) {
        if (network->pairs[i].first == low &&
            network->pairs[i].second == high) {
            return network->pairs[i].unknown;
        }
    }
    return MW_NO_UNKNOWN;
}

static double grade_of(const struct mw_network *network, size_t bottle)
{
    const struct mw_oil *label = &network->bottles[bottle].label;
    double v25;
    return mw_oil_viscosity(label, mw_family_rating_t(MW_SILICONE), &v25) ==
                   MW_OK
               ? v25
               : label->points[0].viscosity;
}

bool mw_network_is_thin(const struct mw_network *network, size_t first,
                        size_t second)
{
    return grade_of(network, first) < MW_EXCESS_GRADE ||
           grade_of(network, second) < MW_EXCESS_GRADE;
}

double mw_network_excess_of(const struct mw_network *network, const double *x,
                            size_t first, size_t second)
{
    size_t pair = mw_network_pair(network, first, second);
    return x[network->excess] +
           (mw_network_is_thin(network, first, second) ? x[network->thin] : 0) +
           (pair == MW_NO_UNKNOWN ? 0 : x[pair]);
}

/* sum over pairs of f_i f_j K_ij (ln v_i/v_j)^2 */
static double lift_of(const struct mw_network *network, const double *x,
                      const struct mw_composition *composition,
                      const double *ln_v)
{
    double lift = 0;
    for (size_t i = 0; i < composition->count; i++) {
        for (size_t j = 0; j < i; j++) {
            double apart = ln_v[i] - ln_v[j];
            lift += composition->shares[i] * composition->shares[j] * apart *
                    apart *
                    mw_network_excess_of(network, x, composition->bottles[i],
                                         composition->bottles[j]);
        }
    }
    return lift;
}

/* the oils of a composition and their ln v */
static bool find_oils(const struct mw_network *network, const double *x,
                      const struct mw_composition *composition, double t,
                      struct mw_oil *oils, double *ln_v)
{
    for (size_t i = 0; i < composition->count; i++) {
        double v;
        if (mw_network_oil_at(network, x, composition->bottles[i], &oils[i]) !=
                MW_OK ||
            mw_oil_viscosity(&oils[i], t, &v) != MW_OK) {
            return false;
        }
        ln_v[i] = log(v);
    }
    return true;
}

double mw_network_ln_v(const struct mw_network *network, const double *x,
                       const struct mw_composition *composition, double t,
                       const struct mw_method *method)
{
    struct mw_oil oils[MW_BASES];
    double ln_v[MW_BASES], v;
    struct mw_method usual;
    if (!find_oils(network, x, composition, t, oils, ln_v)) {
        return NAN;
    }
    if (composition->count == 1) {
        return ln_v[0];
    }
    enum mw_status status = mw_method_default(oils, composition->count, &usual);
    usual.excess = 0;
    if (status != MW_OK ||
        mw_mixture(oils, composition->shares, composition->count, t,
                   method ? method : &usual, &v, NULL) != MW_OK) {
        return NAN;
    }
    return log(v) + (!method && oils[0].family == MW_SILICONE
                         ? lift_of(network, x, composition, ln_v)
                         : 0);
}

/* -- Readings ------------------------------------------------------------- */

static double ln_v_of(const struct mw_network *network, const double *x,
                      size_t bottle, double t)
{
    struct mw_composition composition = {0};
    return mw_network_compose(network, x, bottle, 1, 0, &composition)
               ? mw_network_ln_v(network, x, &composition, t, NULL)
               : (double)NAN;
}

static size_t find_common(const struct mw_network_common *list, size_t count,
                          long number)
{
    size_t i = 0;
    while (i < count && list[i].number != number) {
        i++;
    }
    return list[i].unknown;
}

/* how far the thermometer moves it, by its limits: half of the variance is
 * common to all readings, half to those of one day */
static double thermometer_part(const struct mw_network *network,
                               const double *x,
                               const struct mw_network_reading *reading)
{
    double t = reading->temperature;
    double slope = (ln_v_of(network, x, reading->bottle, t + 0.5) -
                    ln_v_of(network, x, reading->bottle, t - 0.5));
    double day =
        x[find_common(network->days, network->day_count, reading->day)];
    return slope * reading->thermometer / sqrt(6) *
           (x[network->thermometer] + day);
}

double mw_network_row(const double *x, const void *params)
{
    const struct mw_network_row *row = params;
    const struct mw_network *network = row->network;
    const struct mw_network_reading *reading = &network->readings[row->reading];
    double value = ln_v_of(network, x, reading->bottle, reading->temperature);
    if (reading->reference >= 0) {
        value -= ln_v_of(network, x, (size_t)reading->reference,
                         reading->temperature);
    }
    if (reading->instrument >= 0) {
        value += reading->systematic *
                 x[find_common(network->instruments, network->instrument_count,
                               reading->instrument)];
    }
    if (reading->thermometer > 0) {
        value += thermometer_part(network, x, reading);
    }
    return value;
}
