/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* what bottles, mixes and readings are at given unknowns */
#include <math.h>

#include "base/range.h"
#include "blend/mixture.h"
#include "fluid/oil_internal.h"
#include "table/network_internal.h"

/* -- Compositions --------------------------------------------------------- */

static void add_base(struct mw_composition *composition, size_t bottle,
                     double share)
{
    size_t i = 0;
    while (i < composition->count && composition->bottles[i] != bottle) {
        i++;
    }
    if (i == MW_BASES) {
        composition->broken = true;
        return;
    }
    if (i == composition->count) {
        composition->bottles[i] = bottle;
        composition->shares[composition->count++] = 0;
    }
    composition->shares[i] += share;
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
void mw_network_compose(const struct mw_network *network, const double *x,
                        size_t bottle, double share, int depth,
                        struct mw_composition *composition)
{
    const struct mw_network_bottle *mix = &network->bottles[bottle];
    double total = 0;
    if (mix->part_count == 0) {
        add_base(composition, bottle, share);
        return;
    }
    composition->visits++;
    if (depth >= MW_CHAIN_MAX || composition->visits > MW_VISITS_MAX) {
        composition->broken = true;
        return;
    }
    for (size_t i = 0; i < mix->part_count; i++) {
        total += volume_of(network, x, bottle, i);
    }
    for (size_t i = 0; i < mix->part_count && !composition->broken; i++) {
        double part = volume_of(network, x, bottle, i) / total;
        mw_network_compose(network, x, mix->parts[i].bottle, share * part,
                           depth + 1, composition);
    }
}

void mw_unknown_add(struct mw_unknown_list *list, size_t unknown)
{
    size_t i = 0;
    while (i < list->count && list->items[i] != unknown) {
        i++;
    }
    if (i == MW_LIST_MAX) {
        list->full = true;
        return;
    }
    list->items[i] = unknown;
    list->count += i == list->count;
}

/* NOLINTNEXTLINE(misc-no-recursion): a composition that is not broken ends */
void mw_network_depend(const struct mw_network *network, size_t bottle,
                       struct mw_unknown_list *list)
{
    const struct mw_network_bottle *mix = &network->bottles[bottle];
    const struct mw_network_place *place = &network->places[bottle];
    size_t doses = mix->part_count > 0 ? mix->part_count - 1 : 0;
    size_t own = place->points + doses;
    own += place->common != MW_NO_UNKNOWN;
    own += place->energy != MW_NO_UNKNOWN;
    for (size_t i = 0; i < own; i++) {
        mw_unknown_add(list, place->first + i);
    }
    for (size_t i = 0; i < mix->part_count; i++) {
        mw_network_depend(network, mix->parts[i].bottle, list);
    }
}

void mw_network_depend_excess(const struct mw_network *network,
                              const struct mw_composition *composition,
                              struct mw_unknown_list *list)
{
    for (size_t i = 0; i < composition->count; i++) {
        for (size_t j = 0; j < i; j++) {
            size_t one = composition->bottles[i];
            size_t other = composition->bottles[j];
            size_t pair = mw_network_pair(network, one, other);
            mw_unknown_add(list, network->excess);
            if (mw_network_is_thin(network, one, other)) {
                mw_unknown_add(list, network->thin);
            }
            if (pair != MW_NO_UNKNOWN) {
                mw_unknown_add(list, pair);
            }
        }
    }
}

/* -- Oils ----------------------------------------------------------------- */

enum mw_status mw_network_oil_at(const struct mw_network *network,
                                 const double *x, size_t bottle,
                                 struct mw_oil *oil)
{
    const struct mw_network_bottle *labelled = &network->bottles[bottle];
    const struct mw_network_place *place = &network->places[bottle];
    double errors[MW_POINTS_MAX] = {0};
    struct mw_point points[2] = {labelled->label.points[0],
                                 {place->far_v, place->far_t}};
    double common = place->common == MW_NO_UNKNOWN ? 0 : x[place->common];
    double energy = place->energy == MW_NO_UNKNOWN ? 0 : x[place->energy];
    for (size_t i = 0; i < place->points; i++) {
        errors[i] = x[place->first + i] + common;
    }
    if (!isnan(labelled->label.index)) {
        errors[1] = place->along * errors[0] + place->across * errors[1];
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

/* the oil of a bottle, and its ln v; NaN where it has none */
static double find_oil(const struct mw_network *network, const double *x,
                       size_t bottle, double t, struct mw_oil *oil)
{
    double v;
    return mw_network_oil_at(network, x, bottle, oil) == MW_OK &&
                   mw_oil_viscosity(oil, t, &v) == MW_OK
               ? log(v)
               : (double)NAN;
}

/* the same of all oils of a composition; false where one has none */
static bool find_oils(const struct mw_network *network, const double *x,
                      const struct mw_composition *composition, double t,
                      struct mw_oil *oils, double *ln_v)
{
    bool found = true;
    for (size_t i = 0; i < composition->count; i++) {
        ln_v[i] = find_oil(network, x, composition->bottles[i], t, &oils[i]);
        found = found && isfinite(ln_v[i]);
    }
    return found;
}

/* The same of an oil of one point without making it, as most are asked: errors
 * and the departure from the law are added to its ln v. */
static double ln_v_of_point(const struct mw_network *network, const double *x,
                            size_t bottle, double t)
{
    const struct mw_oil *label = &network->bottles[bottle].label;
    const struct mw_network_place *place = &network->places[bottle];
    double v;
    if (mw_oil_viscosity(label, t, &v) != MW_OK) {
        return NAN;
    }
    v *= exp(x[place->first]);
    if (place->energy != MW_NO_UNKNOWN) {
        v *=
            mw_energy_factor(x[place->energy], label->points[0].temperature, t);
    }
    return mw_viscosity_in_range(v) ? log(v) : (double)NAN;
}

static double ln_v_alone(const struct mw_network *network, const double *x,
                         size_t bottle, double t)
{
    struct mw_oil oil;
    return network->bottles[bottle].label.count == 1 &&
                   isnan(network->places[bottle].far_v)
               ? ln_v_of_point(network, x, bottle, t)
               : find_oil(network, x, bottle, t, &oil);
}

static bool is_silicone(const struct mw_network *network,
                        const struct mw_composition *composition)
{
    return network->bottles[composition->bottles[0]].label.family ==
           MW_SILICONE;
}

double mw_network_ln_v(const struct mw_network *network, const double *x,
                       const struct mw_composition *composition, double t,
                       const struct mw_method *method)
{
    struct mw_oil oils[MW_BASES];
    double ln_v[MW_BASES], v;
    struct mw_method usual;
    if (composition->count == 1) {
        return ln_v_alone(network, x, composition->bottles[0], t);
    }
    if (!find_oils(network, x, composition, t, oils, ln_v)) {
        return NAN;
    }
    enum mw_status status = mw_method_default(oils, composition->count, &usual);
    usual.excess = 0;
    if (status != MW_OK ||
        mw_mixture(oils, composition->shares, composition->count, t,
                   method ? method : &usual, &v, NULL) != MW_OK) {
        return NAN;
    }
    bool lifted = !method && is_silicone(network, composition);
    return log(v) + (lifted ? lift_of(network, x, composition, ln_v) : 0);
}

/* -- Readings ------------------------------------------------------------- */

/* of a bottle that was composed before */
static double ln_v_of(const struct mw_network *network, const double *x,
                      size_t bottle, double t)
{
    struct mw_composition composition;
    if (network->bottles[bottle].part_count == 0) {
        return ln_v_alone(network, x, bottle, t);
    }
    composition = (struct mw_composition){0};
    mw_network_compose(network, x, bottle, 1, 0, &composition);
    return mw_network_ln_v(network, x, &composition, t, NULL);
}

/* one that is there */
static size_t find_common(const struct mw_network_common *list, long number)
{
    size_t i = 0;
    while (list[i].number != number) {
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
    double day = x[find_common(network->days, reading->day)];
    return slope * reading->thermometer / sqrt(6) *
           (x[network->thermometer] + day);
}

double mw_network_row(const double *x, const void *params)
{
    const struct mw_network_row *row = params;
    const struct mw_network *network = row->network;
    const struct mw_network_reading *reading = &network->readings[row->reading];
    double value = ln_v_of(network, x, reading->bottle, reading->temperature);
    for (size_t i = 0; i < reading->reference_count; i++) {
        const struct mw_network_reference *known = &reading->references[i];
        value -= known->weight *
                 ln_v_of(network, x, known->bottle, known->temperature);
    }
    if (reading->instrument >= 0) {
        value += reading->systematic *
                 x[find_common(network->instruments, reading->instrument)];
    }
    if (reading->thermometer > 0) {
        value += thermometer_part(network, x, reading);
    }
    return value;
}
