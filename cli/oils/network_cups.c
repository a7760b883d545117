/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "oils/network_cups.h"

#include <string.h>

#include "oils/cup.h"
#include "util/xalloc.h"

enum { INSTRUMENT_LENGTH = 256 };

/* a cup that was calibrated with bottles */
struct stock_cup {
    struct own_cup cup;
    struct mw_cup formula;
    struct mw_cup_run runs[MW_CUP_RUNS_MAX];
    double law; /* of ln v, beside what is known of the bottles */
    char instrument[INSTRUMENT_LENGTH];
};

static enum exit_code take_cup(struct own_cup *own, void *context,
                               struct error *error)
{
    struct stock_network *network = context;
    struct stock_cup cup = {.cup = *own};
    double known[MW_CUP_RUNS_MAX], residual;
    (void)error;
    bool there = own->run_count > 0;
    cup.cup.name = NULL;
    for (size_t i = 0; i < own->run_count; i++) {
        sqlite3_int64 id = own->runs[i].bottle;
        /* one that is damaged is not there */
        there = there && (id == 0 || stock_network_find(network, id) <
                                         network->bottles.count);
        cup.runs[i] = own->runs[i].run;
        known[i] = own->runs[i].uncertainty;
    }
    if (there &&
        mw_cup_calibrate(cup.runs, own->run_count, &cup.formula, &residual,
                         NULL) == MW_OK &&
        mw_cup_own_law(&cup.formula, cup.runs, known, own->run_count, residual,
                       &cup.law) == MW_OK) {
        own_cup_instrument(own, cup.instrument, INSTRUMENT_LENGTH);
        network->cups = xreallocarray(network->cups, network->cup_count + 1,
                                      sizeof network->cups[0]);
        network->cups[network->cup_count++] = cup;
    }
    return EXIT_DONE;
}

/* a reading rests on the bottles that its cup was calibrated with */
static void rest_on_cup(struct stock_network *network,
                        const struct stock_cup *cup,
                        struct mw_network_reading *node)
{
    size_t count = cup->cup.run_count;
    struct mw_network_reference *list = xcalloc(count, sizeof list[0]);
    double weights[MW_CUP_RUNS_MAX], time;
    network->references[network->reading_count] = list;
    if (mw_cup_time(&cup->formula, node->viscosity, &time) != MW_OK ||
        mw_cup_weights(cup->runs, count, time, weights) != MW_OK) {
        return;
    }
    for (size_t i = 0; i < count; i++) {
        const struct own_cup_run *run = &cup->cup.runs[i];
        if (run->bottle != 0) {
            list[node->reference_count++] = (struct mw_network_reference){
                stock_network_find(network, run->bottle), run->run.viscosity,
                run->temperature, weights[i]};
        }
    }
    node->references = list;
    node->systematic = cup->law;
}

void network_rest_on_cup(struct stock_network *network, const char *instrument,
                         struct mw_network_reading *node)
{
    for (size_t i = 0; i < network->cup_count; i++) {
        if (strcmp(network->cups[i].instrument, instrument) == 0) {
            rest_on_cup(network, &network->cups[i], node);
            return;
        }
    }
}

enum exit_code network_take_cups(struct stock_network *network,
                                 struct stock *stock, struct error *error)
{
    return own_cups_each(stock, take_cup, network, error);
}
