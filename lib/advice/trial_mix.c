/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/trial_mix.h"

#include <math.h>
#include <stdlib.h>

#include "table/network_internal.h"

/* all that a network knows, and room for one bottle and one reading more */
struct evidence {
    struct mw_network_bottle *bottles;
    struct mw_network_reading *readings;
};

static bool copy(const struct mw_network *network, struct evidence *evidence)
{
    evidence->bottles = calloc(network->n + 1, sizeof evidence->bottles[0]);
    evidence->readings = calloc(network->m + 1, sizeof evidence->readings[0]);
    if (!evidence->bottles || !evidence->readings) {
        return false;
    }
    for (size_t i = 0; i < network->n; i++) {
        evidence->bottles[i] = network->bottles[i];
    }
    for (size_t i = 0; i < network->m; i++) {
        evidence->readings[i] = network->readings[i];
    }
    return true;
}

static enum mw_status ask(const struct evidence *evidence, size_t n, size_t m,
                          const struct mw_network_mix *mix, double *after)
{
    struct mw_network *network;
    struct mw_budget budget;
    double v;
    enum mw_status status =
        mw_network_make(evidence->bottles, n, evidence->readings, m, &network);
    if (status == MW_OK) {
        status = mw_network_mix(network, mix, &v, &budget, NULL);
    }
    if (status == MW_OK) {
        *after = mw_budget_combined(&budget);
    }
    mw_network_free(network);
    return status;
}

enum mw_status mw_trial_mix(const struct mw_network *network,
                            const struct mw_network_mix *mix, double s,
                            double *after)
{
    static const double halves[2] = {0.5, 0.5};
    struct mw_network_mix trial = *mix;
    struct evidence evidence = {0};
    struct mw_budget budget;
    double v = NAN;
    *after = NAN;
    if (mix->count != 2) {
        return MW_ERR_READINGS;
    }
    trial.shares = halves;
    trial.doses = NULL;
    enum mw_status status = mw_network_mix(network, &trial, &v, &budget, NULL);
    if (status == MW_OK && !copy(network, &evidence)) {
        status = MW_ERR_MEMORY;
    }
    if (status == MW_OK) {
        const struct mw_network_part parts[2] = {
            {mix->bottles[0], MW_TRIAL_ML}, {mix->bottles[1], MW_TRIAL_ML}};
        evidence.bottles[network->n] = (struct mw_network_bottle){
            .label = network->bottles[mix->bottles[0]].label,
            .parts = parts,
            .part_count = 2,
            .dose_ml = NAN};
        evidence.readings[network->m] =
            (struct mw_network_reading){.bottle = network->n,
                                        .viscosity = v,
                                        .temperature = mix->temperature,
                                        .random = s,
                                        .instrument = MW_NONE};
        status = ask(&evidence, network->n + 1, network->m + 1, mix, after);
    }
    free(evidence.bottles);
    free(evidence.readings);
    return status;
}
