/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "blend/mix_amounts.h"

#include <math.h>

/* ml of an amount, or parts */
static double volume_of(const struct mw_mix_part *part,
                        const struct mw_oil_state *state)
{
    switch (part->kind) {
    case MW_AMOUNT_G:
        return part->amount / state->density;
    case MW_AMOUNT_DROPS:
        return part->amount * part->drop_ml;
    default:
        return part->amount;
    }
}

static enum mw_status add_amount(const struct mw_mix_job *job, size_t i,
                                 struct mw_mix *mix,
                                 struct mw_mix_amounts *amounts)
{
    const struct mw_mix_part *part = &job->parts[i];
    if (part->kind == MW_AMOUNT_OPEN) {
        if (amounts->opens == 2) {
            return MW_ERR_UNKNOWNS;
        }
        mix->open[amounts->opens++] = i;
        return MW_OK;
    }
    double volume = volume_of(part, &mix->states[i]);
    if (!(volume >= 0 && isfinite(volume))) {
        mix->fault = i;
        return part->amount >= 0 && part->kind == MW_AMOUNT_DROPS
                   ? MW_ERR_DROP
                   : MW_ERR_AMOUNT;
    }
    if (part->kind == MW_AMOUNT_SHARE) {
        amounts->fixed += volume;
        return MW_OK;
    }
    amounts->parts = amounts->parts || part->kind == MW_AMOUNT_PARTS;
    amounts->others = amounts->others || part->kind != MW_AMOUNT_PARTS;
    amounts->volumes[i] = volume;
    amounts->known += volume;
    return MW_OK;
}

enum mw_status mw_mix_add_up(const struct mw_mix_job *job, struct mw_mix *mix,
                             struct mw_mix_amounts *amounts)
{
    enum mw_status status = MW_OK;
    *amounts = (struct mw_mix_amounts){0};
    for (size_t i = 0; i < job->count && status == MW_OK; i++) {
        status = add_amount(job, i, mix, amounts);
    }
    if (status == MW_OK && amounts->parts && amounts->others) {
        status = MW_ERR_AMOUNT;
    }
    return status;
}
