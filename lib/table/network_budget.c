/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* what an uncertainty comes from: its lines, and its largest sources */
#include <math.h>

#include "table/network_internal.h"

/* whether each source of a kind stands for itself */
static bool is_many(enum mw_source_kind kind)
{
    return kind == MW_SOURCE_LABEL || kind == MW_SOURCE_LAW ||
           kind == MW_SOURCE_READING || kind == MW_SOURCE_INSTRUMENT ||
           kind == MW_SOURCE_RECIPE;
}

/* keep the largest; the first of equals stays first */
static void keep(struct mw_sources *sources, enum mw_source_kind kind,
                 size_t index, double variance)
{
    size_t i = sources->count;
    if (i < MW_SOURCES_MAX) {
        sources->count++;
    } else if (variance <= sources->list[--i].uncertainty) {
        return;
    }
    for (; i > 0 && sources->list[i - 1].uncertainty < variance; i--) {
        sources->list[i] = sources->list[i - 1];
    }
    sources->list[i] = (struct mw_source){kind, index, variance};
}

void mw_tally_add(struct mw_tally *tally, enum mw_source_kind kind,
                  size_t index, double variance)
{
    tally->sums[kind] += variance;
    if (is_many(kind) && variance > 0) {
        keep(&tally->sources, kind, index, variance);
    }
}

void mw_tally_parts(const struct mw_network *network, const double *z,
                    struct mw_tally *tally)
{
    double sum = 0;
    for (size_t i = 0; i < network->count; i++) {
        const struct mw_network_owner *owner = &network->owners[i];
        double part = mw_adjustment_prior_part(network->adjustment, z, i);
        sum += part * part;
        /* the unknowns of one owner stand side by side */
        if (i + 1 == network->count || owner[1].kind != owner->kind ||
            owner[1].index != owner->index) {
            mw_tally_add(tally, owner->kind, owner->index, sum);
            sum = 0;
        }
    }
    for (size_t i = 0; i < network->m; i++) {
        double part = mw_adjustment_row_part(network->adjustment, z, i);
        mw_tally_add(tally, MW_SOURCE_READING, i, part * part);
    }
}

static double line_of(const struct mw_tally *tally,
                      const enum mw_source_kind kinds[3])
{
    double sum = 0;
    for (size_t i = 0; i < 3 && kinds[i] != MW_SOURCE_KINDS; i++) {
        sum += tally->sums[kinds[i]];
    }
    return sqrt(sum);
}

enum mw_status mw_tally_end(struct mw_tally *tally, struct mw_budget *budget)
{
    static const struct {
        const char *name;
        enum mw_source_kind kinds[3];
    } lines[] = {
        {MW_FROM_OILS, {MW_SOURCE_LABEL, MW_SOURCE_KINDS}},
        {MW_FROM_READINGS,
         {MW_SOURCE_READING, MW_SOURCE_INSTRUMENT, MW_SOURCE_THERMOMETER}},
        {MW_FROM_EXCESS, {MW_SOURCE_EXCESS, MW_SOURCE_KINDS}},
        {MW_FROM_LAW, {MW_SOURCE_LAW, MW_SOURCE_KINDS}},
        {MW_FROM_DOSING, {MW_SOURCE_RECIPE, MW_SOURCE_DOSING, MW_SOURCE_KINDS}},
        {MW_FROM_TEMPERATURE, {MW_SOURCE_TEMPERATURE, MW_SOURCE_KINDS}}};
    enum mw_status status = MW_OK;
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
        double u = line_of(tally, lines[i].kinds);
        if (u != 0) { /* the temperature alone, the last, can fail */
            status = mw_budget_add(budget, lines[i].name, u, 1);
        }
    }
    for (int kind = 0; kind < MW_SOURCE_KINDS; kind++) {
        if (!is_many((enum mw_source_kind)kind) && tally->sums[kind] > 0) {
            keep(&tally->sources, (enum mw_source_kind)kind, 0,
                 tally->sums[kind]);
        }
    }
    for (size_t i = 0; i < tally->sources.count; i++) {
        double variance = tally->sources.list[i].uncertainty;
        tally->sources.list[i].uncertainty = sqrt(variance);
    }
    return status;
}
