/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "oils/outlier.h"

#include <stdio.h>

#include "output/text.h"
#include "util/format.h"

enum {
    NAME_COLUMNS = 22,
    VISITS_MAX = 512 /* mixes of mixes branch; our own limit */
};

const char *outlier_text(const struct bottle *bottle, int outlier,
                         char text[OUTLIER_LENGTH])
{
    char v[FORMAT_LENGTH], name[TRUNCATED_LENGTH];
    truncate_columns(bottle->name, NAME_COLUMNS, name);
    text[0] = '\0';
    if (outlier == MW_LABEL_OUTLIER) {
        snprintf(text, OUTLIER_LENGTH,
                 "the label of %s, %s mm2/s at %.6g C, disagrees with the "
                 "readings (see midweight stock show)",
                 name, format_compact(bottle->label.points[0].viscosity, v),
                 bottle->label.points[0].temperature);
    } else if (outlier >= 0 && (size_t)outlier < bottle->reading_count) {
        const struct mw_reading *value = &bottle->readings[outlier].value;
        snprintf(text, OUTLIER_LENGTH,
                 "reading %d of %s, %s mm2/s at %.6g C, disagrees with the "
                 "rest (see midweight stock show)",
                 outlier + 1, name, format_compact(value->viscosity, v),
                 value->temperature);
    }
    return text;
}

/* NOLINTNEXTLINE(misc-no-recursion): VISITS_MAX ends it */
static void remark(const struct stock_network *network, size_t node,
                   int *visits, struct error *error)
{
    char text[OUTLIER_LENGTH];
    if (node >= network->bottles.count || ++*visits > VISITS_MAX) {
        return;
    }
    outlier_text(&network->bottles.list[node],
                 mw_network_outlier(network->network, node), text);
    if (*text) {
        error_remark(error, "outlier", "%s", text);
    }
    const struct mw_network_bottle *mix = &network->nodes[node];
    for (size_t i = 0; i < mix->part_count; i++) {
        remark(network, mix->parts[i].bottle, visits, error);
    }
}

void outlier_remark(const struct stock_network *network, size_t node,
                    struct error *error)
{
    int visits = 0;
    remark(network, node, &visits, error);
}
