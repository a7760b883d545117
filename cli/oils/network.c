/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "oils/network.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "oils/network_cups.h"
#include "parse/number.h"
#include "store/recipe.h"
#include "util/xalloc.h"

enum {
    PROBES = 200,  /* readings that are looked at one by one */
    CHAIN_MAX = 12 /* mixes of mixes; a hostile file may be circular */
};

/* -- Bottles -------------------------------------------------------------- */

static int by_name(const void *left, const void *right)
{
    const struct bottle *a = left, *b = right;
    return strcmp(a->name, b->name);
}

static int by_id(const void *left, const void *right)
{
    const struct stock_node_id *a = left, *b = right;
    return (a->id > b->id) - (a->id < b->id);
}

static void index_ids(struct stock_network *network)
{
    size_t count = network->bottles.count;
    network->ids = xcalloc(count + 1, sizeof network->ids[0]);
    for (size_t i = 0; i < count; i++) {
        network->ids[i] =
            (struct stock_node_id){network->bottles.list[i].id, i};
    }
    qsort(network->ids, count, sizeof network->ids[0], by_id);
}

size_t stock_network_find(const struct stock_network *network, sqlite3_int64 id)
{
    const struct stock_node_id key = {id, 0};
    const struct stock_node_id *found =
        bsearch(&key, network->ids, network->bottles.count,
                sizeof network->ids[0], by_id);
    return found ? found->index : network->bottles.count;
}

static size_t add_node(struct stock_network *network, const char *name,
                       const struct mw_oil *label, double tolerance)
{
    if (network->count == network->room) {
        network->room = network->room ? 2 * network->room : 16;
        network->nodes = xreallocarray(network->nodes, network->room,
                                       sizeof network->nodes[0]);
        network->names = xreallocarray(network->names, network->room,
                                       sizeof network->names[0]);
    }
    network->names[network->count] = name;
    network->nodes[network->count] = (struct mw_network_bottle){
        .label = *label, .tolerance = tolerance, .dose_ml = NAN};
    return network->count++;
}

/* the number of an instrument: that of the first reading that has it */
static long instrument_of(const struct stock_network *network,
                          const char *instrument)
{
    size_t i = 0;
    while (strcmp(network->instruments[i], instrument) != 0) {
        i++;
    }
    return (long)i;
}

static long day_of(const char *date)
{
    return strtol(date, NULL, 10) * 10000 + strtol(date + 5, NULL, 10) * 100 +
           strtol(date + 8, NULL, 10);
}

/* -- Readings ------------------------------------------------------------- */

/* the parts of what a reading is uncertain by */
static void split(struct stock_network *network,
                  const struct stock_reading *reading,
                  struct mw_network_reading *node)
{
    const struct reading_source *source = &reading->source;
    size_t count = network->bottles.count;
    size_t reference = source->reference
                           ? stock_network_find(network, source->reference)
                           : count;
    network->instruments[network->reading_count] = source->instrument;
    if (!source->known || (source->reference != 0 && reference == count)) {
        return;
    }
    node->random = source->random;
    node->systematic = source->systematic;
    node->thermometer = source->thermometer;
    node->day = day_of(reading->taken);
    if (source->systematic > 0) {
        node->instrument = instrument_of(network, source->instrument);
        network_rest_on_cup(network, source->instrument, node);
    }
    if (reference < count) {
        struct mw_network_reference *known = xcalloc(1, sizeof *known);
        *known = (struct mw_network_reference){
            reference, source->reference_viscosity, node->temperature, 1};
        network->references[network->reading_count] = known;
        /* a jet is more to a thinner oil, by which the ratio errs */
        if (node->viscosity < known->viscosity) {
            node->systematic = -node->systematic;
        }
        node->references = known;
        node->reference_count = 1;
    }
}

static void add_readings(struct stock_network *network, size_t index)
{
    const struct bottle *bottle = &network->bottles.list[index];
    for (size_t i = 0; i < bottle->reading_count; i++) {
        const struct mw_reading *value = &bottle->readings[i].value;
        struct mw_network_reading *node =
            &network->readings[network->reading_count];
        *node = (struct mw_network_reading){.bottle = index,
                                            .viscosity = value->viscosity,
                                            .temperature = value->temperature,
                                            .random = value->uncertainty,
                                            .instrument = MW_NONE};
        split(network, &bottle->readings[i], node);
        network->reading_count++;
    }
}

/* -- Recipes -------------------------------------------------------------- */

/* the parts of a recorded mix; none where one of them is damaged */
static void take_parts(struct stock_network *network, size_t index,
                       const struct recipe *recipe)
{
    struct mw_network_part *parts = xcalloc(recipe->count + 1, sizeof parts[0]);
    struct mw_network_bottle *node = &network->nodes[index];
    network->parts[index] = parts;
    for (size_t i = 0; i < recipe->count; i++) {
        size_t parent = stock_network_find(network, recipe->parts[i].parent);
        parts[i] = (struct mw_network_part){parent, recipe->parts[i].volume_ml};
        if (parent == network->bottles.count) {
            return;
        }
    }
    node->parts = parts;
    node->dose_ml = recipe->dose_ml;
    node->part_count = recipe->count;
}

static enum exit_code take_recipe_of(struct recipe *recipe, void *context,
                                     struct error *error)
{
    struct stock_network *network = context;
    size_t index = stock_network_find(network, recipe->bottle);
    (void)error;
    if (index < network->bottles.count && recipe->count > 0) {
        take_parts(network, index, recipe);
    }
    return EXIT_DONE;
}

/* whether a mix comes down to bottles with labels, of one family */
static bool is_rooted(const struct stock_network *network, const bool *rooted,
                      size_t index)
{
    const struct mw_network_bottle *node = &network->nodes[index];
    bool good = true;
    for (size_t i = 0; i < node->part_count; i++) {
        size_t parent = node->parts[i].bottle;
        good = good && rooted[parent] &&
               network->nodes[parent].label.family == node->label.family;
    }
    return good;
}

/* a recipe that is circular, or too deep, counts for nothing */
static void drop_unrooted(struct stock_network *network)
{
    bool *rooted = xcalloc(network->count + 1, sizeof rooted[0]);
    for (int depth = 0; depth < CHAIN_MAX; depth++) {
        for (size_t i = 0; i < network->count; i++) {
            rooted[i] = rooted[i] || is_rooted(network, rooted, i);
        }
    }
    for (size_t i = 0; i < network->count; i++) {
        if (!rooted[i]) {
            network->nodes[i].part_count = 0;
        }
    }
    free(rooted);
}

/* -- The network ---------------------------------------------------------- */

/* for the parts and readings of its bottles */
static void make_room(struct stock_network *network)
{
    size_t readings = 0;
    for (size_t i = 0; i < network->bottles.count; i++) {
        readings += network->bottles.list[i].reading_count;
    }
    network->parts =
        xcalloc(network->bottles.count + 1, sizeof(struct mw_network_part *));
    network->readings = xcalloc(readings + 1, sizeof network->readings[0]);
    network->reference_count = readings;
    network->instruments = xcalloc(readings + 1, sizeof(char *));
    network->references =
        xcalloc(readings + 1, sizeof(struct mw_network_reference *));
}

enum exit_code stock_network_load(struct stock *stock,
                                  struct stock_network *network,
                                  struct error *error)
{
    *network = (struct stock_network){0};
    enum exit_code code =
        bottles_load_evidence(stock, &network->bottles, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (network->bottles.count > 0) {
        qsort(network->bottles.list, network->bottles.count,
              sizeof network->bottles.list[0], by_name);
    }
    index_ids(network);
    if ((code = network_take_cups(network, stock, error)) != EXIT_DONE) {
        return code;
    }
    make_room(network);
    for (size_t i = 0; i < network->bottles.count; i++) {
        const struct bottle *bottle = &network->bottles.list[i];
        add_node(network, bottle->name, &bottle->label, bottle->tolerance);
        add_readings(network, i);
    }
    code = recipes_each(stock, take_recipe_of, network, error);
    drop_unrooted(network);
    for (size_t i = 0; i < network->reading_count; i++) {
        size_t bottle = network->readings[i].bottle;
        network->trial_mixes += network->nodes[bottle].part_count > 0;
    }
    return code;
}

size_t stock_network_node(struct stock_network *network, sqlite3_int64 id,
                          const char *name, const struct mw_oil *oil,
                          double uncertainty)
{
    size_t index =
        id == 0 ? network->bottles.count : stock_network_find(network, id);
    return index < network->bottles.count
               ? index
               : add_node(network, name, oil, mw_tolerance_of(uncertainty));
}

size_t stock_network_reading(const struct stock_network *network, size_t node,
                             size_t which)
{
    size_t i = 0;
    while (i < network->reading_count &&
           (network->readings[i].bottle != node || which-- > 0)) {
        i++;
    }
    return i;
}

const char *stock_network_name(const struct stock_network *network, size_t node)
{
    return network->names[node];
}

static void free_bottles(struct stock_network *network)
{
    for (size_t i = 0; i < network->bottles.count; i++) {
        struct bottle *bottle = &network->bottles.list[i];
        if (bottle->retired || !network->lent) {
            bottle_free(bottle);
        }
    }
    free(network->bottles.list);
}

void stock_network_free(struct stock_network *network)
{
    mw_network_free(network->network);
    for (size_t i = 0; network->parts && i < network->bottles.count; i++) {
        free(network->parts[i]);
    }
    for (size_t i = 0; i < network->reference_count; i++) {
        free(network->references[i]);
    }
    free(network->references);
    free(network->cups);
    free(network->parts);
    free(network->ids);
    free(network->nodes);
    free(network->names);
    free(network->readings);
    free(network->instruments);
    free_bottles(network);
    *network = (struct stock_network){0};
}
