/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* the network of a stock is adjusted, without what fits nothing */
#include <stdlib.h>

#include "oils/network.h"
#include "util/xalloc.h"

enum { PROBES = 200 /* readings that are looked at one by one */ };

/* what was measured of recorded mixes is left out where it fits nothing */
static void leave_out_mixes(struct stock_network *network)
{
    size_t count = 0;
    for (size_t i = 0; i < network->reading_count; i++) {
        size_t bottle = network->readings[i].bottle;
        if (network->nodes[bottle].part_count == 0) {
            network->readings[count++] = network->readings[i];
        }
    }
    network->reading_count = count;
    network->trial_mixes = 0;
}

static enum mw_status make(struct stock_network *network)
{
    mw_network_free(network->network);
    network->solved = network->count;
    return mw_network_make(network->nodes, network->count, network->readings,
                           network->reading_count, &network->network);
}

/* readings that fit nothing by themselves, and say so; all of them where there
 * are too many to look at each (a stranger's stock) */
static void leave_out_bad(struct stock_network *network)
{
    size_t count = 0;
    bool all = network->reading_count > PROBES;
    for (size_t i = 0; i < network->reading_count; i++) {
        struct mw_network *probe = NULL;
        size_t bottle = network->readings[i].bottle;
        if (!all &&
            mw_network_make(network->nodes, network->count,
                            &network->readings[i], 1, &probe) == MW_OK) {
            network->readings[count++] = network->readings[i];
        } else if (!all) {
            warn("a reading of \"%.*s\" cannot be adjusted; it is left out",
                 QUOTED, network->names[bottle]);
        }
        mw_network_free(probe);
    }
    if (all) {
        warn("the readings of the stock cannot be adjusted; they are left out");
    }
    network->reading_count = count;
}

enum exit_code stock_network_solve(struct stock_network *network,
                                   struct error *error)
{
    if (network->network && network->solved == network->count) {
        return EXIT_DONE;
    }
    enum mw_status status = make(network);
    if (status != MW_OK && status != MW_ERR_MEMORY &&
        network->trial_mixes > 0) {
        leave_out_mixes(network);
        status = make(network);
    }
    if (status != MW_OK && status != MW_ERR_MEMORY &&
        network->reading_count > 0) {
        leave_out_bad(network);
        status = make(network);
    }
    if (status == MW_ERR_MEMORY) {
        out_of_memory();
    }
    return status == MW_OK
               ? EXIT_DONE
               : error_set(error, EXIT_OUTPUT,
                           "the readings of the stock cannot be adjusted: %s",
                           mw_status_text(status));
}
