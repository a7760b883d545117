/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "table/bottle.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

#include "table/network_internal.h"

double mw_tolerance_of(double u)
{
    return fmin(fmax(u * sqrt(3), 0.001), 0.999);
}

static enum mw_status estimate(const struct mw_network *network, size_t n,
                               struct mw_bottle *bottle)
{
    bottle->chi_squared = network->chi_squared;
    bottle->p_value = gsl_cdf_chisq_Q(network->chi_squared, (double)n);
    bottle->outlier = mw_network_outlier(network, 0);
    return mw_network_oil(network, 0, &bottle->oil, &bottle->uncertainty);
}

/* what a network of it would say, in no time */
static enum mw_status label_alone(const struct mw_oil *label, double tolerance,
                                  struct mw_bottle *bottle)
{
    if (!(tolerance > 0 && tolerance < 1)) {
        return MW_ERR_UNCERTAINTY;
    }
    bottle->oil = *label;
    bottle->chi_squared = 0;
    bottle->p_value = 1;
    return mw_rectangular(tolerance, &bottle->uncertainty);
}

enum mw_status mw_bottle_make(const struct mw_oil *label, double tolerance,
                              const struct mw_reading *readings, size_t n,
                              struct mw_bottle *bottle)
{
    struct mw_network_reading rows[MW_READINGS_MAX] = {{0}};
    const struct mw_network_bottle it = {
        .label = *label, .tolerance = tolerance, .dose_ml = NAN};
    struct mw_network *network;
    *bottle = (struct mw_bottle){.uncertainty = NAN,
                                 .chi_squared = NAN,
                                 .p_value = NAN,
                                 .outlier = MW_NO_OUTLIER};
    if (n > MW_READINGS_MAX) {
        return MW_ERR_READINGS;
    }
    if (n == 0) {
        return label_alone(label, tolerance, bottle);
    }
    for (size_t i = 0; i < n; i++) {
        rows[i] =
            (struct mw_network_reading){.viscosity = readings[i].viscosity,
                                        .temperature = readings[i].temperature,
                                        .random = readings[i].uncertainty,
                                        .instrument = MW_NONE};
    }
    enum mw_status status = mw_network_make(&it, 1, rows, n, &network);
    if (status == MW_OK) {
        status = estimate(network, n, bottle);
        mw_network_free(network);
    }
    return status;
}
