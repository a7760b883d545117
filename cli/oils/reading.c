/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "oils/reading.h"

#include <stdio.h>

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

enum exit_code bottle_save_reading(struct stock *stock, struct bottle *bottle,
                                   struct error *error)
{
    char what[QUOTED * 4];
    enum exit_code code = bottle_add_reading(
        stock, bottle->id, &bottle->readings[bottle->reading_count - 1], error);
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
    char text[FORMAT_LENGTH];
    print_wrapped("%s is now %s mm2/s at %.6g C, +-%.1f %%, from its label "
                  "and %zu reading%s.",
                  bottle->name, format_significant(rating->viscosity, 3, text),
                  rating->temperature,
                  100 * MW_COVERAGE * bottle->best.uncertainty,
                  bottle->reading_count, bottle->reading_count == 1 ? "" : "s");
    print_outlier(bottle);
}

void print_outlier(const struct bottle *bottle)
{
    char text[FORMAT_LENGTH], name[TRUNCATED_LENGTH];
    int outlier = bottle->best.outlier;
    truncate_columns(bottle->name, QUOTED - 1, name);
    if (outlier == MW_LABEL_OUTLIER) {
        print_wrapped("Warning: the label of %s, %s mm2/s at %.6g C, disagrees "
                      "with the readings.",
                      name,
                      format_compact(bottle->label.points[0].viscosity, text),
                      bottle->label.points[0].temperature);
    } else if (outlier != MW_NO_OUTLIER) {
        const struct stock_reading *reading = &bottle->readings[outlier];
        print_wrapped("Warning: a reading of %s, %s mm2/s at %.6g C on %s, "
                      "disagrees with the rest.",
                      name, format_compact(reading->value.viscosity, text),
                      reading->value.temperature, reading->taken);
    }
}
