/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* There are 12 ml of 380 mm2/s, and 0.5 ml of 1000 stay on the walls: how much
 * of 300 makes it 350, and how sure is that? */
#include <math.h>
#include <midweight/midweight.h>
#include <stdio.h>

enum { OILS = 3 };

int main(void)
{
    /* 1000 is in the cup already: the last */
    const struct mw_point labels[OILS] = {{380, 25}, {300, 25}, {1000, 25}};
    const struct mw_mix_part parts[OILS] = {{MW_AMOUNT_ML, 12, NAN},
                                            {MW_AMOUNT_OPEN, NAN, NAN},
                                            {MW_AMOUNT_ML, 0.5, NAN}};
    const size_t nodes[OILS] = {0, 1, 2};
    static struct mw_network_bottle bottles[OILS];
    static struct mw_mix_job job;
    struct mw_network *network = NULL;
    static struct mw_mix_oils oils;
    static struct mw_mix_answer answer;
    enum mw_status status = MW_OK;
    job.count = OILS;
    job.in_cup = 1;
    job.parts = parts;
    job.temperature = 25;
    job.target = 350;
    job.batch_ml = job.batch_g = NAN;
    job.tools.graduation_ml = 0.2;
    for (int i = 0; i < OILS && status == MW_OK; i++) {
        bottles[i].tolerance = 0.05;
        status =
            mw_oil_make(MW_SILICONE, &labels[i], 1, NAN, &bottles[i].label);
    }
    if (status != MW_OK ||
        (status = mw_network_make(bottles, OILS, NULL, 0, &network)) != MW_OK ||
        (status = mw_mix_gather(network, nodes, OILS, NULL, &oils)) != MW_OK ||
        (status = mw_mix_answer(&oils, &job, &answer)) != MW_OK) {
        fprintf(stderr, "no such mix: %s\n", mw_status_text(status));
    } else {
        printf("%.1f ml, %.0f to %.0f mm2/s, midweight %s\n",
               answer.recipe.doses[1].volume_ml, answer.low, answer.high,
               mw_version());
    }
    mw_network_free(network);
    return status == MW_OK ? 0 : 1;
}
