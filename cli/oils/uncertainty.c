/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "oils/uncertainty.h"

#include <math.h>
#include <stdio.h>

#include "output/json.h"
#include "output/text.h"

enum { SOURCE_LENGTH = 240 };

enum mw_status oils_find_uncertainty(const struct stock_network *network,
                                     const struct mw_network_mix *mix, double v,
                                     struct oils_uncertainty *uncertainty)
{
    double modelled;
    struct mw_budget budget;
    *uncertainty = (struct oils_uncertainty){
        .standard = NAN, .low = NAN, .high = NAN, .next = {.after = NAN}};
    enum mw_status status = mw_network_mix(network->network, mix, &modelled,
                                           &budget, &uncertainty->sources);
    if (status == MW_OK) {
        uncertainty->standard = mw_budget_combined(&budget);
        /* NaN so near an end of a range that it reaches beyond it */
        mw_budget_band(&budget, v, &uncertainty->low, &uncertainty->high);
    }
    return status;
}

void oils_find_advice(const struct stock_network *network,
                      const struct mw_network_mix *mix,
                      struct oils_uncertainty *uncertainty)
{
    mw_next_reading(network->network, mix, uncertainty->standard,
                    &uncertainty->next);
}

/* -- Names ---------------------------------------------------------------- */

static void name_source(const struct stock_network *network,
                        const struct mw_source *source,
                        char text[SOURCE_LENGTH])
{
    static const struct {
        const char *words;
        enum { OF_NOTHING, OF_BOTTLE, OF_READING, OF_INSTRUMENT } of;
    } kinds[] = {
        [MW_SOURCE_LABEL] = {"label of", OF_BOTTLE},
        [MW_SOURCE_LAW] = {"temperature law of", OF_BOTTLE},
        [MW_SOURCE_READING] = {"reading of", OF_READING},
        [MW_SOURCE_INSTRUMENT] = {"instrument", OF_INSTRUMENT},
        [MW_SOURCE_THERMOMETER] = {"thermometer of the readings", OF_NOTHING},
        [MW_SOURCE_EXCESS] = {"excess term", OF_NOTHING},
        [MW_SOURCE_RECIPE] = {"dosing of", OF_BOTTLE},
        [MW_SOURCE_DOSING] = {"dosing", OF_NOTHING},
        [MW_SOURCE_TEMPERATURE] = {"temperature", OF_NOTHING}};
    const char *words = kinds[source->kind].words, *name = NULL;
    char shown[TRUNCATED_LENGTH];
    switch (kinds[source->kind].of) {
    case OF_BOTTLE:
        name = stock_network_name(network, source->index);
        break;
    case OF_READING:
        name = stock_network_name(network,
                                  network->readings[source->index].bottle);
        break;
    case OF_INSTRUMENT:
        name = network->instruments[source->index];
        break;
    case OF_NOTHING:
        break;
    }
    snprintf(text, SOURCE_LENGTH, "%s%s%s", words, name ? " " : "",
             name ? truncate_columns(name, 22, shown) : "");
}

/* -- Text ----------------------------------------------------------------- */

static void name_reading(const struct stock_network *network,
                         const struct mw_next_reading *next,
                         char text[SOURCE_LENGTH])
{
    char name[TRUNCATED_LENGTH];
    if (next->bottle == MW_THE_TRIAL) {
        snprintf(text, SOURCE_LENGTH, "A trial mix, %.0f ml + %.0f ml, timed",
                 MW_TRIAL_ML, MW_TRIAL_ML);
        return;
    }
    truncate_columns(next->bottle == MW_THE_MIX
                         ? "the mix"
                         : stock_network_name(network, next->bottle),
                     22, name);
    snprintf(text, SOURCE_LENGTH, "Timing %s against a known oil", name);
}

static void print_advice(const struct stock_network *network,
                         const struct oils_uncertainty *uncertainty)
{
    const struct mw_next_reading *next = &uncertainty->next;
    char name[SOURCE_LENGTH];
    enum mw_source_kind largest = uncertainty->sources.list[0].kind;
    if (largest == MW_SOURCE_TEMPERATURE) {
        print_wrapped("A better thermometer would help (--thermometer).");
    } else if (largest == MW_SOURCE_DOSING) {
        print_wrapped("A finer tool or a larger batch would help.");
    } else if (next->after < uncertainty->standard) {
        name_reading(network, next, name);
        print_wrapped("%s (+-%.0f %%): +-%.1f %% becomes "
                      "+-%.1f %%.",
                      name, 100 * MW_COVERAGE * MW_CAREFUL_READING,
                      100 * MW_COVERAGE * uncertainty->standard,
                      100 * MW_COVERAGE * next->after);
    }
}

void oils_print_uncertainty(const struct stock_network *network,
                            const struct oils_uncertainty *uncertainty)
{
    const struct mw_sources *sources = &uncertainty->sources;
    char name[SOURCE_LENGTH];
    if (sources->count == 0) {
        return;
    }
    double part = sources->list[0].uncertainty / uncertainty->standard;
    name_source(network, &sources->list[0], name);
    print_wrapped("Largest contribution: %s (%.0f %% of the variance).", name,
                  100 * part * part);
    print_advice(network, uncertainty);
}

void oils_print_budget(const struct stock_network *network,
                       const struct oils_uncertainty *uncertainty)
{
    const struct mw_sources *sources = &uncertainty->sources;
    char name[SOURCE_LENGTH];
    print_text("  %-40s +-%% (k = 1)  variance\n", "uncertainty budget");
    for (size_t i = 0; i < sources->count; i++) {
        double u = sources->list[i].uncertainty;
        double part = u / uncertainty->standard;
        name_source(network, &sources->list[i], name);
        print_text("  ");
        print_padded(name, 40);
        print_text(" %11.2f %7.1f %%\n", 100 * u, 100 * part * part);
    }
    print_text("  ");
    print_padded("combined standard uncertainty", 40);
    print_text(" %11.2f\n", 100 * uncertainty->standard);
}

/* -- JSON ----------------------------------------------------------------- */

json_t *oils_json_uncertainty(const struct stock_network *network,
                              const struct oils_uncertainty *uncertainty)
{
    const struct mw_sources *sources = &uncertainty->sources;
    double all = uncertainty->standard, rest = all * all;
    char name[SOURCE_LENGTH];
    json_t *budget = json_array();
    for (size_t i = 0; i < sources->count; i++) {
        double u = sources->list[i].uncertainty;
        name_source(network, &sources->list[i], name);
        json_append(budget, json_contribution(name, u, all));
        rest -= u * u;
    }
    if (sources->count == MW_SOURCES_MAX) {
        json_append(budget,
                    json_contribution("all others", sqrt(fmax(rest, 0)), all));
    }
    return json_uncertainty(all, uncertainty->low, uncertainty->high, budget);
}

json_t *oils_json_advice(const struct stock_network *network,
                         const struct oils_uncertainty *uncertainty)
{
    const struct mw_next_reading *next = &uncertainty->next;
    if (!isfinite(next->after)) {
        return json_null();
    }
    bool bottle = next->bottle != MW_THE_MIX && next->bottle != MW_THE_TRIAL;
    return json_pack("{s:s?, s:b, s:o}", "name",
                     bottle ? stock_network_name(network, next->bottle) : NULL,
                     "trial_mix", next->bottle == MW_THE_TRIAL,
                     "expanded_percent",
                     json_number(100 * MW_COVERAGE * next->after));
}
