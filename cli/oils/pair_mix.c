/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "oils/pair_mix.h"

#include <math.h>
#include <stdlib.h>

#include "util/xalloc.h"

enum mw_status pair_mix_find(const struct stock_network *network,
                             const size_t nodes[2],
                             const struct mw_point *target, double thermometer,
                             const struct mw_method *method,
                             struct pair_mix *mix)
{
    static const struct mw_mix_part open[2] = {{MW_AMOUNT_OPEN, NAN, NAN},
                                               {MW_AMOUNT_OPEN, NAN, NAN}};
    const struct mw_mix_job job = {.count = 2,
                                   .parts = open,
                                   .temperature = target->temperature,
                                   .thermometer = thermometer,
                                   .target = target->viscosity,
                                   .batch_ml = NAN,
                                   .batch_g = NAN};
    struct mw_mix_oils *oils = xcalloc(1, sizeof *oils);
    struct mw_mix_answer *answer = xcalloc(1, sizeof *answer);
    enum mw_status status =
        mw_mix_gather(network->network, nodes, 2, method, oils);
    if (status == MW_OK) {
        status = mw_mix_answer(oils, &job, answer);
    }
    *mix = (struct pair_mix){NAN, NAN};
    if (status == MW_OK) {
        *mix = (struct pair_mix){answer->shares[1], answer->uncertainty};
    }
    free(answer);
    free(oils);
    return status;
}
