/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "oils/reading.h"

#include <stdio.h>

#include "oils/best.h"
#include "oils/network.h"
#include "output/text.h"
#include "parse/number.h"
#include "util/format.h"
#include "util/xalloc.h"

enum exit_code bottle_take_reading(struct bottle *bottle,
                                   const struct mw_reading *value,
                                   const struct reading_source *source,
                                   const char *method, const char *date,
                                   struct error *error)
{
    size_t i = bottle->reading_count++;
    bottle->readings =
        xreallocarray(bottle->readings, i + 1, sizeof bottle->readings[0]);
    struct stock_reading *reading = &bottle->readings[i];
    *reading =
        (struct stock_reading){.value = *value, .method = xstrdup(method)};
    if (source) {
        reading->source = *source;
        reading->source.instrument = xstrdup(source->instrument);
        reading->source.reference_name = NULL;
    }
    enum exit_code code;
    if ((code = check_text(method, error)) != EXIT_DONE ||
        (code = parse_date(date, reading->taken, error)) != EXIT_DONE) {
        return code;
    }
    return bottle_estimate(bottle, error);
}

/* what a slip of the pen gives: a reading that is far from all else */
static enum exit_code check_far(const struct stock_network *network,
                                size_t node, const struct bottle *bottle,
                                struct error *error)
{
    char read[FORMAT_LENGTH], all_else[FORMAT_LENGTH];
    double expected;
    const struct mw_reading *value =
        &bottle->readings[bottle->reading_count - 1].value;
    return mw_network_is_far(network->network, node, value->viscosity,
                             value->temperature, &expected)
               ? refuse(error,
                        "%s mm2/s at %.6g C is far from the %s mm2/s that "
                        "all else says of \"%.*s\"; check it, or --force",
                        format_compact(value->viscosity, read),
                        value->temperature,
                        format_significant(expected, 3, all_else), QUOTED,
                        bottle->name)
               : EXIT_DONE;
}

/* what the bottle is without the new reading, which is to fit that */
static enum exit_code look_before(struct stock *stock, struct bottle *bottle,
                                  bool force, struct error *error)
{
    struct stock_network network;
    struct mw_oil oil;
    double u;
    mw_rectangular(bottle->tolerance, &u);
    enum exit_code code = stock_network_load(stock, &network, error);
    if (code == EXIT_DONE) {
        size_t node = stock_network_node(&network, bottle->id, bottle->name,
                                         &bottle->label, u);
        code = stock_network_solve(&network, error);
        if (code == EXIT_DONE &&
            mw_network_oil(network.network, node, &oil, &u) == MW_OK) {
            bottle->was = oil.points[0].viscosity;
            bottle->was_uncertainty = u;
        }
        if (code == EXIT_DONE && !force) {
            code = check_far(&network, node, bottle, error);
        }
    }
    stock_network_free(&network);
    return code;
}

enum exit_code bottle_save_reading(struct stock *stock, struct bottle *bottle,
                                   bool force, struct error *error)
{
    char what[QUOTED * 4];
    enum exit_code code = look_before(stock, bottle, force, error);
    if (code == EXIT_DONE) {
        code = bottle_add_reading(stock, bottle->id,
                                  &bottle->readings[bottle->reading_count - 1],
                                  error);
    }
    if (code == EXIT_DONE) {
        code = bottle_adjust(stock, bottle, error);
    }
    if (code != EXIT_DONE) {
        return code;
    }
    snprintf(what, sizeof what, "reading %s", bottle->name);
    return stock_commit(stock, what, error);
}

void print_best(const struct bottle *bottle)
{
    const struct mw_oil *oil = &bottle->best.oil;
    const struct mw_point *rating = &oil->points[0];
    char text[FORMAT_LENGTH], was[FORMAT_LENGTH], before[FORMAT_LENGTH] = "";
    char from[2 * FORMAT_LENGTH] = "alone";
    if (bottle->was > 0) {
        snprintf(before, sizeof before, "; before: %s, +-%.1f %%",
                 format_significant(bottle->was, 3, was),
                 100 * MW_COVERAGE * bottle->was_uncertainty);
    }
    size_t counted = bottle->reading_count - bottle->set_aside;
    if (counted > 0) {
        snprintf(from, sizeof from, "and %zu reading%s", counted,
                 counted == 1 ? "" : "s");
    }
    print_wrapped(
        "%s is now %s mm2/s at %.6g C, +-%.1f %%, from its label %s%s%s.",
        bottle->name, format_significant(rating->viscosity, 3, text),
        rating->temperature, 100 * MW_COVERAGE * bottle->best.uncertainty, from,
        bottle->set_aside > 0 ? "; what is far off is set aside" : "", before);
}
