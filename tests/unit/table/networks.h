/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* networks - small ones, for tests. */
#ifndef TEST_NETWORKS_H
#define TEST_NETWORKS_H

#include "check.h"
#include "table/network.h"

static inline struct mw_network_bottle silicone(double v)
{
    const struct mw_point point = {v, 25};
    struct mw_network_bottle bottle = {.tolerance = 0.05, .dose_ml = NAN};
    check_ok(mw_oil_make(MW_SILICONE, &point, 1, NAN, &bottle.label));
    return bottle;
}

static inline struct mw_network_bottle petroleum(double v40, double v100)
{
    const struct mw_point points[] = {{v40, 40}, {v100, 100}};
    struct mw_network_bottle bottle = {.tolerance = 0.05, .dose_ml = NAN};
    check_ok(
        mw_oil_make(MW_MINERAL, points, v100 > 0 ? 2 : 1, NAN, &bottle.label));
    return bottle;
}

static inline struct mw_network_bottle
mix_of(const struct mw_network_part *parts, size_t count)
{
    struct mw_network_bottle bottle = silicone(632.5);
    bottle.parts = parts;
    bottle.part_count = count;
    return bottle;
}

static inline struct mw_network_reading reading_of(size_t bottle, double v,
                                                   double t, double u)
{
    return (struct mw_network_reading){.bottle = bottle,
                                       .viscosity = v,
                                       .temperature = t,
                                       .random = u,
                                       .instrument = MW_NONE};
}

static inline void compare(struct mw_network_reading *reading,
                           const struct mw_network_reference *known)
{
    reading->references = known;
    reading->reference_count = 1;
}

static inline struct mw_network *
network_of(const struct mw_network_bottle *bottles, size_t n,
           const struct mw_network_reading *readings, size_t m)
{
    struct mw_network *network;
    check_ok(mw_network_make(bottles, n, readings, m, &network));
    return network;
}

#endif
