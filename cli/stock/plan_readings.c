/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "stock/plan_readings.h"

#include <stdlib.h>
#include <string.h>

#include "oils/network.h"
#include "output/text.h"
#include "util/xalloc.h"

/* the candidates as nodes of the network; their ids are these then */
static void add_nodes(const struct bottles *bottles,
                      struct stock_network *network,
                      struct mw_candidate *candidates, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const struct bottle *bottle = &bottles->list[candidates[i].id];
        candidates[i].id =
            stock_network_node(network, bottle->id, bottle->name,
                               &bottle->best.oil, bottle->best.uncertainty);
    }
}

/* the bottles of the list outlive the network */
static const char *name_of(const struct bottles *bottles, const char *name)
{
    size_t i = 0;
    while (strcmp(bottles->list[i].name, name) != 0) {
        i++;
    }
    return bottles->list[i].name;
}

enum exit_code plan_readings_find(struct stock *stock,
                                  const struct bottles *bottles,
                                  enum mw_family family,
                                  const struct mw_wish *wish, double low,
                                  double high, struct plan_readings *readings,
                                  struct error *error)
{
    struct stock_network network;
    struct mw_candidate *candidates =
        xcalloc(bottles->count, sizeof candidates[0]);
    size_t count = bottles_candidates(bottles, family, candidates);
    *readings = (struct plan_readings){0};
    enum exit_code code = stock_network_load(stock, &network, error);
    if (code == EXIT_DONE) {
        add_nodes(bottles, &network, candidates, count);
        code = stock_network_solve(&network, error);
    }
    if (code == EXIT_DONE &&
        mw_rank_readings(network.network, candidates, count, wish, low, high,
                         &readings->ranked) == MW_OK) {
        for (size_t i = 0; i < readings->ranked.count; i++) {
            readings->names[i] = name_of(
                bottles,
                stock_network_name(&network, readings->ranked.list[i].bottle));
        }
    }
    stock_network_free(&network);
    free(candidates);
    return code;
}

void plan_readings_print(const struct plan_readings *readings)
{
    const struct mw_ranked_readings *ranked = &readings->ranked;
    char name[TRUNCATED_LENGTH];
    if (ranked->count == 0) {
        return;
    }
    print_wrapped("Mixes of this range are known to +-%.1f %% (k = 2). Timed "
                  "against a known oil (+-%.0f %%):",
                  100 * MW_COVERAGE * ranked->before,
                  100 * MW_COVERAGE * MW_CAREFUL_READING);
    for (size_t i = 0; i < ranked->count; i++) {
        print_text("  ");
        print_padded(truncate_columns(readings->names[i], 24, name), 24);
        print_text(" would make it +-%.1f %%\n",
                   100 * MW_COVERAGE * ranked->list[i].after);
    }
}

json_t *plan_readings_json(const struct plan_readings *readings)
{
    json_t *list = json_array();
    for (size_t i = 0; i < readings->ranked.count; i++) {
        double u = readings->ranked.list[i].after;
        json_append(list, json_pack("{s:s, s:o}", "name", readings->names[i],
                                    "expanded_percent",
                                    json_number(100 * MW_COVERAGE * u)));
    }
    return list;
}
